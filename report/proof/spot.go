package proof

import (
	"image/color"
	"strconv"

	"stoneproof/rules"
)

// spot is a place to point at.
type spot struct {
	number  int
	rule    string
	verdict rules.Verdict
	box     rules.Box // in trim coordinates

	further bool // one more place of a finding, whose number stands right beside it

	frame  rect // around the place, in pixels
	shares bool // the frame is drawn for another spot of the same place
	tag    rect // with the number; zero where there was no room
	leader [2]pt
}

// mostSpots bounds what is pointed at: more tags than stand around a card in peace.
const mostSpots = 40

// spotsOf are the places of the side's findings, in the order of their numbers as far
// as that goes; further places of a finding have its number, too.
func (d *drawing) spotsOf() []spot {
	var list, further []spot
	for i, n := range rules.Numbers(d.file.Findings) {
		f := d.file.Findings[i]
		if n == 0 || f.Side != d.picture.Side {
			continue
		}
		s := spot{number: n, rule: f.Rule, verdict: f.Verdict, box: d.placeOf(f)}
		list = append(list, s)
		for _, p := range f.Also {
			if p.Where != nil {
				s.box, s.further = *p.Where, true
				further = append(further, s)
			}
		}
	}
	list = append(list, further...)
	d.over = max(0, len(list)-mostSpots)
	return list[:len(list)-d.over]
}

// placeOf is where a finding lies: what tells no more than an edge is about the bleed
// there, and if the file ends within it, about what is missing.
func (d *drawing) placeOf(f rules.Finding) rules.Box {
	if f.Where != nil {
		return *f.Where
	}
	card, want := d.card(), d.printed()
	room := d.facts.Bleed.Of(f.Edge)
	if room < 0 || room >= d.ticket.Bleed {
		room = 0
	}
	switch f.Edge {
	case rules.Top:
		return rules.Box{X: 0, Y: want.Y, W: card.W, H: -want.Y - room}
	case rules.Bottom:
		return rules.Box{X: 0, Y: card.H + room, W: card.W, H: -want.Y - room}
	case rules.Left:
		return rules.Box{X: want.X, Y: 0, W: -want.X - room, H: card.H}
	}
	return rules.Box{X: card.W + room, Y: 0, W: -want.X - room, H: card.H}
}

func (s spot) label() string { return strconv.Itoa(s.number) }

// frameMark is the frame of a verdict.
func frameMark(v rules.Verdict) mark {
	m := mark{colour: verdictColour(v), core: 3, casing: 2}
	switch v {
	case rules.Warn:
		m.dash, m.gap = 12, 8
	case rules.Skip:
		m.dash, m.gap = 3, 8
	}
	return m
}

func leaderMark(v rules.Verdict) mark { return mark{colour: verdictColour(v), core: 2, casing: 1.5} }

func verdictColour(v rules.Verdict) color.RGBA {
	switch v {
	case rules.Fail:
		return failed
	case rules.Warn:
		return warned
	}
	return ink
}

// point frames the places, and leads from each to its tag. All casings are drawn
// before all frames, and all leaders before all tags, so that none hides another.
func (d *drawing) point() {
	for _, layer := range []func(mark) mark{mark.beneath, mark.above} {
		for _, s := range d.spots {
			if !s.shares {
				d.on.outline(layer(frameMark(s.verdict)), s.frame)
			}
		}
	}
	for _, s := range d.spots {
		if s.tag != (rect{}) && !s.further {
			d.on.line(leaderMark(s.verdict), s.leader[0], s.leader[1])
			d.on.disc(paper, s.leader[1], 6)
			d.on.disc(verdictColour(s.verdict), s.leader[1], 4.5)
		}
	}
	for _, s := range d.spots {
		if s.tag != (rect{}) {
			d.drawTag(s.label(), s.verdict, s.tag)
		}
	}
}

// drawTag draws a number in its verdict's shape: square and dark for fail, round and
// light for warn, square and light for what was not judged.
func (d *drawing) drawTag(text string, v rules.Verdict, r rect) {
	const rim = 3
	colour := verdictColour(v)
	fill, letter := color.RGBA(paper), colour
	if v == rules.Fail {
		fill, letter = colour, paper
	}
	for _, layer := range []struct {
		colour color.RGBA
		by     float64
	}{{paper, 2}, {colour, 0}, {fill, -rim}} {
		if v == rules.Warn {
			d.on.pill(layer.colour, r.outset(layer.by))
		} else {
			d.on.block(layer.colour, r.outset(layer.by))
		}
	}
	c, s, drop := r.centre(), bold, 8.0
	if r.h() < smallTag+1 {
		s, drop = small, 6.5
	}
	d.write(text, pt{c.x - d.type_.width(text, s)/2, c.y + drop}, letter, s)
}
