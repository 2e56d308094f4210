package report

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"stoneproof/rules"
)

// Explain tells a rule by its page of the catalogue.
func Explain(w io.Writer, rule rules.Rule, o ProseOptions) error {
	return Prose(w, "# "+rule.ID+": "+strings.TrimPrefix(rule.Page(), "# "), o)
}

// ExplainOn tells what a rule makes of the reader's own files: r's findings are of
// that rule, its ticket is what they were judged by.
func ExplainOn(w io.Writer, rule rules.Rule, r rules.Report, o ProseOptions) error {
	var out bytes.Buffer
	t := newTeller(r, TableOptions{Width: o.columns(), Colour: o.Colour, All: true})
	fmt.Fprintf(&out, "\n%s\n", t.ink.paint("On your file", bold))
	for _, line := range wrap(asked(rule, r.Ticket), t.width-rowIndent) {
		fmt.Fprintf(&out, "%*s%s\n", rowIndent, "", line)
	}
	out.WriteByte('\n')
	for _, f := range r.Files {
		if err := t.file(&out, f); err != nil {
			return err
		}
	}
	_, err := w.Write(bytes.TrimSuffix(out.Bytes(), []byte("\n")))
	return err
}

// asked tells what the ticket says of a rule.
func asked(rule rules.Rule, t rules.Ticket) string {
	var keys []string
	for _, key := range append([]string{"process"}, rule.Limits...) {
		keys = append(keys, key+" "+t.Tell(key))
	}
	return "Judged by this rule alone. The ticket says: " + strings.Join(keys, "; ") + "."
}

// Rules lists all rules, with one line for each.
func Rules(w io.Writer, o ProseOptions) error {
	var out bytes.Buffer
	p := prose{out: &out, width: o.columns(), ink: ink(o.Colour)}
	var all [][]string
	for _, c := range rules.Chapters() {
		all = append(all, rowsOf(c)...)
	}
	widths := columnWidths(all, p.width-rowIndent)
	for _, c := range rules.Chapters() {
		fmt.Fprintln(&out, p.ink.paint(c.Title, bold))
		for _, row := range rowsOf(c) {
			p.row(row, widths)
		}
		out.WriteByte('\n')
	}
	_, err := w.Write(out.Bytes())
	return err
}

func rowsOf(c rules.Chapter) (rows [][]string) {
	for _, r := range c.Rules {
		rows = append(rows, []string{r.ID, r.Title})
	}
	return rows
}
