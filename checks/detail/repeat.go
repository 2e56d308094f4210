package detail

import (
	"math/cmplx"
	"slices"
)

// repeated looks for pixels that were set several times side by side. Lightness then
// steps only where one ends, and those places have a period; but edges stay hard.
func (s *seen) repeated() (Result, bool) {
	const some = 0.08 // how strong the period is at the least: after a JPEG of 75 it has 0.1 or more
	levels := min(s.x.levels, s.y.levels)
	if s.edges.steepness() < hard || levels < fewLevels {
		return Result{}, false
	}
	if k, ok := s.copied(); ok {
		return Result{Kind: Enlarged, Factor: k, Repeated: true, Sure: levels >= manyLevels}, true
	}
	best, at := some, 0.0
	s.each(func(freq float64) {
		if size := s.size(step, freq); size > best && s.over(step, freq) >= 2*clear {
			best, at = size, freq
		}
	})
	if at == 0 || s.patterned(at, s.over(step, at)/2) {
		return Result{}, false
	}
	k := s.between(at)
	for _, part := range []float64{4, 3, 2} { // its harmonics are nearly as strong, or stronger
		if f := at / part; f > 1/mostFactor && s.size(step, f) > best/2 && s.between(f) > 2 {
			k = s.between(f)
			break
		}
	}
	s.trace(third, second)
	if s.ofBlocks(step, 1/k) {
		return Result{}, false
	}
	sure := levels >= manyLevels && s.x.stepsIn(1/k) > 0.97 && s.y.stepsIn(1/k) > 0.97
	return Result{Kind: Enlarged, Factor: k, Repeated: true, Sure: sure}, k >= leastFactor
}

// What is drawn in a few flat tones, such as a code of large modules, is as sharp as it
// can be: repeated pixels are no fault there. Drawings whose pixels are meant to be seen
// have more, and photographs have most: of those alone the finding is sure.
const (
	fewLevels  = 16
	manyLevels = 64
)

// between is how many places lie between two steps, by the frequency of a wave. If it is
// the places without a step that have the period, it is under 2.
func (s *seen) between(freq float64) float64 {
	f := s.exact(step, freq)
	if f < 0.48 && s.gaps(f) {
		return 1 / (1 - f)
	}
	return 1 / f
}

// gaps reports whether it is the places without a step that have the period. Whatever
// comes in a comb has its second wave in step with the first; what is missing in a comb
// has it against it.
func (s *seen) gaps(f float64) bool {
	one := func(t *trace) float64 {
		w := t.wave(f)
		return real(t.wave(2*f) * cmplx.Conj(w*w))
	}
	return one(&s.x.traces[step])+one(&s.y.traces[step]) < 0
}

// stepsIn tells how much of all steps lies in a share of the places, those with most:
// all of it where each k-th place alone has any and the share is 1/k.
func (d *side) stepsIn(share float64) float64 {
	steps := make([]int32, len(d.sums))
	for i := range steps {
		steps[i] = d.sums[i][step]
	}
	slices.Sort(steps)
	most, all := 0.0, 1e-9
	for i, v := range steps {
		all += float64(v)
		if float64(len(steps)-i) <= share*float64(len(steps))+1 {
			most += float64(v)
		}
	}
	return most / all
}
