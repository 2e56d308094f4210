package brink

import "stoneproof/rules"

// boxOf turns a rectangle of field pixels into trim coordinates.
func (f *field) boxOf(x0, y0, x1, y1 int) rules.Box {
	x, y := float64(f.c.X)+float64(x0)*f.px, float64(f.c.Y)+float64(y0)*f.py
	return rules.Box{X: length(x), Y: length(y),
		W: length(float64(x1-x0) * f.px), H: length(float64(y1-y0) * f.py)}
}

func (f *field) box(g *group) rules.Box { return f.boxOf(g.x0, g.y0, g.x1, g.y1) }

// refine finds the group's bounds on the canvas itself, where its ink has half
// of its contrast.
func (f *field) refine(g *group) rules.Box {
	x0, x1 := f.refineSpan(g, g.across(), false)
	y0, y1 := f.refineSpan(g, g.down(), true)
	c := f.c
	at := func(v, origin, px float64) rules.Length { return length(origin + v*px) }
	left, right := at(x0, float64(c.X), c.PxW), at(x1, float64(c.X), c.PxW)
	top, bottom := at(y0, float64(c.Y), c.PxH), at(y1, float64(c.Y), c.PxH)
	return rules.Box{X: left, Y: top, W: right - left, H: bottom - top}
}

// refineSpan is the group's extent along one axis in canvas pixels.
func (f *field) refineSpan(g *group, s span, down bool) (from, to float64) {
	low := f.edgeOf(g, s.from, s.to, down)
	high := f.edgeOf(g, s.to-1, s.from-1, down)
	return float64(low), float64(high + 1)
}

// edgeOf is the first canvas row (or column) from field row start toward stop
// that holds half of the contrast of the blob that reaches farthest there. It
// starts a field pixel outside, for what reducing made too faint.
func (f *field) edgeOf(g *group, start, stop int, down bool) int {
	step, first, fallback := 1, (start-1)*f.k, start*f.k
	if stop < start {
		step, first, fallback = -1, (start+2)*f.k-1, (start+1)*f.k-1
	}
	for n := range 4 * f.k {
		at := first + step*n
		for k := range g.blobs {
			if f.inkOnLine(&g.blobs[k], at, down) {
				return at
			}
		}
	}
	return fallback
}

// inkOnLine reports whether the blob has ink on a row (or column) of the canvas.
func (f *field) inkOnLine(b *blob, at int, down bool) bool {
	c := f.c
	across, along := span{b.y0, b.y1}, span{b.x0, b.x1}
	if !down {
		across, along = along, across
	}
	if at < (across.from-1)*f.k || at >= (across.to+1)*f.k {
		return false
	}
	for v := along.from * f.k; v < along.to*f.k; v++ {
		x, y := v, at
		if !down {
			x, y = at, v
		}
		if x >= 0 && y >= 0 && x < c.W && y < c.H && 2*c.apart(x, y, b.under) >= b.contrast {
			return true
		}
	}
	return false
}

// apart is the greatest difference of a channel between a pixel as printed on
// white and a colour.
func (c *Canvas) apart(x, y int, colour [3]int) int {
	p := c.Pix[4*(y*c.W+x):]
	d := 0
	for ch := range 3 {
		v := int(p[ch])
		if c.Transparent {
			v = 255 - (255-v)*int(p[3])/255
		}
		d = max(d, v-colour[ch], colour[ch]-v)
	}
	return d
}
