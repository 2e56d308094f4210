package rules

import (
	"cmp"
	"slices"
)

// Placed reports whether a finding can be shown in a picture of its side: it tells
// where it lies, or at which edge.
func (f Finding) Placed() bool { return f.Side > 0 && (f.Where != nil || f.Edge != "") }

// Numbers are the numbers by which a file's findings are called in words and
// pictures alike, one for each finding in its place: from 1 in the order in which
// people read them, by side, the worst first, then as they stand; 0 for those that
// pass or have no place to show.
func Numbers(findings []Finding) []int {
	var at []int
	for i, f := range findings {
		if f.Placed() && f.Verdict != Pass {
			at = append(at, i)
		}
	}
	slices.SortStableFunc(at, func(a, b int) int {
		f, g := findings[a], findings[b]
		return cmp.Or(cmp.Compare(f.Side, g.Side), cmp.Compare(g.Verdict.rank(), f.Verdict.rank()))
	})
	numbers := make([]int, len(findings))
	for n, i := range at {
		numbers[i] = n + 1
	}
	return numbers
}
