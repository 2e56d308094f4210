package checks_test

import (
	"context"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stoneproof/checks"
	"stoneproof/checks/checktest"
	"stoneproof/rules"
)

// A file that is held in memory is judged and seen as the same file on disk is.
func TestHeldIsJudgedAsOnDisk(t *testing.T) {
	if testing.Short() {
		t.Skip("judges files twice")
	}
	judge := checktest.NewJudge(t, rules.Order{}, checks.All()...)
	for _, path := range []string{
		"../testdata/broken/safe-zone/phone-near-knife.pdf", "../testdata/broken/bleed-extent/trim-only.tif",
		"../testdata/broken/file-opens/letter.pdf",
	} {
		b, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		want, wantPictures := judge.SeeFile(context.Background(), path)
		got, pictures := judge.SeeBytes(context.Background(), path, b)
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s is judged otherwise in memory (-disk +memory):\n%s", path, diff)
		}
		if diff := cmp.Diff(wantPictures, pictures); diff != "" {
			t.Errorf("%s is seen otherwise in memory", path)
		}
	}
}

// What is held keeps the same ceiling as what is read.
func TestHeldHasItsCeiling(t *testing.T) {
	judge := checktest.NewJudge(t, rules.Order{}, checks.All()...)
	judge.Ceilings.FileBytes = 1000
	r, pictures := judge.SeeBytes(context.Background(), "card.png", make([]byte, 1001))
	if len(r.Findings) != 1 || !strings.Contains(r.Findings[0].Message, "this tool reads up to") || r.Verdict != rules.Fail || pictures != nil {
		t.Errorf("a file over its ceiling is judged %+v", r)
	}
}
