package gang

import (
	"math"

	"stoneproof/rules"
)

// In a picture the art of two cells is compared by windows: where in the second cell
// a window of the first fits best. Several of them tell move and scale as the corners
// of items do.

// coarse is a picture at about a fifth of a millimetre a pixel, fine enough for a move
// of a quarter once the best place is read between pixels.
type coarse struct {
	w, h  int
	light []float64
	um    float64
}

func (p *picture) coarse() *coarse {
	const target = 170.0 // micrometres: 150 pixels an inch
	k := max(1, int(target/p.um+.5))
	c := &coarse{w: p.w / k, h: p.h / k, um: p.um * float64(k)}
	c.light = make([]float64, c.w*c.h)
	for y := range c.h {
		for x := range c.w {
			sum := 0
			for dy := range k {
				row := p.light[(y*k+dy)*p.w+x*k:]
				for dx := range k {
					sum += int(row[dx])
				}
			}
			c.light[y*c.w+x] = float64(sum) / float64(k*k)
		}
	}
	return c
}

// Bounds of the comparison. Paint is compared by its texture: what windows differ by,
// as a share of how much the first one varies about its mean.
const (
	farthest  = 1200 * rules.Micrometre // that a card may be off and still be found
	sameShare = 0.6                     // more is other art
	turnShare = 0.1                     // that a turn must fit better by than none
	leastHold = 0.2                     // levels that a window must vary by to hold on to
	sameGrey  = 12.0                    // levels by which flat cards may differ
)

// window is a part of a cell's trim, from the middle of the cell, in coarse pixels.
type window struct{ x0, y0, x1, y1 float64 }

// windows are four by three, as far inside the trim as a card may be off.
func (c *coarse) windows(trim rules.Box) []window {
	const across, down = 4, 3
	in := float64(farthest)/c.um + 1
	w, h := float64(trim.W)/c.um-2*in, float64(trim.H)/c.um-2*in
	var list []window
	for i := range across {
		for j := range down {
			list = append(list, window{w * (float64(i)/across - .5), h * (float64(j)/down - .5), w * (float64(i+1)/across - .5), h * (float64(j+1)/down - .5)})
		}
	}
	return list
}

// texture is how much a patch varies about its mean, summed up, and where that lies.
func (w window) texture(patch []float64) (sum float64, at point) {
	average := 0.0
	for _, v := range patch {
		average += v / float64(len(patch))
	}
	i := 0
	for y := w.y0; y < w.y1; y++ {
		for x := w.x0; x < w.x1; x++ {
			d := math.Abs(patch[i] - average)
			sum, at.x, at.y = sum+d, at.x+d*x, at.y+d*y
			i++
		}
	}
	if sum > 0 {
		at.x, at.y = at.x/sum, at.y/sum
	}
	return sum, at
}

// patch reads a window of a cell, upright or turned by half, a pixel a step and between
// pixels, for the middle of a cell seldom lies on one. Beyond the picture is its edge.
func (c *coarse) patch(middle point, win window, turn int, dx, dy float64) []float64 {
	way := 1
	if turn == 180 {
		way = -1
	}
	x, fx := split(middle.x/c.um - .5 + float64(way)*win.x0 + dx)
	y, fy := split(middle.y/c.um - .5 + float64(way)*win.y0 + dy)
	across, down := int(math.Ceil(win.x1-win.x0)), int(math.Ceil(win.y1-win.y0))
	v := make([]float64, 0, across*down)
	for j := range down {
		top, low := c.row(y+way*j), c.row(y+way*j+1)
		for i := range across {
			l := max(0, min(c.w-1, x+way*i))
			r := min(c.w-1, l+1)
			v = append(v, (top[l]*(1-fx)+top[r]*fx)*(1-fy)+(low[l]*(1-fx)+low[r]*fx)*fy)
		}
	}
	return v
}

func (c *coarse) row(y int) []float64 {
	y = max(0, min(c.h-1, y))
	return c.light[y*c.w : (y+1)*c.w]
}

