package icc

// A grid is a table's colours at the crossings of a lattice, the last input
// going round fastest (10.8: the CLUT).
type grid struct {
	points []int // along each input, at least two
	out    int   // numbers at a crossing
	values samples
	steps  [4]int // from a crossing to the next along each input, in numbers
	lab    bool   // the inputs are L*, a*, b*
}

// newGrid takes a grid off the front of values.
func newGrid(points []int, out int, values samples) (*grid, samples, error) {
	g := &grid{points: points, out: out}
	size := int64(out)
	for i := len(points) - 1; i >= 0; i-- {
		if points[i] < 2 {
			return nil, values, formatError("a table has a grid of %d points", points[i])
		}
		g.steps[i] = int(size)
		size *= int64(points[i]) // at most 255⁴ of 15 numbers
	}
	if size > int64(values.len()) {
		return nil, values, formatError("a table's grid has %d numbers, not %d", values.len(), size)
	}
	var rest samples
	g.values, rest = values.split(int(size))
	return g, rest, nil
}

// A spot is the place of a colour among the crossings.
type spot struct {
	base int        // the number at the crossing below it along every input
	past [4]float64 // how far past that crossing along each, 0 to 1
}

func (g *grid) apply(c *colour) {
	var s spot
	for i, n := range g.points {
		x := unit(c[i]) * float64(n-1)
		k := min(int(x), n-2)
		s.base += k * g.steps[i]
		s.past[i] = x - float64(k)
	}
	*c = g.between(&s, 0, s.base)
}

// between interpolates over the inputs from dim on. Three inputs are cut into
// tetrahedra, which keep the grey axis of a device straight; what comes before
// the last three is taken in a line. L*, a*, b* have their grey axis along an
// edge of the lattice, where going straight along each input does better. That
// is also how other engines do it, so the same art gets the same numbers.
func (g *grid) between(s *spot, dim, base int) colour {
	switch left := len(g.points) - dim; {
	case left == 0:
		return g.crossing(base)
	case left == 3 && !g.lab:
		return g.tetrahedron(s, dim, base)
	}
	f, low := s.past[dim], g.between(s, dim+1, base)
	if f == 0 {
		return low
	}
	high := g.between(s, dim+1, base+g.steps[dim])
	for i := range g.out {
		low[i] += f * (high[i] - low[i])
	}
	return low
}

func (g *grid) crossing(at int) (c colour) {
	for i := range g.out {
		c[i] = g.values.at(at + i)
	}
	return c
}

// tetrahedron goes from the crossing below to the one above along the longest
// way first.
func (g *grid) tetrahedron(s *spot, dim, base int) colour {
	order := [3]int{dim, dim + 1, dim + 2}
	for _, p := range [3][2]int{{0, 1}, {1, 2}, {0, 1}} {
		if s.past[order[p[0]]] < s.past[order[p[1]]] {
			order[p[0]], order[p[1]] = order[p[1]], order[p[0]]
		}
	}
	c, at := g.crossing(base), base
	last := c
	for _, d := range order {
		at += g.steps[d]
		next := g.crossing(at)
		for i := range g.out {
			c[i] += s.past[d] * (next[i] - last[i])
		}
		last = next
	}
	return c
}
