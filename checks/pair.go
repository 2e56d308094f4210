package checks

import (
	"path/filepath"
	"slices"

	"stoneproof/rules"
)

// pair is a front and a back to compare: two sides of one file, or two files.
type pair struct {
	ticket      rules.Ticket
	front, back rules.SideFacts
}

// onPair makes a File check of a comparison: it says something of files that have
// a front and a back, and lets others pass.
func onPair(compare func(pair) []rules.Finding) func(*Pass) {
	return func(p *Pass) {
		if len(p.facts) != 2 {
			p.Report(rules.Finding{Verdict: rules.Pass, Basis: rules.Read, Message: notAPair(len(p.facts))})
			return
		}
		for _, f := range compare(pair{p.Ticket, p.facts[0], p.facts[1]}) {
			f.Side = 2
			p.Report(f)
		}
	}
}

func notAPair(sides int) string {
	if sides == 1 {
		return "One side alone: there is no back to compare it with."
	}
	return "Not a front and a back: " + rules.Counted(sides, "side") + "."
}

// Pair judges two files that have one side each as front and back of one card. Its
// findings take the place of those that the files' own judging by the same checks
// gave, and stand with the back, which is what is put right.
func (j *Judge) Pair(front, back *rules.FileReport) {
	if len(front.Sides) != 1 || len(back.Sides) != 1 || front.Sides[0].Face == nil || back.Sides[0].Face == nil {
		return // one could not be opened, or is a card of its own
	}
	both := pair{j.Ticket, front.Sides[0], back.Sides[0]}
	for _, c := range j.Checks {
		if c.Pair == nil {
			continue
		}
		var found []rules.Finding
		for _, f := range c.Pair(both) {
			f.Rule, f.Side = c.Rule, 1
			found = append(found, f)
		}
		j.replace(front, c.Rule, rules.Finding{Rule: c.Rule, Verdict: rules.Pass, Basis: rules.Read,
			Message: "Judged with its back, " + filepath.Base(back.Path) + "."})
		j.replace(back, c.Rule, found...)
	}
}

// replace puts findings in the place of what a report says by a rule.
func (j *Judge) replace(r *rules.FileReport, rule string, findings ...rules.Finding) {
	r.Findings = slices.DeleteFunc(r.Findings, func(f rules.Finding) bool { return f.Rule == rule })
	r.Findings = append(r.Findings, findings...)
	sortFindings(r.Findings)
	r.Verdict = j.verdict(r.Findings)
}

// placed reports whether both sides could be placed, so that there is something to
// compare.
func (p pair) placed() bool { return p.front.Trim.W > 0 && p.back.Trim.W > 0 }

// basis is how the weaker of the two was placed.
func (p pair) basis() rules.Basis {
	for _, b := range []rules.Basis{rules.Inferred, rules.Measured} {
		if p.front.Basis == b || p.back.Basis == b {
			return b
		}
	}
	return rules.Read
}

// turned reports whether one lies and the other stands.
func (p pair) turned() bool {
	a, b := p.front.Trim, p.back.Trim
	return a.W != a.H && b.W != b.H && a.Landscape() != b.Landscape()
}

// unplacedPair is what is told where a side could not be placed.
func unplacedPair() []rules.Finding {
	return []rules.Finding{{Verdict: rules.Skip, Message: "The trim of a side could not be placed, so front and back cannot be compared: see trim-size."}}
}
