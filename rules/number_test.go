package rules

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func TestNumbers(t *testing.T) {
	at := &Box{W: 1, H: 1}
	findings := []Finding{
		{Rule: "file-opens", Verdict: Fail},                      // of the whole file
		{Rule: "safe-zone", Verdict: Pass, Side: 1, Where: at},   // passes
		{Rule: "edge-border", Verdict: Warn, Side: 1, Where: at}, // after what fails
		{Rule: "fonts-embedded", Verdict: Fail, Side: 1},         // nowhere in particular
		{Rule: "bleed-extent", Verdict: Fail, Side: 1, Edge: Left},
		{Rule: "code-scan", Verdict: Skip, Side: 2, Where: at},
		{Rule: "hairlines", Verdict: Fail, Side: 2, Where: at},
		{Rule: "whole", Verdict: Fail, Where: at}, // no side, so no picture
	}
	if diff := cmp.Diff([]int{0, 0, 2, 0, 1, 4, 3, 0}, Numbers(findings)); diff != "" {
		t.Errorf("numbers (-want +got):\n%s", diff)
	}
}

// Whatever the findings, their numbers are 1 to n, each once, and rise from side
// to side and from fail to warn.
func TestNumbersAreInReadingOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		findings := rapid.SliceOf(rapid.Custom(func(t *rapid.T) Finding {
			f := Finding{
				Verdict: rapid.SampledFrom([]Verdict{Pass, Warn, Fail, Skip}).Draw(t, "verdict"),
				Side:    rapid.IntRange(0, 3).Draw(t, "side"),
			}
			if rapid.Bool().Draw(t, "placed") {
				f.Where = &Box{}
			}
			return f
		})).Draw(t, "findings")
		byNumber := map[int]Finding{}
		for i, n := range Numbers(findings) {
			if n == 0 {
				continue
			}
			if _, twice := byNumber[n]; twice {
				t.Fatalf("number %d twice", n)
			}
			byNumber[n] = findings[i]
		}
		for n := 1; n <= len(byNumber); n++ {
			f, known := byNumber[n]
			if !known {
				t.Fatalf("number %d is left out", n)
			}
			if before, ok := byNumber[n-1]; ok && (before.Side > f.Side || before.Side == f.Side && f.Verdict.Worse(before.Verdict)) {
				t.Fatalf("%d, %v, comes before %v", n-1, before, f)
			}
		}
	})
}
