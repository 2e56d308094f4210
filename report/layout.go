package report

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"github.com/olekukonko/tablewriter"
	"github.com/olekukonko/tablewriter/renderer"
	"github.com/olekukonko/tablewriter/tw"

	"stoneproof/rules"
)

// From placesFrom columns on, places stand in a column of their own instead of
// under the rule; from fixesFrom on, fixes stand beside what was found. Both
// are common practice of typography: a column of prose under 40 letters reads
// badly.
const (
	placesFrom = 100
	fixesFrom  = 130
)

const (
	gap        = 2
	markWidth  = len("- skip")
	textIndent = markWidth + gap // where text stands beside a mark
	rowIndent  = 2               // rows stand under their file's name
)

// layout is the widths of a table's columns, the same for every file.
type layout struct {
	rule, place int // place is 0 where places stand under the rule
	found, fix  int // fix is 0 where fixes stand under what was found
}

// row is a finding as the table tells it.
type row struct {
	rules.Finding
	number int // by which pictures call it; 0 for none
}

func layoutFor(width int, rows []row) layout {
	var l layout
	for _, f := range rows {
		l.rule = max(l.rule, cells(visible(f.Rule)))
		l.place = max(l.place, cells(f.place()))
	}
	l.found = width - rowIndent - textIndent
	if width < placesFrom {
		l.rule, l.place = max(l.rule, l.place), 0
	} else {
		l.found -= l.place + gap
	}
	l.found -= l.rule + gap
	if width >= fixesFrom {
		l.fix = (l.found - gap) / 2
		l.found -= l.fix + gap
	}
	return l
}

// write lays the findings out as rows, with air around those of several lines.
func (l layout) write(out *bytes.Buffer, i ink, rows []row) error {
	var drawn bytes.Buffer
	t := l.table(&drawn)
	wasTall := false
	for n, r := range rows {
		row := l.cells(i, r)
		tall := strings.Contains(strings.Join(row, ""), "\n")
		if n > 0 && (tall || wasTall) {
			if err := t.Append(make([]string, len(row))); err != nil {
				return err
			}
		}
		if err := t.Append(row); err != nil {
			return err
		}
		wasTall = tall
	}
	if err := t.Render(); err != nil {
		return err
	}
	for line := range strings.Lines(drawn.String()) {
		fmt.Fprintln(out, strings.TrimRight(strings.Repeat(" ", rowIndent)+line, " \n"))
	}
	return nil
}

// cells are what stands in a row: verdict, rule, place, what was found, what to do.
func (l layout) cells(i ink, f row) []string {
	rule := []string{visible(f.Rule)}
	where := i.lines([]string{f.place()}, faint)
	found := wrap(bounded(f.Message), l.found)
	if len(f.Also) > 0 {
		found = append(found, i.lines(wrap(bounded(further(f.Also)), l.found), faint)...)
	}
	row := []string{i.mark(f.Verdict)}
	if l.place == 0 {
		rule = append(rule, where...)
	}
	row = append(row, strings.Join(rule, "\n"))
	if l.place > 0 {
		row = append(row, strings.Join(where, "\n"))
	}
	if l.fix == 0 {
		found = append(found, remedy(f.Finding, l.found)...)
	}
	row = append(row, strings.Join(found, "\n"))
	if l.fix > 0 {
		row = append(row, strings.Join(remedy(f.Finding, l.fix), "\n"))
	}
	return row
}

// remedy is the fix as lines, led by an arrow.
func remedy(f rules.Finding, width int) []string {
	if f.Fix == "" {
		return nil
	}
	const arrow = "→ "
	lines := wrap(bounded(f.Fix), width-cells(arrow))
	for n := range lines {
		if n == 0 {
			lines[n] = arrow + lines[n]
		} else {
			lines[n] = strings.Repeat(" ", cells(arrow)) + lines[n]
		}
	}
	return lines
}

// place tells where a finding stands, and its number in pictures.
func (f row) place() string {
	where := "whole file"
	if f.Side > 0 {
		where = fmt.Sprintf("side %d", f.Side)
	}
	if f.Edge != "" {
		where += ", " + string(f.Edge)
	}
	if f.number > 0 {
		where = fmt.Sprintf("[%d] %s", f.number, where)
	}
	return where
}

// mostPlaces bounds how many further places a row lists.
const mostPlaces = 3

// further lists a finding's further places in words.
func further(places []rules.Place) string {
	var words []string
	for _, p := range places[:min(mostPlaces, len(places))] {
		words = append(words, p.What)
	}
	if rest := len(places) - mostPlaces; rest > 0 {
		words = append(words, fmt.Sprintf("and %d more", rest))
	}
	return "Also: " + strings.Join(words, "; ") + "."
}

// table is a tablewriter table without lines or borders, of our widths, that
// leaves our text as it is.
func (l layout) table(w io.Writer) *tablewriter.Table {
	widths := tw.NewMapper[int, int]()
	for _, width := range []int{markWidth, l.rule, l.place, l.found, l.fix} {
		if width > 0 {
			widths.Set(widths.Len(), width+gap)
		}
	}
	cell := tw.CellConfig{
		Formatting: tw.CellFormatting{AutoWrap: tw.WrapNone, AutoFormat: tw.Off},
		Padding:    tw.CellPadding{Global: tw.Padding{Right: strings.Repeat(" ", gap), Overwrite: true}},
		Alignment:  tw.CellAlignment{Global: tw.AlignLeft},
	}
	return tablewriter.NewTable(w,
		tablewriter.WithRenderer(renderer.NewBlueprint(tw.Rendition{
			Borders:  tw.BorderNone,
			Settings: tw.Settings{Separators: tw.SeparatorsNone, Lines: tw.LinesNone},
		})),
		tablewriter.WithConfig(tablewriter.Config{
			Row:      cell,
			Widths:   tw.CellWidth{PerColumn: widths},
			Behavior: tw.Behavior{TrimSpace: tw.Off},
		}),
	)
}
