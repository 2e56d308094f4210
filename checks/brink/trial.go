package brink

import (
	"slices"

	"stoneproof/rules"
)

// Trials tell where a measure cannot see: what it looks for is put into the pixels, or a
// copy of them, at each edge, and where it is not found there real ones would be lost as
// well. That asks the measure itself, and so holds whatever it is that makes it blind.

// edgeSet are some of the edges, in the order of rules.AllEdges.
func edgeSet(is func(e rules.Edge) bool) []rules.Edge {
	return slices.DeleteFunc(slices.Clone(rules.AllEdges[:]), func(e rules.Edge) bool { return !is(e) })
}

// trialInk is the ink that shows better on a ground of a lightness: black or paper.
func trialInk(ground int) uint8 {
	if ground > 127 {
		return 0
	}
	return 255
}

// Trial words, mm: small type, as a telephone number is set in.
const (
	trialHeight = 1.9 // of capitals: 7 to 8 pt
	trialInside = 0.7 // from the trim
	trialPitch  = 16.0
	trialEnds   = 4.0 // free of words, for other edges' words
)

// trialWord is a word in cells, of letters that differ as letters do.
var trialWord = [7]string{
	"#####.####..#..###..#......####",
	"..#...#...#.#.#...#.#.....#....",
	"..#...#...#.#.#...#.#.....#....",
	"..#...####..#.#####.#......###.",
	"..#...#.#...#.#...#.#.........#",
	"..#...#..#..#.#...#.#.........#",
	"..#...#...#.#.#...#.#####.####.",
}

// Blind tells the edges along which [Ground.Intruders] would not see lettering: less
// than half of the words that are set there on trial are found. The ground is used up.
func (g Ground) Blind(safe rules.Length) []rules.Edge {
	f := g.field
	if f == nil || safe <= softening {
		return nil
	}
	f.forget()
	words := f.trialWords(safe)
	words = slices.DeleteFunc(words, func(t trial) bool { return t.x0 < 0 || t.y0 < 0 || t.x1 > float64(f.w) || t.y1 > float64(f.h) })
	busy := make([]bool, len(words))
	for k, w := range words {
		busy[k] = f.changesAlong(w)
	}
	if !slices.Contains(busy, true) {
		return nil // on calm ground no word is lost to the art
	}
	for _, w := range words {
		f.print(w)
	}
	set, seen := map[rules.Edge]int{}, map[rules.Edge]int{}
	var found []group
	f.intruders(safe, func(g *group, _ bool) { found = append(found, *g) })
	for k, w := range words {
		switch {
		case slices.ContainsFunc(found, func(g group) bool { return w.isIn(&g) }):
			seen[w.edge]++
			set[w.edge]++
		case busy[k]: // else a frame's line runs through the word, say
			set[w.edge]++
		}
	}
	return edgeSet(func(e rules.Edge) bool { return 2*seen[e] < set[e] })
}

// trial is a word along an edge: its place on the field, in pixels.
type trial struct {
	edge           rules.Edge
	x0, y0, x1, y1 float64
}

// trialWords lays out words along all edges, turned along the upright ones.
func (f *field) trialWords(safe rules.Length) []trial {
	cell := trialHeight / float64(len(trialWord))
	long := cell * float64(len(trialWord[0]))
	inside := min(trialInside, safe.MM()/2)
	w, h := f.c.Trim.W.MM(), f.c.Trim.H.MM()
	var words []trial
	for _, e := range rules.AllEdges {
		length := w
		if e == rules.Left || e == rules.Right {
			length = h
		}
		n := max(1, int((length-2*trialEnds)/trialPitch))
		for k := range n {
			from := length*(float64(k)+0.5)/float64(n) - long/2
			b := map[rules.Edge][4]float64{
				rules.Top:    {from, inside, from + long, inside + trialHeight},
				rules.Bottom: {from, h - inside - trialHeight, from + long, h - inside},
				rules.Left:   {inside, from, inside + trialHeight, from + long},
				rules.Right:  {w - inside - trialHeight, from, w - inside, from + long},
			}[e]
			words = append(words, f.trialAt(e, b))
		}
	}
	return words
}

// trialAt is a word in a box of trim coordinates, mm.
func (f *field) trialAt(e rules.Edge, mm [4]float64) trial {
	k := float64(f.k)
	x := func(v float64) float64 { return f.c.col(1000*v) / k }
	y := func(v float64) float64 { return f.c.row(1000*v) / k }
	return trial{e, x(mm[0]), y(mm[1]), x(mm[2]), y(mm[3])}
}

