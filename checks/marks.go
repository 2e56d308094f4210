package checks

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"stoneproof/checks/art/pdf"
	"stoneproof/rules"
)

// mark is one thing that a page paints in one colour: the letters of a run, a
// shape, a line, a picture of one bit. What is filled and stroked is two marks.
type mark struct {
	*pdf.Item
	text   *pdf.Text // the run it belongs to; nil for what is no letter
	path   *pdf.Path // nil for text and pictures
	stroke bool      // it is painted by the stroke's colour
}

func (m mark) colour() pdf.Colour {
	if m.stroke {
		return m.Stroke
	}
	return m.Fill
}

func (m mark) overprints() bool {
	if m.stroke {
		return m.StrokeOverprint
	}
	return m.FillOverprint
}

// marks lists what the page paints in one colour and leaves on the card or its
// bleed, in paint order; cutting marks and colour bars beside the card are left
// out. A letter of a Type 3 font is a drawing of its own: it is listed in place of
// its run, whose colour need not be the letter's.
func (p *Pass) marks(content *pdf.Content) []mark {
	var list []mark
	add := func(m mark, painted bool) {
		alpha := m.FillAlpha
		if m.stroke {
			alpha = m.StrokeAlpha
		}
		if painted && alpha > 0 && p.reachesCard(m.Item) {
			list = append(list, m)
		}
	}
	var drawn []*pdf.Text // runs whose letters are drawings
	for i := range content.Texts {
		t := &content.Texts[i]
		switch {
		case !t.Seen() || strings.TrimSpace(t.String) == "":
		case t.Font != nil && t.Font.Subtype == "Type3":
			drawn = append(drawn, t)
		default:
			add(mark{Item: &t.Item, text: t}, t.Mode&3 != 1)
			add(mark{Item: &t.Item, text: t, stroke: true}, t.Mode&3 == 1 || t.Mode&3 == 2)
		}
	}
	for i := range content.Paths {
		f := &content.Paths[i]
		m := mark{Item: &f.Item, path: f, text: runOf(drawn, &f.Item)}
		add(m, f.Filled)
		m.stroke = true
		add(m, f.Stroked)
	}
	for i := range content.Images {
		if im := &content.Images[i]; im.Mask == pdf.Stencil && !im.IsMask {
			add(mark{Item: &im.Item, text: runOf(drawn, &im.Item)}, true)
		}
	}
	slices.SortStableFunc(list, func(a, b mark) int { return cmp.Compare(a.Order, b.Order) })
	return list
}

// reachesCard reports whether an item leaves anything on the card or its bleed. Where
// the trim could not be placed, all of the page counts.
func (p *Pass) reachesCard(it *pdf.Item) bool {
	if !it.Seen() {
		return false
	}
	if !p.Side.Placed() {
		return true
	}
	b, out := p.Side.Box(it.Box), p.Side.Printed()
	return b.X < out.Right() && b.Right() > out.X && b.Y < out.Bottom() && b.Bottom() > out.Y
}

// runOf is the run that a drawn letter belongs to: the last one that began before
// it, of those in paint order.
func runOf(runs []*pdf.Text, it *pdf.Item) *pdf.Text {
	if !it.InGlyph {
		return nil
	}
	n, _ := slices.BinarySearchFunc(runs, it.Order, func(t *pdf.Text, order int) int { return cmp.Compare(t.Order, order) })
	if n == 0 {
		return nil
	}
	return runs[n-1]
}

// told is what a finding names: a line of words, or one thing that is none.
type told struct {
	textLine
	marks []mark // what it is made of
	noun  string // what it is, "a line"; empty for words
}

func (t told) String() string {
	if t.noun == "" {
		return fmt.Sprintf("the words %q", shorten(t.words))
	}
	return t.noun
}

// is goes with String.
func (t told) is() string {
	if t.noun == "" {
		return "are"
	}
	return "is"
}

// tell names marks as a reader sees them: runs that stand side by side are one
// line of words, and the letters of one run are told once.
func (p *Pass) tell(marks []mark) []told {
	var list []told
	var last *pdf.Text
	for _, m := range marks {
		box := p.Side.Box(m.Box)
		n := len(list)
		switch {
		case m.text == nil:
			list = append(list, told{textLine{box: box, last: box}, nil, m.noun()})
		case n > 0 && m.text == last:
			list[n-1].box, list[n-1].last = list[n-1].box.Union(box), list[n-1].last.Union(box)
		case n > 0 && list[n-1].noun == "" && list[n-1].goesOn(box):
			list[n-1].add(m.text, box)
		default:
			list = append(list, told{textLine: lineOf(m.text, box)})
		}
		last = m.text
		n = len(list)
		list[n-1].marks = append(list[n-1].marks, m)
	}
	return list
}

func (m mark) noun() string {
	switch {
	case m.path == nil:
		return "a picture in one colour"
	case m.stroke:
		return "a line"
	}
	return "a shape"
}

// also lists further things that a finding is about, each by its name.
func also(list []told) []rules.Place {
	var places []rules.Place
	for _, t := range list[:min(len(list), mostPlaces)] {
		places = append(places, rules.Place{What: t.String(), Where: &t.box})
	}
	return places
}

// mostPlaces is how many further places a finding lists: more than anybody goes
// through one by one.
const mostPlaces = 40
