package checks

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"stoneproof/checks/art"
	"stoneproof/checks/art/icc/press"
	"stoneproof/checks/art/pdf"
	"stoneproof/checks/art/raster"
	"stoneproof/rules"
)

// InkTotal judges the sum of all inks at the worst place against what the paper
// takes.
var InkTotal = &Check{
	Rule:  "ink-total",
	Needs: Inks,
	Side:  inkTotal,
}

// inkPPI is the resolution at which a page's plates are made to sum them up. A
// square millimetre has 6 × 6 pixels then: enough for a mean.
const inkPPI = 150

func inkTotal(p *Pass) {
	if p.ownInks() {
		p.Report(rules.Finding{Verdict: rules.Pass, Basis: rules.Inferred,
			Message: "The colours are RGB: the printer makes its own inks of them, and no more than its paper takes."})
		return
	}
	if most, sure := p.inkBound(); sure && most <= p.mostInk() {
		p.inkBounded(most)
		return
	}
	plates, err := p.Side.Plates(p.Ctx, art.PartPrinted, inkPPI)
	if err != nil {
		p.Skip("The inks could not be told apart: " + sentence(lowerFirst(err.Error())))
		return
	}
	heavy := plates.Heaviest(p.Ticket.Limits.InkArea)
	if heavy.Sum <= p.mostInk() {
		p.inkFits(heavy.Sum, &heavy.Box, plates.Approximate)
		return
	}
	p.tooMuchInk(plates, heavy)
}

// mostInk is what passes: the limit, and what rounding may add.
func (p *Pass) mostInk() float64 {
	return float64(p.Ticket.Limits.InkTotal + p.Ticket.Limits.InkSlack)
}

// ownInks reports whether all of a side is light, and the process takes it so.
func (p *Pass) ownInks() bool {
	if p.Ticket.Limits.RGB != rules.Pass {
		return false
	}
	if h := p.Side.Header; h != nil {
		return h.Space == raster.RGB || h.Space == raster.Lab
	}
	content, err := p.Side.Content()
	if err != nil || len(content.Spaces) == 0 {
		return false
	}
	light := false
	for _, use := range content.Spaces {
		switch familyOfSpace(use.Space) {
		case rgb, lab:
			light = true
		case grey: // one ink at most
		default:
			return false
		}
	}
	return light
}

// inkBound is the most ink that a page can lay in one place, from its drawing
// instructions alone, and whether that is sure: every colour is known, and none
// adds to what lies beneath it.
func (p *Pass) inkBound() (most float64, sure bool) {
	if h := p.Side.Header; h != nil {
		return pictureBound(h)
	}
	content, err := p.Side.Content()
	if err != nil || content.Truncated || len(content.Notes) > 0 {
		return 0, false
	}
	for i := range content.Images {
		im := &content.Images[i]
		if im.Mask == pdf.Stencil || im.IsMask {
			continue
		}
		ink, known := mostOf(familyOfSpace(im.Space))
		if !known || im.Blend != "Normal" || im.FillOverprint {
			return 0, false
		}
		most = math.Max(most, ink)
	}
	for i := range content.Shadings {
		sh := &content.Shadings[i]
		ink, known := mostOf(familyOfSpace(sh.Space))
		if !known || sh.Blend != "Normal" || sh.FillOverprint {
			return 0, false
		}
		most = math.Max(most, ink)
	}
	for _, m := range p.marks(content) {
		l := layOf(m.colour())
		ink := l.sum()
		if l.estimated {
			ink = press.MostInk
		}
		if !l.known || l.all || m.overprints() || m.Blend != "Normal" {
			return 0, false
		}
		most = math.Max(most, ink)
	}
	return most, true
}

// pictureBound is the same of a picture: only inks have to be looked at.
func pictureBound(h *raster.Header) (most float64, sure bool) {
	switch {
	case h.Extra > 0:
		return 0, false
	case h.Space == raster.Gray:
		return 100, true
	case h.Space == raster.RGB:
		return press.MostInk, true
	}
	return 0, false
}

// mostOf is the most ink that any colour of a kind lays.
func mostOf(f family) (most float64, known bool) {
	switch f {
	case grey:
		return 100, true
	case rgb, lab:
		return press.MostInk, true
	}
	return 0, false
}

