package brink

import "stoneproof/rules"

// margin is the band inside one edge, averaged along it: that quiets grain and
// lossy coding and leaves lines parallel to the edge as sharp as they are. Row 0
// is the first pixel inside the trim, cell 0 the edge's top or left end.
type margin struct {
	s          strip
	edge       rules.Edge
	cells      int
	rows       int
	cellPx     int     // canvas pixels in a cell
	rgb        []uint8 // as printed on white; row after row of each cell
	tol        int     // how far a colour may be from the margin's
	startRow   int     // where the margin's own colour is taken
	rowMM      float64
	cellMM     float64
	first      []float64 // for each cell how deep in the margin's colour ends, mm
	level      float64   // the depth at which it ends along the frame's side
	from, to   int       // cells of that side
	supporting int       // cells of the side that end there
}

// Where frames are looked for, mm.
const (
	deepestBorder = 10.0 // a frame further in is nobody's measure of the margin
	marginDeep    = 16.0 // art is read as far as this, to know patterns
	marginCell    = 0.4
	marginStart   = 0.3 // bleed-fill knows what ends nearer to the trim than this
	flatSide      = 0.12
)

// Margins are the bands inside a card's edges, as frames are looked for in them.
type Margins struct {
	trim rules.Size
	list []*margin
}

// ReadMargins reads the margins of a canvas: none where it cannot be measured.
func ReadMargins(c Canvas) Margins {
	ms := Margins{trim: c.Trim}
	if !c.readable() {
		return ms
	}
	for _, e := range rules.AllEdges {
		if m, ok := newMargin(&c, e); ok {
			ms.list = append(ms.list, m)
		}
	}
	return ms
}

// Border finds the frame that runs about a card within 10 mm of its trim, if
// it has one. The distances hold to a fraction of a pixel.
func (m Margins) Border() (b Border, ok bool) {
	var sides, onTrim []BorderSide
	for _, m := range m.list {
		if side, ok := m.side(); ok {
			sides = append(sides, side)
		}
		if side, ok := m.keyline(); ok {
			onTrim = append(onTrim, side)
		}
	}
	if len(onTrim) >= 3 {
		return JoinSides(onTrim, m.trim)
	}
	return JoinSides(sides, m.trim)
}

// newMargin reads the band inside an edge. A card too small or too coarse to
// have a frame has none.
func newMargin(c *Canvas, e rules.Edge) (*margin, bool) {
	m := &margin{s: newStrip(c, e, rules.Millimetre), edge: e}
	s := &m.s
	m.rowMM = s.px / 1000
	m.cellPx = s.alongPx(marginCell)
	m.cellMM = float64(m.cellPx) * s.pxAlong / 1000
	m.cells = (s.last - s.first) / m.cellPx
	m.rows = min(s.outPx(marginDeep), s.inner/2)
	m.startRow = max(0, roundInt(marginStart*1000/s.px+s.lead))
	if m.cells < 20 || m.rows < m.startRow+8 {
		return nil, false
	}
	m.read()
	m.tol = m.tolerance()
	return m, true
}

func (m *margin) read() {
	m.rgb = make([]uint8, 3*m.cells*m.rows)
	for k := range m.cells {
		for d := range m.rows {
			c := m.mean(k, -1-d)
			copy(m.at(k, d), c[:])
		}
	}
}

// mean is the mean colour of a cell at j pixels beyond the trim, as printed.
func (m *margin) mean(k, j int) [3]uint8 {
	sum, n := m.sum(k, j), uint32(m.cellPx)
	return [3]uint8{uint8(sum[0] / n), uint8(sum[1] / n), uint8(sum[2] / n)}
}

