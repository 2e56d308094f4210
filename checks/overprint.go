package checks

import (
	"fmt"
	"math"
	"slices"

	"stoneproof/checks/art/pdf"
	"stoneproof/rules"
)

// Overprint judges that nothing vanishes, or changes its colour, by being set to
// overprint.
var Overprint = &Check{
	Rule:  "overprint",
	Needs: Items,
	Side:  overprint,
}

func overprint(p *Pass) {
	if p.nothingIn("overprint") {
		return
	}
	content, ok := p.content()
	if !ok {
		return
	}
	var vanish, darken, mix, knock []mark
	for _, m := range p.marks(content) {
		switch p.lands(content, m) {
		case vanishes:
			vanish = append(vanish, m)
		case darkens:
			darken = append(darken, m)
		case mixes:
			mix = append(mix, m)
		case knocksOut:
			knock = append(knock, m)
		}
	}
	p.reportLost(vanish, rules.Fail, "set to overprint: ink is neither added nor left out, so in print nothing of it is there")
	p.reportLost(darken, rules.Warn, "set to overprint a darker ground: the inks mix, and it prints about as dark as the ground")
	if len(vanish)+len(darken) == 0 {
		p.overprintsWell(mix, knock)
	}
}

// landing is what becomes of a mark on its ground.
type landing int

const (
	plainly   landing = iota
	vanishes          // it leaves the ground as it is
	darkens           // it is light, and turns about as dark as its ground
	mixes             // its colour changes, and it stays to be seen
	knocksOut         // it is black, and the ground's inks are left out beneath it
)

// changeSeen is by how much of its light, in red, green or blue, a colour must
// change before it is told.
const changeSeen = 0.15

func (p *Pass) lands(content *pdf.Content, m mark) landing {
	l := layOf(m.colour())
	if !l.known || l.all {
		return plainly
	}
	g := p.beneath(content, m.Order, m.Box)
	switch {
	case !m.overprints():
		return m.knocks(l, g)
	case p.buried(content, m.Order, m.Box):
		return plainly
	case !g.known:
		return p.landsOnPicture(m, l)
	case g.same(l):
		return plainly // nothing is lost
	}
	out := overprinted(m.colour(), m.OverprintMode, g)
	switch {
	case out.same(g):
		return vanishes
	case out.same(l):
		return m.knocks(l, g) // in this space overprint changes nothing
	case len(l.spots) > 0:
		return plainly // metal and varnish are meant to lie on other inks
	case g.dark() > l.dark()+clearlyDarker && out.dark() > l.dark()+clearlyDarker:
		return darkens
	case apart(out, l) > changeSeen:
		return mixes
	}
	return plainly
}

// landsOnPicture judges a mark on a ground of which the pixels alone tell, and no
// more than how dark it is. A mark that adds no ink at all vanishes on any ground;
// on paper there is nothing to vanish from.
func (p *Pass) landsOnPicture(m mark, l lay) landing {
	adds := overprinted(m.colour(), m.OverprintMode, lay{known: true, cmyk: [4]float64{1, 1, 1, 1}})
	if !l.paper() || adds.dark() < 1 {
		return plainly
	}
	if paint, err := p.Side.Paint(p.Ctx); err == nil {
		if dark, known := darkAround(paint, p.Side.Box(m.Box)); known && dark > clearlyDarker {
			return vanishes
		}
	}
	return plainly
}

// knocks tells letters in black ink alone that leave out the inks of their ground:
// where the plates shift, paper shows beside them.
func (m mark) knocks(l, g lay) landing {
	colours := g
	colours.cmyk[3] = 0
	black := m.text != nil && l.known && !l.estimated && len(l.inks()) == 1 && l.cmyk[3] > 0.9
	if black && g.known && !g.estimated && len(colours.inksFrom(knockTint)) > 0 {
		return knocksOut
	}
	return plainly
}

// knockTint is the least tint of a ground beside which a line of bare paper is seen.
const knockTint = 0.2

// apart is how far two colours lie apart, in the light of red, green or blue.
func apart(a, b lay) float64 {
	most := 0.0
	la, lb := a.light(), b.light()
	for i := range la {
		most = max(most, math.Abs(la[i]-lb[i]))
	}
	return most
}

// reportLost reports on marks that fare ill, and names one: words before shapes.
func (p *Pass) reportLost(marks []mark, v rules.Verdict, how string) {
	list := p.tell(marks)
	if len(list) == 0 {
		return
	}
	at := max(0, slices.IndexFunc(list, func(t told) bool { return t.noun == "" }))
	first := list[at]
	colour := "white"
	if l := layOf(first.marks[0].colour()); !l.paper() {
		colour = l.String()
	}
	f := rules.Finding{
		Verdict: v, Basis: rules.Read, Where: &first.box, Measured: rules.Named("overprint, " + colour),
		Message: fmt.Sprintf("%s %s, in %s, %s %s.", upperFirst(first.String()), p.place(first.box), colour, first.is(), how),
		Fix:     "Switch overprint off for it.",
		Also:    also(slices.Concat(list[:at], list[at+1:])),
	}
	if n := len(list); n > 1 {
		f.Message += fmt.Sprintf(" It is one of %d such places.", n)
		f.Fix = "Switch overprint off for each of them."
	}
	p.Report(f)
}

// overprintsWell passes the side, and tells what is worth a look.
func (p *Pass) overprintsWell(mix, knock []mark) {
	f := rules.Finding{Verdict: rules.Pass, Basis: rules.Read, Message: "Nothing is lost by overprinting."}
	tell := func(marks []mark, how string) {
		if list := p.tell(marks); len(list) > 0 {
			f.Message += fmt.Sprintf(" %s %s %s %s", upperFirst(list[0].String()), p.place(list[0].box), list[0].is(), how)
			f.Also = append(f.Also, also(list[1:])...)
		}
	}
	tell(mix, "set to overprint, and the colour changes with the ground. If that is not meant, switch overprint off.")
	tell(knock, "black, and the ground is left out beneath: a hair of paper may show, which overprint in black ink prevents.")
	p.Report(f)
}
