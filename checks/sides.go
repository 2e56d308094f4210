package checks

import (
	"fmt"
	"slices"

	"stoneproof/rules"
)

// SideCount judges the number of sides against the ticket.
var SideCount = &Check{
	Rule:  "side-count",
	Needs: Facts,
	File:  sideCount,
}

func sideCount(p *Pass) {
	n := len(p.Art.Sides)
	f := rules.Finding{
		Verdict:  rules.Pass,
		Basis:    rules.Read,
		Measured: rules.Value(float64(n), "sides"),
		Wanted:   &rules.Quantity{Values: floats(p.Ticket.Sides), Unit: "sides"},
		Message:  fmt.Sprintf("The file has %s.", rules.Counted(n, "side")),
	}
	if !slices.Contains(p.Ticket.Sides, n) {
		f.Verdict = rules.Fail
		f.Message = fmt.Sprintf("The file has %s; the card has %s.", rules.Counted(n, "side"), p.Ticket.SidesInWords())
		f.Fix = fmt.Sprintf("Export %s only, or say in the ticket how many sides the card has.",
			rules.Counted(slices.Max(p.Ticket.Sides), "side"))
		if n < slices.Min(p.Ticket.Sides) {
			f.Fix = fmt.Sprintf("Add the missing %s to the file.", rules.Counted(slices.Min(p.Ticket.Sides)-n, "side"))
		}
	}
	p.Report(f)
}

func floats(list []int) []float64 {
	var out []float64
	for _, n := range list {
		out = append(out, float64(n))
	}
	return out
}
