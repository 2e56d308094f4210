package checks

import (
	"stoneproof/checks/art/pdf"
	"stoneproof/checks/brink"
	"stoneproof/rules"
)

// drawn is what a page's drawing instructions tell of frames.
type drawn struct {
	borders []brink.Border
	whole   bool // there can be no other: the pixels need not be asked
}

// drawnBorders finds frames among the rectangles and lines of a page. Where the
// brink is plain, and nothing else comes near the trim that may be a frame, they
// are all there are.
func (p *Pass) drawnBorders() drawn {
	if p.Side.Page == nil {
		return drawn{}
	}
	content, err := p.Side.Content()
	if err != nil {
		return drawn{}
	}
	r := ruler{Pass: p, content: content}
	_, plain := p.Side.PlainBrink()
	found := drawn{whole: plain}
	for i := range content.Paths {
		f := &content.Paths[i]
		switch b, ok := r.read(f); {
		case ok && len(b.Sides) > 0:
			found.borders = append(found.borders, b)
		case !ok && r.mayFrame(&f.Item):
			found.whole = false
		}
	}
	for i := range content.Images {
		found.whole = found.whole && !r.mayFrame(&content.Images[i].Item)
	}
	for i := range content.Shadings {
		found.whole = found.whole && !r.mayFrame(&content.Shadings[i].Item)
	}
	if b, ok := brink.JoinSides(r.sides(), p.Side.Trim); ok {
		found.borders = append(found.borders, b)
	}
	return found
}

// ruler reads frames from drawing instructions. Lines are gathered edge by edge:
// four of them may make one frame.
type ruler struct {
	*Pass
	content *pdf.Content
	near    [4][]brink.BorderSide // by edge
}

// Frames of drawing instructions are looked for as far in as those of pixels.
const (
	borderReach = 10 * rules.Millimetre
	widestFrame = 3 * rules.Millimetre // what is wider is a ground, not a line
	onTheTrim   = 300 * rules.Micrometre
)

// read takes a path for what frames are made of, and reports whether it is told
// by its instructions alone. The border has no sides if the path is no frame.
func (r *ruler) read(f *pdf.Path) (b brink.Border, ok bool) {
	if !f.Seen() {
		return b, true
	}
	if f.Shaped || f.InPattern || f.InGlyph {
		return b, false
	}
	fill, stroke := r.visible(f)
	if !fill && !stroke {
		return b, true
	}
	box := r.Side.Box(f.Box)
	switch {
	case !f.Rectangle:
		return b, r.lines(f)
	case min(box.W, box.H) <= widestFrame:
		r.line(box)
		return b, true
	case stroke && r.isCut(f):
		return b, false
	}
	b, _ = brink.JoinSides(r.around(box, !fill), r.Side.Trim)
	return b, true
}

// visible tells whether the filling and the line of a path can be told from what
// they lie on.
func (r *ruler) visible(f *pdf.Path) (fill, stroke bool) {
	if r.buried(r.content, f.Order, f.Box) {
		return false, false
	}
	ground := r.beneath(r.content, f.Order, f.Box)
	fill = f.Filled && f.FillAlpha > 0 && !layOf(f.Fill).same(ground)
	stroke = f.Stroked && f.StrokeAlpha > 0 && !layOf(f.Stroke).same(ground)
	return fill, stroke
}

// isCut reports whether the clip takes away some of a path that would come on
// the card.
func (r *ruler) isCut(f *pdf.Path) bool {
	card := r.Side.Printed()
	return r.Side.Box(f.Full).Intersect(card) != r.Side.Box(f.Box).Intersect(card)
}

// around are the sides of a box that run near the trim, along half of the edge
// at least.
func (r *ruler) around(b rules.Box, line bool) []brink.BorderSide {
	trim := r.Side.Trim
	var sides []brink.BorderSide
	for _, s := range []brink.BorderSide{
		{Edge: rules.Top, Distance: b.Y, From: b.X, To: b.Right()},
		{Edge: rules.Right, Distance: trim.W - b.Right(), From: b.Y, To: b.Bottom()},
		{Edge: rules.Bottom, Distance: trim.H - b.Bottom(), From: b.X, To: b.Right()},
		{Edge: rules.Left, Distance: b.X, From: b.Y, To: b.Bottom()},
	} {
		s.Line = line
		if s.Distance >= -onTheTrim && s.Distance <= borderReach && 2*(s.To-s.From) >= r.long(s.Edge) {
			sides = append(sides, s)
		}
	}
	return sides
}

// long is the length of an edge.
func (r *ruler) long(e rules.Edge) rules.Length {
	if e == rules.Top || e == rules.Bottom {
		return r.Side.Trim.W
	}
	return r.Side.Trim.H
}

// line takes a thin box for a line along the edges that it runs near. One that
// runs off the card at both ends may be a stripe: of those pixels tell.
func (r *ruler) line(b rules.Box) {
	for _, s := range r.around(b, true) {
		if s.From <= 0 && s.To >= r.long(s.Edge) {
			continue
		}
		k := edgeIndex(s.Edge)
		r.near[k] = append(r.near[k], s)
	}
}

// lines takes a path of level and upright lines, or of thin shapes, for lines;
// it reports whether the path is made of nothing else.
func (r *ruler) lines(f *pdf.Path) bool {
	half := f.WidthMax / 2
	if f.Filled || len(f.Strokes) == 0 {
		return false
	}
	for _, s := range f.Strokes {
		b := pdf.Quad{s[0], s[0], s[1], s[1]}.Bounds()
		box := r.Side.Box(pdf.Rect{X0: b.X0 - half, Y0: b.Y0 - half, X1: b.X1 + half, Y1: b.Y1 + half})
		if min(box.W, box.H) > widestFrame {
			continue // a slanted line is no frame's
		}
		r.line(box)
	}
	return true
}

// fewLines is how many lines one behind another a frame may have: a double one,
// and one more.
const fewLines = 3

// sides are for each edge the line that is nearest to the trim.
func (r *ruler) sides() []brink.BorderSide {
	var sides []brink.BorderSide
	for _, list := range r.near {
		if len(list) == 0 {
			continue
		}
		nearest := list[0]
		for _, s := range list {
			if s.Distance < nearest.Distance {
				nearest = s
			}
		}
		nearest.Repeated = len(list) > fewLines
		sides = append(sides, nearest)
	}
	return sides
}

// mayFrame reports whether an item of unknown shape is large enough, and comes
// near enough to the trim, to be a frame that is too near.
func (r *ruler) mayFrame(it *pdf.Item) bool {
	if !it.Seen() {
		return false
	}
	b, trim := r.Side.Box(it.Box), r.Side.Trim
	_, distance := nearest(b, r.Side.Card())
	return distance < r.Ticket.Limits.BorderLeast && (2*b.W >= trim.W || 2*b.H >= trim.H)
}
