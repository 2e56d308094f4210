package lesson

import (
	_ "embed"
	"fmt"
	"io"
	"math"
	"strings"
	"text/template"

	"stoneproof/report"
	"stoneproof/rules"
)

//go:embed lessons.md
var lessons string

// numbers are what the lessons say of the reader's card.
type numbers struct {
	What, Trim, Bleed, Safe, File, Zone, Pixels string
}

// goodPPI is the resolution that pictures are made at (common practice).
const goodPPI = 300

func numbersOf(t rules.Ticket) numbers {
	file := t.Trim.Grow(t.Bleed)
	n := numbers{
		What: "a card of " + t.Trim.In(t.Unit), Trim: t.Trim.In(t.Unit), Bleed: t.Bleed.In(t.Unit), Safe: t.Safe.In(t.Unit),
		File: file.In(t.Unit), Zone: t.Trim.Grow(-t.Safe).In(t.Unit),
		Pixels: fmt.Sprintf("%d × %d px", pixels(file.W), pixels(file.H)),
	}
	if named, err := rules.SizeNamed(t.Size); err == nil {
		n.What = fmt.Sprintf("the %s (`%s`), %s", named.Title, named.Name, n.Trim)
	}
	return n
}

// pixels is how many whole pixels cover a length.
func pixels(l rules.Length) int {
	return int(math.Ceil(l.Pixels(goodPPI) - 1e-6))
}

// text is the lessons in the numbers of a ticket.
func text(t rules.Ticket) (string, error) {
	page, err := template.New("lessons").Parse(lessons)
	if err != nil {
		return "", err
	}
	var b strings.Builder
	err = page.Execute(&b, numbersOf(t))
	return b.String(), err
}

// Text tells the lessons on a terminal.
func Text(w io.Writer, t rules.Ticket, o report.ProseOptions) error {
	page, err := text(t)
	if err != nil {
		return err
	}
	return report.Prose(w, page, o)
}
