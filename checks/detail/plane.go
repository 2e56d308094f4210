package detail

// Plane is the lightness of a picture, a byte a pixel, rows from the top.
type Plane struct {
	Pix  []byte
	W, H int

	// Halved: colours of half the pixels shine through lightness, as in a JPEG of four
	// inks, of which mostly all but one are saved so. A factor of 2 cannot be told there.
	Halved bool
}

// axis looks along one direction of a plane: position i of line n lies at
// n*across + i*along.
type axis struct {
	pix           []byte
	along, across int
	length, lines int
}

func (p Plane) rows() axis    { return axis{p.Pix, 1, p.W, p.W, p.H} }
func (p Plane) columns() axis { return axis{p.Pix, p.W, 1, p.H, p.W} }

// read copies a line into dst.
func (a axis) read(dst []int32, line int) {
	at := line * a.across
	if a.along == 1 {
		for i, v := range a.pix[at : at+len(dst)] {
			dst[i] = int32(v)
		}
		return
	}
	for i := range dst {
		dst[i] = int32(a.pix[at])
		at += a.along
	}
}

// mostPairs is how many pairs of neighbouring lines of an axis are looked at.
const mostPairs = 48

// pairs hands out pairs of neighbouring lines, evenly over the axis. Both lines of a pair
// are needed: an edge goes on from line to line, noise does not; and what cameras make up
// from a mosaic of colours has a period of two lines, which one line of two would show.
func (a axis) pairs(look func(one, next []int32)) {
	one, next := make([]int32, a.length), make([]int32, a.length)
	n := min(mostPairs, a.lines/2)
	for i := range n {
		line := (2*i + 1) * (a.lines - 1) / (2 * n)
		a.read(one, line)
		a.read(next, line+1)
		look(one, next)
	}
}
