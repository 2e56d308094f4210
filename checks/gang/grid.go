package gang

import (
	"cmp"
	"slices"

	"stoneproof/rules"
)

// cell is the place of one card, between its marks.
type cell struct {
	number      int // from 1, row by row
	column, row int
	trim        rules.Box
	items       []item
	strokes     []mark // short thin lines on it or in its bleed
}

// find places the cells: by marks, else where the plan has them.
func (f *face) find(w Want) {
	card := w.Ticket.Trim
	f.cuts = f.bare(card)
	best := grid{}
	for _, size := range []rules.Size{card, card.Turned()} {
		if g := f.gridOf(size); g.better(best) {
			best = g
		}
	}
	if best.support > 0 {
		f.marked = true
		for row, y := range best.rows {
			for column, x := range best.columns {
				f.addCell(column, row, rules.Box{X: x.from, Y: y.from, W: x.to - x.from, H: y.to - y.from})
			}
		}
	} else if w.Places != nil {
		f.planned(w.Places(f.size))
	}
	f.fill(w.Ticket.Bleed)
}

// planned takes over the cells of a plan, row by row.
func (f *face) planned(places []rules.Box) {
	row, column := 0, 0
	for i, b := range places {
		if i > 0 && b.Y != places[i-1].Y {
			row, column = row+1, 0
		}
		f.addCell(column, row, b)
		column++
	}
}

func (f *face) addCell(column, row int, trim rules.Box) {
	f.cells = append(f.cells, &cell{number: len(f.cells) + 1, column: column, row: row, trim: trim})
}

// span is a column or a row of cards.
type span struct{ from, to rules.Length }

type grid struct {
	columns, rows []span
	support       int // ends of lines at which a mark stands
	missing       int // and those at which none does
}

// better prefers the grid whose lines are confirmed: lines of the art that chance to lie
// a card apart bring more ends without a mark than with one.
func (g grid) better(h grid) bool {
	a, b := g.support-g.missing, h.support-h.missing
	return a > b || a == b && g.support > h.support
}

// Marks of one line lie this near to each other; a card between two lines may be off
// by this much and is still a card.
const (
	sameLine = 100 * rules.Micrometre
	nearCard = 600 * rules.Micrometre
)

// Bounds of the search: a sheet of a hundred cards has 40 lines and 80 marks.
const (
	mostLines   = 80
	mostMarks   = 2000
	mostGrounds = 200
)

// gridOf finds columns and rows of cards of a size: the ones whose lines have the most
// marks outside the block. More than half of all ends must have one.
func (f *face) gridOf(size rules.Size) grid {
	columns, rows := chains(lines(f.cuts, true), size.W), chains(lines(f.cuts, false), size.H)
	best := grid{}
	for _, c := range columns {
		for _, r := range rows {
			g := grid{columns: c, rows: r}
			g.support = f.ends(true, c, r) + f.ends(false, r, c)
			g.missing = 2*(len(distinct(c))+len(distinct(r))) - g.support
			if g.support > g.missing && g.better(best) {
				best = g
			}
		}
	}
	return best
}

// bare lists the marks that lie on no large thing: what lies on a card's ground or
// picture is no cutting mark, and a busy card has hundreds of short lines.
func (f *face) bare(card rules.Size) []mark {
	var grounds []rules.Box
	for _, it := range f.items {
		if long, short := max(it.seen.W, it.seen.H), min(it.seen.W, it.seen.H); long >= max(card.W, card.H)/2 && short >= min(card.W, card.H)/2 &&
			(it.seen.W < f.size.W/2 || it.seen.H < f.size.H/2) { // a ground of the whole sheet has its marks on it
			grounds = append(grounds, it.seen)
		}
	}
	grounds = grounds[:min(len(grounds), mostGrounds)]
	var out []mark
	for _, m := range f.marks {
		if !slices.ContainsFunc(grounds, func(g rules.Box) bool { return m.box().Within(g) }) {
			out = append(out, m)
		}
	}
	return out[:min(len(out), mostMarks)]
}

// lines lists where marks stand, each line once. Of too many those go first whose
// marks lie close together: the marks of a cut stand at its two ends.
func lines(marks []mark, upright bool) []rules.Length {
	type reach struct{ at, from, to rules.Length }
	var all []reach
	marks = slices.Clone(marks)
	slices.SortFunc(marks, func(a, b mark) int { return cmp.Compare(a.at, b.at) })
	for _, m := range marks {
		switch n := len(all); {
		case m.upright != upright:
		case n == 0 || m.at-all[n-1].at > sameLine:
			all = append(all, reach{m.at, m.from, m.to})
		default:
			all[n-1].from, all[n-1].to = min(all[n-1].from, m.from), max(all[n-1].to, m.to)
		}
	}
	slices.SortStableFunc(all, func(a, b reach) int { return cmp.Compare(b.to-b.from, a.to-a.from) })
	var at []rules.Length
	for _, r := range all[:min(len(all), mostLines)] {
		at = append(at, r.at)
	}
	slices.Sort(at)
	return at
}

