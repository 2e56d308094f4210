package main

import (
	"slices"
	"testing"

	"stoneproof/checks/checktest/press"
	"stoneproof/rules"
)

// A rule that the bench cannot break is not measured.
func TestEveryRuleCanBeBroken(t *testing.T) {
	var broken []string
	for _, f := range faults() {
		if len(f.styles) == 0 || len(f.files) == 0 {
			t.Errorf("a fault of %s has no style or file to show in", f.rule)
		}
		if f.hard == "" {
			broken = append(broken, f.rule)
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
		{sample: sample{name: "hidden", fault: "safe-zone", hard: "on busy art"}},
		{sample: sample{name: "not there", fault: "safe-zone"}, absent: true},
		{sample: sample{name: "owned", fault: "safe-zone"}, skipped: []string{"safe-zone"}},
		{sample: sample{name: "unjudged"}, skipped: []string{"safe-zone"}},
		{sample: sample{name: "goes with", fault: "bleed-extent"}, blamed: []string{"bleed-extent", "safe-zone"}},
	}
	s := scores(all)["safe-zone"]
	if s.faults != 3 || s.found != 1 || s.owned != 1 || s.sound != 3 || s.blamed != 1 || s.unjudged != 1 ||
		!slices.Equal(s.missed, []string{"missed", "owned (skipped)"}) || !slices.Equal(s.alarm, []string{"alarm"}) {
		t.Errorf("scores %+v", *s)
	}
}

// A rule that blames one edge and skips another has judged.
func TestWhatIsHeard(t *testing.T) {
	var j judged
	j.hear([]rules.Finding{
		{Rule: "safe-zone", Verdict: rules.Skip}, {Rule: "safe-zone", Verdict: rules.Warn}, {Rule: "edge-border", Verdict: rules.Skip},
		{Rule: "marks-in-art", Verdict: rules.Pass},
	})
	if !slices.Equal(j.blamed, []string{"safe-zone"}) || !slices.Equal(j.skipped, []string{"edge-border"}) {
		t.Errorf("heard that %v blame and %v skip", j.blamed, j.skipped)
	}
}

// What hides a fault is counted by itself.
func TestHardFaults(t *testing.T) {
	all := []judged{
		{sample: sample{name: "hidden", fault: "safe-zone", hard: "on busy art"}},
		{sample: sample{name: "seen", fault: "safe-zone", hard: "on busy art"}, blamed: []string{"safe-zone"}},
	}
	s := scores(all)["safe-zone"]
	if h := s.hard["on busy art"]; s.faults != 0 || s.sound != 0 || h == nil || h.faults != 2 || h.found != 1 || !slices.Equal(h.missed, []string{"hidden"}) {
		t.Errorf("scores %+v", *s)
	}
}

// A fault that cannot be seen on a card is no sample.
func TestFaultsThatShow(t *testing.T) {
	of := func(rule string, option press.Option) fault {
		return fault{rule: rule, tells: clearly, make: always(rule, option)}
	}
	for _, tt := range []struct {
		name  string
		fault fault
		card  press.Card
		want  bool
	}{
		{"a code with room for it", of("code-scan", press.Code(8)), press.Card{Maker: "clock-mender", Style: press.Broadside, Size: "us-business"}, true},
		{"a code without", of("code-scan", press.Code(8)), press.Card{Maker: "clock-mender", Style: press.Broadside, Size: "poker"}, false},
		{"black type on white", of("safe-zone", press.PhoneAt(rules.Bottom, 1)), press.Card{Maker: "potter", Style: press.Broadside, Size: "us-business"}, true},
		{"black type on black", of("safe-zone", press.PhoneAt(rules.Top, 1)), press.Card{Maker: "potter", Style: press.Broadside, Size: "us-business"}, false},
		{"paint that stops", of("bleed-fill", press.PaintStops(rules.Left, 1)), press.Card{Maker: "potter", Style: press.Dark, Size: "us-business"}, true},
		{"paint that was never there", of("bleed-fill", press.PaintStops(rules.Left, 1)), press.Card{Maker: "potter", Style: press.White, Size: "us-business"}, false},
	} {
		option, _ := tt.fault.make(nil)
		if got := tt.fault.shows(tt.card, option); got != tt.want {
			t.Errorf("%s: shows %v, want %v", tt.name, got, tt.want)
		}
	}
}
