package checks

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"stoneproof/checks/art/pdf"
	"stoneproof/rules"
)

// RichBlack judges that small black type and thin black lines are in one ink.
var RichBlack = &Check{
	Rule:  "rich-black",
	Needs: Items,
	Side:  richBlack,
}

func richBlack(p *Pass) {
	content, ok := p.content()
	if !ok {
		return
	}
	l := p.Ticket.Limits
	marks := p.marks(content)
	letters, lines := p.richType(content, marks), p.richLines(content)
	p.reportRich(letters, "are set", l.TypeReversedLeast, l.RichTypeLeast)
	p.reportRich(lines, "is drawn", l.LineReversedLeast, l.RichLineLeast)
	if len(letters)+len(lines) > 0 {
		return
	}
	f := rules.Finding{Verdict: rules.Pass, Basis: rules.Measured, Message: "Small black type and thin black lines are in black ink alone."}
	if slices.ContainsFunc(marks, func(m mark) bool { c := layOf(m.colour()); return p.smallType(m) && c.estimated && c.neutral() }) {
		f.Message = "Small black type here is a colour of light: whether it becomes one ink is decided when it is converted. See colour-space."
	}
	p.Report(f)
}

// rich is something in black of several inks, and its size in points.
type rich struct {
	told
	size float64
}

func (p *Pass) smallType(m mark) bool {
	return m.text != nil && m.text.Size < p.Ticket.Limits.RichTypeLeast*(1-lineSlack)
}

func (p *Pass) richType(content *pdf.Content, marks []mark) []rich {
	var found []mark
	for _, m := range marks {
		if p.smallType(m) && layOf(m.colour()).richBlack() && !p.buried(content, m.Order, m.Box) {
			found = append(found, m)
		}
	}
	var list []rich
	for _, t := range p.tell(found) {
		size := math.Inf(1)
		for _, m := range t.marks {
			size = min(size, m.text.Size)
		}
		list = append(list, rich{t, size})
	}
	return list
}

func (p *Pass) richLines(content *pdf.Content) []rich {
	var list []rich
	for _, l := range p.thinLines(content, p.Ticket.Limits.RichLineLeast*(1-lineSlack)) {
		if l.text == nil && layOf(l.colour()).richBlack() { // lines of letters are type
			list = append(list, rich{told{textLine{box: p.Side.Box(l.box)}, []mark{l.mark}, "a line"}, l.width})
		}
	}
	return list
}

// reportRich reports on the smallest of things that should be one ink. What is so
// small that its shape would not even hold light on dark is all edge, and fails;
// larger than that it warns.
func (p *Pass) reportRich(list []rich, form string, sure, least float64) {
	if len(list) == 0 {
		return
	}
	worst := slices.MinFunc(list, func(a, b rich) int { return cmp.Compare(a.size, b.size) })
	l := layOf(worst.marks[0].colour())
	f := rules.Finding{
		Verdict: rules.Warn, Basis: rules.Measured, Where: &worst.box,
		Measured: rules.Value(worst.size, "pt"), Wanted: rules.AtLeast(least, "pt"),
		Message: fmt.Sprintf("%s %s %s in %s of %s mixed of %s inks (%v): inks never meet exactly, and what is so fine gets coloured edges. %s is the least for it.",
			upperFirst(worst.String()), p.place(worst.box), form, inPoints(worst.size), l.blackOrGrey(), numeral(len(l.inksFrom(fringeTint))), l, inPoints(least)),
		Fix: fmt.Sprintf("Set it in black ink alone: %v.", l.oneInk()),
	}
	if worst.size < sure*(1-lineSlack) {
		f.Verdict = rules.Fail
	}
	if n := len(list); n > 1 {
		f.Message += fmt.Sprintf(" It is the smallest of %d such places.", n)
	}
	for _, r := range list {
		if r.marks[0] != worst.marks[0] && len(f.Also) < mostPlaces {
			f.Also = append(f.Also, rules.Place{What: r.String(), Where: &r.box, Measured: rules.Value(r.size, "pt")})
		}
	}
	p.Report(f)
}

// fringeTint is the least tint of an ink that shows a fringe where it lies beside
// its place: less are a few dots that nobody sees. Common practice.
const fringeTint = 0.05

// richBlack reports whether the colour is a black or dark grey of several inks.
// Registration colour is one too, but a fault of its own; of light nobody knows the
// inks yet.
func (l lay) richBlack() bool {
	return l.known && !l.estimated && !l.all && len(l.inksFrom(fringeTint)) > 1 && l.neutral()
}

// neutral reports whether the colour is a black or a dark grey without a hue to
// speak of: a reader of words set in it would call it so. Beside a spot ink it has
// to be nearly solid black.
func (l lay) neutral() bool {
	for _, s := range l.spots {
		if s.value >= fringeTint && l.cmyk[3] < 0.9 {
			return false
		}
	}
	light := l.light()
	most := slices.Max(light[:])
	spread := most - slices.Min(light[:])
	black := most <= blackLight && spread <= 0.08
	grey := l.cmyk[3] >= 0.5 && spread <= 0.05
	return l.known && (black || grey)
}

// blackLight is the most light that comes back from what looks black in small type,
// of red, green or blue. With it go how far the three may lie apart: in the dark a
// hue is hardly seen. A brown of C50 M70 Y80 K70 has 0.15 and 0.09, a green of
// C90 M30 Y95 K30 0.49 and 0.46; the black of C75 M68 Y67 K90 0.03 and 0.01.
const blackLight = 0.25

// oneInk is the tint of black ink that looks as dark.
func (l lay) oneInk() lay {
	if l.blackOrGrey() == "black" {
		return lay{known: true, cmyk: [4]float64{3: 1}}
	}
	light := l.light()
	return lay{known: true, cmyk: [4]float64{3: 1 - (light[0]+light[1]+light[2])/3}}
}

func (l lay) blackOrGrey() string {
	light := l.light()
	if slices.Max(light[:]) <= blackLight {
		return "black"
	}
	return "grey"
}

// String tells the inks in per cent as editors do: "C60 M40 Y40 K100".
func (l lay) String() string {
	var words []string
	for i, name := range [4]string{"C", "M", "Y", "K"} {
		words = append(words, fmt.Sprintf("%s%.0f", name, 100*l.cmyk[i]))
	}
	for _, s := range l.spots {
		words = append(words, fmt.Sprintf("%s %.0f", shorten(s.name), 100*s.value))
	}
	return strings.Join(words, " ")
}

// numeral is a small number as people write it.
func numeral(n int) string {
	if words := []string{"no", "one", "two", "three", "four", "five"}; n < len(words) {
		return words[n]
	}
	return fmt.Sprint(n)
}
