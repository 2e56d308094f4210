package brink

import "slices"

// How far in from the trim paint still counts as reaching it, mm: a
// background drawn to the trim and rounded inward shows as white after a cut.
const atTrim = 0.25

// nowhere is the end of a position that has no paint near the trim.
const nowhere = -1e6

// ends tells for each position along the strip how far out its last paint
// goes, in pixels beyond pixel 0's inner side, with the share of a softened
// last pixel; beyond it all is paper. Paint out to the last judged pixel gives
// exactly depth. Positions with no paint down to reach pixels inside are nowhere.
func (s *strip) ends(reach int) []float32 {
	ends := make([]float32, s.last-s.first)
	reach = min(reach, s.inner)
	floors := s.floors()
	for i := range ends {
		ends[i] = s.end(s.first+i, reach, floors[i])
	}
	if s.ink.loose {
		calm(ends)
	}
	return ends
}

// ringing is how far lossy coding smears a hard edge: a block of 8 pixels, and
// half of one more where colour is coded at half the resolution.
const ringing = 12

// floors is the ink at each position that is more than noise. Lossy coding
// leaves up to an eighth of the strongest ink around it.
func (s *strip) floors() []int {
	floors := make([]int, s.last-s.first)
	if !s.ink.loose {
		for i := range floors {
			floors[i] = s.ink.floor
		}
		return floors
	}
	strong := make([]int, len(floors))
	for i := range strong {
		for j := max(-ringing, -s.inner); j < s.depth; j++ {
			strong[i] = max(strong[i], s.at(s.first+i, j))
		}
	}
	for i := range floors {
		beside := strong[max(0, i-ringing):min(len(strong), i+ringing+1)]
		floors[i] = max(s.ink.floor, slices.Max(beside)/8)
	}
	return floors
}

func (s *strip) end(i, reach, floor int) float32 {
	j := s.depth - 1
	for j >= -reach && s.at(i, j) < floor {
		j--
	}
	if j < -reach {
		return nowhere
	}
	strongest := s.strongest(i, j, reach)
	if s.ink.loose {
		for 5*s.at(i, j) < strongest {
			j--
		}
	}
	if j == s.depth-1 {
		return float32(s.depth)
	}
	return s.soften(i, j, reach, strongest)
}

// strongest is the most ink in the pixels that the edge at j may have smeared
// or softened from.
func (s *strip) strongest(i, j, reach int) int {
	n := 3
	if s.ink.loose {
		n = ringing
	}
	most := 0
	for k := j; k >= max(j-n, -reach); k-- {
		most = max(most, s.at(i, k))
	}
	return most
}

// soften places the edge within its pixel: the last pixel with at least half
// of the ink is whole, and the next one counts for its share.
func (s *strip) soften(i, j, reach, strongest int) float32 {
	for j > -reach && 2*s.at(i, j) < strongest {
		j--
	}
	end := float32(j + 1)
	whole := s.at(i, j)
	if j+1 < s.depth && whole > 0 {
		end += min(1, float32(s.at(i, j+1))/float32(whole))
	}
	return end
}

// calm takes out single positions that noise has thrown off, by the median of
// three.
func calm(v []float32) {
	for i := 1; i+1 < len(v); i++ {
		a, b, c := v[i-1], v[i], v[i+1]
		v[i] = max(min(a, b), min(max(a, b), c))
	}
}

// paintAtTrim reports whether paint reaches the trim along at least 0.3 mm.
func (s *strip) paintAtTrim() bool {
	deep := min(s.outPx(atTrim), s.inner)
	run := 0
	for i := s.first; i < s.last; i++ {
		if !s.painted(i, deep) {
			run = 0
			continue
		}
		if run++; run >= s.alongPx(0.3) {
			return true
		}
	}
	return false
}

// painted reports whether position i has paint in the last deep pixels inside
// the trim.
func (s *strip) painted(i, deep int) bool {
	for j := -deep; j < 0; j++ {
		if s.at(i, j) >= s.ink.floor {
			return true
		}
	}
	return false
}
