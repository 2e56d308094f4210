package report

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stoneproof/rules"
)

func inkedSides() []InkSide {
	return []InkSide{
		{Number: 1, Coverage: []Coverage{{"cyan", 12.304}, {"Gold\x1b[31m", 99.999}}, SumMax: 242.04,
			SumAt: &rules.Box{X: 9700, Y: 4600, W: 1000, H: 1000}, Size: "the whole page, 95.25 × 57.15 mm",
			Approximate: []string{"RGB colours"}, Spaces: []string{"DeviceCMYK"}, Fonts: []string{"GoRegular (Type0, embedded)"}},
		{Number: 2, Coverage: []Coverage{{"black", 0}}, Size: "the whole page, 95.25 × 57.15 mm"},
	}
}

// What lies in the bleed is told without a sign.
func TestInksInTheBleed(t *testing.T) {
	sides := inkedSides()[:1]
	sides[0].SumAt = &rules.Box{X: -2500, Y: 4600, W: 1000, H: 1000}
	var out bytes.Buffer
	if err := Inks(&out, "card.pdf", sides, rules.UnitMM); err != nil {
		t.Fatal(err)
	}
	want := "2 mm left of the top left corner of the trim and 5.1 mm below it."
	if got := strings.Join(strings.Fields(out.String()), " "); !strings.Contains(got, want) {
		t.Errorf("there is no %q:\n%s", want, got)
	}
}

func TestInksJSON(t *testing.T) {
	var out bytes.Buffer
	if err := InksJSON(&out, inkedSides()); err != nil {
		t.Fatal(err)
	}
	var got any
	if err := json.Unmarshal(out.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	want := map[string]any{"sides": []any{
		map[string]any{"page": 1.0, "coverage_pct": map[string]any{"cyan": 12.3, "Gold\x1b[31m": 100.0}, "sum_max_pct": 242.0,
			"sum_max_at_mm": []any{10.2, 5.1}, "approximate": []any{"RGB colours"}},
		map[string]any{"page": 2.0, "coverage_pct": map[string]any{"black": 0.0}, "sum_max_pct": 0.0, "sum_max_at_mm": nil, "approximate": []any{}},
	}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

func TestInksForPeople(t *testing.T) {
	var out bytes.Buffer
	if err := Inks(&out, "card\x1b.pdf", inkedSides(), rules.UnitMM); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"Side 1: mean ink over the whole page, 95.25 × 57.15 mm", "100.00 %  " + strings.Repeat("█", fullBar), " 12.30 %  ███\n",
		"Most ink in one place: 242 %, 10.2 mm right of the top left corner of the trim", "Estimated in part: RGB colours.",
		"Colours: DeviceCMYK.", "Fonts: GoRegular", "No ink anywhere.",
	} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("there is no %q:\n%s", want, &out)
		}
	}
	if strings.ContainsRune(out.String(), '\x1b') {
		t.Errorf("an escape gets through: %q", &out)
	}
	for line := range strings.Lines(out.String()) {
		if cells(line) > usualWidth+1 {
			t.Errorf("too wide: %q", line)
		}
	}
}
