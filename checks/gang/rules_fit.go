package gang

import (
	"fmt"
	"math"

	"stoneproof/rules"
)

// fit judges the sheet's size, the printer's margin, and whether cards of one design
// are of one size.
func (j *judge) fit(rule string) {
	for i, f := range j.faces {
		j.sheetSize(rule, f)
		j.reach(rule, f)
		for _, g := range j.groups[i] {
			j.scale(rule, f, g)
		}
		j.strangers(rule, f, j.groups[i])
	}
	f := j.faces[0]
	j.pass(rule, fmt.Sprintf("The sheet of %s holds %s within what the printer reaches, all at one scale.", f.size.In(j.unit), rules.Counted(len(f.cells), "card")))
}

func (j *judge) sheetSize(rule string, f *face) {
	want := j.want.Sheet
	if want == (rules.Size{}) {
		return
	}
	const slack = 500 * rules.Micrometre // what rounding to points and tenths leaves
	same := func(s rules.Size) bool { return (s.W-f.size.W).Abs() <= slack && (s.H-f.size.H).Abs() <= slack }
	if same(want) || same(want.Turned()) {
		return
	}
	j.add(rules.Finding{Rule: rule, Verdict: rules.Fail, Side: f.number, Basis: rules.Read,
		Measured: rules.ValuesMM(f.size), Wanted: rules.ValuesMM(want),
		Message: fmt.Sprintf("The page is %s; the sheet is %s. Printed to fit, every card changes its size.", f.size.In(j.unit), want.In(j.unit)),
		Fix:     fmt.Sprintf("Set the page to %s and lay the cards out again.", want.In(j.unit))})
}

// reach judges what the printer cannot reach: cards and their bleed fail, marks warn.
func (j *judge) reach(rule string, f *face) {
	reach := rules.Box{W: f.size.W, H: f.size.H}.Inset(j.want.Margin)
	for _, c := range f.cells {
		b := f.zone(c, j.want.Ticket.Bleed)
		if over := beyond(b, reach); over > gapSlack {
			j.add(rules.Finding{Rule: rule, Verdict: rules.Fail, Side: f.number, Where: where(b), Basis: rules.Measured, Measured: rules.ValueMM(over),
				Message: fmt.Sprintf("%s reaches %s into the %s at the sheet's edge that the printer leaves white.", f.nth(c), j.in(over), j.want.Margin.In(j.unit)),
				Fix:     "Move the cards inwards or take a larger sheet; stoneproof sheet plan finds places that fit."})
			return // one is enough: they are laid out together
		}
	}
	for _, m := range f.cutMarks() {
		if over := beyond(m.box(), reach); over > (m.to-m.from)/2 {
			j.add(rules.Finding{Rule: rule, Verdict: rules.Warn, Side: f.number, Where: where(m.box()), Basis: rules.Measured,
				Message: "A cutting mark lies where the printer leaves white: it will not be there to lay the rule on.",
				Fix:     fmt.Sprintf("Keep marks %s from the sheet's edge.", j.want.Margin.In(j.unit))})
			return
		}
	}
}

// paint is where the card's items show.
func (c *cell) paint() rules.Box {
	var b rules.Box
	for _, it := range c.items {
		b = b.Union(it.seen)
	}
	return b
}

// beyond is how far a box reaches out of another one at most.
func beyond(b, outer rules.Box) rules.Length {
	if b == (rules.Box{}) {
		return 0
	}
	return max(0, outer.X-b.X, outer.Y-b.Y, b.Right()-outer.Right(), b.Bottom()-outer.Bottom())
}

func (j *judge) scale(rule string, f *face, g group) {
	usual := g.usual()
	for i, c := range g.cells {
		s := g.fits[i].scale / usual.scale
		if math.Abs(s-1) <= scaleSlack {
			continue
		}
		j.add(rules.Finding{Rule: rule, Verdict: rules.Fail, Side: f.number, Where: where(c.trim), Basis: rules.Measured,
			Measured: rules.Value(100*s, "%"), Wanted: rules.Value(100, "%"),
			Message: fmt.Sprintf("%s is at %.1f %% of the size of the other cards.", f.nth(c), 100*s),
			Fix:     fmt.Sprintf("Place it again at %.1f %%: the same art, at 100 %%.", 100/s)})
	}
}

// strangers warns of a card that is like none of the others where all others are
// alike: art that lost or gained something when it was copied.
func (j *judge) strangers(rule string, f *face, groups []group) {
	if len(groups) != 2 || len(f.cells) < 4 {
		return
	}
	few, many := groups[0], groups[1]
	if len(few.cells) > len(many.cells) {
		few, many = many, few
	}
	if len(few.cells) != 1 || len(many.cells) < 3 {
		return
	}
	c := few.cells[0]
	j.add(rules.Finding{Rule: rule, Verdict: rules.Warn, Side: f.number, Where: where(c.trim), Basis: rules.Measured,
		Message: fmt.Sprintf("%s is not drawn like the other %d: something was lost or added, or it is another design.", f.nth(c), len(many.cells)),
		Fix:     "If it is meant to be the same card, place it again."})
}
