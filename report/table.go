package report

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"stoneproof/rules"
)

// TableOptions says how a table is to look.
type TableOptions struct {
	Width  int  // columns of the terminal, taken as 60 to 160; 0 is 80
	Colour bool // paint with ANSI escape sequences
	All    bool // a row for every pass too, instead of one line for all of them
	Strict bool // the run counts warnings as failures
	Proofs bool // there are pictures: give findings their numbers there
}

// Under leastWidth there is no room for prose beside the rules; lines of more
// than mostWidth columns are hard to follow (common practice).
const (
	leastWidth = 60
	usualWidth = 80
	mostWidth  = 160
)

// Table writes the report for a person: a heading for each file, a row for each
// finding, the worst first within a side, and a closing line that says what to
// do next. Whatever stands in the files' names and words is made harmless. The
// only errors are w's own.
func Table(w io.Writer, r rules.Report, o TableOptions) error {
	var out bytes.Buffer
	t := newTeller(r, o)
	for _, f := range r.Files {
		if err := t.file(&out, f); err != nil {
			return err
		}
	}
	for _, line := range wrap(closing(r, o.Strict), t.width) {
		fmt.Fprintln(&out, line)
	}
	_, err := w.Write(out.Bytes())
	return err
}

// teller holds what every file of a table shares.
type teller struct {
	width  int
	unit   rules.Unit
	ink    ink
	all    bool
	strict bool
	proofs bool
	layout layout

	several bool // the file in hand has several sides
}

func newTeller(r rules.Report, o TableOptions) teller {
	width := min(max(o.Width, leastWidth), mostWidth)
	if o.Width == 0 {
		width = usualWidth
	}
	t := teller{width: width, unit: r.Ticket.Unit, ink: ink(o.Colour), all: o.All, strict: o.Strict, proofs: o.Proofs}
	var shown []row
	for _, f := range r.Files {
		shown = append(shown, t.shown(f)...)
	}
	t.layout = layoutFor(width, shown)
	return t
}

// file tells one file, and leaves a blank line after it.
func (t teller) file(out *bytes.Buffer, f rules.FileReport) error {
	t.several = len(f.Sides) > 1
	t.heading(out, f)
	if rows := t.shown(f); len(rows) > 0 {
		out.WriteByte('\n')
		if err := t.layout.write(out, t.ink, rows); err != nil {
			return err
		}
	}
	if !t.all {
		for _, s := range sharedSkips(f.Findings) {
			t.skipped(out, s)
		}
		if names := passing(f.Findings); len(names) > 0 {
			t.line(out, rules.Pass, fmt.Sprintf("%s: %s", count(len(names), "rule passes", "rules pass"), strings.Join(names, ", ")))
		}
	}
	out.WriteByte('\n')
	return nil
}

// shown lists the findings that get a row, in the order in which they are told:
// all that is not right, but for skips of one reason.
func (t teller) shown(f rules.FileReport) []row {
	var rows []row
	folded := sharedSkips(f.Findings)
	numbers := rules.Numbers(f.Findings)
	for i, g := range f.Findings {
		if t.all || g.Verdict != rules.Pass && !folds(folded, g) {
			r := row{Finding: g}
			if t.proofs {
				r.number = numbers[i]
			}
			rows = append(rows, r)
		}
	}
	slices.SortStableFunc(rows, func(a, b row) int {
		return cmp.Or(cmp.Compare(a.Side, b.Side), cmp.Compare(urgency(a.Verdict), urgency(b.Verdict)))
	})
	return rows
}

// urgency orders verdicts as a reader needs them: a skip is something to look
// at, so it comes before a pass.
func urgency(v rules.Verdict) int {
	return slices.Index([]rules.Verdict{rules.Fail, rules.Warn, rules.Skip, rules.Pass}, v)
}

// passing lists the rules of which every finding passes, in the catalogue's order.
func passing(findings []rules.Finding) []string {
	good := map[string]bool{}
	var names []string
	for _, f := range findings {
		if _, seen := good[f.Rule]; !seen {
			good[f.Rule] = true
			names = append(names, f.Rule)
		}
		good[f.Rule] = good[f.Rule] && f.Verdict == rules.Pass
	}
	names = slices.DeleteFunc(names, func(name string) bool { return !good[name] })
	ids := rules.RuleIDs()
	slices.SortStableFunc(names, func(a, b string) int { return slices.Index(ids, a) - slices.Index(ids, b) })
	return names
}

// line tells in a paragraph of its own, under a verdict's mark, what needs no row.
func (t teller) line(out *bytes.Buffer, v rules.Verdict, text string) {
	mark := t.ink.mark(v)
	out.WriteByte('\n')
	for _, line := range wrap(visible(text), t.width-rowIndent-textIndent) {
		fmt.Fprintf(out, "%*s%s  %s\n", rowIndent, "", mark, line)
		mark = strings.Repeat(" ", markWidth)
	}
}

// count writes a number with the word that goes with it.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprint(n) + " " + many
}
