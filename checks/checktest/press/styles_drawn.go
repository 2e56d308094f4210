package press

import "math"

// drawGradient shades an evening sky and lays drawn hills into it.
func drawGradient(d *draft) {
	m := d.who
	u := d.unit()
	g := d.ground
	warm := m.accent.mix(m.pale, .35)
	d.shade(g.path(), pt{0, g.y}, pt{0, d.h * .80}, m.deep, warm)
	sun := pt{d.w * .74, d.h * .66}
	d.fill(circle(sun.x, sun.y, 7.5*u), m.pale)
	for i := range 3 {
		f := float64(i)
		hill := path{}.to(g.x, g.bottom())
		for n := range 61 {
			x := g.x + g.w*float64(n)/60
			y := d.h*(.76+.07*f) - d.h*(.10+.02*f)*(math.Sin(x/d.w*(4.4-f)+2*f)*.6+.4*math.Sin(x/d.w*(9-2*f)+f))
			hill = hill.line(x, y)
		}
		d.clipped(g.path(), func() {
			d.fill(hill.line(g.right(), g.bottom()).close(), warm.mix(m.deep, .42+.28*f))
		})
	}
	live := d.live()
	lines := append([]line{d.title(16, paper), d.motto(8.4, paper)}, line{
		text: text{s: m.person, face: medium, size: 8, ink: paper}, before: 3})
	d.set(rect{live.x, live.y, live.w, d.h*.45 - live.y}, 0, 0, lines...)
	d.set(rect{live.x, d.h * .80, live.w, live.bottom() - d.h*.80}, 0, 1, d.brief(7, paper)...)
}

// drawStriped stretches an awning behind a label. The knife falls into the
// middle of a stripe, so a small error does not show.
func drawStriped(d *draft) {
	m := d.who
	u := d.unit()
	g := d.ground
	d.fill(g.path(), m.pale)
	n := math.Round(d.w/(5.6*u)/2) * 2
	pitch := d.w / n
	d.clipped(g.path(), func() {
		for i := -2.0; i <= n+2; i += 2 {
			d.fill(rect{(i - .5) * pitch, g.y, pitch, g.h}.path(), m.brand)
			d.fill(rect{(i+.5)*pitch + .5*u, g.y, .25 * u, g.h}.path(), m.brand)
			d.fill(rect{(i-.5)*pitch - .75*u, g.y, .25 * u, g.h}.path(), m.brand)
		}
	})
	label := rect{d.w * .14, d.h * .17, d.w * .72, d.h * .66}
	d.fill(label.inset(-.9*u).rounded(3*u), m.deep)
	d.fill(label.rounded(2.2*u), paper)
	d.stroke(label.inset(1*u).rounded(1.4*u), .22*u, m.deep)
	inner := label.inset(2.6 * u)
	r := math.Min(inner.h*.19, inner.w*.2)
	d.emblem(pt{inner.mid().x, inner.y + r}, r, m.brand, paper)
	lines := append([]line{d.title(13, m.deep.justDark()), d.motto(7, black)}, d.brief(6.4, black)...)
	lines[2].before = 2.6
	d.set(rect{inner.x, inner.y + 2*r + .6*u, inner.w, inner.h - 2*r - .6*u}, .5, .6, lines...)
}

// drawPortrait stands the card up: the mark in an arched window over a sill.
func drawPortrait(d *draft) {
	m := d.who
	u := d.unit()
	d.fill(d.ground.path(), m.deep)
	live := d.live()
	half := d.w * .27
	c := pt{d.w / 2, live.y + half + 1.5*u}
	sill := d.h * .57
	arch := path{}.to(c.x-half, sill).line(c.x-half, c.y).
		curve(c.x-half, c.y-kappa*half, c.x-kappa*half, c.y-half, c.x, c.y-half).
		curve(c.x+kappa*half, c.y-half, c.x+half, c.y-kappa*half, c.x+half, c.y).
		line(c.x+half, sill).close()
	d.stroke(arch, 2.2*u, m.brand)
	d.shade(arch, pt{0, c.y - half}, pt{0, sill}, m.pale, m.accent.mix(m.pale, .45))
	d.clipped(arch, func() {
		for i := range 3 {
			f := float64(i)
			y := sill - (9-3*f)*u
			hill := path{}.to(c.x-half, sill).line(c.x-half, y+2*u*math.Sin(f*2)).
				curve(c.x-half*.4, y-5*u+f*3*u, c.x+half*.3, y+4*u-f*2*u, c.x+half, y-2*u+f*u).line(c.x+half, sill).close()
			d.fill(hill, m.brand.mix(m.deep, .2+.3*f))
		}
	})
	r := half * .50
	d.fill(circle(c.x, c.y+r*.35, r*1.24), m.pale)
	d.emblem(pt{c.x, c.y + r*.35}, r, m.deep, m.pale)
	d.fill(rect{c.x - half - 2.4*u, sill, 2*half + 4.8*u, 1.6 * u}.path(), m.brand)
	words := rect{live.x, sill + 3.4*u, live.w, live.bottom() - sill - 3.4*u}
	lines := append([]line{d.title(13, paper), d.motto(7, m.pale)}, d.brief(6.6, paper)...)
	lines[2].before = 4
	d.set(words, .5, .5, lines...)
}

