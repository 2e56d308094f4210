package press

import (
	"math"

	"stoneproof/rules"
)

// Bordered draws a frame over the card, each side so far inside the trim, in paper
// white or in the maker's deep colour; a side that is nowhere is left out.
func Bordered(at map[rules.Edge]float64, weight float64, white bool) Option {
	return func(o *settings) { o.border = &border{at, weight, white} }
}

// Crosses draws register crosses in the bleed at the middles of the edges, and
// ColourBar patches of the four inks in the bleed at the foot.
func Crosses() Option   { return func(o *settings) { o.crosses = true } }
func ColourBar() Option { return func(o *settings) { o.bar = true } }

// CodeInk draws the code in so much black, 0 to 1, and CodeBoxed a box around it, so
// many modules off.
func CodeInk(k float64) Option         { return func(o *settings) { o.codeInk = k } }
func CodeBoxed(modules float64) Option { return func(o *settings) { o.codeBox = modules } }

// adornments are things drawn over a finished card.
type adornments struct {
	border       *border
	crosses, bar bool
	codeInk      float64 // 0: full
	codeBox      float64 // modules; 0: none
}

type border struct {
	at     map[rules.Edge]float64
	weight float64
	white  bool
}

// adorn draws them.
func (d *draft) adorn() {
	a := d.faults.adornments
	if a.border != nil {
		d.border(*a.border)
	}
	bleed := d.faults.reach
	if a.crosses {
		top, left := bleed.Top.MM()/2, bleed.Left.MM()/2
		for _, c := range []pt{{d.w / 2, -top}, {d.w / 2, d.h + top}, {-left, d.h / 2}, {d.w + left, d.h / 2}} {
			d.cross(c, .85*math.Min(top, left))
		}
	}
	if a.bar {
		const side = 4
		for k, i := range []ink{{c: 1}, {m: 1}, {y: 1}, {k: 1}} {
			d.fill(rect{d.w/2 + side*float64(k), d.h + .4, side, bleed.Bottom.MM() - .4}.path(), i)
		}
	}
}

// border draws a frame's sides as bars that meet at the corners; a side that is left
// out leaves its corners open.
func (d *draft) border(b border) {
	k := d.who.deep
	if b.white {
		k = paper
	}
	for _, e := range rules.AllEdges {
		at, ok := b.at[e]
		if !ok {
			continue
		}
		inset := func(e rules.Edge) float64 {
			if v, ok := b.at[e]; ok {
				return v
			}
			return at
		}
		x, y := inset(rules.Left), inset(rules.Top)
		bar := map[rules.Edge]rect{
			rules.Top:    {x, at, d.w - x - inset(rules.Right), b.weight},
			rules.Bottom: {x, d.h - at - b.weight, d.w - x - inset(rules.Right), b.weight},
			rules.Left:   {at, y, b.weight, d.h - y - inset(rules.Bottom)},
			rules.Right:  {d.w - at - b.weight, y, b.weight, d.h - y - inset(rules.Bottom)},
		}[e]
		d.fill(bar.path(), k)
	}
}

// cross draws a register cross: two lines and a ring, reaching r from c.
func (d *draft) cross(c pt, r float64) {
	const weight = .1
	d.stroke(lineTo(c.x-r, c.y, c.x+r, c.y), weight, black)
	d.stroke(lineTo(c.x, c.y-r, c.x, c.y+r), weight, black)
	d.stroke(circle(c.x, c.y, r*.6), weight, black)
}

// markOrCode stamps the maker's mark in the disc of radius r about c, or draws the
// code there if there is to be one.
func (d *draft) markOrCode(c pt, r float64, k, ground ink) {
	side := d.faults.code
	if side == 0 {
		d.emblem(c, r, k, ground)
		return
	}
	if tint := d.faults.codeInk; tint > 0 {
		k = ink{k: tint}
	}
	d.code(c, side, k)
	if off := d.faults.codeBox; off > 0 {
		module := side / codeModules
		out := side/2 + off*module + .1
		d.stroke(rect{c.x - out, c.y - out, 2 * out, 2 * out}.path(), .2, k)
	}
}
