package brink

import (
	"math"
	"slices"

	"stoneproof/rules"
)

// side finds the frame's side along the edge, if there is one.
func (m *margin) side() (side BorderSide, ok bool) {
	m.ends()
	if !m.findLevel() || !m.findStretch() {
		return side, false
	}
	cover := m.cover()
	width, peaks := m.countPeaks(cover)
	along := func(k int) rules.Length { return length(m.s.origin + float64(m.s.first+k*m.cellPx)*m.s.pxAlong) }
	side = BorderSide{Edge: m.edge, Distance: rules.MM(m.level), From: along(m.from), To: along(m.to),
		Line:   width < widestLine,
		Broken: 100*m.supporting < 85*(m.to-m.from),
	}
	if side.Broken {
		if peaks >= manyPeaks {
			return side, false
		}
		side.Distance = rules.MM(m.outermost())
	}
	side.Repeated = m.repeats(m.level + min(width, widestLine))
	return side, true
}

// The make of a frame's line.
const (
	widestLine = 3.0 // mm; what is wider is a ground of its own
	manyPeaks  = 4   // rows of dots one behind another: a pattern
)

// findLevel finds the depth at which the margin ends in most cells.
func (m *margin) findLevel() bool {
	slack := m.slack()
	var depths []float64
	for _, v := range m.first {
		if v < deepestBorder {
			depths = append(depths, v)
		}
	}
	slices.Sort(depths)
	best, from := 0, 0
	for i, j := 0, 0; i < len(depths); i++ {
		for j < len(depths) && depths[j] <= depths[i]+2*slack {
			j++
		}
		if j-i > best {
			best, from = j-i, i
		}
	}
	if 10*best < len(m.first) {
		return false
	}
	m.level = depths[from+best/2]
	return true
}

// slack is how far the ends along one line may lie from it, mm.
func (m *margin) slack() float64 { return max(flatSide, 0.75*m.rowMM) }

func (m *margin) on(k int) bool { return math.Abs(m.first[k]-m.level) <= m.slack() }

// outermost is the least depth of dots and scallops whose tops make the level.
func (m *margin) outermost() float64 {
	var depths []float64
	for k := m.from; k < m.to; k++ {
		if m.on(k) {
			depths = append(depths, m.first[k])
		}
	}
	slices.Sort(depths)
	return depths[len(depths)/10]
}

// findStretch finds the longest row of cells that end at the level, with gaps
// as between dashes, and reports whether it can be a frame's side: half of the
// edge long, with next to nothing nearer to the trim.
func (m *margin) findStretch() bool {
	const widestGap = 3.0 // mm
	gap := int(widestGap / m.cellMM)
	from, end, last := -1, 0, -1 // last has no gap up to it: art may break into a frame
	take := func() {
		if from >= 0 && end-from > m.to-m.from {
			m.from, m.to = from, end
		}
	}
	for k := range m.first {
		switch {
		case m.on(k):
			if from < 0 || k-last > gap {
				take()
				from = k
			}
			last, end = k, k+1
		case m.first[k] < m.level && k-last <= gap:
			last = k
		}
	}
	take()
	nearer := 0
	for k := m.from; k < m.to; k++ {
		if m.on(k) {
			m.supporting++
		} else if m.first[k] < m.level {
			nearer++
		}
	}
	long := m.to - m.from
	return 2*long >= m.cells && 10*nearer <= long && 5*m.supporting >= long
}

// cover is for each row the share of the side's cells that are not of the
// margin's colour.
func (m *margin) cover() []float64 {
	cover := make([]float64, m.rows)
	for k := m.from; k < m.to; k++ {
		ground := m.at(k, m.startRow)
		for d := range cover {
			if farApart(m.at(k, d), ground) > m.tol {
				cover[d] += 1 / float64(m.to-m.from)
			}
		}
	}
	return cover
}

// countPeaks tells how wide the line at the level is, mm, and how many like it
// lie from there inward.
func (m *margin) countPeaks(cover []float64) (width float64, peaks int) {
	at := max(0, roundInt(m.level/m.rowMM+m.s.lead))
	top := 0.0
	for d := at; d < min(m.rows, at+m.s.outPx(1)); d++ {
		top = max(top, cover[d])
	}
	width, within := nothing, false
	for d := max(0, at-2); d < m.rows; d++ {
		switch {
		case !within && cover[d] > 0.6*top:
			within = true
			peaks++
		case within && cover[d] < 0.3*top:
			within = false
			width = min(width, m.depth(float64(d))-m.level)
		}
	}
	return width, peaks
}

// repeats reports whether deeper than a depth, mm, another step runs along the
// side, or as much of it as is not covered.
func (m *margin) repeats(deeper float64) bool {
	const beyond, step, least = 3.0, 2, 0.3 // mm, rows, share
	for d := roundInt((deeper + beyond) / m.rowMM); d+step < m.rows; d++ {
		n := 0
		for k := m.from; k < m.to; k++ {
			if farApart(m.at(k, d-step), m.at(k, d+step)) > m.tol {
				n++
			}
		}
		if float64(n) > least*float64(m.to-m.from) {
			return true
		}
	}
	return false
}

// keyline finds a line drawn on the trim itself, along all of the edge: it
// differs from what lies on both sides of it, and is no mixture of the two.
func (m *margin) keyline() (side BorderSide, ok bool) {
	const half = 0.3 // mm
	if m.s.outPx(keylineReach) >= m.s.depth {
		return side, false
	}
	most, wide := 0, m.s.outPx(half)
	for j := -wide; j < wide; j++ {
		most = max(most, m.lineCells(j))
	}
	return BorderSide{Edge: m.edge, To: m.s.long, Line: true}, 100*most >= 85*m.cells
}

// keylineReach is how far from the trim the ground is seen on both sides of a keyline, mm.
const keylineReach = 0.6

// lineCells counts the cells in which the row j beyond the trim is a line of one
// ink. The trim may run along the middle of a pattern that is alike on both sides;
// its colours change from cell to cell.
func (m *margin) lineCells(j int) int {
	const least = 40 // levels
	in, out := min(m.s.outPx(keylineReach), m.rows-1), m.s.outPx(keylineReach)
	var line [][3]int
	for k := range m.cells {
		c, inner, outer := m.mean(k, j), m.mean(k, -1-in), m.mean(k, out)
		between, a, b := farApart(inner[:], outer[:]), farApart(c[:], inner[:]), farApart(c[:], outer[:])
		if min(a, b) > max(m.tol, least) && a+b > between+between/2+m.tol {
			line = append(line, [3]int{int(c[0]), int(c[1]), int(c[2])})
		}
	}
	if len(line) == 0 {
		return 0
	}
	ink, n := median(line), 0
	for _, c := range line {
		if farthest(c, ink) <= akinColour {
			n++
		}
	}
	return n
}

// median takes each channel's.
func median(colours [][3]int) (c [3]int) {
	channel := make([]int, len(colours))
	for ch := range c {
		for i := range colours {
			channel[i] = colours[i][ch]
		}
		slices.Sort(channel)
		c[ch] = channel[len(channel)/2]
	}
	return c
}
