package checks_test

import (
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"stoneproof/checks/checktest"
	"stoneproof/checks/checktest/press"
	"stoneproof/rules"
)

// The same card is judged the same however its page is turned, scaled and moved
// in the file: Rotate, UserUnit and the MediaBox's origin change how a page is
// written, not how it looks (ISO 32000-1, Table 30).
func TestSameCardSameVerdict(t *testing.T) {
	card := press.Card{Maker: press.Makers()[0], Style: press.Dark, Size: "us-business"}
	faults := []press.Option{press.PaintStops(rules.Left, 1.2), press.PhoneAt(rules.Right, 1.3)}
	plain := measures(checktest.JudgeBytes(t, "plain.pdf", card.PDF(faults...), rules.Order{}))
	if len(plain) < 10 {
		t.Fatalf("the plain card says too little: %v", plain)
	}
	rapid.Check(t, func(rt *rapid.T) {
		opts := append([]press.Option{
			press.Rotated(rapid.SampledFrom([]int{0, 90, 180, 270}).Draw(rt, "rotate")),
			press.UserUnit(rapid.SampledFrom([]float64{0.5, 1, 2, 3.7}).Draw(rt, "unit")),
			press.Origin(rapid.Float64Range(-500, 500).Draw(rt, "x"), rapid.Float64Range(-500, 500).Draw(rt, "y")),
		}, faults...)
		got := measures(checktest.JudgeBytes(t, "moved.pdf", card.PDF(opts...), rules.Order{}))
		if diff := cmp.Diff(plain, got, cmp.Comparer(alike)); diff != "" {
			rt.Fatalf("(-plain +moved):\n%s", diff)
		}
	})
}

// measure is what a finding says, less its words.
type measure struct {
	what  string
	value float64
	where rules.Box
}

func measures(r rules.FileReport) []measure {
	var out []measure
	for _, f := range r.Findings {
		m := measure{what: fmt.Sprint(f.Rule, f.Verdict, f.Side, f.Edge, f.Basis)}
		if f.Measured != nil && f.Measured.Value != nil {
			m.value = *f.Measured.Value
		}
		if f.Where != nil {
			m.where = *f.Where
		}
		out = append(out, m)
	}
	return out
}

// alike allows a pixel of the rendered picture, 0.085 mm, and a little for the
// numbers in the file being rounded.
func alike(a, b measure) bool {
	const mm, um = 0.1, 100
	near := func(x, y rules.Length) bool { return (x - y).Abs() <= um }
	return a.what == b.what && a.value-b.value <= mm && b.value-a.value <= mm &&
		near(a.where.X, b.where.X) && near(a.where.Y, b.where.Y) &&
		near(a.where.Right(), b.where.Right()) && near(a.where.Bottom(), b.where.Bottom())
}
