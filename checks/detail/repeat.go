package detail

import (
	"math"
	"math/cmplx"
)

// repeated looks for pixels that were set several times side by side. Lightness then
// steps only where one ends, and those places have a period.
func repeated(a axes) (Result, bool) {
	const clear, plain, enough = 0.2, 0.3, 4
	best, at := 0.0, 0.0
	steps := a.steps()
	steps.each(1/mostFactor, func(f, strength, over float64) {
		if over >= enough && strength > best {
			best, at = strength, f
		}
	})
	for _, part := range []float64{4, 3, 2} { // harmonics are nearly as strong
		if f := at / part; f > 1/mostFactor && steps.strength(f) > 0.8*best {
			at = f
			break
		}
	}
	switch {
	case best < clear, best < 0.3 && ofBlocks(at):
		return Result{}, false
	case best < plain && a.finest() < 0.28, best < 2*plain && a.patterned(at):
		return Result{}, false // interpolation has steps everywhere, and less of what is fine
	case a.x.levels() < fewestLevels:
		return Result{}, false
	}
	f := steps.exact(at)
	k := 1 / f
	if f < 0.48 && steps.gaps(f) {
		k = 1 / (1 - f)
	}
	return Result{Kind: Enlarged, Factor: k, Repeated: true, Sure: true}, true
}

// gaps reports whether it is the places without a step that have the period, as with
// factors under 2. Whatever comes in a comb has its second wave in step with the first;
// what is missing in a comb has it against it.
func (t traces) gaps(f float64) bool {
	one := func(t trace) float64 {
		w := t.wave(f)
		return real(t.wave(2*f) * cmplx.Conj(w*w))
	}
	return one(t.x)+one(t.y) < 0
}

// fewestLevels is how many levels a picture needs so that repeated pixels are a fault:
// what is drawn in a few flat tones, such as a code of large modules, is as sharp as it
// can be.
const fewestLevels = 16

// levels is how many levels of grey the roughest tiles have.
func (l looked) levels() int {
	var seen [256]bool
	line := make([]float64, tileLength)
	for _, t := range l.tiles {
		l.read(line, t.line, t.at)
		for _, v := range line {
			seen[byte(v)] = true
		}
	}
	n := 0
	for _, s := range seen {
		if s {
			n++
		}
	}
	return n
}

// patterned reports whether lightness itself, not only its roughness, has a period
// there: that of stripes, checks and printed screens has, and roughness for no other
// reason. Roughness has no sign, so that it may have twice the frequency.
func (l looked) patterned(f float64) bool {
	const line = 6
	g := l.gather()
	piece, slope := make([]float64, tileLength), make([]float64, tileLength-1)
	for _, t := range l.tiles {
		for k := range tileLines {
			l.read(piece, t.line+k, t.at)
			mean := 0.0
			for i := range slope {
				slope[i] = piece[i+1] - piece[i]
				mean += math.Abs(slope[i])
			}
			if mean /= float64(len(slope)); mean >= 1 {
				g.add(t.at, slope, mean)
			}
		}
	}
	t := traceOf(g.sum)
	return max(t.over(f), t.over(f/2), t.over((1-f)/2)) > line
}
