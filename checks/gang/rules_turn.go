package gang

import (
	"fmt"
	"slices"

	"stoneproof/checks/art/pdf"
	"stoneproof/rules"
)

// turn judges whether each back lies behind its front, and stands as its front does.
func (j *judge) turn(rule string) {
	if len(j.faces) < 2 {
		j.pass(rule, "The sheet has one side: there is nothing to turn.")
		return
	}
	front, back := j.faces[0], j.faces[1]
	if len(front.cells) != len(back.cells) {
		j.add(rules.Finding{Rule: rule, Verdict: rules.Fail, Side: 2, Basis: rules.Measured,
			Message: fmt.Sprintf("There are %s in front and %s behind.", rules.Counted(len(front.cells), "card"), rules.Counted(len(back.cells), "card")),
			Fix:     "Lay the backs out as the fronts are, mirrored for the turn."})
		return
	}
	if j.behind(rule, front, back) {
		j.upright(rule, front, back)
	}
	j.pass(rule, "Every back lies behind its front, and stands as the others do.")
}

// mirrored is where the back of a place lies once the sheet is turned.
func (j *judge) mirrored(b rules.Box, size rules.Size, sideways bool) rules.Box {
	if sideways {
		b.X = size.W - b.Right()
	} else {
		b.Y = size.H - b.Bottom()
	}
	b.X += j.want.Ticket.BackShift.Right
	b.Y += j.want.Ticket.BackShift.Down
	return b
}

// worst is how far backs lie off at most, for one way of turning.
func (j *judge) worst(front, back *face, sideways bool) (right, down rules.Length, at *cell) {
	off := rules.Length(-1)
	for _, c := range front.cells {
		want := j.mirrored(c.trim, front.size, sideways)
		b := back.nearest(centre(want))
		x, y := b.trim.X-want.X, b.trim.Y-want.Y
		if d := max(x.Abs(), y.Abs()); d > off {
			off, right, down, at = d, x, y, b
		}
	}
	return right, down, at
}

func (j *judge) behind(rule string, front, back *face) bool {
	sideways := j.want.Sideways(front.size)
	right, down, at := j.worst(front, back, sideways)
	off := max(right.Abs(), down.Abs())
	if off <= front.place() {
		return true
	}
	f := rules.Finding{Rule: rule, Verdict: rules.Fail, Side: 2, Where: where(at.trim), Basis: rules.Measured,
		Measured: rules.ValueMM(off), Wanted: rules.AtMost(front.place().MM(), "mm"),
		Message: fmt.Sprintf("Backs do not lie behind their fronts: by up to %s (%s).", j.in(off), j.way(right, down)),
		Fix:     "Mirror the places of the fronts about the middle of the sheet; stoneproof sheet plan lists both."}
	if x, y, _ := j.worst(front, back, !sideways); max(x.Abs(), y.Abs()) <= front.place() {
		f.Message = "The backs are arranged for turning the sheet on its other edge."
		f.Fix = "Turn the sheet on the other edge in the print dialog, and tell it by --turn, or mirror the places the other way."
	}
	j.add(f)
	return false
}

// upright judges how backs stand against their fronts. A front turned by some angle
// wants its back turned by as much the other way, as in a mirror; so the sum of both
// is the same for all cards of a design.
func (j *judge) upright(rule string, front, back *face) {
	type design struct{ front, back int }
	sums := map[design]map[int][]*cell{}
	var met []design
	for _, c := range front.cells {
		b := back.nearest(centre(j.mirrored(c.trim, front.size, j.want.Sideways(front.size))))
		fg, ff, okF := turnOf(j.groups[0], c)
		bg, bf, okB := turnOf(j.groups[1], b)
		if !okF || !okB {
			continue
		}
		d := design{fg, bg}
		if sums[d] == nil {
			sums[d] = map[int][]*cell{}
			met = append(met, d)
		}
		sum := (ff + bf) % 360
		sums[d][sum] = append(sums[d][sum], b)
	}
	for _, d := range met {
		j.odd(rule, back, sums[d])
		j.reading(rule, front, back, j.groups[0][d.front].cells[0])
	}
}

func turnOf(groups []group, c *cell) (g, turn int, ok bool) {
	for i, gr := range groups {
		if k := slices.Index(gr.cells, c); k >= 0 {
			return i, gr.fits[k].turn, true
		}
	}
	return 0, 0, false
}

// odd blames the backs that stand otherwise than most.
func (j *judge) odd(rule string, back *face, bySum map[int][]*cell) {
	most := 0
	for _, sum := range []int{0, 90, 180, 270} {
		if len(bySum[sum]) > len(bySum[most]) {
			most = sum
		}
	}
	for _, sum := range []int{0, 90, 180, 270} {
		if sum == most {
			continue
		}
		for _, c := range bySum[sum] {
			how := "is turned by a quarter against"
			if (sum-most+360)%360 == 180 {
				how = "stands upside down against"
			}
			j.add(rules.Finding{Rule: rule, Verdict: rules.Fail, Side: 2, Where: where(c.trim), Basis: rules.Measured,
				Message: fmt.Sprintf("%s %s the other backs.", back.nth(c), how),
				Fix:     "Turn it round."})
		}
	}
}

// reading compares the direction in which front and back are read, where both have
// type: turned over as the ticket says, a card should have both the right way up.
func (j *judge) reading(rule string, front, back *face, c *cell) {
	sideways := j.want.Sideways(front.size)
	b := back.nearest(centre(j.mirrored(c.trim, front.size, sideways)))
	f, okF := c.direction()
	got, okB := b.direction()
	if !okF || !okB {
		return
	}
	want := f
	if upright := f%180 == 0; sideways != upright {
		want += 180
	}
	over := j.want.Ticket.TurnOver
	want = (want + over.Turned()) % 360
	if got == want || j.said(rule, b) {
		return
	}
	j.add(rules.Finding{Rule: rule, Verdict: rules.Warn, Side: 2, Where: where(b.trim), Basis: rules.Measured,
		Message: fmt.Sprintf("Once a card is turned over its %s, its back does not stand the right way up: backs are read turned by %d degrees, %d would be right.", over.Hinge(), got, want),
		Fix:     j.turnBacks(got, want)})
}

func (j *judge) turnBacks(got, want int) string {
	if (got-want+360)%360 != 180 {
		return fmt.Sprintf("Turn all backs by %d degrees clockwise.", (want-got+360)%360)
	}
	other := j.want.Ticket.TurnOver.Other()
	return fmt.Sprintf("Turn all backs by half; if the cards are to be turned over their %s, write turn-over = %q in the ticket.", other.Hinge(), other)
}

func (j *judge) said(rule string, c *cell) bool {
	return slices.ContainsFunc(j.findings, func(f rules.Finding) bool {
		return f.Rule == rule && f.Where != nil && *f.Where == c.trim
	})
}

// direction is by how much most of the cell's type is turned clockwise from upright,
// in degrees.
func (c *cell) direction() (degrees int, ok bool) {
	var r pdf.Reading
	for _, it := range c.items {
		if it.text != nil {
			r.Add(it.text)
		}
	}
	degrees, _, ok = r.Most()
	return degrees, ok
}
