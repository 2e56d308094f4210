package press

import (
	"testing"

	"stoneproof/rules"
)

// notes is a canvas that keeps what is set in type and how thick lines are.
type notes struct {
	set   []noted
	lines []float64
	inks  []ink
}

type noted struct {
	text
	at pt
}

func (n *notes) fill(_ path, k ink) { n.inks = append(n.inks, k) }
func (n *notes) stroke(_ path, w float64, k ink) {
	n.lines, n.inks = append(n.lines, w), append(n.inks, k)
}
func (n *notes) shade(_ path, _, _ pt, a, b ink)            { n.inks = append(n.inks, a, b) }
func (n *notes) write(t text, at pt)                        { n.set = append(n.set, noted{t, at}) }
func (n *notes) picture(rect, scene)                        {}
func (n *notes) clipped(_ path, draw func())                { draw() }
func (n *notes) stamp(e emblem, m affine, k, g ink)         { e.draw(pen{n, m, k, g}) }
func (n *notes) tile(_ path, _ rect, d func(canvas))        { d(n) }
func (n *notes) engrave(rect, ink, func(x, y float64) bool) {}

func eachSide(do func(c Card, side int, n *notes)) {
	for _, m := range Makers() {
		for _, s := range Styles() {
			for _, z := range Sizes() {
				c := Card{m, s, z}
				for side := 1; side <= c.Sides(); side++ {
					n := &notes{}
					c.draw(n, c.settings(CMYK, nil), side)
					do(c, side, n)
				}
			}
		}
	}
}

// TestTypeIsSafe keeps every letter of every card 3.4 mm inside the trim, of a
// size that holds, in inks that stay sharp: one ink, paper, or large.
func TestTypeIsSafe(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long, in one goroutine")
	}
	const margin = 3.4
	eachSide(func(c Card, side int, n *notes) {
		z := c.size()
		for _, l := range n.set {
			b := l.reach()
			b.x, b.y = b.x+l.at.x, b.y+l.at.y
			if b.x < margin || b.y < margin || b.right() > z.w-margin || b.bottom() > z.h-margin {
				t.Errorf("%v side %d: %q lies at %.2f of %.1f × %.1f", c, side, l.s, b, z.w, z.h)
			}
			if l.size < 6.2 {
				t.Errorf("%v side %d: %q is set in %.2f pt", c, side, l.s, l.size)
			}
			if l.ink.k > 0 && l.ink.sum() > l.ink.k && l.size < 9 && l.ink.sum() > .5 {
				t.Errorf("%v side %d: %q of %.1f pt is built from several inks", c, side, l.s, l.size)
			}
		}
	})
}

// TestLinesHold keeps lines at half a point (0.176 mm) and more.
func TestLinesHold(t *testing.T) {
	eachSide(func(c Card, side int, n *notes) {
		for _, w := range n.lines {
			if w < .5*mmPerPt {
				t.Errorf("%v side %d: a line of %.3f mm", c, side, w)
				return
			}
		}
		for _, k := range n.inks {
			if k.sum() > 2.6 {
				t.Errorf("%v side %d: %v sums to %.0f %%", c, side, k, k.sum()*100)
				return
			}
		}
	})
}

// TestPhoneIsDragged puts the phone number's ink where it is asked for.
func TestPhoneIsDragged(t *testing.T) {
	c := Card{"seed-merchant", Light, "us-business"}
	z := c.size()
	for e, dist := range map[rules.Edge]func(b rect) float64{
		rules.Left:   func(b rect) float64 { return b.x },
		rules.Top:    func(b rect) float64 { return b.y },
		rules.Right:  func(b rect) float64 { return z.w - b.right() },
		rules.Bottom: func(b rect) float64 { return z.h - b.bottom() },
	} {
		for _, mm := range []float64{1.3, 0, -.4} {
			n, found := &notes{}, false
			c.draw(n, c.settings(CMYK, []Option{PhoneAt(e, mm)}), 1)
			for _, l := range n.set {
				if l.s == "01632 960162" {
					b := l.reach()
					b.x, b.y, found = b.x+l.at.x, b.y+l.at.y, true
					if got := dist(b); got < mm-.001 || got > mm+.001 {
						t.Errorf("%s: %.3f mm from the trim, want %v", e, got, mm)
					}
				}
			}
			if !found {
				t.Error("no phone number")
			}
		}
	}
}
