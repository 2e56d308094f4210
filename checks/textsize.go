package checks

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"stoneproof/checks/art/pdf"
	"stoneproof/rules"
)

// TextSize judges that type is large enough to hold in print. A size is that of the
// em as printed.
var TextSize = &Check{
	Rule:  "text-size",
	Needs: Items,
	Side:  textSize,
}

// setting is type of one size on a line.
type setting struct {
	textLine
	size    float64 // points
	guessed bool    // its font does not tell its letters: it may be no reading matter
}

// smallType is a setting with what it needs.
type smallType struct {
	setting
	verdict rules.Verdict
	basis   rules.Basis
	least   float64 // points
	because string  // why it needs more than plain type; empty where it does not
	mend    string  // what else would help, as the end of a sentence
}

// sizeSlack is the share by which type may be smaller and still count as large
// enough: programs that scale write 4.98 for 5.
const sizeSlack = 0.005

func textSize(p *Pass) {
	content, ok := p.content()
	if !ok {
		return
	}
	set := p.settings(content)
	if len(set) == 0 {
		p.Report(rules.Finding{Verdict: rules.Pass, Basis: rules.Measured, Message: "No type is set on this side."})
		return
	}
	slices.SortStableFunc(set, func(a, b setting) int { return cmp.Compare(a.size, b.size) })
	small := p.tooSmall(content, set)
	if len(small) == 0 {
		p.Report(rules.Finding{Verdict: rules.Pass, Basis: rules.Measured, Where: &set[0].box,
			Measured: rules.Value(set[0].size, "pt"), Wanted: rules.AtLeast(p.Ticket.Limits.TypeLeast, "pt"),
			Message: fmt.Sprintf("The smallest type, %q, is %s.", shorten(set[0].words), inPoints(set[0].size))})
		return
	}
	p.reportSmall(small)
}

// tooSmall judges settings, smallest first. So many at most: a card has some dozens,
// and telling what each stands on costs.
func (p *Pass) tooSmall(content *pdf.Content, set []setting) []smallType {
	const most = 256
	limits := p.Ticket.Limits
	var small []smallType
	for _, s := range set[:min(len(set), most)] {
		if !below(s.size, max(limits.TypeLeast, limits.TypeReversedLeast)) {
			break
		}
		if one := p.judgeSize(content, s); one.verdict != rules.Pass && p.seenOnGround(s.box) {
			small = append(small, one)
		}
	}
	slices.SortStableFunc(small, func(a, b smallType) int {
		if a.verdict != b.verdict {
			return map[bool]int{true: -1, false: 1}[a.verdict.Worse(b.verdict)]
		}
		return cmp.Compare(a.size/a.least, b.size/b.least)
	})
	return small
}

func below(size, least float64) bool { return size < least*(1-sizeSlack) }

// judgeSize judges a setting by that run of it that needs most.
func (p *Pass) judgeSize(content *pdf.Content, s setting) smallType {
	worst := smallType{setting: s, verdict: rules.Pass, basis: rules.Measured, least: p.Ticket.Limits.TypeLeast}
	for _, t := range s.runs {
		one := p.needs(content, t)
		if one.verdict = rules.Pass; below(s.size, one.least) {
			one.verdict = rules.Fail
			if one.basis == rules.Inferred {
				one.verdict = rules.Warn
			}
		}
		if plain := p.Ticket.Limits.TypeLeast; one.basis == rules.Inferred && below(s.size, plain) {
			one = smallType{verdict: rules.Fail, basis: rules.Measured, least: plain} // that much is certain
		}
		if one.verdict.Worse(worst.verdict) || one.verdict == worst.verdict && one.least > worst.least {
			worst = one
			worst.setting = s
		}
	}
	if s.guessed && worst.verdict == rules.Fail {
		worst.verdict, worst.basis = rules.Warn, rules.Inferred
	}
	return worst
}

// needs tells what size a run needs, and why.
func (p *Pass) needs(content *pdf.Content, t *pdf.Text) smallType {
	plain, hard := p.Ticket.Limits.TypeLeast, p.Ticket.Limits.TypeReversedLeast
	l := layOf(t.Fill)
	if t.Mode%2 == 1 { // only stroked (ISO 32000-1, Table 106)
		l = layOf(t.Stroke)
	}
	inks := l.inks()
	switch {
	case p.reversed(content, t.Order, t.Box, l):
		return smallType{basis: rules.Measured, least: hard, mend: ", or dark on a light ground",
			because: "it stands light on a dark ground, which closes in on it"}
	case !l.estimated && len(inks) > 1:
		return smallType{basis: rules.Measured, least: hard, mend: ", or in one ink",
			because: fmt.Sprintf("it is built from %s inks (%s), which never lie on each other exactly", numeral(len(inks)), someOf(inks))}
	case l.estimated && coloured(l):
		return smallType{basis: rules.Inferred, least: hard, mend: ", or in black alone",
			because: "its colour will be built from several inks, which never lie on each other exactly"}
	}
	return smallType{basis: rules.Measured, least: plain}
}

