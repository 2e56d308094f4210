package compression

import (
	"cmp"
	"math"
	"slices"
)

// seam is the border between two blocks.
type seam struct {
	x, y int     // of the block to the right, or below
	jump float64 // levels
}

// blocks is how many levels the borders of the grid's blocks stand out, the strongest
// in a hundred of them, and where most. What the art has of such borders is taken off:
// as many as stand out beside the grid, at the better of two places, for art is no more
// regular than that.
func (p Plane) blocks(g grid, t *Table) Mark {
	most, n := reach(t), max(16, p.W*p.H/3200) // two borders to a block
	art := most
	for _, by := range [2]int{3, 5} {
		art = min(art, strongest(p.seams(grid{(g.x + by) % 8, (g.y + by) % 8}, most), n))
	}
	here := p.seams(g, most)
	levels := strongest(here, n) - art // sorts
	return Mark{Levels: max(0, levels), Place: p.thickest(here[max(0, len(here)-n):])}
}

// seams are the borders of a grid with calm sides at which the light jumps, but not by
// more than most: the art does that.
func (p Plane) seams(g grid, most float64) (out []seam) {
	for y := g.y; y+8 <= p.H; y += 8 {
		for x := g.x; x+8 <= p.W; x += 8 {
			if x >= 3 {
				if jump, ok := seamAt(p.Pix[y*p.W+x-3:], 1, p.W); ok && jump <= most {
					out = append(out, seam{x, y, jump})
				}
			}
			if y >= 3 {
				if jump, ok := seamAt(p.Pix[(y-3)*p.W+x:], p.W, 1); ok && jump <= most {
					out = append(out, seam{x, y, jump})
				}
			}
		}
	}
	return out
}

// seamAt measures a border from three pixels before it. The jump is what is left of
// the light's step when its run on both sides is taken off, the mean of eight lines;
// beside it the light must change less than that.
func seamAt(pix []byte, across, along int) (jump float64, calm bool) {
	sum, rough := 0, 0
	for k := range 8 {
		q := pix[k*along:]
		a, b, c := int(q[0]), int(q[across]), int(q[2*across])
		d, e, f := int(q[3*across]), int(q[4*across]), int(q[5*across])
		sum += 2*(d-c) - (c - b) - (e - d)
		rough += abs(b-a) + abs(c-b) + abs(e-d) + abs(f-e)
	}
	jump = math.Abs(float64(sum)) / 16
	return jump, jump > float64(rough)/32
}

func abs(a int) int { return max(a, -a) }

// strongest is the mean of the n greatest jumps; it sorts them to the end. Where there
// are fewer, the rest are none.
func strongest(s []seam, n int) float64 {
	slices.SortStableFunc(s, func(a, b seam) int { return cmp.Compare(a.jump, b.jump) })
	sum := 0.0
	for _, one := range s[max(0, len(s)-n):] {
		sum += one.jump
	}
	return sum / float64(n)
}

// reach is the greatest jump that steps can make: four standard deviations of two
// blocks' errors, each up to half a step, at the middle of their common side. Only
// coefficients without a wave along the side count there, and of these the finer ones
// are mostly nothing anyway.
func reach(t *Table) float64 {
	sum := 0.0
	for u, end := range [3]float64{c4, c1, c2} {
		v := float64(max(t[u], t[8*u])) * end
		sum += v * v / 8
	}
	return 4 * math.Sqrt(2*sum/12)
}
