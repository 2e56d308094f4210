package main

import (
	"slices"
	"testing"

	"stoneproof/rules"
)

// A rule that the bench cannot break is not measured.
func TestEveryRuleCanBeBroken(t *testing.T) {
	var broken []string
	for _, f := range faults() {
		broken = append(broken, f.rule)
		if len(f.styles) == 0 {
			t.Errorf("a fault of %s has no style to show in", f.rule)
		}
	}
	for _, id := range rules.RuleIDs() {
		if !slices.Contains(broken, id) {
			t.Errorf("no fault breaks %s", id)
		}
	}
}

func TestScores(t *testing.T) {
	all := []judged{
		{sample: sample{name: "found", fault: "safe-zone"}, blamed: []string{"safe-zone"}},
		{sample: sample{name: "missed", fault: "safe-zone"}},
		{sample: sample{name: "alarm"}, blamed: []string{"safe-zone"}},
		{sample: sample{name: "well"}},
		{sample: sample{name: "goes with", fault: "bleed-extent"}, blamed: []string{"bleed-extent", "safe-zone"}},
	}
	s := scores(all)["safe-zone"]
	if s.faults != 2 || s.found != 1 || s.sound != 2 || s.blamed != 1 || !slices.Equal(s.missed, []string{"missed"}) || !slices.Equal(s.alarm, []string{"alarm"}) {
		t.Errorf("scores %+v", *s)
	}
}