// coloured reports whether light that is turned into ink will need more than black
// for sure: near greys may be turned into black alone.
func coloured(l lay) bool { return max(l.cmyk[0], l.cmyk[1], l.cmyk[2]) > 0.1 }

// seenOnGround reports whether text at a box stands out in the pixels: it may be
// painted over, or be of the colour of its ground.
func (p *Pass) seenOnGround(box rules.Box) bool {
	if !p.Side.Placed() {
		return true
	}
	paint, err := p.Side.Paint(p.Ctx)
	return err != nil || visible(paint, box)
}

func (p *Pass) reportSmall(small []smallType) {
	worst := small[0]
	f := rules.Finding{
		Verdict: worst.verdict, Basis: worst.basis, Where: &worst.box,
		Measured: rules.Value(worst.size, "pt"), Wanted: rules.AtLeast(worst.least, "pt"),
	}
	words := fmt.Sprintf("%q", shorten(worst.words))
	if worst.guessed {
		words = "Type in a font that does not tell its letters"
	}
	f.Message = fmt.Sprintf("%s %s is %s; %s is the least that holds here", words, p.place(worst.box), inPoints(worst.size), inPoints(worst.least))
	if worst.because != "" {
		f.Message += ": " + worst.because
	}
	f.Message += "."
	f.Fix = fmt.Sprintf("Set it at %s or larger, that is %.0f %% of its size%s.", inPoints(worst.least), math.Ceil(100*worst.least/worst.size-0.001), worst.otherwise(p))
	for _, s := range small[1:min(len(small), mostPlaces)] {
		f.Also = append(f.Also, rules.Place{What: strconv.Quote(shorten(s.words)), Where: &s.box, Measured: rules.Value(s.size, "pt")})
	}
	if n := len(small); n > 1 {
		f.Message += fmt.Sprintf(" It is the worst of %d such lines.", n)
	}
	p.Report(f)
}

// otherwise is what would help in the place of a larger size: only where plain type
// of this size holds.
func (s smallType) otherwise(p *Pass) string {
	if below(s.size, p.Ticket.Limits.TypeLeast) {
		return ""
	}
	return s.mend
}

// points writes a size of type without needless decimals. It is not rounded up: 4.97
// is not told as 5.
func points(v float64) string {
	return strconv.FormatFloat(math.Floor(v*100+1e-6)/100, 'f', -1, 64)
}

// settings are the pieces of reading matter that reach ink.
func (p *Pass) settings(content *pdf.Content) []setting {
	lines := p.joined(content, func(t *pdf.Text, box rules.Box) bool {
		return seenText(t) && !t.InGlyph && (!p.Side.Placed() || !box.Intersect(p.Side.Printed()).Empty())
	})
	var list []setting
	for _, l := range lines {
		parts := p.bySize(l)
		for i, s := range parts {
			letters, untold := lettersOf(s.words)
			if letters+untold < leastLetters || i > 0 && s.endsWordOf(parts[i-1]) {
				continue
			}
			s.guessed = letters < leastLetters
			list = append(list, s)
		}
	}
	return list
}

// leastLetters is what makes reading matter: fewer letters and figures are bullets,
// raised signs (™, 5th, m²), units and rules made of characters.
const leastLetters = 3

func lettersOf(words string) (letters, untold int) {
	for _, r := range words {
		switch {
		case r == unicode.ReplacementChar:
			untold++
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			letters++
		}
	}
	return letters, untold
}

// bySize cuts a line where the size of its type changes.
func (p *Pass) bySize(l textLine) []setting {
	var parts []setting
	for _, t := range l.runs {
		size, box := emSize(t), p.Side.Box(t.Box)
		if n := len(parts) - 1; n >= 0 && math.Abs(parts[n].size-size) < 0.01*size {
			parts[n].add(t, box)
			continue
		}
		parts = append(parts, setting{textLine: lineOf(t, box), size: size})
	}
	return parts
}

// endsWordOf reports whether a setting ends a word that larger type began: as small
// capitals, which are as high as the larger type's small letters, or as a sign or a
// figure.
func (s *setting) endsWordOf(before setting) bool {
	const smallCapitals = 0.6 // of the size of the letters around them, at least
	if s.size >= before.size || s.box.X-before.box.Right() > before.box.H/6 {
		return false
	}
	capitals := s.size >= smallCapitals*before.size && strings.ToUpper(s.words) == s.words
	letters, untold := lettersOf(s.words)
	return capitals || letters+untold <= leastLetters
}

// emSize is the size of a run's type in points. A Type 3 font is drawn to any scale,
// so that its em may tell nothing: where the ink is much higher than the em, or much
// lower, the size is taken as if the ink were small letters alone, which is the most
// that it can be.
func emSize(t *pdf.Text) float64 {
	if t.Font == nil || t.Font.Subtype != "Type3" {
		return t.Size
	}
	ink := t.Full.H()
	const least, most, xHeight = 0.2, 1.4, 0.45
	if ink < least*t.Size || ink > most*t.Size {
		return ink / xHeight
	}
	return t.Size
}
