package checks_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"stoneproof/checks/checktest"
	"stoneproof/checks/checktest/press"
	"stoneproof/rules"
)

// Good cards of every style, size and container earn no warning and no failure:
// a checker that cries wolf is switched off.
func TestCleanCards(t *testing.T) {
	seeds := 1
	if testing.Short() {
		t.Skip("draws 48 cards")
	}
	for seed := range seeds {
		for _, f := range press.Clean(seed) {
			t.Run(fmt.Sprintf("%d/%s", seed, f.Name), func(t *testing.T) {
				order := rules.Order{Size: f.Size, Process: f.Process}
				var want []string
				if !strings.HasSuffix(f.Name, ".pdf") {
					want = unread()
				}
				r := checktest.JudgeBytes(t, f.Name, f.Bytes(), order)
				if slices.ContainsFunc(busy, func(s press.Style) bool { return strings.Contains(f.Name, string(s)) }) {
					r.Findings = slices.DeleteFunc(r.Findings, lostInArt)
				}
				checktest.Expect(t, r, want...)
			})
		}
	}
}

// busy are the styles in whose pixels lettering, frames or marks near the trim may be
// lost, so that a rule which looks for them there can but skip; laid paper is, at 600 ppi.
var busy = []press.Style{press.Patterned, press.Engraved, press.Lattice, press.Rays, press.Striped, press.Photographic, press.Textured}

// lostInArt reports whether a rule owns that pixels are too busy for it.
func lostInArt(f rules.Finding) bool {
	return f.Verdict == rules.Skip && strings.Contains(f.Message, "too busy for pixels")
}
