package report

import (
	"slices"
	"strings"
)

// wrap breaks text into lines of at most width columns, between words. A
// number stays with its unit and a size stays whole; only a word that is wider
// than a line is cut.
func wrap(text string, width int) []string {
	var lines []string
	line := ""
	for _, chunk := range chunks(text, width) {
		switch {
		case line == "":
			line = chunk
		case cells(line)+1+cells(chunk) <= width:
			line += " " + chunk
		default:
			lines = append(lines, line)
			line = chunk
		}
	}
	return append(lines, line)
}

// chunks cuts text into the pieces that lines are made of.
func chunks(text string, width int) []string {
	var pieces []string
	last := ""
	for _, word := range strings.Fields(text) {
		if n := len(pieces); n > 0 && holds(last, word) && cells(pieces[n-1])+1+cells(word) <= width {
			pieces[n-1] += " " + word
		} else {
			pieces = append(pieces, cut(word, width)...)
		}
		last = word
	}
	return pieces
}

// cut cuts a word that is wider than a line.
func cut(word string, width int) []string {
	rs := []rune(word)
	var parts []string
	for cells(string(rs)) > width {
		n := max(1, fitting(rs, width))
		parts = append(parts, string(rs[:n]))
		rs = rs[n:]
	}
	return append(parts, string(rs))
}

// holds reports whether a line may not break between the two words: a number
// and its unit, the sides of a size, a thing and its number.
func holds(a, b string) bool {
	b = strings.TrimRight(b, ".,;:)?!")
	switch b {
	case "×":
		return true
	case "mm", "cm", "in", "pt", "px", "ppi", "%":
		return numeric(a)
	}
	return a == "×" || numeric(b) && slices.Contains([]string{"side", "sides", "page", "picture"}, a)
}

// numeric reports whether the word ends in a digit.
func numeric(word string) bool {
	return word != "" && strings.ContainsRune("0123456789", rune(word[len(word)-1]))
}
