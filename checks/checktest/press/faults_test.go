package press

import (
	"image"
	"math"
	"os"
	"testing"

	"stoneproof/rules"
)

func readFile(t *testing.T, path string) []byte {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// bare counts the pixels of bare paper from each edge inwards, on the middle of
// the edge.
func bare(img image.Image) map[rules.Edge]int {
	b := img.Bounds()
	mid := b.Min.Add(b.Max).Div(2)
	count := func(x, y, dx, dy int) (n int) {
		for levelsAt(img, x, y) > 250 && image.Pt(x, y).In(b) {
			x, y, n = x+dx, y+dy, n+1
		}
		return n
	}
	return map[rules.Edge]int{
		rules.Left: count(b.Min.X, mid.Y, 1, 0), rules.Right: count(b.Max.X-1, mid.Y, -1, 0),
		rules.Top: count(mid.X, b.Min.Y, 0, 1), rules.Bottom: count(mid.X, b.Max.Y-1, 0, -1),
	}
}

func levelsAt(img image.Image, x, y int) uint32 {
	r, g, b, _ := img.At(x, y).RGBA()
	return min(r, g, b) >> 8
}

// TestPaintStops measures how far paint reaches in pixels and in a PDF as
// poppler shows it.
func TestPaintStops(t *testing.T) {
	c := Card{"bookbinder", Dark, "us-business"}
	for _, e := range rules.AllEdges {
		for name, img := range map[string]image.Image{
			"png": decoded(t, c.PNG(254, PaintStops(e, 1.2))),
			"pdf": poppler(t, c.PDF(PaintStops(e, 1.2)), "254"),
		} {
			for edge, n := range bare(img) {
				want := 0.0
				if edge == e {
					want = 10 * (3.175 - 1.2) // ten pixels a millimetre
				}
				if math.Abs(float64(n)-want) > 1 {
					t.Errorf("%s, paint stops on the %s: %d bare pixels on the %s, want %.0f", name, e, n, edge, want)
				}
			}
		}
	}
}

// TestRoomEnds measures rasters without room for bleed.
func TestRoomEnds(t *testing.T) {
	c := Card{"bookbinder", Dark, "us-business"}
	for _, tt := range []struct {
		opt  Option
		w, h int
	}{
		{NoDensity(), 1125, 675}, {TrimOnly(), 1050, 600},
		{RoomEnds(rules.Left, 0), 1088, 675}, {RoomEnds(rules.Bottom, 1), 1125, 649},
	} {
		if b := decoded(t, c.PNG(300, tt.opt)).Bounds(); b.Dx() != tt.w || b.Dy() != tt.h {
			t.Errorf("%v, want %d × %d", b, tt.w, tt.h)
		}
	}
}

// TestCoarsePictureIsSoft compares the steps between neighbours in a photograph:
// enlarged from few pixels it changes little from one to the next.
func TestCoarsePictureIsSoft(t *testing.T) {
	c := Card{"weaver", Photographic, "us-business"}
	step := func(opts ...Option) (sum int) {
		img := decoded(t, c.PNG(300, opts...))
		for y := 100; y < 500; y++ {
			for x := 100; x < 400; x++ {
				sum += int(math.Abs(float64(levelsAt(img, x, y)) - float64(levelsAt(img, x+1, y))))
			}
		}
		return sum
	}
	if fine, soft := step(), step(PicturePPI(75)); soft*2 > fine {
		t.Errorf("steps of %d levels at 300 ppi, %d at 75", fine, soft)
	}
}