// drawPatterned scatters the mark small over the ground, off every edge.
func drawPatterned(d *draft) {
	m := d.who
	u := d.unit()
	d.fill(d.ground.path(), m.brand)
	pitch := 9.2 * math.Sqrt(u)
	tone := m.brand.mix(m.deep, .55)
	d.clipped(d.ground.path(), func() {
		for j := -2; float64(j)*pitch*.8 < d.h+2*pitch; j++ {
			for i := -2; float64(i)*pitch < d.w+2*pitch; i++ {
				x, y := (float64(i)+.5*float64(j&1))*pitch, float64(j)*pitch*.8
				turn := (hash(i, j, 5) - .5) * 1.2
				d.stamp(m.mark, moved(x, y).after(turned(turn)).after(scaled(pitch*.28)), tone, m.brand)
				d.fill(circle(x+pitch*.5, y, pitch*.045), m.pale)
			}
		}
	})
	label := rect{d.w * .15, d.h * .22, d.w * .70, d.h * .56}
	k := label.least() * .5
	if d.upright() {
		label = rect{d.w * .11, d.h * .29, d.w * .78, d.h * .42}
		k = 4 * u
	}
	d.fill(label.rounded(k), m.pale)
	d.stroke(label.inset(1.1*u).rounded(k-1.1*u), .3*u, m.brand)
	lines := append([]line{d.title(14, m.deep.justDark()), d.motto(7.2, black)}, d.brief(6.6, black)...)
	lines[2].before = 3.4
	inner := label.inset(3 * u)
	side := math.Min(k*.45, inner.w*.1)
	d.set(rect{inner.x + side, inner.y, inner.w - 2*side, inner.h}, .5, .5, lines...)
}

// drawFace is the front of a two-sided card: the mark alone on a solid.
func drawFace(d *draft) {
	m := d.who
	u := d.unit()
	d.fill(d.ground.path(), m.deep)
	c := pt{d.w / 2, d.h * .42}
	r := math.Min(d.w, d.h) * .25
	for i := range 48 {
		at := polar(r*1.16, float64(i)*2*math.Pi/48)
		d.fill(circle(c.x+at.x, c.y+at.y, .32*u), m.accent)
	}
	d.fill(circle(c.x, c.y, r), m.pale)
	d.markOrCode(c, r*.66, m.deep, m.pale)
	live := d.live()
	d.set(rect{live.x, c.y + r*1.3, live.w, live.bottom() - c.y - r*1.3}, .5, .6, d.title(15, paper))
}

// drawReverse is its back: a strip of photograph, then who and where.
func drawReverse(d *draft) {
	m := d.who
	g := d.ground
	d.fill(g.path(), m.pale)
	strip := rect{g.x, g.y, d.w*.30 - g.x, g.h}
	if d.upright() {
		strip = rect{g.x, g.y, g.w, d.h*.34 - g.y}
	}
	d.photograph(strip)
	live := d.live()
	u := d.unit()
	words := rect{strip.right() + 4*u, live.y, live.right() - strip.right() - 4*u, live.h}
	if d.upright() {
		words = rect{live.x, strip.bottom() + 4*u, live.w, live.bottom() - strip.bottom() - 4*u}
	}
	lines := append([]line{{text: text{s: m.trade, face: italic, size: 9, ink: black}}}, d.contact(7.2, black)...)
	lines[1].before = 6
	d.set(words, 0, .5, lines...)
}

