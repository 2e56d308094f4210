package art

import (
	"bytes"
	"math"
	"testing"

	"pgregory.net/rapid"

	"stoneproof/rules"
)

// sheetOf is plates of random ink, 0.1 mm a pixel, from 3 mm outside the trim.
func sheetOf(t *rapid.T) *Plates {
	w, h := rapid.IntRange(1, 24).Draw(t, "w"), rapid.IntRange(1, 24).Draw(t, "h")
	p := &Plates{W: w, H: h, X: -3000, Y: -3000, PxW: 100, PxH: 100}
	for _, name := range []string{"cyan", "black", "Gold"} {
		p.Names = append(p.Names, name)
		p.Ink = append(p.Ink, rapid.SliceOfN(rapid.Byte(), w*h, w*h).Draw(t, name))
	}
	return p
}

// The heaviest square is what looking at every square finds.
func TestHeaviestIsTheHeaviest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := sheetOf(t)
		edge := rules.Length(rapid.IntRange(50, 3000).Draw(t, "edge"))
		got := p.Heaviest(edge)
		w, h := int(got.Box.W/100), int(got.Box.H/100)
		most := 0.0
		for y := 0; y+h <= p.H; y++ {
			for x := 0; x+w <= p.W; x++ {
				most = math.Max(most, meanSum(p, x, y, w, h))
			}
		}
		at := meanSum(p, int(got.Box.X+3000)/100, int(got.Box.Y+3000)/100, w, h)
		if math.Abs(at-got.Sum) > 1e-6 || got.Sum > most+1e-6 || got.Sum < asHeavy*most-1e-6 {
			t.Fatalf("finds %.3f at %+v, which holds %.3f; the most is %.3f", got.Sum, got.Box, at, most)
		}
	})
}

// In a flat ground the middle is pointed at.
func TestHeaviestOfEquals(t *testing.T) {
	p := &Plates{W: 21, H: 11, PxW: 100, PxH: 100, Names: []string{"black"}, Ink: [][]byte{bytes.Repeat([]byte{200}, 21*11)}}
	if got, want := p.Heaviest(100).Box, (rules.Box{X: 1000, Y: 500, W: 100, H: 100}); got != want {
		t.Errorf("points at %+v, want %+v", got, want)
	}
}

// meanSum is all inks of a window, in per cent of one solid.
func meanSum(p *Plates, x, y, w, h int) float64 {
	sum := 0
	for _, ink := range p.Ink {
		for row := y; row < y+h; row++ {
			for _, v := range ink[row*p.W+x : row*p.W+x+w] {
				sum += int(v)
			}
		}
	}
	return float64(sum) / 255 / float64(w*h) * 100
}

func TestCoverageIsTheMean(t *testing.T) {
	p := &Plates{W: 2, H: 2, Names: []string{"cyan", "magenta"}, Ink: [][]byte{{255, 255, 0, 0}, {51, 51, 51, 51}}}
	if got := p.Coverage(); got[0] != 50 || math.Abs(got[1]-20) > 1e-9 {
		t.Errorf("coverage is %v, want 50 and 20", got)
	}
	if got := (&Plates{Ink: [][]byte{nil}}).Coverage(); got[0] != 0 {
		t.Errorf("nothing is covered by %v", got)
	}
}