// sum adds up the colours of such a cell.
func (m *margin) sum(k, j int) (sum [3]uint32) {
	s := &m.s
	at := s.base + (s.first+k*m.cellPx)*s.along + j*s.out
	if !s.c.Transparent {
		for range m.cellPx {
			p := s.c.Pix[at : at+3 : at+3]
			sum[0], sum[1], sum[2] = sum[0]+uint32(p[0]), sum[1]+uint32(p[1]), sum[2]+uint32(p[2])
			at += s.along
		}
		return sum
	}
	for range m.cellPx {
		p := s.c.Pix[at : at+4 : at+4]
		for ch := range sum {
			sum[ch] += 255 - (255-uint32(p[ch]))*uint32(p[3])/255
		}
		at += s.along
	}
	return sum
}

func (m *margin) at(k, d int) []uint8 {
	p := 3 * (k*m.rows + d)
	return m.rgb[p : p+3 : p+3]
}

func farApart(a, b []uint8) int {
	d := 0
	for ch := range 3 {
		v := int(a[ch]) - int(b[ch])
		d = max(d, v, -v)
	}
	return d
}

// tolerance is the least step that a frame must make: more than the grain.
func (m *margin) tolerance() int {
	const least, most = 14, 56
	var counts [256]int
	total := 0
	for k := range m.cells - 2 {
		for d := m.startRow; d < m.rows; d += 3 {
			counts[farApart(m.at(k, d), m.at(k+2, d))]++
			total++
		}
	}
	return min(most, least+3*percentile(counts[:], total, 0.5))
}

// nothing is the depth of a cell whose margin does not end.
const nothing = 1e9

// ends finds for each cell how deep in the colour at the trim goes.
func (m *margin) ends() {
	m.first = make([]float64, m.cells)
	for k := range m.first {
		m.first[k] = m.end(k)
	}
}

// end follows the colour of a cell inward from the trim to the first sharp
// step. It lets the colour drift by a sixteenth a pixel, so that it follows a
// gradient, and starts anew behind a soft edge such as a shadow's.
func (m *margin) end(k int) float64 {
	var ref [3]int // in sixteenths
	start := func(d int) {
		for ch, v := range m.at(k, d) {
			ref[ch] = 16 * int(v)
		}
	}
	start(m.startRow)
	for d := m.startRow + 1; d < m.rows; d++ {
		c := m.at(k, d)
		off := 0
		for ch := range ref {
			v := 16*int(c[ch]) - ref[ch]
			off = max(off, v, -v)
			ref[ch] += v / 16
		}
		if off <= 16*m.tol {
			continue
		}
		margin := [3]uint8{uint8(ref[0] / 16), uint8(ref[1] / 16), uint8(ref[2] / 16)}
		if depth, ok := m.step(k, d, margin[:]); ok {
			return depth
		}
		start(d)
	}
	return nothing
}

// step places the step near row d away from the margin's colour, mm inside the
// trim: where it has made half its way. A soft one is none.
func (m *margin) step(k, d int, margin []uint8) (float64, bool) {
	const wide, soft, sharp = 0.7, 0.5, 0.3 // mm
	from, to := max(m.startRow, d-m.s.outPx(soft)), min(m.rows, d+m.s.outPx(wide)+1)
	peak := 0
	for r := d; r < to; r++ {
		peak = max(peak, farApart(m.at(k, r), margin))
	}
	// What goes on rising is a passage, a glow or a shadow.
	for r := to; r < min(m.rows, to+m.s.outPx(soft)); r++ {
		if 5*farApart(m.at(k, r), margin) > 6*peak {
			return 0, false
		}
	}
	reach := func(share int) int { // the first row that has made so many quarters
		r := from
		for r < to && 4*farApart(m.at(k, r), margin) < share*peak {
			r++
		}
		return r
	}
	if reach(3)-reach(1) > max(2, m.s.outPx(sharp)) {
		return 0, false
	}
	r := reach(2)
	pos := float64(r)
	if r > from {
		before, after := farApart(m.at(k, r-1), margin), farApart(m.at(k, r), margin)
		pos += (float64(peak)/2-float64(before))/float64(max(1, after-before)) - 0.5
	}
	return m.depth(pos), true
}

// depth is how far inside the trim the outer side of a row lies, mm.
func (m *margin) depth(row float64) float64 { return (row - m.s.lead) * m.rowMM }
