package gang

import (
	"math"

	"stoneproof/checks/art/pdf"
	"stoneproof/rules"
)

// face is one side of a sheet.
type face struct {
	number int
	size   rules.Size
	marks  []mark
	cuts   []mark // those of marks that may be cutting marks
	items  []item
	cells  []*cell
	marked bool // the cells were found by marks
	limits rules.Limits

	picture *picture // of a sheet that is pixels: it has no items
}

// item is one painted thing but for marks.
type item struct {
	full, seen rules.Box
	kind       string // what it is, and of text what it says
	points     []point
	text       *pdf.Text // nil for what is no text
}

// point is a place in micrometres.
type point struct{ x, y float64 }

// mark is a short thin line, level or upright: a cutting mark, or part of the art.
type mark struct {
	upright  bool
	at       rules.Length
	from, to rules.Length
	points   float64 // weight
}

// Marks are short and thin (common practice: about 5 mm, 0.25 to 1 pt).
const (
	thickest = 2.0 // points
	shortest = 800 * rules.Micrometre
	longest  = 15 * rules.Millimetre
)

// box is the mark with its weight.
func (m mark) box() rules.Box {
	half := rules.Points(m.points / 2)
	if m.upright {
		return rules.Box{X: m.at - half, Y: m.from, W: 2*half + 1, H: m.to - m.from}
	}
	return rules.Box{X: m.from, Y: m.at - half, W: m.to - m.from, H: 2*half + 1}
}

func um(points float64) rules.Length { return rules.Points(points) }

func boxOf(r pdf.Rect) rules.Box {
	x, y := um(r.X0), um(r.Y0)
	return rules.Box{X: x, Y: y, W: um(r.X1) - x, H: um(r.Y1) - y}
}

func pointsOf(q ...pdf.Point) []point {
	var list []point
	for _, p := range q {
		list = append(list, point{float64(um(p.X)), float64(um(p.Y))})
	}
	return list
}

// faceOf lists what a page draws.
func faceOf(page *pdf.Page, c *pdf.Content) *face {
	f := &face{number: page.Number, size: rules.Size{W: um(page.Media.W()), H: um(page.Media.H())}}
	for i := range c.Texts {
		if t := &c.Texts[i]; t.Seen() {
			f.add(t.Item, item{kind: "text " + t.String, text: t, points: pointsOf(t.Quad[:]...)})
		}
	}
	for i := range c.Images {
		if m := &c.Images[i]; m.Seen() {
			f.add(m.Item, item{kind: "image", points: pointsOf(m.Quad[:]...)})
		}
	}
	for i := range c.Shadings {
		if s := &c.Shadings[i]; s.Seen() {
			f.add(s.Item, item{kind: "shading"})
		}
	}
	for i := range c.Paths {
		if p := &c.Paths[i]; p.Seen() && !f.addMarks(p) {
			f.add(p.Item, item{kind: "path"})
		}
	}
	return f
}

// onePicture reports whether a picture covers most of the page, as a flattened sheet's
// does.
func (f *face) onePicture() bool {
	for _, it := range f.items {
		if it.kind == "image" && it.seen.W > f.size.W*2/3 && it.seen.H > f.size.H*2/3 {
			return true
		}
	}
	return false
}

// add adds what is drawn on the page itself. Its points tell how it lies: its own
// corners in their order where they are known, else those of its box.
func (f *face) add(drawn pdf.Item, it item) {
	if drawn.InPattern || drawn.InGlyph {
		return
	}
	it.full, it.seen = boxOf(drawn.Full), boxOf(drawn.Box)
	f.items = append(f.items, it)
}

// addMarks takes a path for marks if it is made of short thin lines alone.
func (f *face) addMarks(p *pdf.Path) bool {
	var found []mark
	switch {
	case len(p.Strokes) > 0 && p.WidthMax <= thickest && !p.Filled:
		for _, s := range p.Strokes {
			m, ok := markOf(shown(pdf.Quad{s[0], s[0], s[1], s[1]}.Bounds(), p.Box), p.WidthMax)
			if !ok {
				return false
			}
			found = append(found, m)
		}
	case p.Filled && p.Rectangle: // a thin bar is as good as a stroke
		m, ok := markOf(p.Full, math.Min(p.Full.W(), p.Full.H()))
		if !ok {
			return false
		}
		found = append(found, m)
	}
	f.marks = append(f.marks, found...)
	return len(found) > 0
}

// shown is the part of a line that the clip lets through.
func shown(line, clip pdf.Rect) pdf.Rect {
	line.X0, line.X1 = max(line.X0, clip.X0), min(line.X1, clip.X1)
	line.Y0, line.Y1 = max(line.Y0, clip.Y0), min(line.Y1, clip.Y1)
	return line
}

func markOf(r pdf.Rect, weight float64) (mark, bool) {
	b := boxOf(r)
	switch isLong := func(l rules.Length) bool { return l >= shortest && l <= longest }; {
	case r.W() <= thickest && isLong(b.H):
		return mark{true, b.X + b.W/2, b.Y, b.Bottom(), weight}, true
	case r.H() <= thickest && isLong(b.W):
		return mark{false, b.Y + b.H/2, b.X, b.Right(), weight}, true
	}
	return mark{}, false
}
