package checks

import (
	"math"

	"stoneproof/checks/art/pdf"
)

// line is a line that a page draws: by a stroke, around letters, or as a filled
// shape so thin that it is one.
type line struct {
	mark
	width float64  // points, as printed; 0 is the thinnest line of the device
	box   pdf.Rect // what of it comes through, in display space
}

// A filled shape counts as a line if it is straight, all of one width, and far
// longer than wide. A shorter one may be the stem of a letter turned into an
// outline, or a dot of a pattern; under 9 pt, 3 mm, nothing is called a rule.
const (
	leastRule    = 9.0
	leastStretch = 8.0
)

// thinLines lists the lines under a width in points that somebody could see: not
// in the colour of their own filling, nor painted over. Strips of a picture that
// is made of many are no lines.
func (p *Pass) thinLines(content *pdf.Content, under float64) []line {
	var lines []line
	var strips []strip
	for _, m := range p.marks(content) {
		switch {
		case m.stroke:
			if w := strokeWidth(m); w < under && !outlinesItself(m) {
				lines = append(lines, line{m, w, m.Box})
			}
		case m.path != nil && !m.InGlyph:
			for _, q := range m.path.Quads {
				if s, ok := stripOf(q, m); ok && s.width < under {
					strips = append(strips, s)
				}
			}
		}
	}
	for _, s := range alone(strips, under) {
		if s.isRule() && !p.carriesOn(content, s) {
			lines = append(lines, line{s.mark, s.width, s.box})
		}
	}
	seen := lines[:0]
	for _, l := range lines {
		if !p.buried(content, l.Order, l.box) {
			seen = append(seen, l)
		}
	}
	return seen
}

// strokeWidth is how wide a stroke prints, in points. Under a matrix that squeezes
// one way, the width of a pen depends on the direction in which it draws; level
// and upright lines are measured, of others the least is told.
func strokeWidth(m mark) float64 {
	if m.path == nil {
		return m.text.LineThin
	}
	f := m.path
	if f.WidthMax == f.WidthMin || len(f.Strokes) == 0 || f.InPattern {
		return f.WidthMin
	}
	ends := pdf.Rect{X0: math.Inf(1), Y0: math.Inf(1), X1: math.Inf(-1), Y1: math.Inf(-1)}
	level, upright := true, true
	for _, s := range f.Strokes {
		for _, e := range s {
			ends.X0, ends.X1 = min(ends.X0, e.X), max(ends.X1, e.X)
			ends.Y0, ends.Y1 = min(ends.Y0, e.Y), max(ends.Y1, e.Y)
		}
		level = level && s[0].Y == s[1].Y
		upright = upright && s[0].X == s[1].X
	}
	switch {
	case level:
		return f.Full.H() - ends.H()
	case upright:
		return f.Full.W() - ends.W()
	}
	return f.WidthMin
}

// outlinesItself reports whether a stroke only makes what it goes around a little
// bolder: it has the colour of the filling. Single lines have nothing inside to fill.
func outlinesItself(m mark) bool {
	filled := m.path != nil && m.path.Filled && len(m.path.Strokes) == 0 || m.path == nil && m.text.Mode&3 == 2
	return filled && m.FillAlpha > 0 && layOf(m.Fill).same(layOf(m.Stroke))
}

// strip is a filled shape of four straight sides, by its middle line.
type strip struct {
	mark
	from, to pdf.Point
	width    float64
	box      pdf.Rect
}

// stripOf reads a shape as a strip, if it is all of one width and some of it comes
// through the clip.
func stripOf(q pdf.Quad, m mark) (s strip, ok bool) {
	mid := func(a, b pdf.Point) pdf.Point { return pdf.Point{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2} }
	side := func(i int) float64 { return distance(q[i], q[(i+1)%4]) }
	s = strip{mark: m, from: mid(q[0], q[3]), to: mid(q[1], q[2]), box: m.Box}
	ends := [2]float64{side(3), side(1)}
	if side(1)+side(3) > side(0)+side(2) {
		s.from, s.to = mid(q[0], q[1]), mid(q[2], q[3])
		ends = [2]float64{side(0), side(2)}
	}
	long := distance(s.from, s.to)
	if long == 0 || math.Abs(ends[0]-ends[1]) > 0.1*max(ends[0], ends[1])+0.001 {
		return s, false
	}
	s.width = areaOf(q) / long
	if !m.InPattern {
		s.box = q.Bounds().Intersect(m.Box)
	}
	return s, !s.box.Empty()
}