// split is a whole number of pixels and the rest.
func split(v float64) (int, float64) {
	whole := math.Floor(v)
	return int(whole), v - whole
}

// fitPixels compares two cells of a picture: b as a, turned about its middle.
func (c *coarse) fitPixels(a, b *cell) (fit, bool) {
	upright, head := c.fitPixelsTurned(a, b, 0), c.fitPixelsTurned(a, b, 180)
	if head.off < upright.off-turnShare { // art that is its own turn is not turned
		return head, head.off <= sameShare
	}
	return upright, upright.off <= sameShare
}

func (c *coarse) fitPixelsTurned(a, b *cell, turn int) fit {
	ca, cb := centre(a.trim), centre(b.trim)
	var pairs []pair
	var differ, texture, grey float64
	windows := c.windows(a.trim)
	for _, win := range windows {
		ref := c.patch(ca, win, 0, 0, 0)
		hold, at := win.texture(ref)
		if hold < leastHold*float64(len(ref)) {
			grey += apartBy(ref, c.patch(cb, win, turn, 0, 0)) / float64(len(ref)) / float64(len(windows))
			continue
		}
		dx, dy, off := c.best(ref, cb, win, turn)
		differ, texture = differ+off, texture+hold
		from := spin(point{at.x * c.um, at.y * c.um}, turn)
		pairs = append(pairs, pair{from, point{from.x + dx*c.um, from.y + dy*c.um}})
	}
	if len(pairs) == 0 {
		return fit{turn: turn, scale: 1, off: grey / sameGrey * sameShare}
	}
	f := solve(pairs, turn)
	if len(pairs) < 3 { // too few to tell scale from move
		f.scale = 1
		f.dx, f.dy = 0, 0
		for _, p := range pairs {
			f.dx += (p.to.x - p.from.x) / float64(len(pairs))
			f.dy += (p.to.y - p.from.y) / float64(len(pairs))
		}
	}
	f.off = differ / texture
	return f
}

// best looks for the place where a window fits best, and reads it between pixels.
func (c *coarse) best(ref []float64, middle point, win window, turn int) (dx, dy, off float64) {
	reach := int(float64(farthest) / c.um)
	costs := map[[2]int]float64{}
	cost := func(x, y int) float64 {
		v, ok := costs[[2]int{x, y}]
		if !ok {
			v = apartBy(ref, c.patch(middle, win, turn, float64(x), float64(y)))
			costs[[2]int{x, y}] = v
		}
		return v
	}
	bx, by := 0, 0
	for step := max(1, reach/2); step >= 1; step /= 2 { // coarse to fine
		for moved := true; moved; {
			moved = false
			for _, d := range [][2]int{{step, 0}, {-step, 0}, {0, step}, {0, -step}} {
				x, y := bx+d[0], by+d[1]
				if max(x, -x, y, -y) <= reach && cost(x, y) < cost(bx, by)-1e-9 {
					bx, by, moved = x, y, true
				}
			}
		}
	}
	m := cost(bx, by)
	return float64(bx) + vertex(cost(bx-1, by), m, cost(bx+1, by)), float64(by) + vertex(cost(bx, by-1), m, cost(bx, by+1)), m
}

// vertex is where a V through three costs has its point, between -0.5 and 0.5.
func vertex(l, m, r float64) float64 {
	if d := max(l, r) - m; d > 0 {
		return (l - r) / (2 * d)
	}
	return 0
}

func apartBy(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += math.Abs(a[i] - b[i])
	}
	return sum
}

// pixelGroups gathers the cells of a picture that show the same art.
func pixelGroups(p *picture, cells []*cell) []group {
	if p.two {
		return nil
	}
	c := p.coarse()
	var all []group
next:
	for _, b := range cells {
		for i := range all {
			if f, same := c.fitPixels(all[i].cells[0], b); same {
				all[i].cells, all[i].fits = append(all[i].cells, b), append(all[i].fits, f)
				continue next
			}
		}
		all = append(all, group{[]*cell{b}, []fit{{scale: 1}}})
	}
	return all
}
