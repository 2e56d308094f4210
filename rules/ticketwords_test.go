package rules

import (
	"reflect"
	"slices"
	"testing"
)

func TestTicketTellsItsKeys(t *testing.T) {
	us, err := Order{Spots: []string{"Gold", "Silver"}}.Ticket()
	if err != nil {
		t.Fatal(err)
	}
	for key, want := range map[string]string{
		"trim":                "3.5 × 2 in",
		"bleed":               "0.125 in",
		"safe":                "0.125 in",
		"process":             "digital",
		"sides":               "1 or 2",
		"spots":               "Gold, Silver",
		"turn-over":           "side",
		"pair-names":          "front, back",
		"bleed-slack":         "0.0039 in",
		"tone-ppi-good":       "300 ppi",
		"ppi-slack":           "0.5 %",
		"ink-total":           "320 %",
		"ink-over":            "fail",
		"type-least":          "5 pt",
		"line-reversed-least": "0.5 pt",
		"rich-line-least":     "1 pt",
		"code-quiet-good":     "4 modules",
		"code-contrast-least": "20 %",
		"rgb":                 "warn",
		"no-such-key":         "",
	} {
		if got := us.Tell(key); got != want {
			t.Errorf("%s: %q, want %q", key, got, want)
		}
	}
}

func TestTicketTellsEveryKey(t *testing.T) {
	eu, err := Order{Size: "eu-business"}.Ticket()
	if err != nil {
		t.Fatal(err)
	}
	keys := slices.Concat(keysOf(reflect.TypeFor[written]()), keysOf(reflect.TypeFor[Limits]()))
	for _, key := range keys {
		if key != "limits" && eu.Tell(key) == "" {
			t.Errorf("the ticket tells nothing of its key %q", key)
		}
	}
}

func TestChaptersHoldEveryRuleOnce(t *testing.T) {
	var told []string
	for _, c := range Chapters() {
		for _, r := range c.Rules {
			told = append(told, r.ID)
			if found, err := AnyRuleNamed(r.ID); err != nil || found.Title != r.Title {
				t.Errorf("%s: found %q, %v", r.ID, found.Title, err)
			}
		}
	}
	if want := slices.Concat(RuleIDs(), SheetRuleIDs()); !slices.Equal(told, want) {
		t.Errorf("chapters hold %v, want %v", told, want)
	}
	if _, err := AnyRuleNamed("sheetgaps"); err == nil || err.Error() != `unknown rule "sheetgaps": did you mean sheet-gaps, sheet-fit, sheet-marks?` {
		t.Errorf("got %v", err)
	}
}
