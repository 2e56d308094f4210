package report

import "stoneproof/rules"

// ink paints text with ANSI escape sequences; false leaves it as it is.
type ink bool

const (
	bold   = "1"
	faint  = "2"
	red    = "1;31"
	green  = "32"
	yellow = "33"
)

func (i ink) paint(text, style string) string {
	if !i || text == "" {
		return text
	}
	return "\x1b[" + style + "m" + text + "\x1b[0m"
}

// lines paints each line by itself, so that no colour runs into what stands
// beside it.
func (i ink) lines(lines []string, style string) []string {
	painted := make([]string, len(lines))
	for n, line := range lines {
		painted[n] = i.paint(line, style)
	}
	return painted
}

// mark tells a verdict by shape, word and colour.
func (i ink) mark(v rules.Verdict) string {
	switch v {
	case rules.Fail:
		return i.paint("✗ fail", red)
	case rules.Warn:
		return i.paint("! warn", yellow)
	case rules.Pass:
		return i.paint("✓ pass", green)
	}
	return i.paint("- skip", faint)
}
