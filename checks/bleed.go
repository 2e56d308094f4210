package checks

import (
	"fmt"

	"stoneproof/checks/art"
	"stoneproof/checks/brink"
	"stoneproof/rules"
)

// BleedExtent judges that the file reaches far enough beyond the trim.
var BleedExtent = &Check{
	Rule:   "bleed-extent",
	Needs:  Facts,
	Placed: true,
	Side:   bleedExtent,
}

func bleedExtent(p *Pass) {
	short := map[rules.Edge]rules.Verdict{}
	for _, e := range rules.AllEdges {
		if v := p.shortBy(p.Ticket.Bleed - p.Side.Room.Of(e)); v != rules.Pass {
			short[e] = v
		}
	}
	if len(short) == 0 {
		p.Report(rules.Finding{Verdict: rules.Pass, Basis: p.Side.Basis,
			Measured: rules.ValueMM(p.Side.Room.Least()), Wanted: rules.AtLeastMM(p.Ticket.Bleed),
			Message: fmt.Sprintf("The file reaches at least %s beyond the trim on every edge.", p.About(p.Side.Room.Least()))})
		return
	}
	if p.evenlyShort(len(short)) {
		p.roomShort("", p.Side.Room.Top, short[rules.Top])
		return
	}
	for _, e := range rules.AllEdges {
		if v, ok := short[e]; ok {
			p.roomShort(e, p.Side.Room.Of(e), v)
		}
	}
}

// shortBy is the verdict on a bleed that is short by a length: a little slack
// passes, a sliver at the outermost edge warns.
func (p *Pass) shortBy(by rules.Length) rules.Verdict {
	switch {
	case by <= p.Ticket.Limits.BleedSlack:
		return rules.Pass
	case by <= p.Ticket.Limits.BleedSliver:
		return rules.Warn
	}
	return rules.Fail
}

// evenlyShort reports whether all four edges are short alike, so that one
// finding tells them all.
func (p *Pass) evenlyShort(n int) bool {
	r := p.Side.Room
	return n == 4 && max(r.Top, r.Right, r.Bottom, r.Left)-r.Least() < rules.MM(0.05)
}

func (p *Pass) roomShort(e rules.Edge, room rules.Length, v rules.Verdict) {
	where := "on every edge"
	if e != "" {
		where = fmt.Sprintf("at the %s edge", e)
	}
	f := rules.Finding{
		Verdict: v, Edge: e, Basis: p.Side.Basis,
		Measured: rules.ValueMM(room), Wanted: rules.AtLeastMM(p.Ticket.Bleed),
		Message: fmt.Sprintf("The file reaches %s beyond the trim %s; %s is wanted.", p.About(room), where, p.Length(p.Ticket.Bleed)),
	}
	if room == 0 {
		f.Message = fmt.Sprintf("The file ends at the trim %s: there is no bleed; %s is wanted.", where, p.Length(p.Ticket.Bleed))
	}
	f.Fix = fmt.Sprintf("Extend the background %s past the trim %s and export with that bleed", p.Length(p.Ticket.Bleed), where)
	if p.off(p.Ticket.TrimFor(p.Side.Trim)) { // trim-size tells the size to export
		f.Fix += "."
	} else {
		f.Fix += fmt.Sprintf(": %s altogether.", p.wholeExport(p.Side.Trim.Grow(p.Ticket.Bleed)))
	}
	p.Report(f)
}

func (p *Pass) wholeExport(bled rules.Size) string {
	if p.Side.Page != nil {
		return p.Size(bled)
	}
	return p.pixels(bled)
}

// BleedFill judges that paint really reaches the bleed edge wherever it reaches
// the trim.
var BleedFill = &Check{
	Rule:   "bleed-fill",
	Needs:  Paint,
	Placed: true,
	Side:   bleedFill,
}

func bleedFill(p *Pass) {
	if p.Side.Room == (rules.Edges{}) && p.Ticket.Bleed > 0 {
		p.Skip("There is nothing beyond the trim to judge: see bleed-extent.")
		return
	}
	if painted, plain := p.Side.PlainBrink(); plain {
		p.filled(painted, min(p.Side.Room.Least(), p.Ticket.Bleed))
		return
	}
	paint, err := p.Side.Paint(p.Ctx)
	if err != nil {
		p.Skip("The side has no picture to judge: " + sentence(lowerFirst(err.Error())))
		return
	}
	fills := brink.Bleed(canvas(p.Side, paint), p.Ticket.Bleed)
	least, painted, clean := rules.Length(0), false, true
	for i, fill := range fills {
		if fill.PaintAtTrim && (!painted || fill.Extent < least) {
			least = fill.Extent
		}
		painted = painted || fill.PaintAtTrim
		if fill.PaintAtTrim && !p.fillEdge(fills[i]) {
			clean = false
		}
	}
	if clean {
		p.filled(painted, least)
	}
}

