package raster

import (
	"strings"
	"testing"
)

// TestAgainstImageMagick makes files with ImageMagick, or the tools of a
// format, and compares what is read with ImageMagick's reading.
func TestAgainstImageMagick(t *testing.T) {
	cases := []struct {
		name, source, args string
		format             Format
		want               Header // Space, Bits, Palette and Alpha
		read               string
		far                int
		mean               float64
	}{
		{name: "rgb.jpg", args: "-quality 95 -sampling-factor 1x1", format: JPEG, want: Header{Space: RGB, Bits: 8}, far: 3, mean: .5},
		{name: "half.jpg", args: "-quality 95 -sampling-factor 2x2", format: JPEG, want: Header{Space: RGB, Bits: 8}, far: 255, mean: 4},
		{name: "progressive.jpg", args: "-quality 95 -sampling-factor 1x1 -interlace jpeg", format: JPEG, want: Header{Space: RGB, Bits: 8}, far: 3, mean: .5},
		{name: "gray.jpg", args: "-colorspace gray -quality 95", format: JPEG, want: Header{Space: Gray, Bits: 8}, far: 2, mean: .3},
		{name: "cmyk.jpg", args: "-colorspace cmyk -quality 95 -sampling-factor 1x1", format: JPEG, want: Header{Space: CMYK, Bits: 8}, read: "cmyk", far: 3, mean: .5},
		{name: "cmyk-progressive.jpg", args: "-colorspace cmyk -quality 95 -sampling-factor 1x1 -interlace jpeg", format: JPEG, want: Header{Space: CMYK, Bits: 8}, read: "cmyk", far: 3, mean: .5},

		{name: "rgb.png", args: "-define png:color-type=2 -depth 8", format: PNG, want: Header{Space: RGB, Bits: 8}},
		{name: "rgb16.png", args: "-define png:color-type=2 -define png:bit-depth=16 -evaluate multiply .987", format: PNG, want: Header{Space: RGB, Bits: 16}, far: 1, mean: .01},
		{name: "rgba.png", source: "glass.png", args: "-define png:color-type=6", format: PNG, want: Header{Space: RGB, Bits: 8, Alpha: true}},
		{name: "rgba16.png", source: "glass.png", args: "-define png:color-type=6 -define png:bit-depth=16", format: PNG, want: Header{Space: RGB, Bits: 16, Alpha: true}},
		{name: "interlaced.png", source: "glass.png", args: "-interlace png", format: PNG, want: Header{Space: RGB, Bits: 8, Alpha: true}},
		{name: "gray.png", args: "-colorspace gray -define png:color-type=0", format: PNG, want: Header{Space: Gray, Bits: 8}},
		{name: "gray16.png", args: "-colorspace gray -define png:color-type=0 -define png:bit-depth=16", format: PNG, want: Header{Space: Gray, Bits: 16}, far: 1, mean: .02},
		{name: "gray1.png", args: "-colorspace gray -threshold 50% -define png:color-type=0 -define png:bit-depth=1", format: PNG, want: Header{Space: Gray, Bits: 1}},
		{name: "gray2.png", args: "-colorspace gray -depth 2 -define png:color-type=0 -define png:bit-depth=2", format: PNG, want: Header{Space: Gray, Bits: 2}},
		{name: "gray4.png", args: "-colorspace gray -depth 4 -define png:color-type=0 -define png:bit-depth=4 -interlace png", format: PNG, want: Header{Space: Gray, Bits: 4}},
		{name: "graya.png", source: "glass.png", args: "-colorspace gray -define png:color-type=4", format: PNG, want: Header{Space: Gray, Bits: 8, Alpha: true}},
		{name: "palette.png", args: "+dither -colors 100 -define png:color-type=3", format: PNG, want: Header{Space: RGB, Bits: 8, Palette: true}},
		{name: "palette4.png", args: "+dither -colors 8 -define png:color-type=3 -define png:bit-depth=4", format: PNG, want: Header{Space: RGB, Bits: 4, Palette: true}},

		{name: "still.gif", args: "+dither -colors 64", format: GIF, want: Header{Space: RGB, Bits: 6, Palette: true}},
		{name: "interlaced.gif", args: "+dither -colors 64 -interlace gif", format: GIF, want: Header{Space: RGB, Bits: 6, Palette: true}},

		{name: "rgb.bmp", args: "-type truecolor", format: BMP, want: Header{Space: RGB, Bits: 8}},
		{name: "rgba.bmp", source: "glass.png", format: BMP, want: Header{Space: RGB, Bits: 8, Alpha: true}},
		{name: "v3.bmp", args: "-define bmp:format=bmp3", format: BMP, want: Header{Space: RGB, Bits: 8}},
		{name: "palette.bmp", args: "+dither -colors 30 -type palette -compress none", format: BMP, want: Header{Space: RGB, Bits: 8, Palette: true}},
		{name: "bilevel.bmp", args: "-threshold 50% -type bilevel -compress none", format: BMP, want: Header{Space: RGB, Bits: 1, Palette: true}},

		{name: "lossless.webp", args: "-define webp:lossless=true", format: WebP, want: Header{Space: RGB, Bits: 8}},
		{name: "lossless-alpha.webp", source: "glass.png", args: "-define webp:lossless=true -define webp:exact=true", format: WebP, want: Header{Space: RGB, Bits: 8, Alpha: true}},
	}
	dir := t.TempDir()
	write(t, dir, "plain.png", pngBytes(t, picture(61, 43)))
	write(t, dir, "glass.png", pngBytes(t, glass(61, 43)))
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if c.source == "" {
				c.source = "plain.png"
			}
			if c.read == "" {
				c.read = "rgba"
			}
			run(t, dir, "convert", append(append([]string{c.source}, strings.Fields(c.args)...), c.name)...)
			b := read(t, dir, c.name)
			if got := Sniff(b[:12]); got != c.format {
				t.Errorf("sniffed %q, want %q", got, c.format)
			}
			h, px := open(t, b)
			if got := (Header{Space: h.Space, Bits: h.Bits, Palette: h.Palette, Alpha: h.Alpha}); !sameKind(got, c.want) {
				t.Errorf("header %+v, want %+v", got, c.want)
			}
			got := px.Pix
			if c.read == "cmyk" {
				got = px.Ink
			}
			want := run(t, dir, "convert", c.name, "-depth", "8", c.read+":-")
			if far := furthest(t, got, want); far > c.far {
				t.Errorf("samples are up to %d apart, want %d at most", far, c.far)
			}
			if mean := apart(t, got, want); mean > c.mean {
				t.Errorf("samples are %.3f apart in the mean, want %.3f at most", mean, c.mean)
			}
		})
	}
}

