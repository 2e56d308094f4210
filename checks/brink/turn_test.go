package brink_test

import (
	"math"
	"slices"
	"testing"

	"stoneproof/checks/brink"
	"stoneproof/rules"

	"pgregory.net/rapid"
)

// remade is a canvas of w by h pixels whose pixel x, y is taken from the place
// that from tells.
func remade(c brink.Canvas, w, h int, from func(x, y int) (int, int)) brink.Canvas {
	out := c
	out.W, out.H, out.Pix = w, h, make([]byte, len(c.Pix))
	for y := range h {
		for x := range w {
			sx, sy := from(x, y)
			copy(out.Pix[4*(y*w+x):4*(y*w+x)+4], c.Pix[4*(sy*c.W+sx):])
		}
	}
	return out
}

// mirrored is the canvas left for right.
func mirrored(c brink.Canvas) brink.Canvas {
	out := remade(c, c.W, c.H, func(x, y int) (int, int) { return c.W - 1 - x, y })
	out.X = c.Trim.W - c.X - rules.Length(math.Round(float64(c.W)*c.PxW))
	return out
}

// quarterTurned is the canvas turned clockwise: its top becomes the right edge.
func quarterTurned(c brink.Canvas) brink.Canvas {
	out := remade(c, c.H, c.W, func(x, y int) (int, int) { return y, c.H - 1 - x })
	out.PxW, out.PxH, out.Trim = c.PxH, c.PxW, c.Trim.Turned()
	out.X = c.Trim.H - c.Y - rules.Length(math.Round(float64(c.H)*c.PxH))
	out.Y = c.X
	return out
}

// eachDefective draws every paint that suits with every thing that may be wrong
// at the brink: all of them, not some by chance, so that a run says what the
// next one will. In short mode it takes one in ten.
func eachDefective(suits func(paint string) bool, f func(name string, s *sheet)) {
	n := 0
	for k, p := range paints() {
		if !suits(p.name) {
			continue
		}
		ground := p.sheet(150, uint64(k+1))
		for _, in := range intrusions() {
			for _, cut := range cuts() {
				if n++; testing.Short() && n%10 != 0 {
					continue
				}
				s := ground.copied()
				in.draw(s, white)
				cut.make(s)
				f(p.name+", "+in.name+", "+cut.name, s)
			}
		}
	}
}

func anyPaint(string) bool { return true }

// calmPaint leaves out paints among whose own marks lettering is a matter of luck:
// which specks pass for letters beside a word may hang on a pixel.
func calmPaint(name string) bool {
	return name != "specks" && name != "foliage" && name != "photo"
}

// within allows two measures of one place to differ by a pixel and a rounding.
func within(a, b rules.Length, px float64) bool { return float64((a - b).Abs()) <= 1.5*px+2 }

func sameFill(t *testing.T, name string, a, b brink.EdgeFill, px float64) {
	t.Helper()
	if a.PaintAtTrim != b.PaintAtTrim || !within(a.Extent, b.Extent, px) || !within(a.From, b.From, 2*px) ||
		!within(a.To, b.To, 2*px) || len(a.Also) != len(b.Also) {
		t.Errorf("%s: one way %+v, turned back %+v", name, a, b)
	}
}

// mirrorFill is what a finding becomes in the mirror.
func mirrorFill(f brink.EdgeFill, w rules.Length) brink.EdgeFill {
	switch f.Edge {
	case rules.Left:
		f.Edge = rules.Right
	case rules.Right:
		f.Edge = rules.Left
	default:
		if f.From != f.To {
			f.From, f.To = w-f.To, w-f.From
		}
	}
	return f
}

func TestMirroredCanvasMirrorsBleed(t *testing.T) {
	t.Parallel()
	order := [4]int{0, 3, 2, 1}
	n := 0
	eachDefective(anyPaint, func(name string, s *sheet) {
		n++
		c := s.canvas([]form{rendered, png}[n%2])
		here, there := brink.Bleed(c, wantedBleed), brink.Bleed(mirrored(c), wantedBleed)
		for k, f := range here {
			sameFill(t, name, mirrorFill(f, c.Trim.W), there[order[k]], c.PxW)
		}
	})
}

func TestTurnedCanvasTurnsBleed(t *testing.T) {
	t.Parallel()
	eachDefective(anyPaint, func(name string, s *sheet) {
		c := s.canvas(rendered)
		here, there := brink.Bleed(c, wantedBleed), brink.Bleed(quarterTurned(c), wantedBleed)
		for k, f := range here {
			// What ran down the left edge runs back along the top.
			if (f.Edge == rules.Left || f.Edge == rules.Right) && f.From != f.To {
				f.From, f.To = c.Trim.H-f.To, c.Trim.H-f.From
			}
			sameFill(t, name, f, there[(k+1)%4], c.PxW)
		}
	})
}

func TestMirroredCanvasMirrorsIntruders(t *testing.T) {
	t.Parallel()
	sure := 0
	eachDefective(calmPaint, func(name string, s *sheet) {
		c := s.canvas(rendered)
		here, there := brink.ReadGround(c).Intruders(wantedBleed), brink.ReadGround(mirrored(c)).Intruders(wantedBleed)
		for _, in := range here {
			if !in.Sure {
				continue // what is inferred may fall otherwise
			}
			sure++
			if !slices.ContainsFunc(there, func(o brink.Intruder) bool { return mirrors(in, o, &c) }) {
				t.Errorf("%s: %+v has no mirror picture in %+v", name, in, there)
			}
		}
	})
	if sure == 0 {
		t.Error("no intruder was sure")
	}
}

func mirrors(a, b brink.Intruder, c *brink.Canvas) bool {
	px := 2 * c.PxW
	return within(b.Box.X, c.Trim.W-a.Box.Right(), px) && within(b.Box.Y, a.Box.Y, px) &&
		within(b.Distance, a.Distance, px) && b.Kind == a.Kind
}

// TestResolutionKeepsMillimetres: the same drawing says the same in millimetres
// however fine it is rendered.
func TestResolutionKeepsMillimetres(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ppi := rapid.Float64Range(110, 500).Draw(t, "ppi")
		cut := rapid.SampledFrom(cuts()).Draw(t, "cut")
		s := newSheet(business, usBleed, ppi, 1)
		s.all(teal)
		cut.make(s)
		c := s.canvas(rendered)
		for _, f := range brink.Bleed(c, wantedBleed) {
			for _, w := range cut.short {
				if w.edge == f.Edge && w.from != w.to && math.Abs(f.Extent.MM()-w.extent) > 1.05*max(c.PxW, c.PxH)/1000 {
					t.Errorf("%s stops at %v, want %g mm", f.Edge, f.Extent, w.extent)
				}
			}
		}
	})
}
