package practice

import (
	"bufio"
	"bytes"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"stoneproof/rules"
)

// Good is the answer for a card that keeps all rules.
const Good = "good"

// Answer is what a learner says of a card: the rule that it breaks, Good, or
// nothing yet.
type Answer struct {
	Card string // the name of its file without the ending
	Says string
	Line int // where it stands, 1 for the first
}

// Ceilings of a worksheet: a page or two that a person fills in.
const (
	MostSheet = 64 << 10 // bytes
	mostCards = 100
	longest   = 500 // letters of a line
)

// ReadAnswers reads a filled-in worksheet: lines such as 03 = bleed-fill, with
// remarks after a #. Whatever does not fit is an error with its line.
func ReadAnswers(text []byte) ([]Answer, error) {
	if len(text) > MostSheet {
		return nil, fmt.Errorf("over %d KiB: that is no worksheet", MostSheet>>10)
	}
	text = bytes.TrimPrefix(text, []byte("\uFEFF")) // some editors begin a text with it
	var answers []Answer
	lines := bufio.NewScanner(bytes.NewReader(text))
	lines.Buffer(nil, MostSheet+1)
	for n := 1; lines.Scan(); n++ {
		a, err := readLine(lines.Text())
		a.Line = n
		switch {
		case err != nil:
		case a.Card == "":
			continue
		case len(answers) == mostCards:
			err = fmt.Errorf("over %d answers: that is no worksheet", mostCards)
		default:
			err = twice(answers, a)
		}
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", n, err)
		}
		answers = append(answers, a)
	}
	return answers, lines.Err()
}

func twice(before []Answer, a Answer) error {
	for _, b := range before {
		if b.Card == a.Card {
			return fmt.Errorf("card %s was answered on line %d already", a.Card, b.Line)
		}
	}
	return nil
}

// readLine reads one line; one that holds nothing but a remark gives no card.
func readLine(line string) (a Answer, err error) {
	switch {
	case !utf8.ValidString(line):
		return a, fmt.Errorf("not a text: save the worksheet as plain text, UTF-8")
	case utf8.RuneCountInString(line) > longest:
		return a, fmt.Errorf("over %d letters: an answer is 03 = bleed-fill", longest)
	}
	line, _, _ = strings.Cut(line, "#")
	if strings.TrimSpace(line) == "" {
		return a, nil
	}
	if i := strings.IndexFunc(line, func(r rune) bool { return !unicode.IsPrint(r) && r != '\t' && r != '\r' }); i >= 0 {
		return a, fmt.Errorf("a sign that does not show: %q", line)
	}
	card, says, ok := strings.Cut(line, "=")
	if !ok {
		return a, fmt.Errorf("no = in %q: an answer is 03 = bleed-fill", strings.TrimSpace(line))
	}
	a.Card, a.Says = strings.TrimSpace(card), strings.ToLower(unquoted(strings.TrimSpace(says)))
	if a.Card == "" {
		return a, fmt.Errorf("no card before the =: an answer is 03 = bleed-fill")
	}
	return a, a.known()
}

// known tells what is wrong with an answer that cannot be given.
func (a Answer) known() error {
	if a.Says == "" || a.Says == Good {
		return nil
	}
	_, err := rules.RuleNamed(a.Says)
	return err
}

// unquoted takes the quotes off that some will write, straight or as editors bend
// them.
func unquoted(s string) string {
	for _, q := range [][2]string{{`"`, `"`}, {"'", "'"}, {"“", "”"}, {"‘", "’"}, {"`", "`"}} {
		if rest, ok := strings.CutPrefix(s, q[0]); ok {
			if inner, ok := strings.CutSuffix(rest, q[1]); ok {
				return strings.TrimSpace(inner)
			}
		}
	}
	return s
}
