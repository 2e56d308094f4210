package rules

import (
	"fmt"
	"io/fs"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestCatalogueAndPagesAreTheSameSet(t *testing.T) {
	files, err := fs.Glob(pages, "catalogue/*.md")
	if err != nil {
		t.Fatal(err)
	}
	var written []string
	for _, f := range files {
		written = append(written, strings.TrimSuffix(strings.TrimPrefix(f, "catalogue/"), ".md"))
	}
	rows := slices.Concat(RuleIDs(), SheetRuleIDs())
	slices.Sort(rows)
	if diff := cmp.Diff(rows, written); diff != "" {
		t.Errorf("rows of the catalogue (-) and its pages (+) differ:\n%s", diff)
	}
	if len(slices.Compact(rows)) != len(Catalogue())+len(SheetCatalogue()) {
		t.Error("an id stands twice")
	}
}

// TestPagesHaveTheirShape holds what readers of the pages rely on: sections in
// order, simple Markdown, one drawing, lines that fit.
func TestPagesHaveTheirShape(t *testing.T) {
	sections := []string{"## What", "## Why it matters on a card", "## How it is measured", "## The limit", "## Put it right"}
	for _, r := range slices.Concat(Catalogue(), SheetCatalogue()) {
		page := r.Page()
		lines := strings.Split(page, "\n")
		if lines[0] != "# "+r.Title {
			t.Errorf("%s: the page is headed %q, the rule %q", r.ID, lines[0], r.Title)
		}
		var heads []string
		for _, line := range lines {
			if strings.HasPrefix(line, "## ") {
				heads = append(heads, line)
			}
			if n := len([]rune(line)); n > 100 {
				t.Errorf("%s: a line of %d letters: %s", r.ID, n, line)
			}
		}
		if diff := cmp.Diff(sections, heads); diff != "" {
			t.Errorf("%s: sections (-want +got):\n%s", r.ID, diff)
		}
		if n := strings.Count(page, "```"); n != 2 {
			t.Errorf("%s: %d fences of drawings, want one drawing", r.ID, n)
		}
		if n := strings.Count(page, "|---"); n > 0 && len(regexp.MustCompile(`(?m)^\|---`).FindAllString(page, -1)) != 1 {
			t.Errorf("%s: more than one table", r.ID)
		}
	}
}

// TestPagesTellTheLimits holds that the numbers on a page are those of the
// tickets.
func TestPagesTellTheLimits(t *testing.T) {
	desktop, digital, uncoated := ticketOf(t, "desktop"), ticketOf(t, "digital"), ticketOf(t, "offset-uncoated")
	mm := func(l Length) string { return l.In(UnitMM) }
	ppi := func(v float64) string { return fmt.Sprint(v) + " ppi" }
	pt := func(v float64) string { return fmt.Sprint(v) + " pt" }
	for id, numbers := range map[string][]string{
		"trim-size":    {mm(digital.TrimTolerance), mm(digital.RasterTrimTolerance)},
		"bleed-extent": {mm(digital.BleedSlack), mm(digital.BleedSliver)},
		"bleed-fill":   {mm(digital.BleedSlack), mm(digital.BleedSliver)},
		"effective-resolution": {ppi(digital.TonePPIGood), ppi(digital.TonePPILeast), ppi(digital.LinePPIGood), ppi(digital.LinePPILeast),
			ppi(desktop.LinePPIGood), ppi(desktop.LinePPILeast), fmt.Sprint(digital.PPISlack*100) + " %"},
		"rich-black": {pt(digital.RichTypeLeast), pt(digital.RichLineLeast), pt(digital.LineReversedLeast)},
		"hairlines": {"| least width | " + pt(digital.LineLeast) + " | " + pt(uncoated.LineLeast) + " |",
			"| light on dark | " + pt(digital.LineReversedLeast) + " | " + pt(uncoated.LineReversedLeast) + " |"},
	} {
		rule, err := RuleNamed(id)
		if err != nil {
			t.Fatal(err)
		}
		for _, number := range numbers {
			if !strings.Contains(rule.Page(), number) {
				t.Errorf("%s: the page does not tell %s", id, number)
			}
		}
	}
}

// TestPagesTellTheVerdicts reads the table of verdicts of the colour rules and
// holds it against the tickets.
func TestPagesTellTheVerdicts(t *testing.T) {
	for row, verdict := range map[string]func(Limits) Verdict{
		"| RGB, Lab, calibrated RGB |":                                  func(l Limits) Verdict { return l.RGB },
		"| RGB with no profile and no intent that covers it |":          func(l Limits) Verdict { return l.RGBUntagged },
		"| CMYK with no profile and no output intent |":                 func(l Limits) Verdict { return l.CMYKUntagged },
		"| a profile that contradicts its picture, or cannot be read |": func(l Limits) Verdict { return l.TagBroken },
		"| an ink that the ticket does not name |":                      func(l Limits) Verdict { return l.Spot },
	} {
		want := row
		for _, process := range Processes() {
			want += " " + string(verdict(ticketOf(t, process))) + " |"
		}
		var text string
		for _, id := range []string{"colour-space", "colour-tags", "spot-colours"} {
			text += Rule{ID: id}.Page()
		}
		if !strings.Contains(text, want+"\n") {
			t.Errorf("no page has the row %s", want)
		}
	}
}

func ticketOf(t *testing.T, process string) Limits {
	t.Helper()
	ticket, err := Order{Process: process}.Ticket()
	if err != nil {
		t.Fatal(err)
	}
	return ticket.Limits
}

// TestRulesNameKeysOfATicket holds that every limit a rule says it is judged by
// can be set, and that every limit that can be set belongs to a rule.
func TestRulesNameKeysOfATicket(t *testing.T) {
	ticket, limits := keysOf(reflect.TypeFor[written]()), keysOf(reflect.TypeFor[Limits]())
	used := map[string]bool{}
	for _, r := range slices.Concat(Catalogue(), SheetCatalogue()) {
		for _, key := range r.Limits {
			used[key] = true
			if !slices.Contains(ticket, key) && !slices.Contains(limits, key) {
				t.Errorf("%s: %q is no key of a ticket", r.ID, key)
			}
		}
	}
	for _, key := range limits {
		if !used[key] {
			t.Errorf("no rule is judged by the limit %q", key)
		}
	}
}

func TestUnknownRuleHasNoPage(t *testing.T) {
	if page := (Rule{ID: "../catalogue"}).Page(); page != "" {
		t.Errorf("got %q", page)
	}
}