func (s strip) length() float64 { return distance(s.from, s.to) }

func (s strip) isRule() bool {
	return s.length() >= leastRule && s.length() >= leastStretch*s.width
}

func distance(a, b pdf.Point) float64 { return math.Hypot(b.X-a.X, b.Y-a.Y) }

// areaOf is the area of a quad by the shoelace formula.
func areaOf(q pdf.Quad) float64 {
	sum := 0.0
	for i, a := range q {
		b := q[(i+1)%4]
		sum += a.X*b.Y - b.X*a.Y
	}
	return math.Abs(sum) / 2
}

// stripGap is how far strips of one picture may stand apart, in points: what
// rounding to a hundredth or two leaves between them.
const stripGap = 0.05

// touches reports whether another strip runs along this one, edge to edge, over at
// least half of the shorter.
func (s strip) touches(t strip) bool {
	long := s.length()
	ux, uy := (s.to.X-s.from.X)/long, (s.to.Y-s.from.Y)/long
	along := func(p pdf.Point) float64 { return (p.X-s.from.X)*ux + (p.Y-s.from.Y)*uy }
	off := func(p pdf.Point) float64 { return (p.Y-s.from.Y)*ux - (p.X-s.from.X)*uy }
	half := (s.width + t.width) / 2
	for _, end := range []pdf.Point{t.from, t.to} {
		// Two in one place are one line drawn twice.
		if d := math.Abs(off(end)); d > half+stripGap || d <= half/4+1e-6 {
			return false
		}
	}
	a, b := along(t.from), along(t.to)
	shared := min(long, max(a, b)) - max(0, min(a, b))
	return shared >= min(long, t.length())/2
}

// nearInOrder is how far back in the paint order a strip looks for its neighbours:
// a program that draws a picture strip by strip draws them one after another.
const nearInOrder = 256

// alone leaves out the strips that touch others and make something wider than a
// limit with them.
func alone(strips []strip, under float64) []strip {
	group := make([]int, len(strips)) // each strip's elder in its group, or itself
	root := func(i int) int {
		for group[i] != i {
			group[i] = group[group[i]]
			i = group[i]
		}
		return i
	}
	for i := range strips {
		group[i] = i
		for j := max(0, i-nearInOrder); j < i; j++ {
			if strips[i].touches(strips[j]) {
				group[root(i)] = root(j)
			}
		}
	}
	wide := make([]float64, len(strips))
	for i, s := range strips {
		wide[root(i)] += s.width
	}
	var kept []strip
	for i, s := range strips {
		if wide[root(i)] < under {
			kept = append(kept, s)
		}
	}
	return kept
}

// likeTint is how far two colours may differ, in each ink, to look like one surface
// where they meet.
const likeTint = 0.1

// carriesOn reports whether a strip is only the edge of a larger area of a colour like
// its own that it touches: what is left over where a program cuts art into pieces.
func (p *Pass) carriesOn(content *pdf.Content, s strip) bool {
	l, g := layOf(s.colour()), p.areasOf(content)
	long := max(s.length(), 1e-9)
	off := s.width/2 + stripGap
	dx, dy := -(s.to.Y-s.from.Y)/long*off, (s.to.X-s.from.X)/long*off
	mid := pdf.Point{X: (s.from.X + s.to.X) / 2, Y: (s.from.Y + s.to.Y) / 2}
	for _, beside := range []pdf.Point{{X: mid.X + dx, Y: mid.Y + dy}, {X: mid.X - dx, Y: mid.Y - dy}} {
		for a := range g.at(beside, math.MaxInt, g.solid) {
			part := a.Box.Intersect(pdf.Rect{X0: s.box.X0 - off, Y0: s.box.Y0 - off, X1: s.box.X1 + off, Y1: s.box.Y1 + off})
			if !a.Box.Contains(s.box, 0) && a.lay.near(l, likeTint) && max(part.W(), part.H()) >= long/2 {
				return true
			}
		}
	}
	return false
}
