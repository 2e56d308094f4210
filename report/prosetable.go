package report

import (
	"fmt"
	"slices"
	"strings"

	east "github.com/yuin/goldmark/extension/ast"
)

// table writes a table without borders, a line below its heads; cells are
// wrapped where the terminal is narrow.
func (p prose) table(t *east.Table) {
	var rows [][]string
	for row := t.FirstChild(); row != nil; row = row.NextSibling() {
		var line []string
		for cell := row.FirstChild(); cell != nil; cell = cell.NextSibling() {
			line = append(line, p.words(cell))
		}
		rows = append(rows, line)
	}
	widths := columnWidths(rows, p.width-rowIndent)
	for n, row := range rows {
		p.row(row, widths)
		if n == 0 {
			p.rule(widths)
		}
	}
}

// leastColumn is the narrowest a column is squeezed to.
const leastColumn = 8

// columnWidths are the widths that the cells ask for, the widest squeezed until
// all fit the room.
func columnWidths(rows [][]string, room int) []int {
	var widths []int
	for _, row := range rows {
		for i, cell := range row {
			if i == len(widths) {
				widths = append(widths, 1)
			}
			widths[i] = max(widths[i], cells(cell))
		}
	}
	room -= gap * (len(widths) - 1)
	for total := sum(widths); total > room; total-- {
		widest := slices.Index(widths, slices.Max(widths))
		if widths[widest] <= leastColumn {
			break
		}
		widths[widest]--
	}
	return widths
}

func sum(numbers []int) int {
	total := 0
	for _, n := range numbers {
		total += n
	}
	return total
}

func (p prose) row(row []string, widths []int) {
	var columns [][]string
	tallest := 0
	for i, cell := range row {
		columns = append(columns, p.ink.quoted(wrap(cell, widths[i])))
		tallest = max(tallest, len(columns[i]))
	}
	for n := range tallest {
		line := strings.Repeat(" ", rowIndent)
		for i, column := range columns {
			part := ""
			if n < len(column) {
				part = column[n]
			}
			line += part + strings.Repeat(" ", widths[i]-cells(part)+gap)
		}
		fmt.Fprintln(p.out, strings.TrimRight(line, " "))
	}
}

func (p prose) rule(widths []int) {
	var lines []string
	for _, width := range widths {
		lines = append(lines, strings.Repeat("─", width))
	}
	fmt.Fprintf(p.out, "%*s%s\n", rowIndent, "", p.ink.paint(strings.Join(lines, strings.Repeat(" ", gap)), faint))
}
