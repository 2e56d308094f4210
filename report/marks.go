package report

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"stoneproof/rules"
)

// Mark is what became of one answer of a learner.
type Mark struct {
	Card     string
	Said     string // a rule, "good", or nothing where the card is still open
	Right    bool
	Sound    bool            // the card keeps all rules
	Findings []rules.Finding // what was measured: why the answer is wrong
}

// Marks tells a learner which of her answers are right, and of the others what
// was measured on the card. Open cards are not given away.
func Marks(w io.Writer, marks []Mark, o ProseOptions) error {
	var out bytes.Buffer
	t := newTeller(rules.Report{}, TableOptions{Width: o.columns(), Colour: o.Colour})
	right, open := 0, 0
	for _, m := range marks {
		switch {
		case m.Said == "":
			open++
		case m.Right:
			right++
		}
		t.answer(&out, m)
	}
	out.WriteByte('\n')
	for _, line := range wrap(score(right, len(marks)-open, open), t.width) {
		fmt.Fprintln(&out, line)
	}
	_, err := w.Write(out.Bytes())
	return err
}

func (t teller) answer(out *bytes.Buffer, m Mark) {
	card := visible(m.Card)
	say := func(mark, words string) { fmt.Fprintf(out, "%s  %s  %s\n", mark, t.ink.paint(card, bold), words) }
	switch {
	case m.Said == "":
		say(t.ink.paint("- open ", faint), "not answered yet")
		return
	case m.Right:
		say(t.ink.paint("✓ right", green), m.Said)
		return
	case m.Sound:
		say(t.ink.paint("✗ wrong", red), "you say "+m.Said+"; the card keeps all rules")
	default:
		say(t.ink.paint("✗ wrong", red), "you say "+m.Said+"; the card breaks "+strings.Join(broken(m.Findings), ", "))
	}
	indent := len("x wrong") + gap + cells(card) + gap
	for _, f := range m.Findings {
		for _, line := range append(wrap(bounded(f.Message), t.width-indent), remedy(f, t.width-indent)...) {
			fmt.Fprintf(out, "%*s%s\n", indent, "", line)
		}
	}
	if len(m.Findings) > 0 {
		fmt.Fprintf(out, "%*s%s\n", indent, "", t.ink.paint("stoneproof explain "+m.Findings[0].Rule, faint))
	}
}

// broken lists the rules of findings, each once.
func broken(findings []rules.Finding) []string {
	var ids []string
	for _, f := range findings {
		if len(ids) == 0 || ids[len(ids)-1] != f.Rule {
			ids = append(ids, f.Rule)
		}
	}
	return ids
}

func score(right, answered, open int) string {
	var say []string
	switch {
	case answered == 0:
		say = append(say, "Nothing is answered yet: write rules behind the = of the worksheet.")
	case answered == 1 && right == 1:
		say = append(say, "The answer is right.")
	case answered == 1:
		say = append(say, "The answer is not right.")
	case right == answered && right == 2:
		say = append(say, "Both answers are right.")
	case right == answered:
		say = append(say, fmt.Sprintf("All %d answers are right.", right))
	default:
		say = append(say, fmt.Sprintf("%d of %d answers %s right.", right, answered, verb(right)))
	}
	if open > 0 && answered > 0 {
		say = append(say, fmt.Sprintf("%s still open.", count(open, "card is", "cards are")))
	}
	return strings.Join(say, " ")
}

// verb is what n of several do.
func verb(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}
