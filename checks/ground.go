package checks

import (
	"math"

	"stoneproof/checks/art"
	"stoneproof/checks/art/pdf"
	"stoneproof/rules"
)

// share is how much of a box another covers, 0 to 1. Of a box of no height or
// width, a line, it is the share of the length.
func share(over, under pdf.Rect) float64 {
	part := over.Intersect(under)
	if part.Empty() {
		return 0
	}
	along := func(part, whole float64) float64 {
		if whole <= 0 {
			return 1
		}
		return part / whole
	}
	return along(part.W(), under.W()) * along(part.H(), under.H())
}

// beneath tells what lies right beneath a box at a place in the paint order: paper,
// one colour, or, not known, something that drawing instructions do not tell, such
// as a picture. The ground is what was painted last beneath the middle of the box, if
// that covers at least half of it; if not, the ground is made of pieces and is not
// known.
func (p *Pass) beneath(content *pdf.Content, order int, box pdf.Rect) lay {
	if p.Ctx.Err() != nil {
		return lay{} // nobody waits for the answer
	}
	g := p.areasOf(content)
	for a := range g.at(middle(box), order, g.all) {
		if share(a.Box, box) < 0.5 {
			return lay{}
		}
		return a.lay
	}
	return lay{known: true}
}

// buried reports whether a later thing covers a box, so that nothing of it is
// seen.
func (p *Pass) buried(content *pdf.Content, order int, box pdf.Rect) bool {
	if p.Ctx.Err() != nil {
		return false
	}
	g := p.areasOf(content)
	for a := range g.at(middle(box), math.MaxInt, g.solid) {
		if a.Order <= order {
			return false
		}
		if a.hides && a.Box.Contains(box, 0.01) {
			return true
		}
	}
	return false
}

func middle(r pdf.Rect) pdf.Point { return pdf.Point{X: (r.X0 + r.X1) / 2, Y: (r.Y0 + r.Y1) / 2} }

// reversed reports whether something at a box, painted as l at a place in the
// paint order, is lighter than what it stands on: its ground then closes in on
// it. Where drawing instructions do not tell the ground, the pixels around the
// box do.
func (p *Pass) reversed(content *pdf.Content, order int, box pdf.Rect, l lay) bool {
	if !l.known || p.Ctx.Err() != nil {
		return false
	}
	dark, known := 0.0, false
	if g := p.beneath(content, order, box); g.known {
		dark, known = g.dark(), true
	} else if paint, err := p.Side.Paint(p.Ctx); err == nil {
		dark, known = darkAround(paint, p.Side.Box(box))
	}
	return known && dark > l.dark()+clearlyDarker
}

// clearlyDarker is by how much a ground must be darker than what stands on it
// to count as closing in on it, of a range from paper to black.
const clearlyDarker = 0.15

// darkAround is how dark the paint is in a ring around a box: the middle value, so
// that neighbours that reach into the ring do not count.
func darkAround(paint *art.Paint, b rules.Box) (dark float64, known bool) {
	const ring = 300 * rules.Micrometre
	x0, y0, x1, y1 := paint.Bounds(b)
	outX0, outY0, outX1, outY1 := paint.Bounds(b.Inset(-ring))
	var levels [256]int
	n := 0
	count := func(y, from, to int) {
		for x := from; x < to; x++ {
			levels[int(255*darkness(paint.Pix[(y*paint.W+x)*4:])+0.5)]++
			n++
		}
	}
	for y := outY0; y < outY1; y++ {
		if y < y0 || y >= y1 {
			count(y, outX0, outX1)
			continue
		}
		count(y, outX0, x0)
		count(y, x1, outX1)
	}
	if n == 0 {
		return 0, false
	}
	seen := 0
	for level := range levels {
		if seen += levels[level]; 2*seen > n {
			return float64(level) / 255, true
		}
	}
	return 1, true
}

// darkness tells how dark a pixel of straight alpha looks on paper, 0 to 1: its
// luma (ITU-R BT.601) taken from white.
func darkness(px []byte) float64 {
	luma := 0.299*float64(px[0]) + 0.587*float64(px[1]) + 0.114*float64(px[2])
	return (255 - luma) / 255 * float64(px[3]) / 255
}