// isIn reports whether most of the word is in a group.
func (t trial) isIn(g *group) bool {
	w := min(t.x1, float64(g.x1)) - max(t.x0, float64(g.x0))
	h := min(t.y1, float64(g.y1)) - max(t.y0, float64(g.y0))
	return w > 0 && h > 0 && 2*w*h > (t.x1-t.x0)*(t.y1-t.y0)
}

// changesAlong reports whether the colour changes along the edge where the word will be.
func (f *field) changesAlong(t trial) bool {
	const stride = 3
	step := stride
	x0, y0, x1, y1 := max(0, int(t.x0)), max(0, int(t.y0)), min(f.w, int(t.x1)), min(f.h, int(t.y1))
	if t.edge == rules.Left || t.edge == rules.Right {
		step, y1 = stride*f.w, y1-stride
	} else {
		x1 -= stride
	}
	for y := y0; y < y1; y++ {
		for x := x0; x < x1; x++ {
			if p := y*f.w + x; f.differ(p, p+step) > f.tol {
				return true
			}
		}
	}
	return false
}

// print sets a word on the field, with edges as soft as pixels make them.
func (f *field) print(t trial) {
	x0, y0, x1, y1 := max(0, int(t.x0)), max(0, int(t.y0)), min(f.w, int(t.x1)+1), min(f.h, int(t.y1)+1)
	sum, n := 0, 0
	for y := y0; y < y1; y++ {
		for x := x0; x < x1; x++ {
			p := 3 * (y*f.w + x)
			sum, n = sum+lightness([3]int{int(f.rgb[p]), int(f.rgb[p+1]), int(f.rgb[p+2])}), n+1
		}
	}
	ink := trialInk(sum / max(1, n))
	for y := y0; y < y1; y++ {
		for x := x0; x < x1; x++ {
			cover := t.cover(x, y)
			for ch := range 3 {
				v := &f.rgb[3*(y*f.w+x)+ch]
				*v = uint8(float64(*v) + cover*(float64(ink)-float64(*v)))
			}
		}
	}
}

// cover is the share of a pixel that the word's ink covers, from four by four samples.
func (t trial) cover(x, y int) float64 {
	const fine = 4
	n := 0
	for k := range fine * fine {
		u := (float64(x) + (float64(k%fine)+0.5)/fine - t.x0) / (t.x1 - t.x0)
		v := (float64(y) + (float64(k/fine)+0.5)/fine - t.y0) / (t.y1 - t.y0)
		if t.edge == rules.Left || t.edge == rules.Right { // read from below
			u, v = 1-v, u
		}
		if u < 0 || u >= 1 || v < 0 || v >= 1 {
			continue
		}
		if row := trialWord[int(v*float64(len(trialWord)))]; row[int(u*float64(len(row)))] == '#' {
			n++
		}
	}
	return float64(n) / (fine * fine)
}

// trialWeight is that of a trial frame, mm: a line of 1.4 pt.
const trialWeight = 0.5

// Blind tells the edges along which [Margins.Border] would not see a frame nearer to
// the trim than least: a line that is drawn on trial, just within, is not found. The
// deeper a frame lies, the more art there is before it. The margins are used up.
func (m Margins) Blind(least rules.Length) []rules.Edge {
	depth := min(least.MM(), deepestBorder) - 1.2*trialWeight
	if depth < trialWeight {
		return nil
	}
	lost := map[rules.Edge]bool{}
	for _, m := range m.list {
		m.drawTrial(depth)
		side, ok := m.side()
		lost[m.edge] = !ok || (side.Distance-rules.MM(depth)).Abs() > rules.MM(2*flatSide)
	}
	return edgeSet(func(e rules.Edge) bool { return lost[e] })
}

// drawTrial draws a frame's side at a depth, from corner to corner.
func (m *margin) drawTrial(depth float64) {
	corner := int(depth / m.cellMM)
	sum := 0
	for k := range m.cells {
		c := m.at(k, m.startRow)
		sum += lightness([3]int{int(c[0]), int(c[1]), int(c[2])})
	}
	ink := trialInk(sum / m.cells)
	row := func(depth float64) int { return min(m.rows, roundInt(depth/m.rowMM+m.s.lead)) }
	from, to := row(depth), row(depth+trialWeight)
	for k := corner; k < m.cells-corner; k++ {
		for d := from; d < max(to, min(m.rows, from+1)); d++ {
			c := m.at(k, d)
			c[0], c[1], c[2] = ink, ink, ink
		}
	}
}

