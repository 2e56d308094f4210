package checks_test

import (
	"os"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stoneproof/checks"
	"stoneproof/checks/checktest"
	"stoneproof/rules"
)

// A rule is whole or it is refused: its row and page in the catalogue, its
// check, and a folder of cases.
func TestRulesAreWhole(t *testing.T) {
	var judged []string
	for _, c := range checks.All() {
		judged = append(judged, c.Rule)
		if c.File == nil && c.Side == nil && c.Pair == nil {
			t.Errorf("check %s judges nothing", c.Rule)
		}
	}
	if diff := cmp.Diff(rules.RuleIDs(), judged); diff != "" {
		t.Errorf("catalogue and checks differ (-catalogue +checks):\n%s", diff)
	}
	entries, err := os.ReadDir("../testdata/broken")
	if err != nil {
		t.Fatal(err)
	}
	var cased []string
	for _, e := range entries {
		cased = append(cased, e.Name())
	}
	ids := slices.Sorted(slices.Values(rules.RuleIDs()))
	if diff := cmp.Diff(ids, cased); diff != "" {
		t.Errorf("catalogue and folders of cases differ (-catalogue +folders):\n%s", diff)
	}
	for _, r := range rules.Catalogue() {
		if r.Page() == "" {
			t.Errorf("rule %s has no page in the catalogue", r.ID)
		}
	}
}

func TestShippedArt(t *testing.T) {
	checktest.Folder(t, "../testdata/good")
	checktest.Folder(t, "../testdata/sizes")
	checktest.Folder(t, "../testdata/foreign")
	for _, id := range rules.RuleIDs() {
		checktest.Folder(t, "../testdata/broken/"+id)
	}
}
