package art

import "stoneproof/checks/art/pdf"

// PlainBrink tells from a page's drawing instructions alone that its brink, from
// the safe line out to the bleed, is plain: one flat ground reaches beyond it on
// every edge, or nothing is painted there at all, and all else lies in the safe
// zone. Many cards are made so; their bleed and safe zone are then known for
// certain, without the cost of drawing the page. Painted tells whether there is
// a ground.
func (s *Side) PlainBrink() (painted, plain bool) {
	if s.Page == nil || !s.Placed() {
		return false, false
	}
	c, err := s.Content()
	if err != nil || c.Truncated || len(c.Notes) > 0 {
		return false, false
	}
	for i := range c.Paths {
		p := &c.Paths[i]
		switch {
		case s.harmless(&p.Item):
		case s.grounds(p):
			painted = true
		default:
			return false, false
		}
	}
	for i := range c.Texts {
		if !s.harmless(&c.Texts[i].Item) {
			return false, false
		}
	}
	for i := range c.Images {
		if !s.harmless(&c.Images[i].Item) {
			return false, false
		}
	}
	for i := range c.Shadings {
		if !s.harmless(&c.Shadings[i].Item) {
			return false, false
		}
	}
	return painted, true
}

// harmless reports whether an item leaves no ink at the brink: it is not seen,
// or lies in the safe zone. Its box is never smaller than its ink.
func (s *Side) harmless(it *pdf.Item) bool {
	if !it.Seen() {
		return true
	}
	safe := s.Card().Inset(s.safe)
	b := s.Box(it.Box)
	return b.X >= safe.X && b.Y >= safe.Y && b.Right() <= safe.Right() && b.Bottom() <= safe.Bottom()
}

// grounds reports whether a path is a flat ground: an opaque upright rectangle
// in one colour that covers all of the trim and the bleed that there is room
// for.
func (s *Side) grounds(p *pdf.Path) bool {
	opaque := p.FillAlpha == 1 && p.Blend == "Normal" && !p.SoftMask && !p.FillOverprint
	if !p.Filled || p.Stroked || !p.Rectangle || p.Shaped || p.InPattern || p.Fill.Pattern != nil || !opaque {
		return false
	}
	window, _, _ := s.window()
	b := s.Box(p.Box)
	return b.X <= window.X && b.Y <= window.Y && b.Right() >= window.Right() && b.Bottom() >= window.Bottom()
}
