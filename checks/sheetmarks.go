package checks

import (
	"math"

	"stoneproof/checks/art/pdf"
	"stoneproof/checks/brink"
	"stoneproof/rules"
)

// sheetMarks are the marks found on a side, and what only drawing instructions
// tell of them.
type sheetMarks struct {
	brink.CutMarks
	registration int // thin lines in the colour of every plate
	certain      bool
}

// Any reports whether there is anything to tell.
func (m sheetMarks) Any() bool { return len(m.Boxes) > 0 }

// How sheet marks are drawn (common practice: 0.25 to 1 pt, about 5 mm).
const (
	markWidest  = 530 * rules.Micrometre // 1.5 pt
	markLeast   = 1 * rules.Millimetre
	markLongest = 15 * rules.Millimetre
	markAgree   = 150 * rules.Micrometre // from the line that it is drawn for
	markReach   = 8 * rules.Millimetre   // into the card, from a corner
	patchLeast  = 1500 * rules.Micrometre
	patchMost   = 8 * rules.Millimetre
	crossOff    = 1500 * rules.Micrometre // from the middle of an edge
)

// mostSticks is how many short lines or small boxes may reach past the trim: with
// more they are a texture, and comparing each with each takes too long.
const mostSticks = 500

// stick is a short thin line, level or upright.
type stick struct {
	box     rules.Box
	upright bool
	all     bool // in registration colour
	ink     lay
}

func (s stick) length() rules.Length { return max(s.box.W, s.box.H) }

func (s stick) middle() (x, y rules.Length) { return s.box.X + s.box.W/2, s.box.Y + s.box.H/2 }

// drawnMarks finds sheet marks among the lines and boxes of a page, those that
// reach into the bleed or the card.
func (p *Pass) drawnMarks(content *pdf.Content) sheetMarks {
	var m sheetMarks
	sticks, patches := p.sticks(content)
	if max(len(sticks), len(patches)) > mostSticks {
		return m // a texture
	}
	arms := p.cornerArms(sticks)
	if corners := p.cornersOf(arms); len(arms) >= 2 && 4*len(arms) >= len(sticks) {
		m.Arms, m.Corners = len(arms), corners
		m.certain = len(arms) >= 3 && corners >= 2
		m.take(arms)
	}
	if crosses := p.crosses(sticks); len(crosses) >= 2 {
		m.Crosses = len(crosses)
		m.Boxes = append(m.Boxes, crosses...)
	}
	if box, ok := colourBar(patches); ok {
		m.Bars = true
		m.Boxes = append(m.Boxes, box)
	}
	for _, s := range sticks {
		if s.all {
			m.registration++
			m.certain = true
			m.Boxes = append(m.Boxes, s.box)
		}
	}
	return m
}

func (m *sheetMarks) take(list []stick) {
	for _, s := range list {
		m.Boxes = append(m.Boxes, s.box)
	}
}

// patchOf is a small flat box: one of a colour bar perhaps.
type patchOf struct {
	box rules.Box
	ink lay
}

// sticks lists the short thin lines of a page that touch the trim or lie beyond
// it in the bleed and are seen, and the small boxes that do.
func (p *Pass) sticks(content *pdf.Content) (sticks []stick, patches []patchOf) {
	for i := range content.Paths {
		f := &content.Paths[i]
		if !f.Seen() || f.InPattern || f.InGlyph {
			continue
		}
		for _, r := range sticksOf(f) {
			box := p.Side.Box(r.Intersect(f.Box))
			if s, ok := stickOf(box); ok && p.pastTrim(box) && !p.buried(content, f.Order, r) {
				s.ink = inkOfStick(f)
				s.all = s.ink.all
				sticks = append(sticks, s)
			}
		}
		if box := p.Side.Box(f.Box); f.Filled && f.Rectangle && min(box.W, box.H) >= patchLeast && max(box.W, box.H) <= patchMost && p.pastTrim(box) {
			patches = append(patches, patchOf{box, layOf(f.Fill)})
		}
	}
	return sticks, patches
}

// sticksOf are the boxes of a path's lines, and of a filled box.
func sticksOf(f *pdf.Path) []pdf.Rect {
	if f.Filled && f.Rectangle {
		return []pdf.Rect{f.Full}
	}
	if !f.Stroked {
		return nil
	}
	var list []pdf.Rect
	half := f.WidthMax / 2
	for _, s := range f.Strokes {
		b := pdf.Quad{s[0], s[0], s[1], s[1]}.Bounds()
		if b.W() >= b.H() {
			list = append(list, pdf.Rect{X0: b.X0, X1: b.X1, Y0: b.Y0 - half, Y1: b.Y1 + half})
		} else {
			list = append(list, pdf.Rect{X0: b.X0 - half, X1: b.X1 + half, Y0: b.Y0, Y1: b.Y1})
		}
	}
	return list
}

