package brink

import "slices"

// band is what lies on either side of a stop: the ink across the edge, taken
// over all the positions of a group of runs.
type band struct {
	l         *level
	positions []int // along the strip
	width     int   // how many positions it stands for
	at        int   // the last whole pixel of the paint
	strength  int   // ink just inside the stop, at least 1
}

// maxPositions bounds how many positions a band is read at: enough for any
// mean, and the same work for every length of edge.
const maxPositions = 256

func (l *level) look(group []run) band {
	b := band{l: l, at: roundInt(float64(l.depth)) - 1}
	for _, r := range group {
		b.width += r.width()
	}
	step := b.width/maxPositions + 1
	for _, r := range group {
		for i := r.from; i < r.to; i += step {
			if l.on(i) {
				b.positions = append(b.positions, l.s.first+i)
			}
		}
	}
	b.strength = max(1, roundInt(b.mean(b.at-2)))
	return b
}

// mean is the mean ink at depth j; outside the canvas it is that of the
// nearest pixel.
func (b *band) mean(j int) float64 {
	s := b.l.s
	j = max(-s.inner, min(s.depth-1, j))
	sum := 0
	for _, i := range b.positions {
		sum += s.at(i, j)
	}
	return float64(sum) / float64(max(1, len(b.positions)))
}

// share is how many of the positions have ink at depth j, 0 to 1.
func (b *band) share(j int) float64 {
	s := b.l.s
	if j < -s.inner || j >= s.depth {
		return 0
	}
	n := 0
	for _, i := range b.positions {
		if s.at(i, j) >= max(s.ink.floor, b.strength/5) {
			n++
		}
	}
	return float64(n) / float64(max(1, len(b.positions)))
}

// fromTrim reports whether the paint comes from the trim: what lies wholly in
// the bleed, such as a cutting mark, is not the card's paint. Along most of an
// edge there are no such marks, and a lattice leaves much bare.
func (b *band) fromTrim(swept bool) bool {
	least := 0.6
	if swept {
		least = 0.25
	}
	deep := -b.l.s.outPx(atTrim)
	if b.at < 0 {
		return b.share(b.at-1) >= least || b.share(deep) >= least
	}
	return b.share(-1) >= least || b.share(deep) >= least
}

// visible is a step of ink that is seen as an edge.
const visible = 12

// sharp reports whether the paint stops at once. A gradient that fades to
// paper crosses any threshold along a line too, but has as little ink just
// inside it as just outside, and ever more further in.
func (b *band) sharp() bool {
	s := b.l.s
	away, seen := 2, visible
	if s.ink.loose && b.strength < 40 {
		// Coding at low quality moves a faint edge by most of a block.
		away, seen = ringing/2, 40
	}
	inside := b.mean(b.at - away)
	if b.at+1+away < s.depth && b.mean(b.at+1+away) > inside/4+1 {
		return false
	}
	if min(b.mean(b.at-2*away), b.mean(b.at-3*away), b.mean(b.at-4*away)) > 1.25*inside+2 {
		return false
	}
	if inside >= float64(seen) {
		return true
	}
	// At one of these depths there may be a line or a letter; a fade is darker at two.
	deeper := []float64{b.mean(b.at - s.outPx(3)), b.mean(b.at - s.outPx(5.5)), b.mean(b.at - s.outPx(8))}
	slices.Sort(deeper)
	return inside >= 0.4*deeper[1]
}

// blankBeyond reports whether beyond the stop lies bare paper: not only less
// ink, as where a dark panel ends on a pale ground.
func (b *band) blankBeyond() bool {
	s := b.l.s
	from := b.at + 4
	if from >= s.depth {
		// Too narrow to look past the smearing of the edge.
		left := b.mean(s.depth - 1)
		return left <= max(2, 0.15*float64(b.strength)) && !b.tintInside(left)
	}
	paper := 1
	if s.ink.loose {
		paper = max(paper, b.strength/64) // half of what coding leaves there
	}
	bare, all := 0, 0
	for j := from; j < s.depth; j++ {
		for _, i := range b.positions {
			all++
			if s.at(i, j) <= paper {
				bare++
			}
		}
	}
	return 2*bare >= all
}

