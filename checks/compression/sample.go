package compression

// grid is where the first whole block begins, 0 to 7.
type grid struct{ x, y int }

// watched are the coefficients that are looked at: the coarsest ones, which most
// blocks have something of.
var watched = [14]int{1, 8, 16, 9, 2, 3, 10, 17, 24, 32, 25, 18, 11, 4}

// coefficients are those of a block that are watched.
type coefficients [len(watched)]float32

// sample transforms blocks of the grid that show something, spread over the picture,
// most at most. Blocks that are alike count once: else a pattern whose tile is a block
// would vote with every tile.
func (p Plane) sample(g grid, most int) []coefficients {
	across, down := (p.W-g.x)/8, (p.H-g.y)/8
	n := across * down
	step := stride(n, n/(4*most))
	seen := make(map[[len(watched)]int16]bool, most)
	out := make([]coefficients, 0, most)
	var b block
	for i, at := 0, 0; i < n && i < 4*most && len(out) < most; i, at = i+1, (at+step)%n {
		if !p.read(&b, g.x+8*(at%across), g.y+8*(at/across)) {
			continue
		}
		b.transform()
		var c coefficients
		var key [len(watched)]int16
		for k, from := range watched {
			c[k], key[k] = b[from], int16(b[from])
		}
		if !seen[key] {
			seen[key] = true
			out = append(out, c)
		}
	}
	return out
}

// stride is a step of about so many that visits all of n places before any twice.
func stride(n, about int) int {
	step := max(1, about)
	for divisor(step, n) != 1 {
		step++
	}
	return step
}

// divisor is the greatest common one.
func divisor(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// calm is the greatest difference of light in a block that has nothing to tell: the
// least steps that matter leave more.
const calm = 6

// read takes the block whose top left corner is at (x, y), and reports whether it
// shows more than a calm ground.
func (p Plane) read(b *block, x, y int) bool {
	low, high := byte(255), byte(0)
	for j := range 8 {
		line := p.Pix[(y+j)*p.W+x:][:8]
		for i, v := range line {
			b[8*j+i] = float32(v) - 128
			low, high = min(low, v), max(high, v)
		}
	}
	return high-low >= calm
}
