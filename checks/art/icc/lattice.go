package icc

// A lattice is a transform worked out beforehand: its results at the crossings
// of a grid over the source's bytes.
type lattice struct {
	axes  [4][256]place // of each byte of each component
	nodes []node
}

// A node is the result at a crossing: four numbers of 16 bits, each in 1/256 of
// a byte, the first lowest. Two of them at a time, with 16 bits left free above
// each, are weighed at once.
type node uint64

const evenLanes = 0x0000ffff_0000ffff

// A place is where a byte lies on its axis.
type place struct {
	base uint32 // the crossing below it, as a part of the number of a node
	walk uint32 // how far past that crossing, in 1/whole, times stepRoom; plus the step to the next crossing
}

// A walk holds both numbers so that walks in order of length are just sorted.
const (
	whole     = 1 << 15
	stepRoom  = 1 << 14 // more than any step: 33² or 17³ nodes
	nodeScale = 255 << 8
)

// latticePoints is the number of crossings along an axis, by the number of
// components. Grey takes each byte by itself. With these numbers the table is
// made in less than a tenth of a second and takes less than a megabyte.
var latticePoints = [...]int{1: 256, 3: 49, 4: 17}

// newLattice works out a transform with so many crossings along each axis. A table's own curves, where they come first,
// stretch the axes: the crossings then lie where the table's are or halfway
// between them, and what happens between them is nearly straight.
func newLattice(t *Transform, points int) *lattice {
	dims := t.from.Components()
	axes, stages := make(curves, dims), t.stages
	for i := range axes {
		axes[i].at = unit
	}
	if cs, ok := stages[0].(curves); ok {
		if _, ok := stages[1].(*grid); ok {
			axes, stages = cs, stages[1:]
		}
	}
	l, step := &lattice{}, 1
	for i := dims - 1; i >= 0; i-- {
		for v := range l.axes[i] {
			l.axes[i][v] = newPlace(axes[i].at(float64(v)/255)*float64(points-1), points, step)
		}
		step *= points
	}
	l.nodes = make([]node, step)
	for at := range l.nodes {
		var c colour
		for i, rest := dims-1, at; i >= 0; i, rest = i-1, rest/points {
			c[i] = float64(rest%points) / float64(points-1)
		}
		run(stages, &c)
		for i := range t.to.Components() {
			l.nodes[at] |= node(unit(c[i])*nodeScale+0.5) << (16 * i)
		}
	}
	return l
}

// newPlace is the place x crossings along an axis.
func newPlace(x float64, points, step int) place {
	below := min(int(x), points-2)
	past := uint32((x-float64(below))*whole + 0.5)
	return place{uint32(below * step), past*stepRoom + uint32(step)}
}

// Bytes transforms the pixels of src by a table that the first call makes; dst
// must have room for as many. A byte is off by a quarter in the mean, as rounding
// alone costs; by more than two in about one of a hundred at most, and there by up
// to twenty, for colours at the edge of what the other space can show.
func (t *Transform) Bytes(dst, src []byte) {
	l := t.lattice()
	n, m := t.from.Components(), t.to.Components()
	var last uint32
	out := l.pixel(last, n)
	for ; len(src) >= n; src, dst = src[n:], dst[m:] {
		in := uint32(src[0])
		if n > 1 {
			in |= uint32(src[1])<<8 | uint32(src[2])<<16
		}
		if n > 3 {
			in |= uint32(src[3]) << 24
		}
		if in != last { // a card has large even areas
			last, out = in, l.pixel(in, n)
		}
		dst[0] = byte(out)
		if m > 1 {
			dst[1], dst[2] = byte(out>>8), byte(out>>16)
		}
		if m > 3 {
			dst[3] = byte(out >> 24)
		}
	}
}

// pixel transforms one pixel of so many components, the first in the lowest byte.
func (l *lattice) pixel(in uint32, dims int) uint32 {
	first, second, third := &l.axes[0][byte(in)], &l.axes[1][byte(in>>8)], &l.axes[2][byte(in>>16)]
	switch dims {
	case 1:
		n := uint64(l.nodes[in])
		return pack(n&evenLanes*whole, n>>16&evenLanes*whole)
	case 3:
		return pack(l.tetrahedron(0, first, second, third))
	}
	fourth := &l.axes[3][in>>24]
	even, odd := l.tetrahedron(first.base, second, third, fourth)
	if past := uint64(first.walk / stepRoom); past > 0 {
		even2, odd2 := l.tetrahedron(first.base+first.walk%stepRoom, second, third, fourth)
		even = even/whole&evenLanes*(whole-past) + even2/whole&evenLanes*past
		odd = odd/whole&evenLanes*(whole-past) + odd2/whole&evenLanes*past
	}
	return pack(even, odd)
}

// pack rounds what weights of one whole made of two nodes' halves to bytes.
func pack(even, odd uint64) uint32 {
	const half = whole << 7
	const round = half<<32 | half
	even, odd = (even+round)/(whole<<8), (odd+round)/(whole<<8)
	return uint32(even&0xff | odd&0xff<<8 | even>>16&0xff0000 | odd>>8&0xff000000)
}

// tetrahedron interpolates over three components from the crossing at base on,
// along the longest way first; see [grid.tetrahedron].
func (l *lattice) tetrahedron(base uint32, p, q, r *place) (even, odd uint64) {
	a, b, c := p.walk, q.walk, r.walk
	a, b = max(a, b), min(a, b)
	b, c = max(b, c), min(b, c)
	a, b = max(a, b), min(a, b)
	at := base + p.base + q.base + r.base
	n0 := uint64(l.nodes[at])
	at += a % stepRoom
	n1 := uint64(l.nodes[at])
	at += b % stepRoom
	n2 := uint64(l.nodes[at])
	at += c % stepRoom
	n3 := uint64(l.nodes[at])
	w1, w2, w3 := uint64(a/stepRoom), uint64(b/stepRoom), uint64(c/stepRoom)
	w0, w1, w2 := whole-w1, w1-w2, w2-w3
	even = n0&evenLanes*w0 + n1&evenLanes*w1 + n2&evenLanes*w2 + n3&evenLanes*w3
	odd = n0>>16&evenLanes*w0 + n1>>16&evenLanes*w1 + n2>>16&evenLanes*w2 + n3>>16&evenLanes*w3
	return even, odd
}
