package proof

import (
	"math"

	"stoneproof/rules"
)

// ruling is how a ruler is divided: the steps that ticks and figures may have, in
// micrometres, from the finest up.
type ruling struct{ ticks, figures []float64 }

func rulingIn(u rules.Unit) ruling {
	const mm, in, pt = float64(rules.Millimetre), float64(rules.Inch), float64(rules.Inch) / 72
	switch u {
	case rules.UnitIn:
		return ruling{[]float64{in / 16, in / 8, in / 4, in / 2, in}, []float64{in / 4, in / 2, in, 2 * in}}
	case rules.UnitPt:
		return ruling{[]float64{3 * pt, 6 * pt, 12 * pt, 36 * pt, 72 * pt}, []float64{12 * pt, 36 * pt, 72 * pt, 144 * pt}}
	}
	return ruling{[]float64{mm, 5 * mm, 10 * mm, 50 * mm}, []float64{5 * mm, 10 * mm, 20 * mm, 50 * mm}}
}

// step is the finest of the steps that takes least pixels, or ten times the coarsest
// as often as it needs.
func step(steps []float64, k, least float64) float64 {
	for _, s := range steps {
		if s*k >= least {
			return s
		}
	}
	s := steps[len(steps)-1]
	for s*k < least {
		s *= 10
	}
	return s
}

// rulers draws one above and one to the left, from the corner of the trim. Where the
// trim is not known, what a pixel measures may be no more than a guess.
func (d *drawing) rulers() {
	u := d.ticket.Unit
	if u == "" {
		u = rules.UnitMM
	}
	v, r := d.view, rulingIn(u)
	fine, coarse := step(r.ticks, v.k, 5), step(r.figures, v.k, 66)
	for _, l := range marksOn(v.box.X, v.box.Right(), fine) {
		x := v.X(l)
		tall := d.tickHeight(l, coarse)
		d.on.stroke(ink, pt{x, rulerAbove}, pt{x, rulerAbove - tall}, 1.5)
		if tall == tallTick {
			text := l.Number(u)
			d.write(text, pt{x - d.type_.width(text, small)/2, rulerAbove - tallTick - 5}, ink, small)
		}
	}
	left := d.rulerX()
	for _, l := range marksOn(v.box.Y, v.box.Bottom(), fine) {
		y := v.Y(l)
		tall := d.tickHeight(l, coarse)
		d.on.stroke(ink, pt{left, y}, pt{left - tall, y}, 1.5)
		if tall == tallTick {
			text := l.Number(u)
			d.write(text, pt{left - tallTick - 5 - d.type_.width(text, small), y + 6}, ink, small)
		}
	}
	d.on.stroke(ink, pt{v.X(v.box.X), rulerAbove}, pt{v.X(v.box.Right()), rulerAbove}, 1.5)
	d.on.stroke(ink, pt{left, v.Y(v.box.Y)}, pt{left, v.Y(v.box.Bottom())}, 1.5)
	d.write(string(u), pt{left - tallTick - 20, rulerAbove - 8}, ink, bold)
	d.trimOnRulers(left)
}

// rulerX is the right edge of the ruler on the left.
func (d *drawing) rulerX() float64 { return d.view.x - d.view.room.x0 }

const (
	tallTick  = 14.0
	shortTick = 7.0
)

func (d *drawing) tickHeight(l rules.Length, coarse float64) float64 {
	if n := float64(l) / coarse; math.Abs(n-math.Round(n))*coarse < 1 {
		return tallTick
	}
	return shortTick
}

// mostTicks bounds what a ruler of any length costs.
const mostTicks = 2000

// marksOn are the places on a ruler, multiples of a step.
func marksOn(from, to rules.Length, step float64) []rules.Length {
	var list []rules.Length
	for n := math.Ceil(float64(from) / step); n*step <= float64(to) && len(list) < mostTicks; n++ {
		list = append(list, rules.Length(math.Round(n*step)))
	}
	return list
}

// trimOnRulers marks the trim's edges with wedges that point at them.
func (d *drawing) trimOnRulers(left float64) {
	const half, tall = 6, 11
	card := d.view.rect(d.card())
	for _, x := range []float64{card.x0, card.x1} {
		d.on.shape(ink, []pt{{x, rulerAbove + tall}, {x - half, rulerAbove}, {x + half, rulerAbove}})
	}
	for _, y := range []float64{card.y0, card.y1} {
		d.on.shape(ink, []pt{{left + tall, y}, {left, y + half}, {left, y - half}})
	}
}
