package checks

import (
	"context"

	"stoneproof/checks/art"
	"stoneproof/checks/art/pdf"
	"stoneproof/rules"
)

// Needs says what a check looks at beyond the file's own facts.
type Needs int

// What a check may need, from the cheapest up.
const (
	Facts Needs = iota // the file's header, boxes, tags
	Items              // what a page paints, from its drawing instructions
	Paint              // the side's pixels
	Inks               // the side's plates
)

// Check measures what one rule asks. Side is called once for each side of the
// file, and then File once for the file as a whole. One of the two may be nil;
// where both are set, Side may have nothing to say.
type Check struct {
	Rule   string // id in the catalogue
	Needs  Needs
	Placed bool // cannot be judged where the trim could not be placed
	File   func(*Pass)
	Side   func(*Pass)

	// Pair compares a front with a back, of one file or of two. A check that has it
	// has neither of the others.
	Pair func(pair) []rules.Finding
}

// Pass is one check at work on one file or side.
type Pass struct {
	Ctx    context.Context
	Ticket rules.Ticket
	Art    *art.Art
	Side   *art.Side // nil for a File check

	rule     string
	findings *[]rules.Finding
	grounds  *areas            // what others may lie on; see areasOf
	facts    []rules.SideFacts // of the file's sides
}

// Report adds a finding; its rule and side are filled in.
func (p *Pass) Report(f rules.Finding) {
	f.Rule = p.rule
	if p.Side != nil {
		f.Side = p.Side.Number
	}
	*p.findings = append(*p.findings, f)
}

// Skip reports that the rule could not be judged, and why.
func (p *Pass) Skip(why string) {
	p.Report(rules.Finding{Verdict: rules.Skip, Message: why})
}

// Length tells a length that was asked for in the ticket's unit.
func (p *Pass) Length(l rules.Length) string { return l.In(p.Ticket.Unit) }

// About tells a length that was measured, as exactly as that deserves.
func (p *Pass) About(l rules.Length) string { return l.About(p.Ticket.Unit).In(p.Ticket.Unit) }

// Size tells a size in the ticket's unit.
func (p *Pass) Size(s rules.Size) string { return s.In(p.Ticket.Unit) }

// content is what the side's page paints. Where there is none it says so itself:
// a picture's type and lines are pixels, and a page may be past reading.
func (p *Pass) content() (c *pdf.Content, ok bool) {
	if p.Side.Page == nil {
		p.Skip("In a picture, type and lines are pixels: they cannot be told from the art.")
		return nil, false
	}
	c, err := p.Side.Content()
	if err != nil {
		p.Skip("The page's content could not be read: " + sentence(err.Error()))
		return nil, false
	}
	return c, true
}

// nothingIn passes a picture that cannot have what the rule is about, and
// reports whether the side is one.
func (p *Pass) nothingIn(what string) bool {
	if p.Side.Page != nil {
		return false
	}
	p.Report(rules.Finding{Verdict: rules.Pass, Basis: rules.Read, Message: "A picture has no " + what + ": nothing to judge."})
	return true
}
