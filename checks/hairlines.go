package checks

import (
	"fmt"

	"stoneproof/checks/art/pdf"
	"stoneproof/rules"
)

// Hairlines judges that lines are wide enough to hold on the press.
var Hairlines = &Check{
	Rule:  "hairlines",
	Needs: Items,
	Side:  hairlines,
}

// lineSlack is the share by which a line may be thinner than a limit and still
// count as met: matrices round.
const lineSlack = 0.005

// thin is a line that is too thin, and the limit that it misses.
type thin struct {
	line
	least    float64
	reversed bool
}

func hairlines(p *Pass) {
	content, ok := p.content()
	if !ok {
		return
	}
	found := p.tooThin(content)
	l := p.Ticket.Limits
	if len(found) == 0 {
		p.Report(rules.Finding{Verdict: rules.Pass, Basis: rules.Measured, Wanted: rules.AtLeast(l.LineLeast, "pt"),
			Message: fmt.Sprintf("No line is thinner than %s, or %s where it is lighter than its ground.", inPoints(l.LineLeast), inPoints(l.LineReversedLeast))})
		return
	}
	worst := 0
	for i, t := range found {
		if t.width*found[worst].least < found[worst].width*t.least {
			worst = i
		}
	}
	f := p.judgeThin(found[worst])
	for i, t := range found {
		if i != worst && len(f.Also) < mostPlaces {
			where := p.Side.Box(t.box)
			f.Also = append(f.Also, rules.Place{What: t.what(), Where: &where, Measured: rules.Value(t.width, "pt")})
		}
	}
	if n := len(found); n > 1 {
		f.Message += fmt.Sprintf(" It is the worst of %d such lines.", n)
	}
	p.Report(f)
}

// tooThin lists the lines that miss their limit and can be told from what they
// lie on.
func (p *Pass) tooThin(content *pdf.Content) []thin {
	l := p.Ticket.Limits
	positive, negative := l.LineLeast*(1-lineSlack), l.LineReversedLeast*(1-lineSlack)
	var found []thin
	for _, one := range p.thinLines(content, max(positive, negative)) {
		lay := layOf(one.colour())
		if p.beneath(content, one.Order, one.box).same(lay) {
			continue
		}
		t := thin{one, l.LineLeast, p.reversed(content, one.Order, one.box, lay)}
		limit := positive
		if t.reversed {
			t.least, limit = l.LineReversedLeast, negative
		}
		if one.width < limit && (t.reversed || !lay.paper()) { // white on what is light is not seen
			found = append(found, t)
		}
	}
	return found
}

func (t thin) what() string {
	switch {
	case t.text != nil:
		return fmt.Sprintf("the outline of the words %q", shorten(t.text.String))
	case t.reversed:
		return "a light line on a darker ground"
	}
	return "a line"
}

func (p *Pass) judgeThin(t thin) rules.Finding {
	where := p.Side.Box(t.box)
	what := fmt.Sprintf("%s %s", upperFirst(t.what()), p.place(where))
	f := rules.Finding{
		Verdict: rules.Fail, Basis: rules.Measured, Where: &where,
		Measured: rules.Value(t.width, "pt"), Wanted: rules.AtLeast(t.least, "pt"),
		Message: fmt.Sprintf("%s is %s wide", what, inPoints(t.width)),
		Fix:     fmt.Sprintf("Make it at least %s wide.", inPoints(t.least)),
	}
	switch {
	case t.width == 0:
		f.Message = what + " has no width: it prints as thin as the device can, and may be lost"
	case t.reversed:
		f.Message += ", and ink creeps into it"
	}
	f.Message += fmt.Sprintf("; %s is the least that holds.", inPoints(t.least))
	return f
}

// inPoints tells the width of a line or the size of type, which the trade counts in
// points whatever the card is measured in.
func inPoints(v float64) string {
	if 0 < v && v < 0.01 {
		return "under 0.01 pt"
	}
	return points(v) + " pt"
}
