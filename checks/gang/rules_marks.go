package gang

import (
	"fmt"
	"slices"

	"stoneproof/rules"
)

// marks judges the cutting marks: one at each end of each cut, in its true place, none
// on a card or in its bleed, and the cards between them.
func (j *judge) marks(rule string) {
	for i, f := range j.faces {
		if !f.marked {
			j.add(rules.Finding{Rule: rule, Verdict: rules.Fail, Side: f.number, Basis: rules.Measured,
				Message: "No cutting marks were found that stand around the cards: there is nothing to lay the rule on.",
				Fix:     "Draw a hairline of 5 mm at both ends of every cut, outside the bleed."})
			continue
		}
		j.present(rule, f)
		j.cardBetween(rule, f)
		if f.picture == nil { // in pixels a line on a card may always be its art
			j.onCards(rule, f, j.groups[i])
		}
		j.heavy(rule, f)
		for _, g := range j.groups[i] {
			j.offMarks(rule, f, g)
		}
	}
	j.pass(rule, "A mark stands at both ends of every cut, off the cards and their bleed.")
}

// outside lists the marks that touch no card.
func (f *face) outside() []mark {
	touching := map[mark]bool{}
	for _, c := range f.cells {
		for _, m := range c.strokes {
			touching[m] = true
		}
	}
	var out []mark
	for _, m := range f.cuts {
		if !touching[m] {
			out = append(out, m)
		}
	}
	return out
}

// cutMarks lists those of them that stand on the line of a cut.
func (f *face) cutMarks() []mark {
	columns, rows := f.spans()
	lines := map[bool][]rules.Length{true: distinct(columns), false: distinct(rows)}
	return slices.DeleteFunc(f.outside(), func(m mark) bool {
		return !slices.ContainsFunc(lines[m.upright], func(at rules.Length) bool { return (m.at - at).Abs() <= f.place() })
	})
}

// spans lists the columns and rows of the cells.
func (f *face) spans() (columns, rows []span) {
	for _, c := range f.cells {
		if c.row == 0 {
			columns = append(columns, span{c.trim.X, c.trim.Right()})
		}
		if c.column == 0 {
			rows = append(rows, span{c.trim.Y, c.trim.Bottom()})
		}
	}
	return columns, rows
}

// present wants a mark at both ends of each cut; one that stands near but off its line
// is told with how far.
func (j *judge) present(rule string, f *face) {
	columns, rows := f.spans()
	for _, way := range []struct {
		upright       bool
		across, along []span
		ends          [2]string
	}{{true, columns, rows, [2]string{"top", "bottom"}}, {false, rows, columns, [2]string{"left", "right"}}} {
		block := span{way.along[0].from, way.along[len(way.along)-1].to}
		for _, at := range distinct(way.across) {
			const near = 2 * rules.Millimetre
			before, behind := f.atEnds(way.upright, at, block, near)
			for i, m := range []*mark{before, behind} {
				j.end(rule, f, way.upright, at, way.ends[i], m)
			}
		}
	}
}

func (j *judge) end(rule string, f *face, upright bool, at rules.Length, end string, m *mark) {
	from := "from the top"
	if upright {
		from = "from the left"
	}
	switch {
	case m == nil:
		j.add(rules.Finding{Rule: rule, Verdict: rules.Fail, Side: f.number, Basis: rules.Measured,
			Message: fmt.Sprintf("The cut at %s %s has no mark at its %s end.", j.in(at), from, end),
			Fix:     fmt.Sprintf("Add a hairline there, at %s %s, outside the bleed.", j.in(at), from)})
	case (m.at - at).Abs() > f.place():
		j.add(rules.Finding{Rule: rule, Verdict: rules.Fail, Side: f.number, Where: where(m.box()), Basis: rules.Measured,
			Measured: rules.ValueMM((m.at - at).Abs()), Wanted: rules.AtMost(f.place().MM(), "mm"),
			Message: fmt.Sprintf("The mark at the %s end of the cut at %s %s is %s off: the rule would lie askew.", end, j.in(at), from, j.in((m.at - at).Abs())),
			Fix:     fmt.Sprintf("Move it to %s %s.", j.in(at), from)})
	}
}

// cardBetween wants the marks a card's size apart.
func (j *judge) cardBetween(rule string, f *face) {
	for _, c := range f.cells {
		want := j.want.Ticket.Trim
		if c.trim.W > c.trim.H != want.Landscape() && want.W != want.H {
			want = want.Turned()
		}
		off := max((c.trim.W - want.W).Abs(), (c.trim.H - want.H).Abs())
		if off <= f.place() {
			continue
		}
		got := rules.Size{W: c.trim.W, H: c.trim.H}
		j.add(rules.Finding{Rule: rule, Verdict: rules.Fail, Side: f.number, Where: where(c.trim), Basis: rules.Measured,
			Measured: rules.ValuesMM(got), Wanted: rules.ValuesMM(want),
			Message: fmt.Sprintf("The marks around %s cut it to %s; the card is %s.", lower(f.nth(c)), got.In(j.unit), want.In(j.unit)),
			Fix:     "Set the marks to the card's size."})
		return
	}
}

