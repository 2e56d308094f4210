package checks_test

import (
	"fmt"
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
				checktest.Expect(t, checktest.JudgeBytes(t, f.Name, f.Bytes(), order), want...)
			})
		}
	}
}
