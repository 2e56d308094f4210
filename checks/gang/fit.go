package gang

import (
	"math"
	"slices"
)

// fit is how the art of one cell lies against that of another: turned, scaled, moved.
type fit struct {
	turn   int // degrees clockwise: 0, 90, 180, 270
	scale  float64
	dx, dy float64 // micrometres, of the middle of the cell
	off    float64 // what the best fit leaves, root mean square
}

// loose is how badly art may fit and still be the same art, micrometres.
const loose = 150

// fitOf compares the art of two cells of equal kinds. It is false where they hold
// other things, or the same things elsewhere.
func fitOf(a, b *cell) (fit, bool) {
	x, y, ok := counterparts(a, b)
	if !ok {
		return fit{}, false
	}
	best := fit{off: math.Inf(1)}
	ca, cb := centre(a.trim), centre(b.trim)
	for _, turn := range []int{0, 180, 90, 270} {
		if f := fitTurned(x, y, ca, cb, turn); f.off < best.off-1 { // a micrometre: art that is its own turn is not turned
			best = f
		}
	}
	return best, best.off <= loose
}

// counterparts pairs the items of two cells: all of them, if they are of the same kinds
// in the same order; else the type and the pictures alone, if there are so many paths
// that a writer may have parted or joined some at the clip.
func counterparts(a, b *cell) (x, y []item, ok bool) {
	alike := func(x, y []item) bool {
		return len(x) > 0 && slices.EqualFunc(x, y, func(p, q item) bool { return p.kind == q.kind })
	}
	if alike(a.items, b.items) {
		return a.items, b.items, true
	}
	x, y = a.solid(), b.solid()
	m, n := len(a.items)-len(x), len(b.items)-len(y)
	const many, few = 50, 20 // at most one path in twenty
	return x, y, min(m, n) >= many && max(m-n, n-m)*few <= max(m, n) && alike(x, y)
}

// solid lists what is no path.
func (c *cell) solid() []item {
	return slices.DeleteFunc(slices.Clone(c.items), func(it item) bool { return it.kind == "path" })
}

// pair is a place in one cell and where it should be in the other, both from the
// middle of their cells.
type pair struct{ from, to point }

func fitTurned(a, b []item, ca, cb point, turn int) fit {
	var pairs []pair
	for i := range a {
		from, to := a[i].outline(ca, turn), b[i].outline(cb, 0)
		for j := range min(len(from), len(to)) {
			pairs = append(pairs, pair{from[j], to[j]})
		}
	}
	return solve(pairs, turn)
}

// outline is what is compared of an item: its corners as they lie, if they are known,
// and its box.
func (it item) outline(middle point, turn int) []point {
	b := it.full
	x0, y0 := float64(b.X), float64(b.Y)
	p := spin(point{x0 - middle.x, y0 - middle.y}, turn)
	q := spin(point{x0 + float64(b.W) - middle.x, y0 + float64(b.H) - middle.y}, turn)
	list := []point{{min(p.x, q.x), min(p.y, q.y)}, {max(p.x, q.x), max(p.y, q.y)}}
	for _, c := range it.points {
		list = append(list, spin(point{c.x - middle.x, c.y - middle.y}, turn))
	}
	return list
}

// spin turns a place clockwise as seen, y down.
func spin(p point, turn int) point {
	switch turn {
	case 90:
		return point{-p.y, p.x}
	case 180:
		return point{-p.x, -p.y}
	case 270:
		return point{p.y, -p.x}
	}
	return p
}

// solve finds scale and move by least squares.
func solve(pairs []pair, turn int) fit {
	n := float64(len(pairs))
	var mf, mt point
	for _, p := range pairs {
		mf.x, mf.y = mf.x+p.from.x/n, mf.y+p.from.y/n
		mt.x, mt.y = mt.x+p.to.x/n, mt.y+p.to.y/n
	}
	var dot, norm float64
	for _, p := range pairs {
		fx, fy := p.from.x-mf.x, p.from.y-mf.y
		dot += fx*(p.to.x-mt.x) + fy*(p.to.y-mt.y)
		norm += fx*fx + fy*fy
	}
	f := fit{turn: turn, scale: 1}
	if norm > 0 {
		f.scale = dot / norm
	}
	f.dx, f.dy = mt.x-f.scale*mf.x, mt.y-f.scale*mf.y
	for _, p := range pairs {
		ex, ey := f.scale*p.from.x+f.dx-p.to.x, f.scale*p.from.y+f.dy-p.to.y
		f.off += (ex*ex + ey*ey) / n
	}
	f.off = math.Sqrt(f.off)
	return f
}

// group is cells of one design, and how each lies against the first of them.
type group struct {
	cells []*cell
	fits  []fit
}

// groups gathers cells that hold the same art, in the order of the cells.
func groups(cells []*cell) []group {
	var all []group
next:
	for _, c := range cells {
		if len(c.items) == 0 {
			continue
		}
		for i := range all {
			if f, same := fitOf(all[i].cells[0], c); same {
				all[i].cells, all[i].fits = append(all[i].cells, c), append(all[i].fits, f)
				continue next
			}
		}
		all = append(all, group{[]*cell{c}, []fit{{scale: 1}}})
	}
	return all
}

// usual is how most cells of the group lie: the commonest turn, the middle scale and
// the middle place.
func (g group) usual() fit {
	count := map[int]int{}
	u := fit{}
	for _, f := range g.fits {
		count[f.turn]++
		if count[f.turn] > count[u.turn] {
			u.turn = f.turn
		}
	}
	of := func(value func(fit) float64) float64 {
		var v []float64
		for _, f := range g.fits {
			v = append(v, value(f))
		}
		slices.Sort(v)
		return v[len(v)/2]
	}
	u.scale = of(func(f fit) float64 { return f.scale })
	u.dx, u.dy = of(func(f fit) float64 { return f.dx }), of(func(f fit) float64 { return f.dy })
	return u
}
