package brink

import (
	"slices"

	"stoneproof/rules"
)

// CutMarks are the marks of a sheet that were left in the art's own bleed.
type CutMarks struct {
	Arms    int         // short lines on the trim lines at the corners, of eight
	Corners int         // corners that have one
	Crosses int         // crosses at the middles of edges
	Bars    bool        // a row of patches in the process inks
	Boxes   []rules.Box // where all these lie, in the order above
}

// Sure reports whether chance is out of the question: lines of one ink, short,
// and on the trim lines at three corners at least.
func (m CutMarks) Sure() bool { return m.Arms >= 6 && m.Corners >= 3 }

// Any reports whether there is anything to tell.
func (m CutMarks) Any() bool { return m.Arms >= 3 && m.Corners >= 2 || m.Crosses >= 2 || m.Bars }

// How sheet marks are drawn (common practice: lines of 0.25 to 1 pt, about 5 mm
// long; colour bars of 2 to 8 mm a patch), mm.
const (
	markOff     = 0.25 // from the trim line, for the rounding of pixels
	markBeside  = 0.6  // from its middle to where the ground is seen beside it
	leastArm    = 1.0
	longestArm  = 8.0 // inside the trim; what goes on is no mark
	widestCross = 8.0
	crossGap    = 0.4 // where its ring meets an arm
	leastPatch  = 1.5
	widestPatch = 8.0
)

// FindCutMarks looks for cutting marks, register crosses and colour bars in the
// bleed, which is judged as far out as it is wanted or there is room.
func FindCutMarks(c Canvas, bleed rules.Length) CutMarks {
	var m CutMarks
	if !c.readable() {
		return m
	}
	var arms, crosses, bars []trace
	for _, e := range rules.AllEdges {
		s := newStrip(&c, e, bleed)
		if !s.takesMarks() {
			continue
		}
		for _, at := range []int{s.first, s.last} {
			if t, mark, ok := s.arm(at); ok && !s.crowded(mark, 0) {
				t.corner = cornerOf(e, at == s.last)
				arms = append(arms, t)
			}
		}
		if t, ok := s.cross(); ok {
			crosses = append(crosses, t)
		}
		if t, ok := s.bar(); ok {
			bars = append(bars, t)
		}
	}
	arms = alikeTraces(arms)
	corners := map[int]bool{}
	for _, t := range arms {
		corners[t.corner] = true
	}
	m.Arms, m.Corners, m.Crosses, m.Bars = len(arms), len(corners), len(crosses), len(bars) > 0
	for _, t := range slices.Concat(arms, crosses, bars) {
		m.Boxes = append(m.Boxes, t.box)
	}
	return m
}

// takesMarks reports whether there is room for marks to be seen.
func (s *strip) takesMarks() bool {
	return s.depth >= s.outPx(leastArm) && s.last-s.first >= s.alongPx(4*widestCross)
}

// cornerOf numbers the corners by the edges that meet there.
func cornerOf(e rules.Edge, last bool) int {
	switch {
	case e == rules.Top && !last || e == rules.Left && !last:
		return 0
	case e == rules.Top || e == rules.Right && !last:
		return 1
	case e == rules.Right || e == rules.Bottom && last:
		return 2
	}
	return 3
}

// trace is one mark: its ink and its place.
type trace struct {
	ink    [3]int
	box    rules.Box
	corner int
}

// alikeTraces are the most traces of one ink.
func alikeTraces(list []trace) []trace {
	var best []trace
	for _, t := range list {
		var alike []trace
		for _, o := range list {
			if farthest(t.ink, o.ink) <= akinColour {
				alike = append(alike, o)
			}
		}
		if len(alike) > len(best) {
			best = alike
		}
	}
	return best
}

// colour is a pixel of the strip as printed on white, if the canvas has one there.
func (s *strip) colour(i, j int) (c [3]int, ok bool) {
	if j >= s.depth || j < -s.inner || i < 0 || i >= s.most() {
		return c, false
	}
	p := s.base + i*s.along + j*s.out
	px := s.c.Pix[p : p+4 : p+4]
	for ch := range c {
		c[ch] = int(px[ch])
		if s.c.Transparent {
			c[ch] = 255 - (255-c[ch])*int(px[3])/255
		}
	}
	return c, true
}

