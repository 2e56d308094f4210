package checks

import (
	"fmt"
	"slices"

	"stoneproof/checks/brink"
	"stoneproof/rules"
)

// EdgeBorder judges that no frame runs so near the trim, or so unevenly, that a
// small cutting error shows. A PDF's rectangles and lines are known for what
// they are; everything else is told from pixels.
var EdgeBorder = &Check{
	Rule:   "edge-border",
	Needs:  Paint,
	Placed: true,
	Side:   edgeBorder,
}

func edgeBorder(p *Pass) {
	drawn := p.drawnBorders()
	for _, b := range drawn.borders {
		if p.troubles(b) {
			p.borderShows(b, p.measuredBasis())
			return
		}
	}
	if drawn.whole {
		p.noBorder()
		return
	}
	paint, err := p.Side.Paint(p.Ctx)
	if err != nil {
		p.Skip("The side has no picture to judge: " + sentence(lowerFirst(err.Error())))
		return
	}
	margins := brink.ReadMargins(canvas(p.Side, paint))
	if b, ok := margins.Border(); ok && p.troubles(b) {
		p.borderShows(b, rules.Inferred)
		return
	}
	if p.inPixels() {
		if blind := margins.Blind(p.Ticket.Limits.BorderLeast); len(blind) > 0 {
			p.lost(blind, "whether a frame runs there", "a line was lost that was drawn")
			return
		}
	}
	p.noBorder()
}

func (p *Pass) noBorder() {
	p.Report(rules.Finding{Verdict: rules.Pass, Basis: p.measuredBasis(), Wanted: rules.AtLeastMM(p.Ticket.Limits.BorderLeast),
		Message: fmt.Sprintf("No frame runs within %s of the trim.", p.Length(p.Ticket.Limits.BorderLeast))})
}

// cutOff is the cutting error by which a frame is judged: common practice calls
// 1/16 in (1.6 mm) typical, and a millimetre good work.
const cutOff = rules.Millimetre

// onTrim is how near to the trim a ground may end to be taken for ending there:
// that it does not bleed is told by bleed-extent and bleed-fill.
const onTrim = 300 * rules.Micrometre

// troubles reports whether a cut that is a little off shows at the frame: it is
// near the trim, or is drawn uneven so that it looks like one already.
func (p *Pass) troubles(b brink.Border) bool {
	nearest := b.Nearest()
	if !nearest.Line && nearest.Distance < onTrim {
		return false
	}
	if nearest.Distance < p.Ticket.Limits.BorderLeast-safeSlack {
		return true
	}
	_, _, uneven := unevenSides(b)
	return uneven
}

// A frame that is uneven by less is told by nobody; by more, it is meant so, as
// the deeper foot of a mount is, and so is what stands far from the trim.
const (
	leastUneven = rules.Millimetre / 2
	mostUneven  = 2 * rules.Millimetre
	unevenReach = 8 * rules.Millimetre
)

// unevenSides are two opposite sides of a closed frame that look as if they were
// meant alike and are not: the nearer one first.
func unevenSides(b brink.Border) (near, far brink.BorderSide, uneven bool) {
	if len(b.Sides) < 4 {
		return near, far, false
	}
	for k := range 2 {
		near, far = b.Sides[k], b.Sides[k+2]
		if near.Distance > far.Distance {
			near, far = far, near
		}
		if by := far.Distance - near.Distance; far.Distance <= unevenReach && by >= leastUneven && by <= mostUneven {
			return near, far, true
		}
	}
	return near, far, false
}

func (p *Pass) borderShows(b brink.Border, basis rules.Basis) {
	least, nearest := p.Ticket.Limits.BorderLeast, b.Nearest()
	where := b.Box(p.Side.Trim)
	f := rules.Finding{Verdict: rules.Warn, Basis: basis, Where: &where, Edge: p.nearestAlone(b),
		Measured: rules.ValueMM(nearest.Distance), Wanted: rules.AtLeastMM(least), Also: p.borderPlaces(b)}
	what := "A frame runs"
	if !nearest.Line {
		what = "The ground changes along a frame"
	}
	f.Message = fmt.Sprintf("%s %s: %s.", what, p.distances(b), p.cutShows(b))
	if near, far, uneven := unevenSides(b); uneven {
		f.Message += fmt.Sprintf(" It is %s nearer to the trim at the %s edge than at the %s edge as it is.",
			p.About(far.Distance-near.Distance), near.Edge, far.Edge)
	}
	f.Fix = fmt.Sprintf("Draw it equally far from the trim on opposite edges, at least %s inside; %s is safer. Or leave it out.",
		p.Length(least), p.About(rules.Inch/4))
	p.Report(f)
}

// nearestAlone is the edge to look at, if it is one: where the frame is nearer to
// the trim than across, or than anywhere else.
func (p *Pass) nearestAlone(b brink.Border) rules.Edge {
	if near, _, uneven := unevenSides(b); uneven {
		return near.Edge
	}
	nearest := b.Nearest()
	for _, s := range b.Sides {
		if s.Edge != nearest.Edge && s.Distance-nearest.Distance < leastUneven {
			return ""
		}
	}
	return nearest.Edge
}

func (p *Pass) borderPlaces(b brink.Border) []rules.Place {
	var places []rules.Place
	for _, s := range b.Sides {
		places = append(places, rules.Place{What: fmt.Sprintf("its %s side", s.Edge), Measured: rules.ValueMM(s.Distance)})
	}
	return places
}

// distances tells how far the frame is from the trim, edge by edge.
func (p *Pass) distances(b brink.Border) string {
	where := make([]string, len(b.Sides))
	alike := true
	for i, s := range b.Sides {
		where[i] = string(s.Edge)
		alike = alike && p.About(s.Distance) == p.About(b.Sides[0].Distance)
	}
	switch {
	case b.Sides[0].Distance < safeSlack && alike:
		return "on the trim at the " + edges(where)
	case alike && len(where) == 4:
		return p.About(b.Sides[0].Distance) + " inside the trim on every edge"
	case alike:
		return p.About(b.Sides[0].Distance) + " inside the trim at the " + edges(where)
	}
	for i, s := range b.Sides {
		where[i] = fmt.Sprintf("%s at the %s", p.About(max(0, s.Distance)), s.Edge)
	}
	return "inside the trim by " + listed(where)
}

// edges names edges: "top edge", "left and right edges".
func edges(names []string) string {
	if len(names) == 1 {
		return names[0] + " edge"
	}
	return listed(names) + " edges"
}

// cutShows tells what a small cutting error makes of the frame, at its nearest
// side and the one across.
func (p *Pass) cutShows(b brink.Border) string {
	near := b.Nearest()
	off := p.About(cutOff)
	far, ok := b.Side(across(near.Edge))
	switch left := near.Distance - cutOff; {
	case ok && left >= safeSlack:
		return fmt.Sprintf("a cut %s off leaves %s on one side and %s on the other", off, p.About(left), p.About(far.Distance+cutOff))
	case ok:
		return fmt.Sprintf("a cut %s off takes it away on one side and leaves %s on the other", off, p.About(far.Distance+cutOff))
	case left >= safeSlack:
		return fmt.Sprintf("a cut %s off leaves %s or %s there", off, p.About(left), p.About(near.Distance+cutOff))
	}
	return fmt.Sprintf("a cut %s off takes it away or leaves %s there", off, p.About(near.Distance+cutOff))
}

// across is the opposite edge.
func across(e rules.Edge) rules.Edge { return rules.AllEdges[(edgeIndex(e)+2)%4] }

func edgeIndex(e rules.Edge) int { return slices.Index(rules.AllEdges[:], e) }
