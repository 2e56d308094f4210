package art

import (
	"math"
	"slices"

	"stoneproof/checks/art/pdf"
	"stoneproof/rules"
)

// Cutting marks are short thin strokes, level or upright, that point at the
// trim from outside (common practice: about 5 mm long, 0.25 to 1 pt).
const (
	markWidest  = 1.5 // points
	markLongest = 15 * rules.Millimetre
	markShort   = 1 * rules.Millimetre
	markAgree   = 100 * rules.Micrometre // marks of one line lie this near to each other
)

// marked finds the trim by the page's cutting marks: two upright lines and two
// level lines, each with a mark at both ends, as far apart as the ticket's card
// is wide and high, with no mark inside the card.
func (s *Side) marked(t rules.Ticket) (pdf.Rect, bool) {
	content, err := s.Content()
	if err != nil {
		return pdf.Rect{}, false
	}
	m := marksOf(content)
	for _, size := range []rules.Size{lyingAs(t.Trim, s.Stated), lyingAs(t.Trim, s.Stated).Turned()} {
		if r, ok := m.around(size, t.Limits.TrimTolerance); ok {
			return r, true
		}
	}
	return pdf.Rect{}, false
}

// mark is one stroke: where its line lies, and the stretch that it covers.
type mark struct{ at, from, to float64 }

// marks are the strokes of a page that may be cutting marks, in points.
type marks struct {
	upright, level []mark
}

func marksOf(c *pdf.Content) marks {
	var m marks
	for i := range c.Paths {
		p := &c.Paths[i]
		switch {
		case !p.Seen():
		case len(p.Strokes) > 0 && p.WidthMax <= markWidest:
			for _, s := range p.Strokes {
				m.add(pdf.Quad{s[0], s[0], s[1], s[1]}.Bounds())
			}
		case p.Filled && p.Rectangle: // a thin bar is as good as a stroke
			m.add(p.Full)
		}
	}
	return m
}

// add takes a stroke's bounds for a mark if they are thin and short.
func (m *marks) add(b pdf.Rect) {
	across, down := b.W(), b.H()
	switch {
	case across <= markWidest && isMark(down):
		m.upright = append(m.upright, mark{(b.X0 + b.X1) / 2, b.Y0, b.Y1})
	case down <= markWidest && isMark(across):
		m.level = append(m.level, mark{(b.Y0 + b.Y1) / 2, b.X0, b.X1})
	}
}

func isMark(long float64) bool {
	return long >= markShort.Points() && long <= markLongest.Points()
}

// line is a cut: marks of one line, of which some lie before the card and some
// behind it.
type line struct {
	at       float64
	from, to float64 // the gap that the marks leave in the middle
}

// around finds the card of a size between the marks. Of several sets (a mark
// for the bleed as well) the one that fits the size best is the trim's.
func (m marks) around(size rules.Size, tolerance rules.Length) (pdf.Rect, bool) {
	columns, rows := lines(m.upright), lines(m.level)
	best, found := pdf.Rect{}, false
	least := tolerance.Points()
	for i, left := range columns {
		for _, right := range columns[i+1:] {
			for j, top := range rows {
				for _, bottom := range rows[j+1:] {
					r := pdf.Rect{X0: left.at, Y0: top.at, X1: right.at, Y1: bottom.at}
					off := math.Max(math.Abs(r.W()-size.W.Points()), math.Abs(r.H()-size.H.Points()))
					if off <= least && clear(left, right, r.Y0, r.Y1) && clear(top, bottom, r.X0, r.X1) {
						best, least, found = r, off, true
					}
				}
			}
		}
	}
	return best, found
}

// clear reports whether two lines' marks stay outside the card between from and
// to, on both sides of it.
func clear(a, b line, from, to float64) bool {
	slack := markAgree.Points()
	return a.from <= from+slack && a.to >= to-slack && b.from <= from+slack && b.to >= to-slack
}

// mostLines bounds the search: a page with more lines of marks than this is a
// sheet or a drawing, not a card.
const mostLines = 16

// lines gathers marks that lie on one line, and keeps the lines that have marks
// at both ends with a gap between.
func lines(list []mark) []line {
	slices.SortFunc(list, func(a, b mark) int {
		if a.at != b.at {
			return compare(a.at, b.at)
		}
		return compare(a.from, b.from)
	})
	var out []line
	for len(list) > 0 && len(out) < mostLines {
		n := 1
		for n < len(list) && list[n].at-list[0].at <= markAgree.Points() {
			n++
		}
		if l, ok := gapOf(list[:n]); ok {
			out = append(out, l)
		}
		list = list[n:]
	}
	return out
}

// gapOf finds the widest gap between the marks of a line.
func gapOf(list []mark) (line, bool) {
	group := slices.Clone(list)
	slices.SortFunc(group, func(a, b mark) int { return compare(a.from, b.from) })
	var l line
	var sum float64
	for i, m := range group {
		sum += m.at
		if i > 0 && m.from-group[i-1].to > l.to-l.from {
			l.from, l.to = group[i-1].to, m.from
		}
	}
	l.at = sum / float64(len(group))
	return l, l.to > l.from
}

func compare(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}
