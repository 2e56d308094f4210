package gang

import (
	"fmt"

	"stoneproof/rules"
)

// gaps judges the room between cards: two bleeds, or none at all where neighbours share
// a cut.
func (j *judge) gaps(rule string) {
	for _, f := range j.faces {
		j.gapsOf(rule, f)
	}
	f := j.faces[0]
	switch gap, any := f.leastGap(); {
	case !any:
		j.pass(rule, "There is one card: it has no neighbour.")
	case gap <= gapSlack:
		j.pass(rule, "Neighbours share a cut: right only where the art is white or of one flat colour along it.")
	default:
		j.pass(rule, fmt.Sprintf("Cards lie %s apart or more; two bleeds are %s.", j.in(gap), (2*j.want.Ticket.Bleed).In(j.unit)))
	}
}

// gapsOf judges one side; one finding is enough, for cards are laid out together.
func (j *judge) gapsOf(rule string, f *face) {
	for i, a := range f.cells {
		for _, b := range f.cells[i+1:] {
			if !j.gap(rule, f, a, b) {
				return
			}
		}
	}
}

// gap judges two cards; it is false if something is wrong between them.
func (j *judge) gap(rule string, f *face, a, b *cell) bool {
	wide, next := between(a.trim, b.trim)
	if !next {
		return true
	}
	bleed := j.want.Ticket.Bleed
	if wide > gapSlack && wide < 2*bleed-gapSlack {
		j.add(rules.Finding{Rule: rule, Verdict: rules.Fail, Side: f.number, Where: where(a.trim), Basis: rules.Measured,
			Measured: rules.ValueMM(wide), Wanted: rules.AtLeastMM(2 * bleed),
			Message: fmt.Sprintf("%s and the next one lie %s apart; two bleeds are %s. Where one bleeds the other is cut.", f.nth(a), j.in(wide), (2 * bleed).In(j.unit)),
			Fix:     fmt.Sprintf("Set the cards %s apart, or butt cards whose edges are of one flat colour.", (2 * bleed).In(j.unit))})
		return false
	}
	for _, p := range [][2]*cell{{a, b}, {b, a}} {
		over := p[0].paint().Intersect(p[1].trim)
		if deep := min(over.W, over.H); deep > gapSlack {
			j.add(rules.Finding{Rule: rule, Verdict: rules.Fail, Side: f.number, Where: where(over), Basis: rules.Measured, Measured: rules.ValueMM(deep),
				Message: fmt.Sprintf("The paint of %s reaches %s onto its neighbour.", lower(f.nth(p[0])), j.in(deep)),
				Fix:     "Cut every card's paint off at its bleed, or between butted cards at the shared cut."})
			return false
		}
	}
	return true
}

// between is how far two boxes lie apart, if they are neighbours side by side or one
// below the other.
func between(a, b rules.Box) (wide rules.Length, next bool) {
	across := max(b.X-a.Right(), a.X-b.Right())
	down := max(b.Y-a.Bottom(), a.Y-b.Bottom())
	const overlap = -gapSlack
	switch {
	case across >= overlap && down < overlap:
		return max(0, across), true
	case down >= overlap && across < overlap:
		return max(0, down), true
	}
	return 0, false
}

func (f *face) leastGap() (least rules.Length, any bool) {
	for i, a := range f.cells {
		for _, b := range f.cells[i+1:] {
			if wide, next := between(a.trim, b.trim); next && (!any || wide < least) {
				least, any = wide, true
			}
		}
	}
	return least, any
}

// lower begins a name in the middle of a sentence.
func lower(s string) string { return string(s[0]|0x20) + s[1:] }
