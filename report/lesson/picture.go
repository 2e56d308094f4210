package lesson

import (
	"fmt"
	"html"
	"strings"

	"stoneproof/rules"
)

// picture is a drawing in lines: one card or two, each with a word below.
type picture struct {
	name, alt string
	cards     []card
}

// card is a card as it is drawn: in millimetres, to the ticket's own scale.
type card struct {
	caption string
	whole   bool    // with the bleed and its lines; else as it was cut
	ground  float64 // how far paint goes past the trim; less than nothing for none
	cut     float64 // how far past the trim the right edge was cut
	phone   float64 // how far inside the trim the phone number ends
}

// usualStray is how far a knife strays as a rule, in millimetres: 1/16 in (common
// practice).
const usualStray = 1.6

// pictures are the drawings of the lessons.
func pictures(t rules.Ticket) []picture {
	b, s := t.Bleed.MM(), t.Safe.MM()
	stray := min(usualStray, b)
	return []picture{
		{"lines", "A card with its bleed hatched around it, the trim as a solid line and the safe line dotted inside it.",
			[]card{{"Hatched: the bleed, painted and cut off. Solid line: the trim, where the knife goes. Dotted: the safe line, words stay inside.", true, b, b, 1.6 * s}}},
		{"bleed", "Two cards that were cut a little too far out. One has a white strip at its right edge, the other has none.",
			[]card{{"Paint ends at the trim, and the knife strayed outwards: a white strip. It fails.", false, 0, stray, 1.5 * s},
				{"Paint goes on into the bleed: the same cut, and nothing shows. It passes.", false, b, stray, 1.5 * s}}},
		{"safe", "Two cards that were cut a little too far in. On one the last figure of the phone number is cut, on the other it is whole.",
			[]card{{"The number is too near the trim, and the knife strayed inwards: a figure is cut. It fails.", false, -1, -usualStray, 0},
				{"The number is inside the safe zone: the same cut, and it is whole. It passes.", false, -1, -usualStray, 1.6 * s}}},
	}
}

// figure is the picture for a browser: it scales with the page, and needs no script.
func (p picture) figure(t rules.Ticket) string {
	var b strings.Builder
	b.WriteString("<div class=\"cards\">\n")
	for i, c := range p.cards {
		alt := p.alt
		if len(p.cards) > 1 {
			alt = c.caption
		}
		fmt.Fprintf(&b, "<figure>\n%s<figcaption>%s</figcaption>\n</figure>\n", c.svg(t, fmt.Sprintf("%s%d", p.name, i), alt), html.EscapeString(c.caption))
	}
	b.WriteString("</div>\n")
	return b.String()
}

// svg draws the card. Its colours are the page's: what is told is told by shape.
func (c card) svg(t rules.Ticket, id, alt string) string {
	w, h, bleed, safe := t.Trim.W.MM(), t.Trim.H.MM(), t.Bleed.MM(), t.Safe.MM()
	edge := bleed
	if !c.whole {
		edge = c.cut
	}
	var b strings.Builder
	x, y, vw, vh := -bleed-1, -bleed-1, w+2*bleed+2, h+2*bleed+2
	fmt.Fprintf(&b, "<svg viewBox=\"%.2f %.2f %.2f %.2f\" role=\"img\" aria-label=%q>\n", x, y, vw, vh, html.EscapeString(alt))
	fmt.Fprintf(&b, "<defs><pattern id=%q width=\"1.6\" height=\"1.6\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\"><path d=\"M0 0V1.6\" class=\"hatch\"/></pattern>", id+"h")
	left, top := 0.0, 0.0
	if c.whole {
		left, top = -bleed, -bleed
	}
	fmt.Fprintf(&b, "<clipPath id=%q>%s</clipPath></defs>\n", id+"c", rect("", left, top, w+edge-left, h-2*top))
	fmt.Fprintf(&b, "<g clip-path=\"url(#%sc)\">\n", id)
	b.WriteString(rect("paper", left, top, w+edge-left, h-2*top))
	if c.ground >= 0 {
		b.WriteString(rect("paint", -c.ground, -c.ground, w+2*c.ground, h+2*c.ground))
	}
	b.WriteString(c.words(w, h, safe))
	if c.whole {
		fmt.Fprintf(&b, "<path class=\"veil\" fill=\"url(#%sh)\" fill-rule=\"evenodd\" d=\"M%.2f %.2fh%.2fv%.2fh%.2fzM0 0v%.2fh%.2fv%.2fz\"/>\n",
			id, -bleed, -bleed, w+2*bleed, h+2*bleed, -w-2*bleed, h, w, -h)
		b.WriteString(rect("trim", 0, 0, w, h))
		b.WriteString(rect("safe", safe, safe, w-2*safe, h-2*safe))
	}
	b.WriteString("</g>\n")
	if !c.whole {
		b.WriteString(rect("edge", left, top, w+edge, h))
	}
	b.WriteString("</svg>\n")
	return b.String()
}

// words are what stands on the card: a name, a trade and a telephone number.
func (c card) words(w, h, safe float64) string {
	size := min(h/8, w/11)
	class := "ink"
	if c.ground >= 0 {
		class = "light"
	}
	return fmt.Sprintf("<g class=%q><text x=\"%.2f\" y=\"%.2f\" font-size=\"%.2f\">Larkin’s Oven</text>"+
		"<text x=\"%.2f\" y=\"%.2f\" font-size=\"%.2f\">bread from a wood fire</text>"+
		"<text x=\"%.2f\" y=\"%.2f\" font-size=\"%.2f\" text-anchor=\"end\">01632 960139</text></g>\n",
		class, 2*safe, 2*safe+size, size, 2*safe, 2*safe+2.1*size, size*.62, w-c.phone, h-2*safe, size*.72)
}

func rect(class string, x, y, w, h float64) string {
	if class != "" {
		class = fmt.Sprintf(" class=%q", class)
	}
	return fmt.Sprintf("<rect%s x=\"%.2f\" y=\"%.2f\" width=\"%.2f\" height=\"%.2f\"/>\n", class, x, y, w, h)
}
