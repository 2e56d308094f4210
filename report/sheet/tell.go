package sheet

import (
	"fmt"
	"io"
	"strings"

	"stoneproof/rules"
)

// Tell writes the plan for a person: what fits, a drawing, where to cut, how many
// sheets to print, and what would make more cards fit.
func (p Plan) Tell(w io.Writer) error {
	var b strings.Builder
	p.tellLayout(&b)
	p.tellBacks(&b)
	b.WriteString("\n" + p.Drawing() + "\n")
	p.tellCuts(&b)
	p.tellSheets(&b)
	p.tellMore(&b)
	b.WriteString("\n" + Caution)
	_, err := io.WriteString(w, b.String())
	return err
}

// Caution is said wherever cutting is.
const Caution = `Cut only as you have been shown: steel rule with a guard, fingers behind it,
fresh blade, several light strokes, away from the hand. For guillotines the
local rules and trained people come first.
`

func (p Plan) tellLayout(b *strings.Builder) {
	lie := ""
	if p.Turned {
		lie = ", turned by a quarter"
	}
	fmt.Fprintf(b, "%s: %s\n\n", p.title(), rules.Counted(p.Count(), "card"))
	row := func(name, format string, args ...any) {
		fmt.Fprintf(b, "  %-15s"+format+"\n", append([]any{name}, args...)...)
	}
	row("cards", "%s%s, bleed %s: %s, %s", p.Trim.In(p.Unit), lie, p.Bleed.In(p.Unit), rules.Counted(p.Columns, "column"), rules.Counted(p.Rows, "row"))
	row("gaps", "%s", p.gapsInWords())
	row("first card", "%s from the left, %s from the top", p.Start.W.In(p.Unit), p.Start.H.In(p.Unit))
	row("printer margin", "%s; the cutting marks stand between it and the bleed", p.Margin.In(p.Unit))
}

// title tells the sheet by its name where it has one.
func (p Plan) title() string {
	for _, paper := range Papers() {
		switch p.Sheet {
		case paper.Size:
			return fmt.Sprintf("Sheet %s, %s", paper.Name, p.Sheet.In(p.Unit))
		case paper.Size.Turned():
			return fmt.Sprintf("Sheet %s lying, %s", paper.Name, p.Sheet.In(p.Unit))
		}
	}
	return "Sheet " + p.Sheet.In(p.Unit)
}

func (p Plan) gapsInWords() string {
	var said []string
	for _, g := range []struct {
		n    int
		wide rules.Length
		way  string
	}{{p.Columns, p.Gaps.W, "across"}, {p.Rows, p.Gaps.H, "down"}} {
		if g.n > 1 {
			said = append(said, g.wide.In(p.Unit)+" "+g.way)
		}
	}
	switch {
	case len(said) == 0:
		return "none: there is one card"
	case p.Gap.Kind == Butted:
		return "none: neighbours share a cut, and bleed on the outside only"
	case p.Bleed == 0:
		return strings.Join(said, ", ")
	}
	return fmt.Sprintf("%s; two bleeds are %s", strings.Join(said, ", "), (2 * p.Bleed).In(p.Unit))
}

func (p Plan) tellBacks(b *strings.Builder) {
	if p.Sideways() {
		fmt.Fprintf(b, "  %-15son its %s edge, like a page of a book: columns change sides\n", "sheet turned", p.Turn)
	} else {
		fmt.Fprintf(b, "  %-15son its %s edge, over its head: rows change places\n", "sheet turned", p.Turn)
	}
	p.tellPlaces(b, "fronts", p.Front)
	p.tellPlaces(b, "backs", p.Back)
	if p.Shift != (rules.Shift{}) {
		p.tellShift(b)
	}
}

func (p Plan) tellPlaces(b *strings.Builder, name string, cells []Cell) {
	across, down := p.trims(cells)
	fmt.Fprintf(b, "  %-15sleft edges at %s\n  %-15stop edges at %s\n", name, p.list(across), "", p.list(down))
}

// trims lists the left and top edges of cells, each once, in the order of the cells.
func (p Plan) trims(cells []Cell) (across, down []rules.Length) {
	for _, c := range cells[:p.Columns] {
		across = append(across, c.Trim.X)
	}
	for i := 0; i < len(cells); i += p.Columns {
		down = append(down, cells[i].Trim.Y)
	}
	return across, down
}

func (p Plan) list(at []rules.Length) string {
	words := make([]string, len(at))
	for i, l := range at {
		words[i] = l.Number(p.Unit)
	}
	return strings.Join(words, ", ") + " " + string(p.Unit)
}

// tellShift says what the shift does, and what it would cost to print without it.
func (p Plan) tellShift(b *strings.Builder) {
	off := p.Shift.Off()
	fmt.Fprintf(b, "  %-15s%s. %s\n", "shift of backs", p.shiftInWords(), p.shiftVerdict(off))
}

