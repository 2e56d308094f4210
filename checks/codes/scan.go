package codes

import "math"

// line is a row or a column of a picture, or a stretch of one.
type line struct {
	pix    []byte
	from   int // offset of its first pixel
	stride int
	n      int
}

func (l line) at(i int) int { return int(l.pix[l.from+i*l.stride]) }

// hit is a place where a line crosses what may be a finder pattern.
type hit struct {
	middle, width float64 // pixels along the line
	dark          bool    // the pattern's middle is dark
}

// swings are how far light must turn back for a turn to count: at the least one pale
// codes are found, at the others those on grain, and those drawn square by square,
// which have seams.
var swings = [3]int{12, 40, 120}

// scan walks along the line and tells each hit. A run of light or dark ends where
// the light has turned by swing; its edge is where the light passes half way from the
// one extreme to the other. The line's own ends count as edges. The least that the light
// turned by is told.
func (l line) scan(swing int, tell func(hit)) (least int) {
	var (
		edges         [6]float64
		count         int
		low, high     = l.at(0), l.at(0)
		lowAt, highAt int
		direction     int
	)
	push := func(at float64, rising bool) {
		copy(edges[:], edges[1:])
		edges[5] = at
		count++
		if width, ok := finderWidth(&edges); ok && count >= 6 {
			tell(hit{(edges[2] + edges[3]) / 2, width, rising})
		}
	}
	least = 256
	turn := func(rising bool) {
		least = min(least, high-low)
		switch {
		case direction == 0:
			push(0, !rising)
		case rising:
			push(l.crossing(lowAt, highAt), true)
		default:
			push(l.crossing(highAt, lowAt), false)
		}
	}
	last := low
	for i := 1; i < l.n; i++ {
		v := l.at(i)
		if v == last {
			continue // flat paint turns nothing
		}
		last = v
		if v > high && direction >= 0 {
			high, highAt = v, i
		}
		if v < low && direction <= 0 {
			low, lowAt = v, i
		}
		switch {
		case direction >= 0 && high-v >= swing:
			turn(true)
			direction, low, lowAt = -1, v, i
		case direction <= 0 && v-low >= swing:
			turn(false)
			direction, high, highAt = 1, v, i
		}
	}
	if direction != 0 {
		turn(direction > 0)
		push(float64(l.n), direction < 0)
	}
	return least
}

// crossing is where the light passes half way between two extremes.
func (l line) crossing(from, to int) float64 {
	a, b := l.at(from), l.at(to)
	half := float64(a+b) / 2
	before := float64(a)
	for i := from + 1; i <= to; i++ {
		v := float64(l.at(i))
		if (before-half)*(v-half) <= 0 && v != before {
			return float64(i) - 0.5 + (half-before)/(v-before)
		}
		before = v
	}
	return float64(to) + 0.5
}

// finderWidth tells whether five runs between edges are as 1 : 1 : 3 : 1 : 1, and how
// wide they are together. Whole pixels and the spread of ink move an edge by up to
// half of a small module. One of the outer runs may be longer: it goes over into its
// ground where the quiet zone is missing.
func finderWidth(e *[6]float64) (width float64, ok bool) {
	m := (e[4] - e[1]) / 5
	if m < leastModule {
		return 0, false
	}
	one := 0.55 * m
	if math.Abs(e[2]-e[1]-m) >= one || math.Abs(e[3]-e[2]-3*m) >= 1.5*one || math.Abs(e[4]-e[3]-m) >= one {
		return 0, false
	}
	before, after := e[1]-e[0], e[5]-e[4]
	switch {
	case before <= m-one || after <= m-one || before >= m+one && after >= m+one:
		return 0, false
	case before < m+one && after < m+one:
		return e[5] - e[0], true
	}
	return 7 * m, true
}

// leastModule is the smallest module, in pixels, that shows in a line at all.
const leastModule = 1.1