// Trial marks, mm: lines of 0.7 pt, that come from outside.
const (
	trialOff = 1.2
	trialArm = 0.25
)

// CutMarksBlind tells the edges along which [FindCutMarks] would not see cutting marks:
// of those that are drawn there on trial one at least is lost, and so many are in all
// that what is left is not sure.
func CutMarksBlind(c Canvas, bleed rules.Length) []rules.Edge {
	if !c.readable() {
		return nil
	}
	busy := map[rules.Edge]bool{}
	c.eachArm(bleed, func(s *strip, e rules.Edge, _ int) { busy[e] = busy[e] || !s.calm() })
	if !busy[rules.Top] && !busy[rules.Right] && !busy[rules.Bottom] && !busy[rules.Left] {
		return nil
	}
	var under []covered
	defer func() { // two marks may share pixels in a corner: the first is put back last
		for _, u := range slices.Backward(under) {
			copy(c.Pix[u.at:], u.px[:])
		}
	}()
	c.eachArm(bleed, func(s *strip, _ rules.Edge, at int) { under = s.drawArm(at, under) })
	drawn, lost := 0, map[rules.Edge]int{}
	c.eachArm(bleed, func(s *strip, e rules.Edge, at int) {
		drawn++
		if !busy[e] {
			return
		}
		if _, mark, ok := s.arm(at); !ok || s.crowded(mark, 0) {
			lost[e]++
		}
	})
	all := 0
	for _, n := range lost {
		all += n
	}
	if 4*all <= drawn { // six of eight are sure
		return nil
	}
	return edgeSet(func(e rules.Edge) bool { return lost[e] > 0 })
}

// eachArm calls visit for both ends of each edge whose bleed has room for marks that are
// longer than the least.
func (c *Canvas) eachArm(bleed rules.Length, visit func(s *strip, e rules.Edge, at int)) {
	for _, e := range rules.AllEdges {
		s := newStrip(c, e, bleed)
		if s.takesMarks() && s.depth >= s.outPx(1.5*leastArm) {
			visit(&s, e, s.first)
			visit(&s, e, s.last)
		}
	}
}

// trialFrom is where a trial mark begins, in pixels beyond the trim.
func (s *strip) trialFrom() int {
	return min(s.outPx(trialOff), s.depth-s.outPx(leastArm)-1)
}

// calm reports whether nothing could stand out beside a trial mark: colours differ too
// little along all rows that a line as long as the mark would cross.
func (s *strip) calm() bool {
	mark := span{s.trialFrom(), s.depth}
	for _, j := range mark.rows(mark.size() / 2) {
		least, most := [3]int{255, 255, 255}, [3]int{}
		for i := range s.most() {
			c, _ := s.colour(i, j)
			for ch, v := range c {
				least[ch], most[ch] = min(least[ch], v), max(most[ch], v)
			}
		}
		if farthest(least, most) >= leastStand {
			return false
		}
	}
	return true
}

// covered is a pixel under a trial mark. Copying a whole canvas costs more than a trial.
type covered struct {
	at int
	px [4]uint8
}

// drawArm draws a mark on the trim line at a position, out to where bleed is judged, in
// the ink that shows better there, and adds what it covers.
func (s *strip) drawArm(at int, under []covered) []covered {
	wide := s.alongPx(trialArm)
	from := s.trialFrom()
	beside, sum, n := s.alongPx(markBeside), 0, 0
	for _, i := range []int{at - beside, at + beside} {
		for j := from; j < s.depth; j++ {
			if c, ok := s.colour(i, j); ok {
				sum, n = sum+lightness(c), n+1
			}
		}
	}
	ink := trialInk(sum / max(1, n))
	for i := max(0, at-wide/2); i < min(s.most(), at-wide/2+wide); i++ {
		for j := from; j < s.depth; j++ {
			p := s.base + i*s.along + j*s.out
			px := s.c.Pix[p : p+4]
			under = append(under, covered{p, [4]uint8(px)})
			copy(px, []uint8{ink, ink, ink, 255})
		}
	}
	return under
}
