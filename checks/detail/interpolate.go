package detail

import "math"

// interpolated looks for the period of interpolation. It shows in second differences;
// but of a picture enlarged exactly twice about its middle these are alike at both
// places between two pixels, and first differences are not.
func interpolated(a axes) (Result, bool) {
	// Of noise, one frequency in a million stands out so far along both axes.
	const enough, strong, both, beyondDoubt = 4.2, 0.02, 0.12, 9
	best, at := 0.0, 0.0
	var in traces
	consider := func(t traces, from float64, seen func(f float64) bool) {
		t.each(from, func(f, strength, over float64) {
			if over > best && over >= enough && strength >= strong && strength*over >= both && seen(f) {
				best, at, in = over, f, t
			}
		})
	}
	blocks := a.blocked()
	for i := range lags {
		consider(a.bends(i), 1/mostFactor, func(f float64) bool { return a.plausible(f, i, blocks) })
	}
	if best == 0 {
		consider(a.steps(), 0.495, a.twice)
	}
	if best == 0 || a.patterned(at) {
		return Result{}, false
	}
	if half := at / 2; a.plausible(half, 2, blocks) && a.bends(2).over(half) >= enough {
		at = half // what stood out most was its first harmonic
	}
	return Result{Kind: Enlarged, Factor: a.factor(in.exact(at)), Sure: best >= beyondDoubt && !blocks}, true
}

// factor is the factor whose period has a frequency. Over half a cycle a pixel cannot
// be told from under it: factors under 2 have the periods of larger ones. But of those
// the roughness is a comb, and of these its gaps are; near half a cycle, where that does
// not tell, wider lags see the larger ones alone.
func (a axes) factor(f float64) float64 {
	one, wide := a.bends(0), max(a.bends(1).strength(f), a.bends(2).strength(f))
	switch {
	case f < 0.27, f > 0.49:
		return 1 / f
	case f < 0.37 && one.gaps(f), f >= 0.37 && wide < 0.24*one.strength(f):
		return 1 / (1 - f)
	}
	return 1 / f
}

// plausible reports whether a period fits the detail that there is, and is not that of
// JPEG's blocks.
func (a axes) plausible(f float64, lag int, blocks bool) bool {
	if blocks && ofBlocks(f) {
		return a.beyondBlocks(f)
	}
	t := a.bends(lag)
	if blocks && t.strength(f) < 0.6*t.ofBlocks() {
		return false
	}
	k := a.factor(f)
	if lag == 0 {
		// Wider lags do not see factors under 2. Making a picture smaller leaves a weaker
		// trace of the same kind, and detail as fine as the pixels.
		return k < 1.95 && t.strength(f) >= 0.05 && t.over(f) >= 6 && a.finest()*k <= 0.56
	}
	return k >= 1.95 && a.finest()*k <= 0.8
}

// twice reports whether first differences tell of a factor of 2 and not of the blocks
// of a JPEG, which leave something at every eighth.
func (a axes) twice(f float64) bool {
	s := a.steps()
	return 0.2 <= a.finest() && a.finest() <= 0.4 && s.strength(f) >= 0.04 && s.strength(f) >= 1.5*s.ofBlocks()
}

// beyondBlocks reports whether a trace at a multiple of an eighth is more than the
// blocks of a JPEG leave: over the widest lag they leave least.
func (a axes) beyondBlocks(f float64) bool {
	wide := a.bends(2)
	switch {
	case f < 0.2:
		return wide.strength(f) > 0.05 && wide.over(f) > 5
	case f < 0.3:
		return wide.strength(f) > 0.05 && wide.over(f) > 6
	}
	return false
}

// ofBlocks reports whether a frequency is one that the blocks of a JPEG leave, or near.
func ofBlocks(f float64) bool { return math.Abs(f*8-math.Round(f*8)) < 0.06 }

// ofBlocks is the strongest that the blocks of a JPEG leave along either axis.
func (t traces) ofBlocks() float64 { return max(t.most(0.125), t.most(0.25), t.most(0.375)) }

// blocked reports whether roughness has the period of JPEG's blocks.
func (a axes) blocked() bool {
	bends := a.bends(0)
	one := func(t trace) bool { return t.over(0.375) > 2.5 && t.over(0.125) > 2 }
	return one(bends.x) || one(bends.y)
}