// most is how many pixels the canvas has along the edge.
func (s *strip) most() int {
	if s.along == 4 {
		return s.c.W
	}
	return s.c.H
}

// leastStand is how many levels a pixel must differ by to stand out.
const leastStand = 40

// stands reports whether a pixel stands out from what lies on both sides of it,
// so many pixels off along the edge or across it, and is no mixture of the two.
func (s *strip) stands(i, j, di, dj int) (ink [3]int, ok bool) {
	c, in := s.colour(i, j)
	a, inA := s.colour(i-di, j-dj)
	b, inB := s.colour(i+di, j+dj)
	if !in || !inA || !inB {
		return c, false
	}
	toA, toB, between := farthest(c, a), farthest(c, b), farthest(a, b)
	return c, min(toA, toB) >= leastStand && 2*(toA+toB) > 3*between+leastStand
}

// arm finds a short line across the edge on the trim line beside it, at
// position at, and its stretch from j to j: in the bleed, where it may come from
// some way inside the card.
func (s *strip) arm(at int) (t trace, mark span, ok bool) {
	off := s.alongPx(markOff)
	for i := at - off; i < at+off; i++ {
		from, to, ink := s.crossing(i, 0)
		if long := to - from; long > mark.size() && to > 0 && from > -s.outPx(longestArm) {
			mark = span{from, to}
			t.ink, t.box = ink, s.box(i, i+1, from, to)
		}
	}
	return t, mark, mark.size() >= s.outPx(leastArm)
}

// crossing is the longest stretch, from j to j, in which position i stands out
// from its neighbours along the edge, with gaps no wider than so many pixels,
// and its mean ink.
func (s *strip) crossing(i, gap int) (from, to int, ink [3]int) {
	beside := s.alongPx(markBeside)
	var sum [3]int
	n, top, bottom := 0, 0, s.depth+gap+1
	for j := s.depth - 1; j >= -s.outPx(longestArm)-1; j-- {
		c, ok := s.stands(i, j, beside, 0)
		if !ok {
			continue
		}
		if bottom-j > gap+1 {
			n, top, sum = 0, j+1, [3]int{}
		}
		n, bottom = n+1, j
		for ch := range sum {
			sum[ch] += c[ch]
		}
		if top-bottom > to-from {
			from, to = bottom, top
			ink = [3]int{sum[0] / n, sum[1] / n, sum[2] / n}
		}
	}
	return from, to, ink
}

// box is a rectangle of the strip, from i to i and j to j, in trim coordinates.
func (s *strip) box(i0, i1, j0, j1 int) rules.Box {
	x := length(s.origin + float64(i0)*s.pxAlong)
	w := length(float64(i1-i0) * s.pxAlong)
	y := length((float64(j0) + s.lead) * s.px)
	h := length(float64(j1-j0) * s.px)
	trim := s.c.Trim
	switch upright, far := s.along != 4, s.out > 0; {
	case !upright && far:
		return rules.Box{X: x, Y: trim.H + y, W: w, H: h}
	case !upright:
		return rules.Box{X: x, Y: -y - h, W: w, H: h}
	case far:
		return rules.Box{X: trim.W + y, Y: x, W: h, H: w}
	}
	return rules.Box{X: -y - h, Y: x, W: h, H: w}
}

// cross finds a cross in the bleed at the middle of the edge.
func (s *strip) cross() (t trace, ok bool) {
	mid, off := (s.first+s.last)/2, s.alongPx(2*markOff)
	for i := mid - off; i <= mid+off; i++ {
		from, to, ink := s.crossing(i, s.outPx(crossGap))
		if to-from < s.outPx(leastArm) || from <= -s.outPx(longestArm) {
			continue
		}
		// Where its arms and its ring meet, none stands out: there are gaps.
		for j := from; j < to; j++ {
			if left, right, ok := s.bars(i, j, ink); ok && from+to >= 0 && !s.crowded(span{from, to}, s.outPx(crossGap)) {
				return trace{ink: ink, box: s.box(i-left, i+right, from, to)}, true
			}
		}
	}
	return t, false
}

