package compression

// Plane is a grey picture, 0 black and 255 white.
type Plane struct {
	Pix  []byte // W × H, rows from the top
	W, H int
}

// sound reports whether the picture is what it says, and has room for a grid.
func (p Plane) sound() bool {
	return p.W >= least && p.H >= least && p.W <= len(p.Pix) && p.H <= len(p.Pix)/p.W
}

// least is the number of pixels a side that it takes to tell a grid.
const least = 32