// inkBounded passes a side that cannot lay more, whatever lies where.
func (p *Pass) inkBounded(most float64) {
	p.Report(rules.Finding{
		Verdict: rules.Pass, Basis: rules.Measured, Wanted: rules.AtMost(float64(p.Ticket.Limits.InkTotal), "%"),
		Message: fmt.Sprintf("No colour here costs more than %.0f %% of ink; %s %% dries.", most, number(float64(p.Ticket.Limits.InkTotal))),
	})
}

func (p *Pass) inkFits(sum float64, where *rules.Box, approximate []string) {
	f := rules.Finding{
		Verdict: rules.Pass, Basis: rules.Measured, Where: where,
		Measured: rules.Value(round1(sum), "%"), Wanted: rules.AtMost(float64(p.Ticket.Limits.InkTotal), "%"),
		Message: fmt.Sprintf("Inks sum up to %.0f %% at most; %s %% dries.", sum, number(float64(p.Ticket.Limits.InkTotal))),
	}
	if len(approximate) > 0 {
		f.Basis = rules.Inferred
		f.Message += guessed(approximate)
	}
	p.Report(f)
}

func (p *Pass) tooMuchInk(plates *art.Plates, heavy art.Heavy) {
	limit := float64(p.Ticket.Limits.InkTotal)
	f := rules.Finding{
		Verdict: p.Ticket.Limits.InkOver, Basis: rules.Measured, Where: &heavy.Box,
		Measured: rules.Value(round1(heavy.Sum), "%"), Wanted: rules.AtMost(limit, "%"),
		Message: fmt.Sprintf("Inks sum up to %.0f %% %s: %s; %s %% is the most that dries here.",
			heavy.Sum, p.place(heavy.Box), inkList(plates.Names, heavy.Ink), number(limit)),
		Fix: lessInk(plates.Names, heavy, limit),
	}
	if len(plates.Approximate) > 0 {
		f.Basis = rules.Inferred
		if f.Verdict == rules.Fail {
			f.Verdict = rules.Warn
		}
		f.Message += guessed(plates.Approximate)
	}
	p.Report(f)
}

// guessed tells why the number is no more than a guess.
func guessed(causes []string) string {
	return " This is estimated, for the side holds " + strings.Join(causes, "; ") + "."
}

// inkList tells inks that are there: "cyan 90, black 80".
func inkList(names []string, ink []float64) string {
	var parts []string
	for i, v := range addUp(ink) {
		if v > 0 {
			parts = append(parts, fmt.Sprintf("%s %d", shorten(names[i]), v))
		}
	}
	return strings.Join(parts, ", ")
}

// addUp rounds to whole numbers that add up to the rounded sum, for whoever adds
// them: what has the largest fraction is rounded up.
func addUp(values []float64) []int {
	whole, order, left := make([]int, len(values)), make([]int, len(values)), 0.0
	for i, v := range values {
		whole[i], order[i] = int(v), i
		left += v
	}
	fraction := func(i int) float64 { return values[i] - float64(whole[i]) }
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(fraction(b), fraction(a)) })
	up := int(math.Round(left))
	for _, n := range whole {
		up -= n
	}
	for _, i := range order[:up] {
		whole[i]++
	}
	return whole
}

// lessInk tells how far to lower which inks: the coloured ones alike, for black
// carries the drawing; where black and extra inks alone are over, there is no
// more to be had from colours.
func lessInk(names []string, heavy art.Heavy, limit float64) string {
	colours := 0.0
	for i := range min(3, len(heavy.Ink)) {
		colours += heavy.Ink[i]
	}
	over := heavy.Sum - limit
	if over > colours {
		return fmt.Sprintf("Take out %s %% of ink there: lay fewer inks on each other.", number(math.Ceil(over)))
	}
	keep := 1 - over/colours
	var parts []string
	for i := range min(3, len(heavy.Ink)) {
		if heavy.Ink[i] >= 0.5 {
			parts = append(parts, fmt.Sprintf("%s to %s", names[i], number(math.Floor(heavy.Ink[i]*keep))))
		}
	}
	return fmt.Sprintf("Take out %s %%: lower %s there, or convert the artwork with a profile whose ink limit is %s %%.",
		number(math.Ceil(over)), strings.Join(parts, ", "), number(limit))
}

func round1(v float64) float64 { return math.Round(v*10) / 10 }
