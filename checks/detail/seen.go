package detail

import "math"

// seen is what the lines of a picture show.
type seen struct {
	x, y  side
	edges edges

	halved bool
}

// side is what one axis shows.
type side struct {
	axis   axis
	sums   sums
	levels int // of lightness
	traces [filters]trace
}

func see(p Plane) *seen {
	s := seen{halved: p.Halved}
	s.x, s.y = s.look(p.rows()), s.look(p.columns())
	s.trace(step, slope)
	return &s
}

// trace makes the traces of two filters, along both axes.
func (s *seen) trace(f, g filter) {
	for _, d := range []*side{&s.x, &s.y} {
		d.traces[f], d.traces[g] = d.sums.traces(f, g)
	}
}

func (s *seen) look(a axis) (d side) {
	d.axis = a
	sum := newSums(a.length)
	var had [256]bool
	a.pairs(func(one, next []int32) {
		s.edges.find(one, next)
		sum.add(one)
		sum.add(next)
		for _, v := range one {
			had[v] = true
		}
	})
	for _, h := range had {
		if h {
			d.levels++
		}
	}
	d.sums = sum
	return d
}

// clear is how many times as strong as usual a wave must be along both axes. Of pictures
// that nobody enlarged the strongest of all waves has 2 to 3, and 4 at the most.
const clear = 5

// over is how many times as strong as usual a wave of a filter is, along the axis where
// it is less: a picture is enlarged both ways.
func (s *seen) over(f filter, freq float64) float64 {
	x, y := &s.x.traces[f], &s.y.traces[f]
	return min(x.over[x.near(freq)], y.over[y.near(freq)])
}

// size is how large it is, as a share of all that the filter finds.
func (s *seen) size(f filter, freq float64) float64 {
	x, y := &s.x.traces[f], &s.y.traces[f]
	return min(x.size[x.near(freq)], y.size[y.near(freq)])
}

// each tells all frequencies that a factor may have. Over half a cycle a pixel cannot be
// told from under it, so that factors under 2 have the frequencies of larger ones.
func (s *seen) each(tell func(freq float64)) {
	n := 2 * max(len(s.x.traces[step].over)-1, len(s.y.traces[step].over)-1)
	for i := int(math.Ceil(float64(n) / mostFactor)); i <= n/2; i++ {
		tell(float64(i) / float64(n))
	}
}

// exact is the frequency of a peak, by the longer axis.
func (s *seen) exact(f filter, freq float64) float64 {
	if len(s.x.traces[f].over) >= len(s.y.traces[f].over) {
		return s.x.traces[f].exact(freq)
	}
	return s.y.traces[f].exact(freq)
}

// patterned reports whether lightness itself, not only its roughness, has a period
// there: that of stripes, checks and printed screens has, and roughness for no other
// reason. Roughness has no sign, so that it may have twice the frequency. Lightness of
// few edges has a weak line as well once it was enlarged; of a pattern it is the stronger.
func (s *seen) patterned(freq, over float64) bool {
	line := max(6, over)
	for _, t := range []*trace{&s.x.traces[slope], &s.y.traces[slope]} {
		for _, f := range []float64{freq, freq / 2, (1 - freq) / 2} {
			if t.over[t.near(f)] > line {
				return true
			}
		}
	}
	return false
}
