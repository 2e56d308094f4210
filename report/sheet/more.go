package sheet

import "stoneproof/rules"

// Change is one thing that would let more cards fit, all else left as it is.
type Change struct {
	What  Lever
	To    rules.Length // what it would have to be: at most, or for a sheet at least
	Count int          // cards that fit then
}

// Lever is what a person can change.
type Lever int

// Levers, in the order in which they are told.
const (
	BleedTo Lever = iota
	MarginTo
	GapTo
	WidthTo
	HeightTo
	Butting
)

// More lists the smallest changes that would let more cards fit. Each is exact: a
// micrometre less of it does not do. A plan whose columns and rows were asked for
// has none.
func (p Plan) More() []Change {
	if p.Up != (Up{}) {
		return nil
	}
	var list []Change
	add := func(what Lever, from, to rules.Length, with func(*Ask, rules.Length)) {
		count := func(v rules.Length) int {
			a := p.Ask
			a.Shift = rules.Shift{}
			with(&a, v)
			q, err := Lay(a)
			if err != nil {
				return 0
			}
			return q.Count()
		}
		if v, ok := nearest(from, to, func(v rules.Length) bool { return count(v) > p.Count() }); ok {
			list = append(list, Change{what, v, count(v)})
		}
	}
	room := p.Trim.W + p.Trim.H + 2*p.Bleed + p.Gap.Wide + leastStrip // one more card and its gap, either way round
	add(BleedTo, p.Bleed, 0, func(a *Ask, v rules.Length) { a.Bleed = v })
	add(MarginTo, p.Margin, 0, func(a *Ask, v rules.Length) { a.Margin = v })
	if p.Gap.Kind == FixedGap {
		add(GapTo, p.Gap.Wide, 2*p.Bleed, func(a *Ask, v rules.Length) { a.Gap.Wide = v })
	}
	add(WidthTo, p.Sheet.W, p.Sheet.W+room, func(a *Ask, v rules.Length) { a.Sheet.W = v })
	add(HeightTo, p.Sheet.H, p.Sheet.H+room, func(a *Ask, v rules.Length) { a.Sheet.H = v })
	if p.Gap.Kind != Butted {
		add(Butting, 1, 0, func(a *Ask, v rules.Length) {
			if v == 0 {
				a.Gap = Gap{Kind: Butted}
			}
		})
	}
	return list
}

// nearest is the value nearest to from, on the way to to, from which on enough holds.
// It holds on one side of one place only, so halving finds it.
func nearest(from, to rules.Length, enough func(rules.Length) bool) (rules.Length, bool) {
	if from == to || !enough(to) {
		return 0, false
	}
	for (to - from).Abs() > 1 {
		if middle := (from + to) / 2; enough(middle) {
			to = middle
		} else {
			from = middle
		}
	}
	return to, true
}
