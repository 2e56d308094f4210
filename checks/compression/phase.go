package compression

import (
	"cmp"
	"math"
	"slices"
)

// lean is how often the light jumps at each of the eight columns, or rows, at which a
// grid of blocks may begin.
type lean [8]float64

// phases counts where the light jumps more than just before and just after. Every
// second row, and every second column, is enough.
func (p Plane) phases() (x, y lean) {
	columns, rows := make([]uint16, p.W), make([]uint16, p.H)
	for at := 0; at < p.H; at += 2 {
		line := p.Pix[at*p.W : (at+1)*p.W]
		before, jump := apart(line[0], line[1]), apart(line[1], line[2])
		for i := 3; i < len(line); i++ {
			after := apart(line[i-1], line[i])
			if jump > before && jump > after && jump <= mostJump {
				columns[i-1]++
			}
			before, jump = jump, after
		}
	}
	for at := 2; at+1 < p.H; at++ {
		a, b := p.Pix[(at-2)*p.W:(at-1)*p.W], p.Pix[(at-1)*p.W:at*p.W]
		c, d := p.Pix[at*p.W:(at+1)*p.W], p.Pix[(at+1)*p.W:(at+2)*p.W]
		for i := 0; i < p.W; i += 2 {
			if jump := apart(b[i], c[i]); jump > apart(a[i], b[i]) && jump > apart(c[i], d[i]) && jump <= mostJump {
				rows[at]++
			}
		}
	}
	return leanOf(columns), leanOf(rows)
}

// mostJump is more than two blocks differ by compression: what differs more is art.
const mostJump = 64

func apart(a, b byte) int { return max(int(a), int(b)) - min(int(a), int(b)) }

// leanOf sums counts by their place modulo eight. Roots keep one long edge of the art
// from outweighing a grid that is everywhere.
func leanOf(counts []uint16) (l lean) {
	for i, n := range counts {
		l[i%8] += math.Sqrt(float64(n))
	}
	return l
}

// order lists the phases, the likeliest first.
func (l lean) order() []int {
	phases := []int{0, 1, 2, 3, 4, 5, 6, 7}
	slices.SortStableFunc(phases, func(a, b int) int { return cmp.Compare(l[b], l[a]) })
	return phases
}

// likely are the phases that are worth a look: the first four, for art has periods of
// its own, and what comes near to the first. All are, where this axis tells little and
// the other much.
func (l lean) likely(other lean) []int {
	o := l.order()
	if l.strength() < 1.4 && other.strength() > 1.5 {
		return o
	}
	n := 4
	for n < len(o) && l[o[n]] > 0.95*l[o[0]] {
		n++
	}
	return o[:n]
}

// strength is how much the likeliest phase stands out from the middling one.
func (l lean) strength() float64 {
	o := l.order()
	return l[o[0]] / max(1, l[o[4]])
}
