package detail

// Plane is the lightness of a picture, a byte a pixel, rows from the top.
type Plane struct {
	Pix  []byte
	W, H int
}

// axis looks along one direction of a plane: position i of line n lies at
// start + n*across + i*along.
type axis struct {
	pix           []byte
	along, across int
	length, lines int
}

func (p Plane) rows() axis    { return axis{p.Pix, 1, p.W, p.W, p.H} }
func (p Plane) columns() axis { return axis{p.Pix, p.W, 1, p.H, p.W} }

// read copies a piece of a line, from position i, into dst.
func (a axis) read(dst []float64, line, i int) {
	at := line*a.across + i*a.along
	for k := range dst {
		dst[k] = float64(a.pix[at])
		at += a.along
	}
}
