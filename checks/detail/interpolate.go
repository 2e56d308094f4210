package detail

import (
	"math"
	"math/cmplx"
)

// interpolated looks for the period of averages between the pixels that were there.
func (s *seen) interpolated() (Result, bool) {
	if s.edges.count < fewestEdges || s.edges.steepness() >= hard {
		return Result{}, false // nothing to hold a period against, or what no average leaves
	}
	s.trace(third, second)
	s.trace(wide, widest)
	best, at, by := 0.0, 0.0, step
	for _, f := range averaged {
		s.each(func(freq float64) {
			if over := s.over(f, freq); over >= clear && over > best && !s.ofBlocks(f, freq) {
				best, at, by = over, freq, f
			}
		})
	}
	if best == 0 || s.patterned(at, best) {
		return Result{}, false
	}
	k, ok := s.factor(s.exact(by, at))
	if !ok || s.blocked() && s.eighth(at) && !s.fits(k, usual) {
		return Result{}, false
	}
	return Result{Kind: Enlarged, Factor: k, Sure: best >= 2*clear && !s.blocked() && s.fits(k, usual)}, true
}

// averaged are the filters in which averages show.
var averaged = []filter{third, second, wide, widest}

// k times enlarged a sharp edge has a steepness of 0.8/k to 1.3/k, by method and
// sharpening; one that was soft before has less.
const (
	usual = 0.65
	lower = 0.35
	upper = 1.5
)

// fits reports whether the edges are as steep as a factor leaves them, and no less than
// a share of that.
func (s *seen) fits(k, least float64) bool {
	was := k * s.edges.steepness()
	return was >= least && was <= upper
}

// factor is the factor whose period has a frequency. It may be the period itself, or
// half of it, by what of its waves is strongest; or what of a cycle is left by a factor
// under 2. The edges tell, and how the filters take it.
func (s *seen) factor(f float64) (k float64, ok bool) {
	far := math.Inf(1)
	consider := func(period, less float64) {
		if period < leastFactor || period > mostFactor || !s.fits(period, lower) {
			return
		}
		if less += math.Abs(math.Log(period * s.edges.steepness())); less < far {
			far, k = less, period
		}
	}
	under, over := 0.5, 0.0
	if !s.overTwo(f) {
		under, over = over, under
	}
	consider(1/f, over)
	consider(1/(1-f), under)
	for _, half := range []float64{f / 2, (1 - f) / 2} {
		if s.shows(half) {
			consider(1/half, 0.1)
		}
	}
	return k, !math.IsInf(far, 1)
}

// shows reports whether any filter has a wave of a frequency.
func (s *seen) shows(freq float64) bool {
	for _, f := range averaged {
		if s.over(f, freq) >= clear && !s.ofBlocks(f, freq) {
			return true
		}
	}
	return false
}

// overTwo reports whether a wave is that of a factor over 2 and not of what is left of a
// cycle. Of factors over 2 the longer filters have more; and all filters wax and wane
// together, second alone against them, which of lesser factors they do not.
func (s *seen) overTwo(f float64) bool {
	if max(s.size(second, f), s.size(wide, f)) >= 0.7*s.size(third, f) {
		return true
	}
	return s.together(third, wide, f) > 0.9 && s.together(third, second, f) < -0.9
}

// together tells how far two filters wax and wane together at a frequency: from 1, over
// 0, if they know nothing of each other, to -1.
func (s *seen) together(a, b filter, freq float64) float64 {
	sum, most := 0.0, 1e-12
	turn := cmplx.Rect(1, 2*math.Pi*freq*(centre[b]-centre[a]))
	for _, d := range []*side{&s.x, &s.y} {
		v, w := d.traces[a].wave(freq), d.traces[b].wave(freq)
		sum += real(v * turn * cmplx.Conj(w))
		most += cmplx.Abs(v) * cmplx.Abs(w)
	}
	return sum / most
}
