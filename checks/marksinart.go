package checks

import (
	"fmt"

	"stoneproof/checks/brink"
	"stoneproof/rules"
)

// MarksInArt judges that no cutting marks, register crosses or colour bars lie
// in the bleed or on the card. Those outside the bleed are in their place, and
// may have told where the trim is. A PDF's lines and boxes are known for what
// they are; marks in a picture are told from its pixels.
var MarksInArt = &Check{
	Rule:   "marks-in-art",
	Needs:  Paint,
	Placed: true,
	Side:   marksInArt,
}

func marksInArt(p *Pass) {
	if p.Side.Page != nil {
		content, err := p.Side.Content()
		if err != nil {
			p.Skip("The page's content could not be read: " + sentence(err.Error()))
			return
		}
		if m := p.drawnMarks(content); m.Any() {
			p.marksShow(m, m.certain, p.measuredBasis())
			return
		}
		if _, plain := p.Side.PlainBrink(); plain {
			p.noMarks()
			return
		}
	}
	paint, err := p.Side.Paint(p.Ctx)
	if err != nil {
		p.Skip("The side has no picture to judge: " + sentence(lowerFirst(err.Error())))
		return
	}
	m := brink.FindCutMarks(canvas(p.Side, paint), p.Ticket.Bleed)
	if !m.Any() && p.inPixels() {
		if blind := brink.CutMarksBlind(canvas(p.Side, paint), p.Ticket.Bleed); len(blind) > 0 {
			p.lost(blind, "whether cutting marks lie in the bleed", "marks were lost that were drawn")
			return
		}
	}
	if !m.Any() {
		p.noMarks()
		return
	}
	basis := rules.Inferred
	if m.Sure() {
		basis = p.measuredBasis()
	}
	p.marksShow(sheetMarks{CutMarks: m}, m.Sure(), basis)
}

func (p *Pass) noMarks() {
	p.Report(rules.Finding{Verdict: rules.Pass, Basis: p.measuredBasis(),
		Message: fmt.Sprintf("No cutting marks, crosses or colour bars lie within %s of the trim.", p.Length(p.Ticket.Bleed))})
}

// marksShow reports marks: they fail where they are nothing else beyond doubt.
func (p *Pass) marksShow(m sheetMarks, sure bool, basis rules.Basis) {
	f := rules.Finding{Verdict: rules.Warn, Basis: basis}
	does := "look like"
	if sure {
		f.Verdict, does = rules.Fail, "are"
	}
	f.Message = upperFirst(p.marksTold(m, does))
	var where rules.Box
	for _, b := range m.Boxes {
		where = where.Union(b)
	}
	f.Where = &where
	f.Message += fmt.Sprintf("; the bleed of %s is for art alone, and a cut that is a little off leaves them on the card.", p.Length(p.Ticket.Bleed))
	f.Fix = fmt.Sprintf("Leave them out: the printer sets marks on the sheet. Or move them to at least %s outside the trim.", p.Length(p.Ticket.Bleed))
	p.Report(f)
}

func (p *Pass) marksTold(m sheetMarks, does string) string {
	var words []string
	if m.Arms > 0 {
		words = append(words, fmt.Sprintf("%s on the trim lines at %s", rules.Counted(m.Arms, "short line"), rules.Counted(m.Corners, "corner")))
	}
	if m.Crosses > 0 {
		words = append(words, rules.Counted(m.Crosses, "register mark")+" by the edges")
	}
	if m.Bars {
		words = append(words, "a row of patches in the process inks")
	}
	if m.registration > 0 {
		words = append(words, rules.Counted(m.registration, "thin line")+" in registration colour")
	}
	return fmt.Sprintf("%s inside the bleed %s sheet marks", listed(words), does)
}
