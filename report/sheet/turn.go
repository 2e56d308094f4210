package sheet

import (
	"fmt"

	"stoneproof/rules"
)

// Sideways reports whether the sheet is turned about its upright middle line, like a
// page of a book: on the long edge of a sheet that is higher than wide, on the short
// edge of one that is wider.
func (a Ask) Sideways() bool { return (a.Turn == LongEdge) != a.Sheet.Landscape() }

// behind is the place on the back that lies behind a place on the front. A sheet of
// width W turned sideways shows what was at (x, y) at (W−x−w, y); turned over its
// head at (x, H−y−h). The shift is then added.
func (p *Plan) behind(c Cell) Cell {
	back := Cell{Trim: p.mirror(c.Trim), Bleed: c.Bleed}
	if p.Sideways() {
		back.Bleed.Left, back.Bleed.Right = c.Bleed.Right, c.Bleed.Left
	} else {
		back.Bleed.Top, back.Bleed.Bottom = c.Bleed.Bottom, c.Bleed.Top
	}
	back.Turn = p.TurnBehind(c.Turn)
	return back
}

// mirror is a box of the front as the back shows it, with the shift of the backs.
func (p *Plan) mirror(b rules.Box) rules.Box {
	if p.Sideways() {
		b.X = p.Sheet.W - b.X - b.W
	} else {
		b.Y = p.Sheet.H - b.Y - b.H
	}
	b.X += p.Shift.Right
	b.Y += p.Shift.Down
	return b
}

// TurnBehind is how the back's art must lie so that the finished card, turned over
// its side like a page, has its back the right way up: up on the back must be up on
// the front. Turning the sheet sideways keeps what points up and swaps left and
// right; turning it over its head keeps left and right and swaps up and down.
func (p Plan) TurnBehind(front int) int {
	upright := front%180 == 0
	if p.Sideways() == upright {
		return front
	}
	return (front + 180) % 360
}

// judgeShift refuses a shift that would push the backs out of the printer's reach.
func (p *Plan) judgeShift() error {
	reach := p.Printable()
	for _, c := range p.Back {
		if b := c.Painted(); b.Intersect(reach) != b {
			return &ShiftError{p.Shift, p.Unit}
		}
	}
	return nil
}

// ShiftError is a shift that pushes the backs out of the printer's reach.
type ShiftError struct {
	Shift rules.Shift
	Unit  rules.Unit
}

func (e *ShiftError) Error() string {
	return fmt.Sprintf("moving the backs by %s to the right and %s down pushes them into the margin that the printer cannot reach",
		e.Shift.Right.In(e.Unit), e.Shift.Down.In(e.Unit))
}
