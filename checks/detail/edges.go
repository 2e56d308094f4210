package detail

// edges counts how steep the edges along an axis are. The steepness of an edge is its
// largest step over its whole rise: 1 where it lies between two pixels, 1/2 at the least
// where it was drawn sharp and softened by half a pixel; enlarging k times makes it 1/k,
// or little more, and a lens out of focus does the same.
type edges struct {
	count int
	steep [steepest + 1]int
}

// steepest is the class of steepness 1.
const steepest = 64

// Of an edge that counts.
const (
	leastRise = 24 // levels: above what a JPEG's blocks make
	plateau   = 3  // pixels on both sides that are calm
	calm      = 4  // how many times smaller than the rise those vary at the most
)

// find counts the edges of a line that the next line has as well.
func (e *edges) find(line, next []int32) {
	for i := plateau; i+1+plateau < len(line); i++ {
		step := line[i+1] - line[i]
		if step > -3 && step < 3 {
			continue
		}
		sign := int32(1)
		if step < 0 {
			step, sign = -step, -1
		}
		if sign*(line[i]-line[i-1]) >= step || sign*(line[i+2]-line[i+1]) > step {
			continue // not the largest step
		}
		lo, hi := rise(line, i, sign, max(1, step/8))
		height := sign * (line[hi] - line[lo])
		if height < leastRise || !rests(line, lo, hi, height) || !goesOn(next, i, sign, step) || 2*sign*(next[hi+1]-next[lo-1]) < height {
			continue
		}
		e.count++
		e.steep[step*steepest/height]++
	}
}

// rise is from where to where lightness goes one way about a step, by least a pixel.
func rise(line []int32, step int, sign, least int32) (lo, hi int) {
	lo, hi = step, step+1
	for lo > 0 && sign*(line[lo]-line[lo-1]) >= least {
		lo--
	}
	for hi+1 < len(line) && sign*(line[hi+1]-line[hi]) >= least {
		hi++
	}
	return lo, hi
}

// rests reports whether a rise has calm pixels on both sides.
func rests(line []int32, lo, hi int, height int32) bool {
	if lo < plateau || hi+plateau >= len(line) {
		return false
	}
	for k := 1; k <= plateau; k++ {
		a, b := line[lo-k]-line[lo], line[hi+k]-line[hi]
		if max(a, -a, b, -b)*calm > height {
			return false
		}
	}
	return true
}

// goesOn reports whether the next line has the step as well, or a pixel beside.
func goesOn(next []int32, i int, sign, step int32) bool {
	for k := i - 1; k <= i+1; k++ {
		if 2*sign*(next[k+1]-next[k]) >= step {
			return true
		}
	}
	return false
}

// steepness is how steep the steepest tenth of the edges is at the least.
func (e *edges) steepness() float64 {
	left := e.count / 10
	for i := steepest; i > 0; i-- {
		if left -= e.steep[i]; left < 0 {
			return (float64(i) + 0.5) / steepest
		}
	}
	return 0
}

// hard is a steepness of edges that interpolation does not leave, and repeating does.
const hard = 0.85

// fewestEdges are enough to judge by.
const fewestEdges = 12

// fine reports whether there are edges that enlarging twice does not leave, even where
// it sharpens: of those 5 in 1000 are so steep at the most, after a JPEG. A photograph
// has few such edges, a drawing many.
func (e *edges) fine() bool {
	n := 0
	for _, c := range e.steep[steepest*65/100:] {
		n += c
	}
	return n >= fewestEdges && 140*n >= e.count
}