func sameKind(a, b Header) bool {
	return a.Space == b.Space && a.Bits == b.Bits && a.Palette == b.Palette && a.Alpha == b.Alpha
}

// TestLossyWebP compares with the reference decoder, which must be told to
// enlarge chroma as plainly as we do.
func TestLossyWebP(t *testing.T) {
	dir := t.TempDir()
	for name, m := range map[string][]byte{
		"plain": pngBytes(t, picture(61, 43)),
		"glass": pngBytes(t, glass(61, 43)),
		"white": pngBytes(t, flat(16, 16, 255)),
	} {
		t.Run(name, func(t *testing.T) {
			write(t, dir, "in.png", m)
			run(t, dir, "cwebp", "-quiet", "-q", "90", "in.png", "-o", "out.webp")
			h, px := open(t, read(t, dir, "out.webp"))
			run(t, dir, "dwebp", "-quiet", "-nofancy", "out.webp", "-o", "want.png")
			_, want := open(t, read(t, dir, "want.png"))
			if h.Alpha != (name == "glass") {
				t.Errorf("alpha is %v", h.Alpha)
			}
			if far := furthest(t, px.Pix, want.Pix); far > 1 {
				t.Errorf("samples are up to %d apart", far)
			}
		})
	}
}

// TestJPEGCodingsAgainstImageMagick reads the same flat files with libjpeg.
func TestJPEGCodingsAgainstImageMagick(t *testing.T) {
	dir := t.TempDir()
	for _, c := range codingCases() {
		t.Run(c.name, func(t *testing.T) {
			c.jpeg.w, c.jpeg.h = 11, 9
			write(t, dir, "flat.jpg", c.jpeg.encode())
			_, px := open(t, read(t, dir, "flat.jpg"))
			got, kind := px.Pix, "rgba"
			if c.space == CMYK {
				got, kind = px.Ink, "cmyk"
			}
			want := run(t, dir, "convert", "flat.jpg", "-depth", "8", kind+":-")
			if far := furthest(t, got, want); far > 1 {
				t.Errorf("pixel %v, ImageMagick says %v", got[:4], want[:4])
			}
		})
	}
}
