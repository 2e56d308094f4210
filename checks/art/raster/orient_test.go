package raster

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"
)

// TestTurn draws each orientation as letters: what is stored, and what is to
// be seen (TIFF 6.0, p. 36: where row 0 and column 0 are).
func TestTurn(t *testing.T) {
	const w, h, stored = 3, 2, "abcdef" // abc over def
	for orientation, seen := range map[int]string{
		1: "abc def", 2: "cba fed", 3: "fed cba", 4: "def abc",
		5: "ad be cf", 6: "da eb fc", 7: "fc eb da", 8: "cf be ad",
	} {
		px := &Pixels{Width: w, Height: h}
		for _, c := range stored {
			px.Pix = append(px.Pix, byte(c), 1, 2, 255)
			px.Ink = append(px.Ink, byte(c), 3, 4, 5)
		}
		px.turn(orientation)
		if got := letters(px, px.Pix); got != seen {
			t.Errorf("orientation %d shows %q, want %q", orientation, got, seen)
		}
		if got := letters(px, px.Ink); got != seen {
			t.Errorf("orientation %d shows ink %q, want %q", orientation, got, seen)
		}
	}
}

func letters(px *Pixels, pix []byte) (s string) {
	for y := range px.Height {
		if y > 0 {
			s += " "
		}
		for x := range px.Width {
			s += string(rune(pix[4*(y*px.Width+x)]))
		}
	}
	return s
}

// TestTurnBack undoes each orientation by its inverse, on any size.
func TestTurnBack(t *testing.T) {
	inverse := []int{0, 1, 2, 3, 4, 5, 8, 7, 6}
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(1, 9).Draw(t, "w"), rapid.IntRange(1, 9).Draw(t, "h")
		o := rapid.IntRange(1, 8).Draw(t, "orientation")
		px := newPixels(w, h, false)
		copy(px.Pix, rapid.SliceOfN(rapid.Byte(), 4*w*h, 4*w*h).Draw(t, "pixels"))
		before := letters(px, px.Pix)
		px.turn(o)
		px.turn(inverse[o])
		if after := letters(px, px.Pix); after != before {
			t.Fatalf("%q became %q", before, after)
		}
	})
}

// TestOrientationAgainstImageMagick has exiftool write each orientation, and
// ImageMagick turn the picture by it.
func TestOrientationAgainstImageMagick(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "plain.png", pngBytes(t, picture(61, 43)))
	run(t, dir, "convert", "plain.png", "-quality", "95", "-sampling-factor", "1x1", "-density", "300x150", "-units", "PixelsPerInch", "plain.jpg")
	run(t, dir, "convert", "plain.png", "-colorspace", "cmyk", "-compress", "lzw", "-density", "300x150", "-units", "PixelsPerInch", "plain.tif")
	var args []string
	for o := 1; o <= 8; o++ {
		for _, kind := range []string{"jpg", "tif"} {
			args = append(args, "-q", "-n", fmt.Sprintf("-Orientation=%d", o), "-o", fmt.Sprintf("turned%d.%s", o, kind), "plain."+kind, "-execute")
		}
	}
	run(t, dir, "exiftool", args...)
	for o := 1; o <= 8; o++ {
		for kind, samples := range map[string]string{"jpg": "rgba", "tif": "cmyk"} {
			name := fmt.Sprintf("turned%d.%s", o, kind)
			t.Run(name, func(t *testing.T) {
				h, px := open(t, read(t, dir, name))
				got := px.Pix
				if px.Ink != nil {
					got = px.Ink
				}
				want := run(t, dir, "convert", name, "-auto-orient", "-depth", "8", samples+":-")
				if far := furthest(t, got, want); far > 3 {
					t.Errorf("samples are up to %d apart", far)
				}
				if h.Orientation != o || (h.Density.X < h.Density.Y) != (o > 4) {
					t.Errorf("orientation %d, want %d; density %+v", h.Orientation, o, h.Density)
				}
			})
		}
	}
}
