package detail

import "math"

// A JPEG's blocks of 8 pixels leave waves of all eighths of a cycle, but not the same in
// all filters. Measured on pictures sharp and out of focus, saved at 50 to 95.

// blocked reports whether a picture shows the blocks of a JPEG.
func (s *seen) blocked() bool { return s.over(third, 1./8) >= 2 }

// ofBlocks reports whether a filter's wave may come from blocks: an enlargement shows
// itself at an eighth by what blocks leave least of, beside what they leave most of.
func (s *seen) ofBlocks(f filter, freq float64) bool {
	if !s.eighth(freq) {
		return false
	}
	eighth, blocks := math.Round(8*freq), s.size(third, 1./8)
	switch {
	case eighth == 4 && s.halved:
		return true
	case !s.blocked():
		return f != wide && eighth != 1 && s.over(f, freq) < 2*clear // grain may hide them
	case eighth > 1 && !s.standsOut(f, int(eighth)):
		return true
	}
	switch eighth {
	case 1:
		return f != widest || s.size(widest, freq) < 0.2*blocks
	case 2:
		return f != wide || s.size(wide, freq) < 0.3*s.size(third, freq)
	case 4:
		return s.size(third, freq)*s.size(second, freq) < 0.08*blocks*blocks
	}
	return true
}

// eighth reports whether a frequency is an eighth, or cannot be told from one.
func (s *seen) eighth(freq float64) bool {
	n := float64(2 * min(len(s.x.traces[step].over)-1, len(s.y.traces[step].over)-1))
	return math.Abs(freq-math.Round(8*freq)/8) <= 4/n
}

// standsOut reports whether a filter's wave of so many eighths is more than one of a row
// that blocks leave at all of them, some strong and some weak by the art: its own second
// wave aside, it has three times the strength of the others.
func (s *seen) standsOut(f filter, eighths int) bool {
	for n := 1; n <= 4; n++ {
		if n != eighths && n != 2*eighths && s.over(f, float64(eighths)/8) < 3*s.over(f, float64(n)/8) {
			return false
		}
	}
	return true
}
