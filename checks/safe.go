package checks

import (
	"fmt"
	"slices"

	"stoneproof/checks/brink"
	"stoneproof/rules"
)

// SafeZone judges that nothing that must survive lies between the safe line and
// the knife, or is cut by it. Text of a PDF is known for what it is and judged
// by its outlines; everything else is told from pixels.
var SafeZone = &Check{
	Rule:   "safe-zone",
	Needs:  Paint,
	Placed: true,
	Side:   safeZone,
}

func safeZone(p *Pass) {
	if p.Ticket.Safe == 0 {
		p.Report(rules.Finding{Verdict: rules.Pass, Basis: p.Side.Basis, Message: "The ticket asks for no safe margin."})
		return
	}
	if _, plain := p.Side.PlainBrink(); plain {
		p.nothingNear()
		return
	}
	before := len(*p.findings)
	paint, err := p.Side.Paint(p.Ctx)
	if err != nil {
		p.Skip("The side has no picture to judge: " + sentence(lowerFirst(err.Error())))
		return
	}
	lines := p.textLines(paint)
	for _, l := range lines {
		if p.unsafe(l.distance) {
			p.textUnsafe(l)
		}
	}
	ground := brink.ReadGround(canvas(p.Side, paint))
	for _, m := range ground.Intruders(p.Ticket.Safe) {
		if !coveredByText(m.Box, lines) {
			p.markUnsafe(m)
		}
	}
	if p.inPixels() {
		p.lost(ground.Blind(p.Ticket.Safe), "whether lettering or a mark lies near the knife", "words were lost that were set")
	}
	if len(*p.findings) == before {
		p.nothingNear()
	}
}

func (p *Pass) nothingNear() {
	p.Report(rules.Finding{Verdict: rules.Pass, Basis: p.measuredBasis(), Wanted: rules.AtLeastMM(p.Ticket.Safe),
		Message: fmt.Sprintf("Nothing that must survive lies within %s of the trim.", p.Length(p.Ticket.Safe))})
}

// safeSlack is how far ink may stray past the safe line without a word: the
// side bearing of a letter, an anti-aliased edge.
const safeSlack = 100 * rules.Micrometre

func (p *Pass) unsafe(distance rules.Length) bool { return distance < p.Ticket.Safe-safeSlack }

func (p *Pass) textUnsafe(l textLine) {
	f := rules.Finding{Verdict: rules.Fail, Basis: p.measuredBasis()}
	p.tooNear(&f, fmt.Sprintf("The text %q", shorten(l.words)), l.box, l.distance, l.edge)
	p.Report(f)
}

func (p *Pass) markUnsafe(m brink.Intruder) {
	f := rules.Finding{Verdict: rules.Warn, Basis: rules.Inferred}
	if m.Sure {
		f.Verdict, f.Basis = rules.Fail, p.measuredBasis()
	}
	what := "What looks like a mark or a logo"
	if m.Kind == brink.Lettering {
		what = "What looks like lettering"
	}
	p.tooNear(&f, what, m.Box, m.Distance, m.Edge)
	p.Report(f)
}

// tooNear fills in where a thing lies and how it is put right.
func (p *Pass) tooNear(f *rules.Finding, what string, box rules.Box, distance rules.Length, e rules.Edge) {
	f.Where, f.Edge = &box, e
	f.Measured, f.Wanted = rules.ValueMM(distance), rules.AtLeastMM(p.Ticket.Safe)
	place := p.place(box)
	f.Message = fmt.Sprintf("%s %s lies %s from the trim at the %s edge; %s is wanted.", what, place, p.About(distance), e, p.Length(p.Ticket.Safe))
	if distance <= 0 {
		f.Message = fmt.Sprintf("%s %s is cut by the knife at the %s edge.", what, place, e)
	}
	f.Fix = fmt.Sprintf("Move it %s away from the %s edge, or make it smaller.", p.About(p.Ticket.Safe-distance), e)
}

// place tells a box's middle from the top left corner of the card.
func (p *Pass) place(b rules.Box) string {
	x, y := b.X+b.W/2, b.Y+b.H/2
	x, y = max(0, min(p.Side.Trim.W, x)), max(0, min(p.Side.Trim.H, y))
	round := rules.MM(0.1)
	if p.Ticket.Unit == rules.UnitIn {
		round = rules.Inches(0.01)
	}
	x, y = (x+round/2)/round*round, (y+round/2)/round*round
	return fmt.Sprintf("(%s across, %s down)", p.Length(x), p.Length(y))
}

// nearest tells at which edge a box comes nearest to the one around it, and how
// near; negative where it reaches past it.
func nearest(b, outer rules.Box) (rules.Edge, rules.Length) {
	edges := [4]rules.Length{b.Y - outer.Y, outer.Right() - b.Right(), outer.Bottom() - b.Bottom(), b.X - outer.X}
	least := slices.Min(edges[:])
	return rules.AllEdges[slices.Index(edges[:], least)], least
}

// shorten keeps a text short enough to stand in a message.
func shorten(s string) string {
	const most = 40
	r := []rune(s)
	if len(r) <= most {
		return s
	}
	return string(r[:most-1]) + "…"
}
