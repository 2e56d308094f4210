package detail

import (
	"math"
	"math/cmplx"
)

// copied looks for pixels that were set several times side by side and not touched since.
// Lightness then steps at every k-th place alone. Whatever was drawn or taken at this
// size has steps side by side: the two of every softened edge, if nothing else. Flat art
// has few places with steps, and some of them with very many: so they count alike here,
// which [seen.repeated] cannot afford where a JPEG has put small steps everywhere.
func (s *seen) copied() (k float64, ok bool) {
	const together = 0.6 // 0.64 is what rounding to whole places leaves of the period of 2, the worst
	x, y := s.x.axis.stepped(), s.y.axis.stepped()
	if !lieApart(x, 2) || !lieApart(y, 2) {
		return 0, false
	}
	for k := math.Floor(mostFactor); k >= 2; k-- {
		if multiples(x, int(k)) && multiples(y, int(k)) {
			return k, true
		}
	}
	// The lowest frequency counts: the others are its multiples. A grid four times as
	// fine as the axis is long misses none.
	n := 4 * float64(min(mostPlaces, max(len(s.x.sums), len(s.y.sums))))
	best := together
	for f := 1 / mostFactor; f <= 0.5; f += 1 / n {
		r := min(inStep(x, f), inStep(y, f))
		if r > best {
			best, k = r, 1/f
		} else if k > 0 && r < together {
			break
		}
	}
	return k, k > 0 && lieApart(x, k) && lieApart(y, k)
}

// mostPlaces of an axis are looked at, in its middle: every frequency is held against each,
// and a picture may be very long.
const mostPlaces = 2048

// stepped lists the places of an axis where lightness changes at all, on any line.
func (a axis) stepped() []int {
	changes := make([]bool, a.length)
	a.pairs(func(one, next []int32) {
		for _, line := range [][]int32{one, next} {
			for i := range line[1:] {
				changes[i] = changes[i] || line[i] != line[i+1]
			}
		}
	})
	var places []int
	from := max(0, (a.length-mostPlaces)/2)
	for i := from; i < min(a.length, from+mostPlaces); i++ {
		if changes[i] {
			places = append(places, i)
		}
	}
	return places
}

// lieApart reports whether there are enough places to speak for a picture, hardly any of
// them nearer to the next than a period.
func lieApart(places []int, period float64) bool {
	const fewest, few = 24, 50
	near := 0
	for i := range places[min(1, len(places)):] {
		if places[i+1]-places[i] < int(period) {
			near++
		}
	}
	return len(places) >= fewest && near*few <= len(places)
}

// multiples reports whether all but a few places lie a multiple of k from the next, and
// many just k, as art on a grid of its own does not. A factor such as 1.998 jumps by one
// place somewhere, which puts the halves of a picture out of step, but not these.
func multiples(places []int, k int) bool {
	const few, many = 20, 3
	others, just := 0, 0
	for i := range places[1:] {
		switch d := places[i+1] - places[i]; {
		case d == k:
			just++
		case d%k != 0:
			others++
		}
	}
	return others*few <= len(places) && just*many >= len(places)
}

// inStep tells how far places keep to a frequency: from 0, if they know nothing of it,
// to 1.
func inStep(places []int, freq float64) float64 {
	sum := 0i
	for _, p := range places {
		sum += cmplx.Rect(1, 2*math.Pi*freq*float64(p))
	}
	return cmplx.Abs(sum) / float64(len(places))
}