// onCards blames short lines on a card that are not part of its art: they come in from
// outside along a cut, or the other cards of the design do not have them. Marks inside
// the art of every card are judged by marks-in-art.
func (j *judge) onCards(rule string, f *face, groups []group) {
	for _, c := range f.cells {
		for _, m := range c.strokes {
			if f.isArt(c, m, groups, j.want.Ticket.Bleed) {
				continue
			}
			place := "the bleed of " + lower(f.nth(c))
			if m.touches(c.trim) {
				place = lower(f.nth(c))
			}
			j.add(rules.Finding{Rule: rule, Verdict: rules.Fail, Side: f.number, Where: where(m.box()), Basis: rules.Measured,
				Message: fmt.Sprintf("A mark lies on %s: where the knife strays it stays on the finished card.", place),
				Fix:     fmt.Sprintf("Begin marks %s outside the trim.", j.want.Ticket.Bleed.In(j.unit))})
			break // one a card
		}
	}
}

// busy is how many short lines make a card's art of them, without comparing each.
const busy = 400

func (f *face) isArt(c *cell, m mark, groups []group, bleed rules.Length) bool {
	const slack = 50 * rules.Micrometre
	if c.onCutLine(m, f.limits.MarkPlace) && !m.box().Within(c.zone(bleed).Inset(-slack)) {
		return false // it comes in from outside
	}
	if len(c.strokes) > busy {
		return true
	}
	for _, g := range groups {
		i := slices.Index(g.cells, c)
		if i < 0 {
			continue
		}
		for k, other := range g.cells {
			if other != c && !other.has(c, m, f.limits.MarkPlace, g.fits[k], g.fits[i]) {
				return false
			}
		}
	}
	return true
}

// onCutLine reports whether a mark outside the trim points along one of its edges.
func (c *cell) onCutLine(m mark, place rules.Length) bool {
	near, far := c.trim.Y, c.trim.Bottom()
	lo, hi := c.trim.X, c.trim.Right()
	if m.upright {
		near, far, lo, hi = c.trim.X, c.trim.Right(), c.trim.Y, c.trim.Bottom()
	}
	middle := (m.from + m.to) / 2
	return min((m.at-near).Abs(), (m.at-far).Abs()) <= place && (middle < lo || middle > hi)
}

// has reports whether the cell has the short line that another cell of its design has,
// as near as place.
func (c *cell) has(other *cell, m mark, place rules.Length, here, there fit) bool {
	co, cc := centre(other.trim), centre(c.trim)
	at := centre(m.box())
	p := spin(point{at.x - co.x - there.dx, at.y - co.y - there.dy}, ((here.turn-there.turn)%360+360)%360)
	want := point{p.x/there.scale*here.scale + here.dx + cc.x, p.y/there.scale*here.scale + here.dy + cc.y}
	return slices.ContainsFunc(c.strokes, func(n mark) bool {
		return apart(centre(n.box()), want) <= float64(place)*float64(place)
	})
}

// place is how far off something may be: in a picture a pixel and a half, if that is
// more, for both of its ends are rounded.
func (f *face) place() rules.Length {
	if f.picture == nil {
		return f.limits.MarkPlace
	}
	return max(f.limits.MarkPlace, rules.Length(1.5*f.picture.um))
}

// blur is how much thicker than it is a line may look: a pixel and the rest of one.
func (f *face) blur() float64 {
	if f.picture == nil {
		return .01
	}
	return 2 * rules.Length(f.picture.um).Points()
}

func (j *judge) heavy(rule string, f *face) {
	for _, m := range f.cutMarks() {
		if m.points > f.limits.MarkWeightMost+f.blur() {
			j.add(rules.Finding{Rule: rule, Verdict: rules.Warn, Side: f.number, Where: where(m.box()), Basis: rules.Measured,
				Measured: rules.Value(m.points, "pt"), Wanted: rules.AtMost(f.limits.MarkWeightMost, "pt"),
				Message: fmt.Sprintf("A mark is %.2f pt thick: nobody knows on which side of it to cut.", m.points),
				Fix:     "Draw marks as hairlines of 0.25 to 0.5 pt."})
			return
		}
	}
}

// offMarks blames a card that lies otherwise between its marks than the rest.
func (j *judge) offMarks(rule string, f *face, g group) {
	usual := g.usual()
	for i, c := range g.cells {
		fit := g.fits[i]
		if d := fit.scale / usual.scale; d < 1-scaleSlack || d > 1+scaleSlack {
			continue // told by its scale
		}
		right, down := rules.Length(fit.dx-usual.dx), rules.Length(fit.dy-usual.dy)
		off := max(right.Abs(), down.Abs())
		if off <= f.place() {
			continue
		}
		j.add(rules.Finding{Rule: rule, Verdict: rules.Fail, Side: f.number, Where: where(c.trim), Basis: rules.Measured,
			Measured: rules.ValueMM(off), Wanted: rules.AtMost(f.place().MM(), "mm"),
			Message: fmt.Sprintf("%s lies %s off the place that the others have between their marks (%s).", f.nth(c), j.in(off), j.way(right, down)),
			Fix:     "Move it back: every card must lie alike between its marks."})
	}
}

func (j *judge) way(right, down rules.Length) string {
	words := ""
	add := func(l rules.Length, ahead, behind string) {
		if l.Abs() < gapSlack/2 {
			return
		}
		if words != "" {
			words += ", "
		}
		if l > 0 {
			words += j.in(l) + " " + ahead
		} else {
			words += j.in(-l) + " " + behind
		}
	}
	add(right, "to the right", "to the left")
	add(down, "down", "up")
	return words
}
