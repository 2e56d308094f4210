package press

import "math"

// drawDark sets pale type on one deep solid, the mark in a ring.
func drawDark(d *draft) {
	m := d.who
	d.fill(d.ground.path(), m.deep)
	mark, words := d.live().cut(.36, 3.5*d.unit())
	r := mark.least() / 2
	c := mark.mid()
	d.fill(ring(c.x, c.y, r, r-.35*d.unit()), m.brand)
	d.fill(circle(c.x, c.y, r-1.1*d.unit()), m.brand)
	d.emblem(c, r*.60, paper, m.brand)
	lines := append([]line{d.title(15, paper), d.motto(8.4, m.pale)}, d.contact(7.2, paper)...)
	lines[2].before = 8
	d.set(words, d.across(), .5, lines...)
}

// drawLight sets deep type on a tint above a coloured foot.
func drawLight(d *draft) {
	m := d.who
	u := d.unit()
	d.fill(d.ground.path(), m.pale)
	foot := d.h * .27
	band := rect{d.ground.x, d.h - foot, d.ground.w, d.ground.bottom() - d.h + foot}
	d.fill(band.path(), m.brand)
	d.fill(rect{band.x, band.y - .9*u, band.w, .5 * u}.path(), m.accent)
	live := d.live()
	r := math.Min(9.5*u, d.w*.18)
	head := rect{live.x, live.y, live.w - 2*r - 2*u, d.h - foot - live.y - 2.4*u}
	if d.upright() {
		head = rect{live.x, live.y + 2*r + 3*u, live.w, head.bottom() - live.y - 2*r - 3*u}
	}
	d.emblem(pt{live.right() - r, live.y + r}, r, m.deep, m.pale)
	d.set(head, 0, .05, d.title(15.5, m.deep.justDark()), line{text: text{s: m.trade, face: italic, size: 8, ink: black}, before: 1.5})
	d.set(rect{live.x, head.bottom() - 9*u, live.w, 9 * u}, 0, 1,
		line{text: text{s: m.person, face: medium, size: 8, ink: black}},
		line{text: text{s: m.mail, face: roman, size: 7, ink: black}, before: .4})
	k := paper
	if !m.brand.isDark() {
		k = black
	}
	d.set(rect{live.x, band.y + 1.6*u, live.w, live.bottom() - band.y - 1.6*u}, 0, .6, d.brief(7.4, k)...)
}

// justDark keeps large type to few inks that print dark.
func (a ink) justDark() ink { return a.capped(2) }

// drawFramed draws a double frame no nearer than 6.6 mm to the knife: a small
// error of cutting does not show on it.
func drawFramed(d *draft) {
	m := d.who
	u := math.Sqrt(math.Max(1, d.unit()))
	d.fill(d.ground.path(), m.pale)
	outer := d.trim().inset(6.6 * u)
	inner := outer.inset(1.1 * u)
	if d.faults.frame > 0 {
		outer = d.trim().inset(d.faults.frame)
	}
	d.stroke(outer.path(), .45*u, m.brand)
	d.stroke(inner.path(), .2*u, m.brand)
	for _, c := range []pt{{inner.x, inner.y}, {inner.right(), inner.y}, {inner.right(), inner.bottom()}, {inner.x, inner.bottom()}} {
		d.fill(circle(c.x, c.y, 2.1*u), m.pale)
		for i := range 4 {
			a := math.Pi/4 + float64(i)*math.Pi/2
			d.fill(leaf(.28).mapped(moved(c.x, c.y).after(turned(a)).after(scaled(1.75*u))), m.brand)
		}
		d.fill(circle(c.x, c.y, .35*u), m.accent)
	}
	live := inner.inset(2.2 * u)
	r := math.Min(live.h*.17, live.w*.26)
	d.emblem(pt{live.mid().x, live.y + r}, r, m.deep.justDark(), m.pale)
	words := rect{live.x, live.y + 2*r + 1.2*u, live.w, live.h - 2*r - 1.2*u}
	lines := append([]line{d.title(14, m.deep.justDark()), d.motto(7.8, black)}, d.brief(6.8, black)...)
	lines[2].before = 4
	d.set(words, .5, .6, lines...)
}

// drawWhite leaves the edge bare: there is nothing to bleed.
func drawWhite(d *draft) {
	m := d.who
	u := d.unit()
	live := d.live().inset(.8 * u)
	r := math.Min(8.5*u, d.w*.15)
	d.emblem(pt{live.x + r, live.y + r}, r, m.brand, paper)
	head := rect{live.x + 2*r + 3*u, live.y, live.w - 2*r - 3*u, 2 * r}
	foot := 15.5 * u
	if d.upright() {
		head, foot = rect{live.x, live.y + 2*r + 3*u, live.w, 16 * u}, 26*u
	}
	d.set(head, 0, .5, d.title(16, m.deep.justDark()), d.motto(8, black))
	y := live.bottom() - foot
	d.rule(live.x, y-1.4*u, live.w, .25*u, m.brand)
	d.fill(circle(live.x+live.w/2, y-1.4*u, .8*u), paper)
	d.fill(circle(live.x+live.w/2, y-1.4*u, .45*u), m.accent)
	lines := d.contact(7.2, black)
	if d.upright() {
		d.set(rect{live.x, y, live.w, foot}, 0, 1, lines...)
		return
	}
	lines[3].before = 0
	d.set(rect{live.x, y, live.w / 2, foot}, 0, 1, lines[:3]...)
	web := line{text{s: m.web, face: roman, size: 7.2, track: .1, ink: black}, .3}
	d.set(rect{live.x + live.w/2, y, live.w / 2, foot}, 1, 1, append(lines[3:], web)...)
}

// drawBroadside sets a playbill in black alone.
func drawBroadside(d *draft) {
	m := d.who
	u := d.unit()
	top := rect{d.ground.x, d.ground.y, d.ground.w, d.h*.42 - d.ground.y}
	d.fill(top.path(), black)
	live := d.live()
	d.set(rect{live.x, live.y, live.w, d.h*.42 - live.y - 2.2*u}, .5, .5,
		line{text: text{s: m.name, face: bold, size: 19, ink: paper}})
	y := d.h*.42 + 1.5*u
	d.rule(live.x, y, live.w, .9*u, black)
	d.rule(live.x, y+1.2*u, live.w, .25*u, black)
	words := rect{live.x, y + 3*u, live.w, live.bottom() - y - 3*u}
	lines := []line{
		{text: text{s: m.trade, face: italic, size: 10.5, ink: black}},
		{text: text{s: m.person + "  ·  " + m.street, face: medium, size: 7.6, track: .2, ink: black}, before: 3},
		{text: text{s: m.town, face: caps, size: 8.4, track: .8, ink: black}, before: .8},
		{text: text{s: m.phone, face: bold, size: 9, track: .5, ink: black}, before: 1.8},
	}
	d.set(words, .5, .5, lines...)
	if d.w/d.h > 1.3 {
		r := 5.2 * u
		left, right := pt{live.x + r, words.bottom() - r}, pt{live.right() - r, words.bottom() - r}
		d.emblem(left, r, black, paper)
		d.markOrCode(right, r, black, paper)
	}
}
