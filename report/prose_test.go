package report

import (
	"bytes"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"stoneproof/rules"
)

func proseOf(t interface{ Fatal(...any) }, page string, o ProseOptions) string {
	var out bytes.Buffer
	if err := Prose(&out, page, o); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

func TestProse(t *testing.T) {
	const page = `# A title

## What

Words that run on, with ` + "`code that runs on as well`" + ` and *more* words after it &amp; so on.

1. One
2. Two is much longer than one, so that it does not fit a line of sixty columns.

- Three

| | wide | narrow |
|---|---|---|
| first | a cell of so many words that the column is squeezed until it fits | 1 |

` + "```" + `
   |  a drawing, wider than sixty columns, stays as it is: -------------------- |
` + "```" + `
`
	const want = `A title

What
  Words that run on, with ` + "`code that runs on as well`" + ` and
  more words after it & so on.

  1. One
  2. Two is much longer than one, so that it does not fit a
     line of sixty columns.

  - Three

         wide                                         narrow
  ─────  ───────────────────────────────────────────  ──────
  first  a cell of so many words that the column is   1
         squeezed until it fits

   |  a drawing, wider than sixty columns, stays as it is: -------------------- |
`
	if diff := cmp.Diff(want, proseOf(t, page, ProseOptions{Width: 60})); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

var escapes = regexp.MustCompile("\x1b\\[[0-9;]*m")

// Colour paints and changes no word: but for the backticks, which it stands for.
func TestProseInColour(t *testing.T) {
	for _, c := range rules.Chapters() {
		for _, r := range c.Rules {
			plain := proseOf(t, r.Page(), ProseOptions{})
			painted := proseOf(t, r.Page(), ProseOptions{Colour: true})
			if strings.Contains(plain, "\x1b") || !strings.Contains(painted, "\x1b[1m") {
				t.Errorf("%s: escapes without colour, or none with it", r.ID)
			}
			plain, painted = strings.ReplaceAll(plain, "`", ""), escapes.ReplaceAllString(painted, "")
			if diff := cmp.Diff(strings.Fields(plain), strings.Fields(painted)); diff != "" {
				t.Errorf("%s: colour changes the words:\n%s", r.ID, diff)
			}
		}
	}
}

// A page's words all come through, in lines that fit; its drawing comes through
// to the letter.
func TestPagesComeThroughWhole(t *testing.T) {
	marks := strings.NewReplacer("|", " ", "#", " ", "-", " ", "─", " ", "`", " ", "*", " ")
	squeezed := func(s string) string { return strings.Join(strings.Fields(marks.Replace(s)), "") }
	for _, c := range rules.Chapters() {
		for _, r := range c.Rules {
			page := r.Page()
			_, rest, _ := strings.Cut(page, "```\n")
			drawing, _, _ := strings.Cut(rest, "```")
			for _, width := range []int{20, 60, 80, 100, 200} {
				told := proseOf(t, page, ProseOptions{Width: width})
				if !strings.Contains(told, drawing) {
					t.Errorf("%s: at %d columns the drawing is not as it was", r.ID, width)
				}
				words := strings.Replace(told, drawing, "", 1)
				for line := range strings.Lines(words) {
					if n := cells(strings.TrimSuffix(line, "\n")); n > min(max(width, 60), 100) {
						t.Errorf("%s: a line of %d columns at %d: %s", r.ID, n, width, line)
					}
				}
				if want := squeezed(strings.Replace(page, drawing, "", 1)); sorted(squeezed(words)) != sorted(want) {
					t.Errorf("%s: at %d columns words are lost or added", r.ID, width)
				}
			}
			for line := range strings.Lines(drawing) {
				if n := cells(strings.TrimSuffix(line, "\n")); n > usualWidth {
					t.Errorf("%s: a drawing of %d columns is torn on a usual terminal: %s", r.ID, n, line)
				}
			}
		}
	}
}

// sorted are the letters in order: cells of a table are told in another order
// than they were written in, once they are wrapped.
func sorted(s string) string {
	letters := []rune(s)
	slices.Sort(letters)
	return string(letters)
}

// Whatever is written, it is told within the width, and in finite time.
func TestProseHoldsAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		page := strings.Join(rapid.SliceOfN(rapid.SampledFrom([]string{
			"# a", "\n", "words", " ", "`", "| a | b |\n|---|---|\n| c | d |", "- x", "1. y", "```\n", "\x1b[31m", "> q", "<b>", "&#7;", "\t", "*", "[a](b)", "\u202e",
		}), 0, 40).Draw(t, "parts"), "")
		told := proseOf(t, page, ProseOptions{})
		if strings.ContainsAny(told, "\x1b\u202e\a") {
			t.Fatalf("%q: what moves the cursor comes through: %q", page, told)
		}
	})
}

func TestExplainOnTellsFileAndTicket(t *testing.T) {
	us := usTicket(t)
	rule, err := rules.RuleNamed("bleed-fill")
	if err != nil {
		t.Fatal(err)
	}
	file := baker(us)
	file.Findings = slices.DeleteFunc(file.Findings, func(f rules.Finding) bool { return f.Rule != rule.ID })
	var out bytes.Buffer
	if err := ExplainOn(&out, rule, rules.Report{Ticket: us, Files: []rules.FileReport{file}}, ProseOptions{}); err != nil {
		t.Fatal(err)
	}
	golden(t, "explain-on.txt", out.Bytes())
}