// chains lists every way of setting cards side by side from a first line on: each card
// runs from a line to the one that is a card's length further, the next begins at or
// beyond its end.
func chains(at []rules.Length, card rules.Length) [][]span {
	var all [][]span
	for first := range at {
		var chain []span
		for i := first; i < len(at); i++ {
			if len(chain) > 0 && at[i] < chain[len(chain)-1].to-sameLine {
				continue
			}
			if to, ok := partner(at[i+1:], at[i]+card); ok {
				chain = append(chain, span{at[i], to})
			}
		}
		if len(chain) > 0 {
			all = append(all, chain)
		}
	}
	return all
}

// partner is the line nearest to where a card's other edge should be.
func partner(at []rules.Length, want rules.Length) (rules.Length, bool) {
	best, found := rules.Length(0), false
	for _, l := range at {
		if (l-want).Abs() <= nearCard && (!found || (l-want).Abs() < (best-want).Abs()) {
			best, found = l, true
		}
	}
	return best, found
}

// distinct lists the lines of spans, shared ones once.
func distinct(spans []span) []rules.Length {
	var at []rules.Length
	for _, s := range spans {
		for _, l := range []rules.Length{s.from, s.to} {
			if len(at) == 0 || l-at[len(at)-1] > sameLine {
				at = append(at, l)
			}
		}
	}
	return at
}

// ends counts the ends of lines, outside the block, at which a mark stands.
func (f *face) ends(upright bool, across, along []span) (n int) {
	block := span{along[0].from, along[len(along)-1].to}
	for _, at := range distinct(across) {
		before, behind := f.atEnds(upright, at, block, sameLine)
		if before != nil {
			n++
		}
		if behind != nil {
			n++
		}
	}
	return n
}

// atEnds finds the marks nearest to a line, before and behind a block, within slack.
func (f *face) atEnds(upright bool, at rules.Length, block span, slack rules.Length) (before, behind *mark) {
	nearer := func(old *mark, m *mark) bool { return old == nil || (m.at-at).Abs() < (old.at-at).Abs() }
	for i := range f.cuts {
		m := &f.cuts[i]
		if m.upright != upright || (m.at-at).Abs() > slack {
			continue
		}
		if m.from < block.from && (m.from+m.to)/2 < block.from && nearer(before, m) {
			before = m
		}
		if m.to > block.to && (m.from+m.to)/2 > block.to && nearer(behind, m) {
			behind = m
		}
	}
	return before, behind
}

// fill shares items and short lines out among the cells. What is larger than a card
// with its surroundings belongs to the sheet.
func (f *face) fill(bleed rules.Length) {
	for _, it := range f.items {
		if c := f.nearest(centre(it.seen)); c != nil && it.seen.Within(c.trim.Inset(-bleed-around)) {
			c.items = append(c.items, it)
		}
	}
	zones := map[*cell]rules.Box{}
	for _, c := range f.cells {
		zones[c] = c.zone(bleed)
	}
	for _, m := range f.marks {
		var best *cell
		for _, c := range f.cells {
			if m.touches(zones[c]) && (best == nil || f.nearer(m, c, best)) {
				best = c
			}
		}
		if best != nil {
			best.strokes = append(best.strokes, m)
		}
	}
}

// zone is the card with what its items paint of its bleed.
func (c *cell) zone(bleed rules.Length) rules.Box {
	return c.trim.Union(c.paint().Intersect(c.trim.Inset(-bleed)))
}

// touches reports whether the mark lies in a box, by more than rounding.
func (m mark) touches(b rules.Box) bool {
	const slack = 50 * rules.Micrometre
	return !m.box().Intersect(b.Inset(slack)).Empty()
}

func (f *face) nearer(m mark, a, b *cell) bool {
	p := centre(m.box())
	return apart(p, centre(a.trim)) < apart(p, centre(b.trim))
}

// apart is the square of how far two places lie apart.
func apart(p, q point) float64 { return (p.x-q.x)*(p.x-q.x) + (p.y-q.y)*(p.y-q.y) }

// around is how far beyond its bleed a card's paint may lie and still count as its.
const around = 2 * rules.Millimetre

// nearest is the cell whose middle is nearest to a place; nil if there is none.
func (f *face) nearest(p point) *cell {
	var best *cell
	least := 0.0
	for _, c := range f.cells {
		if d := apart(p, centre(c.trim)); best == nil || d < least {
			best, least = c, d
		}
	}
	return best
}

func centre(b rules.Box) point {
	return point{float64(b.X) + float64(b.W)/2, float64(b.Y) + float64(b.H)/2}
}