// drawRays fans a sunburst out behind a medallion.
func drawRays(d *draft) {
	m := d.who
	u := d.unit()
	g := d.ground
	d.fill(g.path(), m.accent.mix(m.pale, .55))
	c := pt{d.w / 2, d.h * .36}
	far := d.w + d.h
	const n = 22
	d.clipped(g.path(), func() {
		for i := range n {
			a := (float64(i) + .25) * 2 * math.Pi / n
			from, to := polar(far, a), polar(far, a+math.Pi/n)
			d.fill(polygon(c, pt{c.x + from.x, c.y + from.y}, pt{c.x + to.x, c.y + to.y}), m.pale)
		}
	})
	r := math.Min(d.w*.24, d.h*.235)
	scallop := path{}
	const bumps = 20
	for i := range bumps {
		at := polar(r*1.08, float64(i)*2*math.Pi/bumps)
		scallop = join(scallop, circle(c.x+at.x, c.y+at.y, r*.19))
	}
	d.fill(join(scallop, circle(c.x, c.y, r*1.1)), m.deep)
	d.stroke(circle(c.x, c.y, r*.98), .3*u, m.pale)
	d.emblem(c, r*.70, m.pale, m.deep)
	y := d.h * .68
	ribbon := rect{d.ground.x, y, d.ground.w, d.ground.bottom() - y}
	d.fill(ribbon.path(), m.deep)
	d.fill(rect{ribbon.x, ribbon.y - 1.1*u, ribbon.w, .6 * u}.path(), m.deep)
	live := d.live()
	lines := append([]line{d.title(12.5, paper)}, d.brief(6.6, paper)...)
	lines[1].before = .8
	d.set(rect{live.x, y + 2.4*u, live.w, live.bottom() - y - 2.4*u}, .5, .5, lines...)
}

// drawLattice is the back of a playing card: a woven field that runs off the
// edge, alike whichever way up, round a medallion.
func drawLattice(d *draft) {
	m := d.who
	u := d.unit()
	d.fill(d.ground.path(), m.brand)
	pitch := d.w / math.Round(d.w/(5.2*math.Sqrt(u)))
	tall := d.h / math.Round(d.h/(5.2*math.Sqrt(u)))
	cell := rect{-pitch / 2, -tall / 2, pitch, tall}
	d.tile(d.ground.path(), cell, func(c canvas) { weave(c, cell, m) })
	c := pt{d.w / 2, d.h / 2}
	r := math.Min(d.w, d.h) * .27
	d.fill(circle(c.x, c.y, r*1.14), m.pale)
	d.fill(ring(c.x, c.y, r*1.06, r*.98), m.deep)
	d.fill(circle(c.x, c.y, r*.92), m.deep)
	for i := range 36 {
		at := polar(r*.83, float64(i)*math.Pi/18)
		d.fill(circle(c.x+at.x, c.y+at.y, r*.03), m.pale)
	}
	if d.faults.code == 0 {
		d.emblem(c, r*.58, m.pale, m.deep)
		return
	}
	label := r * .92 * math.Sqrt2 / 2 // light on dark would be another matter
	d.fill(rect{c.x - label, c.y - label, 2 * label, 2 * label}.path(), m.pale)
	d.markOrCode(c, label, m.deep, m.pale)
}

// weave is one cell of the lattice; its four corners match its neighbours'.
func weave(c canvas, cell rect, m maker) {
	mid := cell.mid()
	line := .07 * cell.w
	c.stroke(polygon(pt{mid.x, cell.y}, pt{cell.right(), mid.y}, pt{mid.x, cell.bottom()}, pt{cell.x, mid.y}), line*1.6, m.pale)
	c.stroke(polygon(pt{mid.x, cell.y}, pt{cell.right(), mid.y}, pt{mid.x, cell.bottom()}, pt{cell.x, mid.y}), line*.55, m.deep)
	for i := range 4 {
		at := moved(mid.x, mid.y).after(turned(float64(i) * math.Pi / 2)).after(scaled(cell.w * .27))
		c.fill(leaf(.3).mapped(at), m.pale)
	}
	c.fill(circle(mid.x, mid.y, cell.w*.07), m.deep)
	for _, p := range []pt{{cell.x, cell.y}, {cell.right(), cell.y}, {cell.right(), cell.bottom()}, {cell.x, cell.bottom()}} {
		c.fill(circle(p.x, p.y, cell.w*.12), m.pale)
		c.fill(circle(p.x, p.y, cell.w*.06), m.deep)
	}
}
