package report

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/olekukonko/tablewriter/pkg/twwidth"
)

// cells is how many columns of a terminal the text takes.
func cells(text string) int { return twwidth.Width(text) }

// mostMarks is how many combining marks may pile on one letter: scripts that
// need more than three are not known to us (common practice).
const mostMarks = 3

// Visible is how the table shows a text that a file controls.
func Visible(text string) string { return visible(text) }

// visible makes text that a file controls harmless on a terminal: whatever is
// not a letter, mark, number, sign or space (control characters, escape
// sequences, line ends, bidirectional controls, bytes that are no UTF-8) is
// written as an escape that can be seen.
func visible(text string) string {
	var b strings.Builder
	marks := 0
	for i, r := range text {
		marks++
		if !unicode.Is(unicode.M, r) {
			marks = 0
		}
		switch {
		case r == utf8.RuneError && !strings.HasPrefix(text[i:], "\uFFFD"):
			fmt.Fprintf(&b, `\x%02x`, text[i])
		case shows(r) && marks <= mostMarks:
			b.WriteRune(r)
		default:
			b.WriteString(escape(r))
		}
	}
	return b.String()
}

// shows reports what a terminal shows and does nothing else with. Graphic runes
// that leave nothing to see (fillers of the Korean alphabet, selectors of
// variants: Unicode's Default_Ignorable_Code_Point) do not count.
func shows(r rune) bool {
	return unicode.IsGraphic(r) && !unicode.Is(unicode.Other_Default_Ignorable_Code_Point, r) &&
		!unicode.Is(unicode.Variation_Selector, r)
}

func escape(r rune) string {
	switch {
	case r == '\n':
		return `\n`
	case r == '\r':
		return `\r`
	case r == '\t':
		return `\t`
	case r < 0x100:
		return fmt.Sprintf(`\x%02x`, r)
	case r < 0x10000:
		return fmt.Sprintf(`\u%04x`, r)
	}
	return fmt.Sprintf(`\U%08x`, r)
}

// mostText bounds a message or fix: ours are far shorter, but may hold a name
// that the file made up.
const mostText = 1000

// bounded is text made visible and cut in the middle if it is swollen.
func bounded(text string) string { return shorten(text, mostText) }

// shorten makes text visible and cuts it in the middle until it takes at most
// width columns: the beginning and the ending of a name tell most.
func shorten(text string, width int) string {
	const cut = "…"
	rs := []rune(visible(text))
	if cells(string(rs)) <= width {
		return string(rs)
	}
	room := width - cells(cut)
	head := fitting(rs, room/2)
	tail := len(rs)
	for left := room - cells(string(rs[:head])); tail > head; tail-- {
		if left -= cells(string(rs[tail-1])); left < 0 {
			break
		}
	}
	return string(rs[:head]) + cut + string(rs[tail:])
}

// fitting is how many of the runes take at most width columns.
func fitting(rs []rune, width int) int {
	for n, r := range rs {
		if width -= cells(string(r)); width < 0 {
			return n
		}
	}
	return len(rs)
}
