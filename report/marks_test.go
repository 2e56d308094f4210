package report

import (
	"bytes"
	"strings"
	"testing"

	"stoneproof/rules"
)

func TestMarks(t *testing.T) {
	near := rules.Finding{Rule: "safe-zone", Verdict: rules.Fail, Message: "\"01632 960139\" lies 0.9 mm from the trim at the left edge.\x1b[2J", Fix: "Move it 2.1 mm to the right."}
	clear := rules.Finding{Rule: "bleed-fill", Verdict: rules.Pass, Message: "Paint reaches 3 mm past the trim wherever it reaches the trim."}
	marks := []Mark{
		{Card: "01", Said: "trim-size", Right: true, Findings: []rules.Finding{{Rule: "trim-size"}}},
		{Card: "02", Said: "good", Findings: []rules.Finding{near}},
		{Card: "03", Said: "bleed-fill", Sound: true, Findings: []rules.Finding{clear}},
		{Card: "04"},
	}
	var out bytes.Buffer
	if err := Marks(&out, marks, ProseOptions{}); err != nil {
		t.Fatal(err)
	}
	golden(t, "marks.txt", out.Bytes())
	for _, c := range []struct {
		marks []Mark
		want  string
	}{
		{marks[:1], "The answer is right."},
		{marks[3:], "Nothing is answered yet"},
		{[]Mark{marks[0], marks[0]}, "Both answers are right."},
		{marks[1:2], "The answer is not right."},
	} {
		out.Reset()
		if err := Marks(&out, c.marks, ProseOptions{}); err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(out.String(), c.want) {
			t.Errorf("does not say %q:\n%s", c.want, out.String())
		}
	}
}
