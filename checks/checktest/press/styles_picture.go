package press

import "math"

// drawTextured prints on a picture of laid paper.
func drawTextured(d *draft) {
	m := d.who
	u := d.unit()
	d.picture(d.ground, laidPaper(m.pale))
	live := d.live()
	r := math.Min(8.6*u, live.h*.2)
	if d.upright() {
		r = live.w * .22
	}
	c := pt{live.mid().x, live.y + r + .6*u}
	d.emblem(c, r, m.brand, m.pale)
	for _, side := range []float64{-1, 1} {
		x := c.x + side*(r+2.2*u)
		reach := math.Min(live.w*.5-r-6*u, 9*u)
		d.stroke(lineTo(x, c.y, x+side*reach, c.y), .25*u, m.brand)
		d.fill(leaf(.2).mapped(moved(x+side*reach, c.y).after(affine{side * 3 * u, 0, 0, 3 * u, 0, 0})), m.brand)
	}
	words := rect{live.x, c.y + r + 1.5*u, live.w, live.bottom() - c.y - r - 1.5*u}
	lines := append([]line{d.title(14.5, m.deep.justDark()), d.motto(8, black)}, d.brief(7, black)...)
	lines[2].before = 3.5
	d.set(words, .5, .6, lines...)
}

// drawPhotographic puts a photograph beside a solid that carries the words.
func drawPhotographic(d *draft) {
	m := d.who
	u := d.unit()
	g := d.ground
	var shot, panel rect
	if d.w >= d.h {
		x := d.w * .55
		shot, panel = rect{g.x, g.y, x - g.x, g.h}, rect{x, g.y, g.right() - x, g.h}
	} else {
		y := d.h * .56
		shot, panel = rect{g.x, g.y, g.w, y - g.y}, rect{g.x, y, g.w, g.bottom() - y}
	}
	d.photograph(shot)
	d.fill(panel.path(), m.deep)
	seam := rect{panel.x, panel.y, .8 * u, panel.h}
	if d.upright() {
		seam = rect{panel.x, panel.y, panel.w, .8 * u}
	}
	d.fill(seam.path(), m.accent)
	live := d.live()
	words := rect{math.Max(live.x, panel.x+3.6*u), math.Max(live.y, panel.y+3.6*u), 0, 0}
	words.w, words.h = live.right()-words.x, live.bottom()-words.y
	lines := append([]line{d.title(11.5, paper), d.motto(6.6, m.pale)}, d.contact(6.6, paper)...)
	lines[1].before, lines[2].before = .8, 6
	d.set(words, 0, .5, lines...)
}

// drawVignette lets a photograph fade into the paper by a soft mask.
func drawVignette(d *draft) {
	m := d.who
	u := d.unit()
	d.fill(d.ground.path(), m.pale)
	shot, words := d.live().inset(.6*u).cut(.46, 4*u)
	s := m.scene(shot.w, shot.h)
	s.cover = func(x, y float64) float64 {
		ex, ey := (x/shot.w-.5)*2, (y/shot.h-.5)*2
		return smooth(1, .66, math.Hypot(ex, ey))
	}
	d.picture(shot, s)
	lines := append([]line{d.title(12.5, m.deep.justDark()), d.motto(7, black)}, d.contact(6.8, black)...)
	lines[2].before = 6
	d.set(words, d.across(), .5, lines...)
}

// drawEngraved lays a one-bit engraving of hills and sun under the words.
func drawEngraved(d *draft) {
	m := d.who
	u := d.unit()
	d.fill(d.ground.path(), m.pale)
	top := d.h * .50
	area := rect{d.ground.x, top, d.ground.w, d.ground.bottom() - top}
	k := m.deep.justDark()
	d.engrave(area, k, newEngraving(area.w, area.h).on)
	live := d.live()
	r := math.Min(7*u, d.w*.14)
	d.emblem(pt{live.x + r, live.y + r}, r, m.brand, m.pale)
	words := rect{live.x + 2*r + 3*u, live.y, live.w - 2*r - 3*u, top - live.y - 2*u}
	if d.upright() {
		words = rect{live.x, live.y + 2*r + 1.5*u, live.w, top - live.y - 2*r - 3*u}
	}
	lines := append([]line{d.title(14.5, k), d.motto(7.8, black)}, d.brief(7, black)...)
	lines[2].before = 2.4
	d.set(words, 0, 0, lines...)
}

// engraving is a wood engraving of four folded hills, w×h mm: lines that swell
// where a hill turns from the light.
type engraving struct {
	w, h float64
	tops [4][]float64 // height of each hill along the width, 0 at the top
}

func newEngraving(w, h float64) engraving {
	const steps = 1024
	e := engraving{w: w, h: h}
	for i := range e.tops {
		for n := range steps + 2 {
			u := float64(n) / steps
			f := float64(i)
			top := .16 + .19*f + .085*math.Sin(u*(5.2-f)+1.7*f) + .05*(cloud(u*3, f, 3, 5+i)-.5)
			e.tops[i] = append(e.tops[i], top)
		}
	}
	return e
}

// top is the height of hill i at u, 0 to 1 along the width.
func (e engraving) top(i int, u float64) float64 {
	at := clamp(u) * float64(len(e.tops[i])-2)
	n := int(at)
	return lerp(e.tops[i][n], e.tops[i][n+1], at-float64(n))
}

// on tells whether the block is inked at x, y.
func (e engraving) on(x, y float64) bool {
	u, v := x/e.w, y/e.h
	for i := 3; i >= 0; i-- {
		f := float64(i)
		depth := v - e.top(i, u)
		if depth < 0 {
			continue
		}
		slope := math.Cos(u*(5.2-f)+1.7*f) * .45
		shade := clamp(.34 + .42*slope + .07*f - .55*depth)
		lean := y + slope*6*math.Sin(x*.14+f) - depth*4
		pitch := .62 + .1*f
		return depth*e.h < .45 || lean/pitch-math.Floor(lean/pitch) < shade
	}
	return false
}