// crowded reports whether more such lines lie beside a mark than a cross at the
// edge's middle and marks at its ends: then these are of a pattern. What lies
// further in, such as the stems of letters, is none of its like, nor is a stripe that
// goes on across the card.
func (s *strip) crowded(mark span, gap int) bool {
	const most = 3
	lines, last := 0, -s.most()
	least := (3*mark.size() + 4) / 5
	rows := mark.rows(least)
	for i := range s.most() {
		if gap == 0 && !s.standsIn(i, rows) {
			continue
		}
		from, to, _ := s.crossing(i, gap)
		if to-from >= least && mark.shared(span{from, to}) > 0 && from > -s.outPx(longestArm) {
			if i-last > s.alongPx(markBeside) {
				if lines++; lines > most {
					return true
				}
			}
			last = i
		}
	}
	return false
}

// rows are some of a span, of which every stretch so long that shares any with it has one.
func (m span) rows(long int) []int {
	rows := []int{m.to - 1}
	for j := m.from; j < m.to-1; j += max(1, long) {
		rows = append(rows, j)
	}
	return rows
}

// standsIn reports whether position i stands out along the edge in any of the rows.
func (s *strip) standsIn(i int, rows []int) bool {
	beside := s.alongPx(markBeside)
	for _, j := range rows {
		if _, ok := s.stands(i, j, beside, 0); ok {
			return true
		}
	}
	return false
}

// bars measures the two arms of a cross along the edge at j, about i: alike,
// thin, short, and of one ink with the rest, but for where its ring comes near.
func (s *strip) bars(i, j int, ink [3]int) (left, right int, ok bool) {
	beside, most := s.outPx(markBeside), s.alongPx(widestCross/2)
	skip, gap := s.alongPx(markOff), s.alongPx(crossGap)
	reach := func(step int) int {
		end := skip
		for n := skip; n <= most && n <= end+gap; n++ {
			if c, ok := s.stands(i+step*n, j, 0, beside); ok && farthest(c, ink) <= akinColour {
				end = n + 1
			}
		}
		return end
	}
	left, right = reach(-1), reach(1)
	uneven := max(left, right) - min(left, right)
	return left, right, min(left, right) >= s.alongPx(leastArm/2) && max(left, right) <= most && uneven <= skip
}

// bar finds a row of patches of one width along the bleed, with solid cyan,
// magenta, yellow and black among them.
func (s *strip) bar() (t trace, ok bool) {
	for _, j := range []int{s.depth / 2, 3 * s.depth / 4} {
		var row []patch
		for i := 0; i < s.most(); i++ {
			c, _ := s.colour(i, j)
			if n := len(row) - 1; n >= 0 && farthest(row[n].ink, c) <= samePatch {
				row[n].to = i + 1
				continue
			}
			row = append(row, patch{c, i, i + 1})
		}
		if from, to, ok := s.inksOf(row); ok {
			return trace{box: s.box(from, to, 0, s.depth)}, true
		}
	}
	return t, false
}

// patch is a stretch of one colour along the bleed.
type patch struct {
	ink      [3]int
	from, to int
}

const samePatch = 24 // levels

// inksOf finds patches of one width, side by side, that have all four inks.
func (s *strip) inksOf(row []patch) (from, to int, ok bool) {
	wide := row[:0]
	for _, p := range row { // softened borders between patches fall out
		if p.to-p.from > s.alongPx(0.3) {
			wide = append(wide, p)
		}
	}
	for k := range wide {
		seen := map[int]bool{}
		first := wide[k].to - wide[k].from
		if first < s.alongPx(leastPatch) || first > s.alongPx(widestPatch) {
			continue
		}
		for n := k; n < len(wide); n++ {
			if w := wide[n].to - wide[n].from; 6*max(w, first) > 7*min(w, first) || n > k && wide[n].from-wide[n-1].to > s.alongPx(0.5) {
				break
			}
			seen[inkOf(wide[n].ink)] = true
			if delete(seen, noInk); len(seen) == 4 {
				return wide[k].from, wide[n].to, true
			}
		}
	}
	return 0, 0, false
}

const noInk = -1

// inkOf tells which of the process inks a colour is about: 0 to 3, or noInk.
func inkOf(c [3]int) int {
	r, g, b := c[0], c[1], c[2]
	switch {
	case max(r, g, b) < 80:
		return 3
	case r < 110 && g > 120 && b > 180:
		return 0
	case r > 170 && g < 90 && b > 60:
		return 1
	case r > 210 && g > 190 && b < 110:
		return 2
	}
	return noInk
}