func inkOfStick(f *pdf.Path) lay {
	if f.Filled && f.Rectangle {
		return layOf(f.Fill)
	}
	return layOf(f.Stroke)
}

func stickOf(b rules.Box) (s stick, ok bool) {
	s = stick{box: b, upright: b.H > b.W}
	long := s.length()
	return s, min(b.W, b.H) <= markWidest && long >= markLeast && long <= markLongest
}

// pastTrim reports whether a box touches the trim or lies beyond it, and reaches
// into the bleed by more than rounding.
func (p *Pass) pastTrim(b rules.Box) bool {
	in, c := p.Side.Printed().Inset(safeSlack), p.Side.Card().Inset(markAgree)
	reaches := b.X < in.Right() && b.Right() > in.X && b.Y < in.Bottom() && b.Bottom() > in.Y
	return reaches && (b.X <= c.X || b.Y <= c.Y || b.Right() >= c.Right() || b.Bottom() >= c.Bottom())
}

// cornerArms are the sticks on the trim lines at the corners, of one ink.
func (p *Pass) cornerArms(sticks []stick) []stick {
	var best []stick
	var arms []stick
	for _, s := range sticks {
		if _, ok := p.cornerOf(s); ok {
			arms = append(arms, s)
		}
	}
	for _, a := range arms {
		var alike []stick
		for _, o := range arms {
			if a.ink.same(o.ink) || !a.ink.known {
				alike = append(alike, o)
			}
		}
		if len(alike) > len(best) {
			best = alike
		}
		if len(alike)*2 > len(arms) {
			break
		}
	}
	return best
}

// cornerOf tells at which corner a stick lies on the trim line, beyond the
// corner or a little into the card: 0 to 3.
func (p *Pass) cornerOf(s stick) (corner int, ok bool) {
	trim := p.Side.Trim
	at, along, w, h := s.box.X+s.box.W/2, s.box.Y+s.box.H/2, trim.W, trim.H
	from, to := s.box.Y, s.box.Bottom()
	if !s.upright {
		at, along, w, h = along, at, trim.H, trim.W
		from, to = s.box.X, s.box.Right()
	}
	switch {
	case at.Abs() <= markAgree:
	case (at - w).Abs() <= markAgree:
		corner = 1
	default:
		return 0, false
	}
	if 2*along > h {
		corner += 2
		from, to = h-to, h-from
	}
	if !s.upright && corner%3 != 0 {
		corner = 3 - corner // the two axes are counted the other way round
	}
	return corner, from <= markAgree && to <= markReach
}

func (p *Pass) cornersOf(arms []stick) int {
	seen := map[int]bool{}
	for _, a := range arms {
		c, _ := p.cornerOf(a)
		seen[c] = true
	}
	return len(seen)
}

// crosses are pairs of sticks that cross in their middles by the middle of an
// edge.
func (p *Pass) crosses(sticks []stick) []rules.Box {
	var list []rules.Box
	for i, a := range sticks {
		x, y := a.middle()
		if !a.upright || !p.byMiddle(x, y) {
			continue
		}
		for k, b := range sticks {
			bx, by := b.middle()
			alike := 2*a.length() <= 3*b.length() && 2*b.length() <= 3*a.length()
			if k != i && !b.upright && alike && (x-bx).Abs() <= markAgree && (y-by).Abs() <= markAgree {
				list = append(list, a.box.Union(b.box))
				break
			}
		}
	}
	return list
}

// byMiddle reports whether a place lies by the middle of an edge, on the trim or
// beyond it.
func (p *Pass) byMiddle(x, y rules.Length) bool {
	t := p.Side.Trim
	offX, offY := (x - t.W/2).Abs(), (y - t.H/2).Abs()
	return offX <= crossOff && 2*offY >= t.H-markAgree || offY <= crossOff && 2*offX >= t.W-markAgree
}

// colourBar finds boxes of one size in a row, with the four process inks as
// solids among them.
func colourBar(patches []patchOf) (rules.Box, bool) {
	for _, a := range patches {
		box, inks := a.box, map[int]bool{}
		for _, b := range patches {
			if (a.box.W-b.box.W).Abs() > markAgree || (a.box.H-b.box.H).Abs() > markAgree ||
				(a.box.Y-b.box.Y).Abs() > markAgree && (a.box.X-b.box.X).Abs() > markAgree {
				continue
			}
			if ink, ok := solidOf(b.ink); ok {
				inks[ink] = true
				box = box.Union(b.box)
			}
		}
		if len(inks) == 4 {
			return box, true
		}
	}
	return rules.Box{}, false
}

// solidOf tells which process ink a colour is a solid of, with no other.
func solidOf(l lay) (ink int, ok bool) {
	if !l.known || len(l.spots) > 0 {
		return 0, false
	}
	solid := -1
	for i, v := range l.cmyk {
		switch {
		case math.Abs(v-1) < traceTint && solid < 0:
			solid = i
		case v > traceTint:
			return 0, false
		}
	}
	return solid, solid >= 0
}