// filled reports a side whose paint reaches as far as there is room.
func (p *Pass) filled(painted bool, least rules.Length) {
	f := rules.Finding{Verdict: rules.Pass, Basis: p.measuredBasis(),
		Message: "Nothing is painted at the trim: there is nothing to bleed."}
	if painted {
		f.Measured, f.Wanted = rules.ValueMM(least), rules.AtLeastMM(p.Ticket.Bleed)
		f.Message = fmt.Sprintf("Paint reaches %s past the trim wherever it reaches the trim.", p.About(least))
	}
	p.Report(f)
}

// measuredBasis is the basis of what was measured on a side: no surer than the
// trim that it was measured from.
func (p *Pass) measuredBasis() rules.Basis {
	if p.Side.Basis == rules.Inferred {
		return rules.Inferred
	}
	return rules.Measured
}

// fillEdge reports an edge whose paint falls short of the room that there is,
// and tells whether it was clean. Room that is itself short is bleed-extent's
// to tell.
func (p *Pass) fillEdge(fill brink.EdgeFill) (clean bool) {
	verdict := p.shortBy(fill.Room - fill.Extent)
	if fill.Sliver && verdict == rules.Pass {
		verdict = rules.Warn // within the slack, yet a row of pixels is truly bare
	}
	if verdict == rules.Pass {
		return true
	}
	where := p.edgeBox(fill.Edge, fill.Extent, fill.Room, fill.From, fill.To)
	f := rules.Finding{
		Verdict: verdict, Edge: fill.Edge, Basis: p.measuredBasis(), Where: &where,
		Measured: rules.ValueMM(fill.Extent), Wanted: rules.AtLeastMM(p.Ticket.Bleed),
	}
	stretch := p.stretch(fill.Edge, fill.From, fill.To)
	f.Message = fmt.Sprintf("Paint stops %s past the trim at the %s edge%s; %s is wanted.",
		p.About(fill.Extent), fill.Edge, stretch, p.Length(p.Ticket.Bleed))
	switch {
	case verdict == rules.Warn:
		f.Message = fmt.Sprintf("A bare sliver of %s runs along the outermost %s edge%s.",
			p.About(fill.Room-fill.Extent), fill.Edge, stretch)
	case fill.Extent == 0:
		f.Message = fmt.Sprintf("Paint stops at the trim at the %s edge%s; %s of bleed is wanted.",
			fill.Edge, stretch, p.Length(p.Ticket.Bleed))
	}
	f.Fix = fmt.Sprintf("Extend the background to %s past the trim at the %s edge%s: %s more.",
		p.Length(p.Ticket.Bleed), fill.Edge, stretch, p.About(p.Ticket.Bleed-fill.Extent))
	p.Report(f)
	return false
}

// stretch tells which part of an edge is meant, measured from its top or left
// end; nothing if it is all of it.
func (p *Pass) stretch(e rules.Edge, from, to rules.Length) string {
	whole, end, other := p.Side.Trim.W, "left", "right"
	if e == rules.Left || e == rules.Right {
		whole, end, other = p.Side.Trim.H, "top", "bottom"
	}
	switch { // in the corner of the bleed, beside the card
	case to <= 0:
		return fmt.Sprintf(", at its %s end", end)
	case from >= whole:
		return fmt.Sprintf(", at its %s end", other)
	}
	from, to = max(0, from), min(whole, to)
	if from <= rules.MM(1) && to >= whole-rules.MM(1) {
		return ""
	}
	return fmt.Sprintf(", from %s to %s from the %s", from.About(p.Ticket.Unit).Number(p.Ticket.Unit), p.About(to), end)
}

// edgeBox is the box beyond the trim at edge e, from a distance near to a
// distance far, along the stretch.
func (p *Pass) edgeBox(e rules.Edge, near, far, from, to rules.Length) rules.Box {
	t := p.Side.Trim
	switch e {
	case rules.Top:
		return rules.Box{X: from, Y: -far, W: to - from, H: far - near}
	case rules.Bottom:
		return rules.Box{X: from, Y: t.H + near, W: to - from, H: far - near}
	case rules.Left:
		return rules.Box{X: -far, Y: from, W: far - near, H: to - from}
	}
	return rules.Box{X: t.W + near, Y: from, W: far - near, H: to - from}
}

// canvas hands a side's paint to the measuring functions.
func canvas(s *art.Side, p *art.Paint) brink.Canvas {
	return brink.Canvas{
		Pix: p.Pix, W: p.W, H: p.H, X: p.X, Y: p.Y, PxW: p.PxW, PxH: p.PxH,
		Trim: s.Trim, Transparent: p.Transparent,
	}
}