func (p Plan) shiftInWords() string {
	var said []string
	add := func(l rules.Length, ahead, behind string) {
		switch {
		case l > 0:
			said = append(said, l.In(p.Unit)+" "+ahead)
		case l < 0:
			said = append(said, (-l).In(p.Unit)+" "+behind)
		}
	}
	add(p.Shift.Right, "to the right", "to the left")
	add(p.Shift.Down, "down", "up")
	return strings.Join(said, ", ")
}

func (p Plan) shiftVerdict(off rules.Length) string {
	indent := "\n" + strings.Repeat(" ", 17)
	switch {
	case off > p.Bleed && off > p.Safe:
		return "Without it the knife would leave" + indent + "bare paper on the backs, and cut into what lies at the safe line."
	case off > p.Bleed:
		return "Without it the knife would leave" + indent + "bare paper on the backs: it is more than the bleed."
	case off > p.Safe:
		return "Without it the knife would cut" + indent + "into what lies at the safe line: it is more than the safe margin."
	}
	return "It lies within bleed and safe" + indent + "margin: without it the cards would be whole, only not quite true."
}

func (p Plan) tellCuts(b *strings.Builder) {
	fmt.Fprintf(b, "Cuts, in the order in which to lay the rule. Lay it on the two marks and cut\n"+
		"between them: while the edge of the sheet stays whole, so do all marks.\n\n")
	inches := p.Unit == rules.UnitIn
	fmt.Fprintf(b, "  %-5s%-17s%9s", "cut", "from", string(p.Unit))
	if inches {
		fmt.Fprintf(b, "   %-10s%s", "on a rule", "its error")
	}
	b.WriteString("\n")
	for i, c := range p.Cuts {
		from := "the top edge"
		if c.Upright {
			from = "the left edge"
		}
		line := fmt.Sprintf("  %-5d%-17s%9s", i+1, from, c.At.Number(p.Unit))
		if inches {
			mark, over := Ruler(c.At)
			line += fmt.Sprintf("   %-10s%s", mark, rulerError(over))
		}
		if c.Shared {
			line += "   two cards"
		}
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
}

// rulerError is how far a rule's mark is off the true place, to a thousandth of an inch.
func rulerError(over rules.Length) string {
	if over == 0 {
		return ""
	}
	return fmt.Sprintf("%+.3f in", -over.Inches())
}

func (p Plan) tellSheets(b *strings.Builder) {
	if p.Quantity == 0 {
		return
	}
	fmt.Fprintf(b, "\nFor %s print %s", rules.Counted(p.Quantity, "card"), rules.Counted(p.Sheets, "sheet"))
	if p.Spoilt > 0 {
		fmt.Fprintf(b, ": %d, and %d for what may go wrong", p.Sheets-p.Spoilt, p.Spoilt)
	}
	b.WriteString(".")
	if over := (p.Sheets-p.Spoilt)*p.Count() - p.Quantity; over > 0 {
		fmt.Fprintf(b, "\n%s over.", rules.Counted(over, "card"))
	}
	b.WriteString("\n")
}

func (p Plan) tellMore(b *strings.Builder) {
	changes := p.More()
	if len(changes) == 0 {
		return
	}
	b.WriteString("\nMore cards would fit, all else as it is,\n")
	for _, c := range changes {
		fmt.Fprintf(b, "  %3d  %s\n", c.Count, p.change(c))
	}
}

func (p Plan) change(c Change) string {
	switch c.What {
	case BleedTo:
		return "with a bleed of at most " + p.atMost(c.To)
	case MarginTo:
		return "with a printer margin of at most " + p.atMost(c.To)
	case GapTo:
		return "with gaps of at most " + p.atMost(c.To)
	case WidthTo:
		return "on a sheet at least " + p.atLeast(c.To) + " wide: " + p.atLeast(c.To-p.Sheet.W) + " more"
	case HeightTo:
		return "on a sheet at least " + p.atLeast(c.To) + " high: " + p.atLeast(c.To-p.Sheet.H) + " more"
	}
	return "butted, if the art is white or of one flat colour along its edges"
}

// atMost and atLeast tell a limit so that the number told keeps it: lengths are told
// in whole hundredths of a millimetre or of a point, or in ten-thousandths of an inch.
func (p Plan) atMost(l rules.Length) string  { return p.towards(l, -1) }
func (p Plan) atLeast(l rules.Length) string { return p.towards(l, +1) }

func (p Plan) towards(l rules.Length, way rules.Length) string {
	for {
		told, err := rules.ParseLength(l.In(p.Unit))
		if err != nil || way*(told-l) >= 0 {
			return l.In(p.Unit)
		}
		l += way
	}
}
