package checks

import (
	"fmt"

	"stoneproof/rules"
)

// PairTurn judges that the back reads the right way up when the card is turned over.
var PairTurn = &Check{
	Rule:  "pair-turn",
	Needs: Items,
	Pair:  pairTurn,
}

func pairTurn(p pair) []rules.Finding {
	if !p.placed() {
		return unplacedPair()
	}
	f := p.upright()
	if p.turned() {
		f = p.quarterTurn()
	}
	return []rules.Finding{f}
}

// upright judges a back that lies as its front does.
func (p pair) upright() rules.Finding {
	front, back := p.front.Face.Reading, p.back.Face.Reading
	if front == nil || back == nil {
		return rules.Finding{Verdict: rules.Skip, Message: "Which way up the back stands cannot be told: " + p.unread() + "."}
	}
	f := rules.Finding{Verdict: rules.Pass, Basis: rules.Measured,
		Measured: rules.Value(float64(back.Turned), "°"), Wanted: rules.Value(float64(p.wanted()), "°")}
	over := p.ticket.TurnOver
	switch p.off() {
	case 0:
		f.Message = fmt.Sprintf("Turned over its %s, the card reads the right way up.", over.Hinge())
	case 180:
		f.Verdict = rules.Fail
		f.Message = fmt.Sprintf("Turned over its %s, the card shows its back upside down%s.", over.Hinge(), quoted(back.Words))
		f.Fix = fmt.Sprintf("Turn the back's art by 180° and export it again; if the card is to be turned over its %s, write turn-over = %q in the ticket.",
			over.Other().Hinge(), over.Other())
	default:
		f.Verdict = rules.Warn
		f.Message = fmt.Sprintf("The back reads crosswise to the front%s.", quoted(back.Words))
		f.Fix = fmt.Sprintf("If it should read as the front does, turn the back's art a quarter turn %s; else leave it.", clockwise(360-p.off()))
	}
	return f
}

// quarterTurn tells which way a back that stands is laid behind a front that lies,
// or the other way round.
func (p pair) quarterTurn() rules.Finding {
	f := rules.Finding{Verdict: rules.Warn, Basis: rules.Read,
		Measured: rules.ValuesMM(p.back.Trim), Wanted: rules.ValuesMM(p.front.Trim),
		Message: fmt.Sprintf("The front %s (%s) and the back %s (%s): to lie behind the front the back must be turned a quarter turn.",
			lies(p.front.Trim), p.size(p.front.Trim), lies(p.back.Trim), p.size(p.back.Trim))}
	front, back := p.front.Face.Reading, p.back.Face.Reading
	switch {
	case front == nil || back == nil:
		f.Message += " Which way cannot be told: " + p.unread() + "."
		f.Fix = "Turn the back in your program so that it lies as the front does, and look at it from the front's side before you export it."
	case p.off() == 90 || p.off() == 270:
		f.Fix = fmt.Sprintf("Turn the back's page a quarter turn %s and export it so: then it reads as the front does.", clockwise(360-p.off()))
	default:
		f.Message += " Its text runs crosswise to the front's either way."
		f.Fix = "Turn the back's page a quarter turn anticlockwise (its head to the left, common practice) and export it so, or tell the printer which way you want."
	}
	return f
}

// wanted is how the back's text should stand as the back is seen.
func (p pair) wanted() int { return (p.front.Face.Reading.Turned + p.ticket.TurnOver.Turned()) % 360 }

// off is by how much the back's text is turned clockwise from where it should stand.
func (p pair) off() int { return (p.back.Face.Reading.Turned - p.wanted() + 360) % 360 }

func (p pair) unread() string {
	if p.front.Face.Reading == nil {
		return "of the front, " + p.front.Face.Unread
	}
	return "of the back, " + p.back.Face.Unread
}

func lies(s rules.Size) string {
	if s.Landscape() {
		return "lies"
	}
	return "stands"
}

// clockwise names a quarter turn of so many degrees clockwise, 90 or 270.
func clockwise(degrees int) string {
	if degrees%360 == 90 {
		return "clockwise"
	}
	return "anticlockwise"
}

func quoted(words string) string {
	if words == "" {
		return ""
	}
	return fmt.Sprintf(" (%q)", words)
}
