package codes_test

import (
	"math"
	"testing"

	"stoneproof/checks/codes"
)

// TestAmongRings: art that repeats what looks like finder patterns, hundreds of times
// and as large as the code's own, hides no code on a label of its own.
func TestAmongRings(t *testing.T) {
	ring := func(pitch, core, outer, ground float64) codes.Plane {
		return painted(func(x, y float64) float64 {
			switch r := math.Hypot(math.Mod(x, pitch)-pitch/2, math.Mod(y, pitch)-pitch/2); {
			case r < core:
				return 50
			case r < outer:
				return 240
			}
			return ground
		})
	}
	for name, art := range map[string]codes.Plane{
		"rings in three colours": ring(2.6, 0.31, 0.62, 150),
		"fine rings":             ring(1.9, 0.26, 0.5, 140),
		"targets in one colour": painted(func(x, y float64) float64 {
			if light, in := target(math.Mod(x, 3.4)-1.7, math.Mod(y, 3.4)-1.7, 0.26); in {
				return light
			}
			return 240
		}),
	} {
		for _, module := range []float64{0.17, 0.23, 0.4} {
			s := plain("https://quarterpast.example", module)
			side := module * float64(len(s.matrix(t))+8)
			label := s.plane(t, side, side, 300)
			x0, y0 := (art.W-label.W)/2, (art.H-label.H)/2
			for y := range label.H {
				copy(art.Pix[(y0+y)*art.W+x0:][:label.W], label.Pix[y*label.W:][:label.W])
			}
			found := codes.Read(art, dot)
			if len(found) != 1 {
				t.Errorf("%s, modules of %g mm: %d codes, want 1", name, module, len(found))
				continue
			}
			if c := found[0]; c.Text != s.text || math.Abs(c.Module/1000-module) > 0.01*module {
				t.Errorf("%s, modules of %g mm: %+v", name, module, c)
			}
			if n := len(codes.Suspects(art)); n != 1 {
				t.Errorf("%s, modules of %g mm: %d suspects, want the code", name, module, n)
			}
		}
	}
}
