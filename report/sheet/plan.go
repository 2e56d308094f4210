package sheet

import (
	"math"

	"stoneproof/rules"
)

// Plan is a planned sheet.
type Plan struct {
	Ask
	Turned        bool // all cards lie a quarter turn clockwise
	Columns, Rows int
	Start         rules.Size // from the sheet's left and top edge to the first trim
	Gaps          rules.Size // across between columns, down between rows; 0 where there is one only

	// Front and Back hold one cell for each card, row by row as the front is
	// seen; Back[i] lies behind Front[i].
	Front, Back           []Cell
	FrontMarks, BackMarks []Mark
	Cuts                  []Cut // in the order in which to lay the rule, on the front

	Sheets, Spoilt int // to print for the quantity, and how many of them may go wrong
}

// Cell is the place of one card on one side of the sheet.
type Cell struct {
	Trim  rules.Box
	Bleed rules.Edges // how far its paint may go beyond the trim, edges of the sheet
	Turn  int         // of the art, in degrees clockwise: 0, 90, 180 or 270
}

// Painted is the trim with its bleed.
func (c Cell) Painted() rules.Box {
	return rules.Box{
		X: c.Trim.X - c.Bleed.Left, Y: c.Trim.Y - c.Bleed.Top,
		W: c.Trim.W + c.Bleed.Left + c.Bleed.Right, H: c.Trim.H + c.Bleed.Top + c.Bleed.Bottom,
	}
}

// Count is how many cards the sheet holds.
func (p Plan) Count() int { return p.Columns * p.Rows }

// Printable is what the printer can reach.
func (a Ask) Printable() rules.Box {
	return rules.Box{W: a.Sheet.W, H: a.Sheet.H}.Inset(a.Margin)
}

// Lay plans the sheet that holds the most cards, upright ones where both ways hold
// as many. Its error is a *GapError or a *FitError where numbers do not fit.
func Lay(a Ask) (Plan, error) {
	if err := a.validate(); err != nil {
		return Plan{}, err
	}
	best := Plan{Ask: a}
	for _, turned := range []bool{false, true} {
		if p, ok := a.lie(turned); ok && p.Count() > best.Count() {
			best = p
		}
	}
	if best.Count() == 0 {
		return Plan{}, a.tooSmall()
	}
	best.fill()
	return best, best.judgeShift()
}

// lie fits as many cards as it can, or as many as were asked for, lying one way.
func (a Ask) lie(turned bool) (Plan, bool) {
	card := a.card(turned)
	p := Plan{Ask: a, Turned: turned}
	var ok, okay bool
	p.Columns, p.Start.W, p.Gaps.W, ok = a.line(a.Sheet.W, card.W, a.Up.Columns)
	p.Rows, p.Start.H, p.Gaps.H, okay = a.line(a.Sheet.H, card.H, a.Up.Rows)
	return p, ok && okay
}

// line fits cards along a line: n of them, or as many as there is room for if n is
// none.
func (a Ask) line(sheet, card rules.Length, n int) (count int, start, gap rules.Length, ok bool) {
	if n > 0 {
		start, gap, ok = a.space(sheet, card, n)
		return n, start, gap, ok
	}
	for n = int(sheet / card); n > 0; n-- {
		if start, gap, ok = a.space(sheet, card, n); ok {
			return n, start, gap, true
		}
	}
	return 0, 0, 0, false
}

// space shares out what n cards leave of a line: the way to the first trim, and the
// gaps. What is left over by whole micrometres goes to the far edge.
func (a Ask) space(sheet, card rules.Length, n int) (start, gap rules.Length, ok bool) {
	count := rules.Length(n)
	left, edge := sheet-count*card, a.edge()
	if n > 1 {
		switch a.Gap.Kind {
		case FixedGap:
			gap = a.Gap.Wide
		case EqualGaps:
			gap = left / (count + 1)
			if gap < edge { // the outer strips hold marks and margin: they come first
				gap = (left - 2*edge) / (count - 1)
			}
			gap = max(gap-gap%a.step(), a.leastGap())
		}
	}
	start = (left - (count-1)*gap) / 2
	return start, gap, start >= edge
}

// step is what equal gaps are rounded down to, so that a rule can be read: half a
// millimetre, or a hundredth of an inch; what is left over goes to the outer strips.
func (a Ask) step() rules.Length {
	switch a.Unit {
	case rules.UnitMM:
		return rules.Millimetre / 2
	case rules.UnitIn:
		return rules.Inch / 100
	}
	return rules.Micrometre
}

// fill works out places, marks, cuts and sheets from columns and rows.
func (p *Plan) fill() {
	card := p.card(p.Turned)
	for row := range p.Rows {
		for column := range p.Columns {
			c := Cell{
				Trim: rules.Box{
					X: p.Start.W + rules.Length(column)*(card.W+p.Gaps.W),
					Y: p.Start.H + rules.Length(row)*(card.H+p.Gaps.H),
					W: card.W, H: card.H,
				},
				Bleed: p.bleedOf(column, row),
			}
			if p.Turned {
				c.Turn = 90
			}
			p.Front = append(p.Front, c)
			p.Back = append(p.Back, p.behind(c))
		}
	}
	p.Cuts = p.cuts()
	p.FrontMarks = p.marks()
	for _, m := range p.FrontMarks {
		if back, ok := p.markBehind(m); ok {
			p.BackMarks = append(p.BackMarks, back)
		}
	}
	p.Sheets, p.Spoilt = p.sheets()
}

// bleedOf is a cell's bleed: none towards a neighbour that shares the cut.
func (p *Plan) bleedOf(column, row int) rules.Edges {
	e := rules.Even(p.Bleed)
	if p.Gaps.W == 0 {
		if column > 0 {
			e.Left = 0
		}
		if column < p.Columns-1 {
			e.Right = 0
		}
	}
	if p.Gaps.H == 0 {
		if row > 0 {
			e.Top = 0
		}
		if row < p.Rows-1 {
			e.Bottom = 0
		}
	}
	return e
}

// sheets counts whole sheets: those that the quantity fills, and of these the share
// that may go wrong on top.
func (p *Plan) sheets() (all, spoilt int) {
	good := (p.Quantity + p.Count() - 1) / p.Count()
	spoilt = int(math.Ceil(float64(good)*p.Spoil/100 - 1e-9)) // 5 % of 20 is 1, whatever floats say
	return good + spoilt, spoilt
}

// tooSmall says what the cards asked for, or a single one, would need.
func (a Ask) tooSmall() error {
	up := a.Up
	if up == (Up{}) {
		up = Up{1, 1}
	}
	return &FitError{Up: up, Sheet: a.Sheet, Unit: a.Unit, Needs: rules.Size{W: a.needs(a.Trim.W, up.Columns), H: a.needs(a.Trim.H, up.Rows)}}
}

// needs is the shortest line that holds n cards.
func (a Ask) needs(card rules.Length, n int) rules.Length {
	gap := a.leastGap()
	if a.Gap.Kind == FixedGap {
		gap = a.Gap.Wide
	}
	return rules.Length(n)*card + rules.Length(n-1)*gap + 2*a.edge()
}
