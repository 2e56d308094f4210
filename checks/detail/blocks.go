package detail

import "math"

// A JPEG's blocks of 8 pixels leave waves of all eighths of a cycle, but not the same in
// all filters. Measured on pictures sharp and out of focus, saved at 50 to 95.

// blocked reports whether a picture shows the blocks of a JPEG.
func (s *seen) blocked() bool { return s.over(third, 1./8) >= 2 }

// ofBlocks reports whether a filter's wave may come from blocks: an enlargement shows
// itself at an eighth by what blocks leave least of, or is plain.
func (s *seen) ofBlocks(f filter, freq float64) bool {
	if !s.eighth(freq) {
		return false
	}
	switch math.Round(8 * freq) {
	case 1:
		return f != widest && s.blocked()
	case 4:
		return s.over(third, 0.5) < 2*clear || s.blocked() && s.over(second, 0.5) < clear
	}
	return f != wide && (s.blocked() || s.over(f, freq) < 2*clear)
}

// eighth reports whether a frequency is an eighth, or cannot be told from one.
func (s *seen) eighth(freq float64) bool {
	n := float64(2 * min(len(s.x.traces[step].over)-1, len(s.y.traces[step].over)-1))
	return math.Abs(freq-math.Round(8*freq)/8) <= 4/n
}
