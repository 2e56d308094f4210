package rules

import (
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