// tintInside reports whether a tint as pale as the outermost pixels is painted
// inside the card too: the next of its stripes, not what smearing left there.
func (b *band) tintInside(ink float64) bool {
	const deepest, widest = 25, 0.5 // mm
	s := b.l.s
	tint, slack := roundInt(ink), max(3, b.strength/12)
	if tint <= s.ink.floor {
		return false
	}
	found := 0
	for _, i := range b.positions {
		run := 0
		for j := b.at - 2; j > max(-s.inner, b.at-s.outPx(deepest)) && run < s.outPx(widest); j-- {
			run++
			if v := s.at(i, j); v <= s.ink.floor || v < tint-slack || v > tint+slack {
				run = 0
			}
		}
		if run >= s.outPx(widest) {
			found++
		}
	}
	return 2*found > len(b.positions)
}

// unbroken reports whether paint goes on inward from the stop without a bare row
// between, as a background's does and lines of lettering do not.
func (b *band) unbroken() bool {
	const reach, row, least = 6, 0.5, 0.15 // mm, mm, share
	for from := 0.0; from < reach; from += row {
		if b.cover(from, from+row) < least {
			return false
		}
	}
	return true
}

// compact reports whether the paint is a shape of its own that pokes out by
// design: a tile or a letter, bounded inward too. Narrow runs must come from
// far inside, or they are the feet of a line of text.
func (b *band) compact(lone bool) bool {
	const pokes, tile, texture = 0.3, 6, 6.0 // mm
	s := b.l.s
	if !lone {
		outer, inner := b.cover(0, 1), b.cover(texture-1.5, texture+1.5)
		return inner < 0.4*outer
	}
	width := float64(b.width) * s.pxAlong / 1000
	if width <= tile && b.cover(width/4, width/2) < 0.3 {
		return true // the stem of a letter: far longer along the edge than it is deep
	}
	if width > tile || s.beyond(float64(b.l.depth)) < 1000*pokes {
		return false
	}
	return b.cover(2*width, 2.5*width) < 0.3
}

// cover is the mean share of ink between two depths inward of the stop, mm.
func (b *band) cover(from, to float64) float64 {
	sum, n := 0.0, 0
	for j := b.l.s.outPx(from); j <= b.l.s.outPx(to); j++ {
		sum += b.share(b.at - j)
		n++
	}
	return sum / float64(max(1, n))
}

// repeats reports whether the white beyond is the next gap of a pattern that
// runs in rows along the edge: the art inside stops at two more lines, before
// gaps as bare as that beyond, and all are one step apart.
func (b *band) repeats() bool {
	const deepest = 25 // mm
	s := b.l.s
	bare := b.least(b.at+2) + float64(max(s.ink.floor, b.strength/16))
	var lines []int
	for j := b.at - 2; j > b.at-s.outPx(deepest) && j > 3-s.inner && len(lines) < 2; j-- {
		inside, outside := b.share(j-1), b.share(j+2)
		if inside-outside > 0.6 {
			if b.least(j+2) > bare {
				return false
			}
			lines = append(lines, j)
			j -= 3
		}
	}
	if len(lines) < 2 {
		return false
	}
	step := lines[0] - lines[1]
	off := (b.at + 1 - lines[0]) - step
	slack := 2 + step/50
	return off <= slack && off >= -slack
}

// least is the least mean ink in the four pixels from depth j outward: that of
// a gap, past the softened edge before it.
func (b *band) least(j int) float64 {
	return min(b.mean(j), b.mean(j+1), b.mean(j+2), b.mean(j+3))
}

// grow widens a stretch over the positions beside it that are painted inside
// the stop and bare beyond it. Lossy coding smears paint from the sides over
// them, so that by themselves they did not seem to end here.
func (b *band) grow(from, to int) (grownFrom, grownTo int) {
	for from > 0 && b.endsAt(from-1) {
		from--
	}
	for to < len(b.l.ends) && b.endsAt(to) {
		to++
	}
	return from, to
}

func (b *band) endsAt(i int) bool {
	s := b.l.s
	i += s.first
	faint := max(s.ink.floor, b.strength/4)
	if s.at(i, max(b.at-1, -s.inner)) < faint {
		return false
	}
	for j := b.at + 3; j < s.depth; j++ {
		if s.at(i, j) >= faint {
			return false
		}
	}
	return true
}

// whiteBeyond reports whether the bare paper beyond is painted white.
func (b *band) whiteBeyond() bool {
	s := b.l.s
	if !s.c.Transparent {
		return false
	}
	white := 0
	for _, i := range b.positions {
		if s.c.Pix[s.base+i*s.along+(s.depth-1)*s.out+3] > 127 {
			white++
		}
	}
	return 2*white > len(b.positions)
}
