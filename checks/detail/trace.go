package detail

import (
	"math"
	"math/cmplx"
	"slices"
)

// trace is how the roughness of the lines waxes and wanes along them. Between the
// pixels that a small picture had, an enlarging program puts in averages, which are
// smoother: so roughness has a period, the distance of the pixels that were there.
// (A. Gallagher, Detection of linear and cubic interpolation in JPEG compressed images,
// 2005, shows it for second differences.)
type trace struct {
	size   []float64 // of a wave of i cycles over the padded length, as a share of roughness
	ratio  []float64 // the same over what is usual about that frequency
	padded int
	values []float64 // by place
}

// most is what one place may count over the mean of its tile, so that a single edge
// does not speak for the picture.
const most = 4

// gathered is what tiles add to the places along an axis.
type gathered struct{ sum, count []float64 }

func (a axis) gather() gathered {
	padded := tileLength
	for padded < a.length {
		padded *= 2
	}
	return gathered{make([]float64, padded), make([]float64, padded)}
}

func (g gathered) add(at int, values []float64, mean float64) {
	for i, v := range values {
		g.sum[at+i] += max(-most, min(v/mean, most))
		g.count[at+i]++
	}
}

// bendTrace is the trace of second differences over a lag. Less than a level on
// average is rounding, and what a JPEG adds.
func (a axis) bendTrace(tiles []tile, lag int) trace {
	g := a.gather()
	line, bend := make([]float64, tileLength), make([]float64, tileLength-2*lag)
	for _, t := range tiles {
		for k := range tileLines {
			a.read(line, t.line+k, t.at)
			mean := 0.0
			for i := range bend {
				bend[i] = math.Abs(line[i] + line[i+2*lag] - 2*line[i+lag])
				mean += bend[i]
			}
			if mean /= float64(len(bend)); mean >= float64(lag) {
				g.add(t.at+lag, bend, mean)
			}
		}
	}
	return g.trace()
}

// stepTrace is the trace of first differences, and the share of them that are not small.
func (a axis) stepTrace(tiles []tile) (tr trace, large float64) {
	g := a.gather()
	line, step := make([]float64, tileLength), make([]float64, tileLength-1)
	n, all := 0, 0
	for _, t := range tiles {
		for k := range tileLines {
			a.read(line, t.line+k, t.at)
			mean := 0.0
			for i := range step {
				step[i] = math.Abs(line[i+1] - line[i])
				mean += step[i]
			}
			if mean /= float64(len(step)); mean < 1 {
				continue
			}
			g.add(t.at, step, mean)
			for _, s := range step {
				if s > mean/2 {
					n++
				}
			}
			all += len(step)
		}
	}
	return g.trace(), float64(n) / float64(max(1, all))
}

// trace sets sums against what their places would have if all were alike.
func (g gathered) trace() trace {
	all, n := 0.0, 0.0
	for i := range g.sum {
		all += g.sum[i]
		n += g.count[i]
	}
	if n == 0 {
		return trace{padded: len(g.sum)}
	}
	for i := range g.sum {
		g.sum[i] = (g.sum[i] - g.count[i]*all/n) / all
	}
	return traceOf(g.sum)
}

func traceOf(values []float64) trace {
	x := make([]complex128, len(values))
	for i, v := range values {
		x[i] = complex(v, 0)
	}
	transform(x)
	tr := trace{padded: len(x), values: values}
	for _, v := range x[:len(x)/2+1] {
		tr.size = append(tr.size, cmplx.Abs(v))
	}
	tr.ratio = overUsual(tr.size)
	return tr
}

// overUsual sets each value against the median of its neighbourhood.
func overUsual(v []float64) []float64 {
	out := make([]float64, len(v))
	step := max(8, len(v)/24)
	usual := make([]float64, 0, 2*step)
	for at := 0; at < len(v); at += step {
		lo, hi := max(1, at-step/2), min(len(v), at+step+step/2)
		usual = append(usual[:0], v[min(lo, hi-1):hi]...)
		slices.Sort(usual)
		m := max(usual[len(usual)/2], 1e-9)
		for i := at; i < min(len(v), at+step); i++ {
			out[i] = v[i] / m
		}
	}
	return out
}

// peak is the highest of values at a frequency, give or take what the padded length
// leaves open.
func (t trace) peak(v []float64, f float64) float64 {
	at := int(math.Round(f * float64(t.padded)))
	h := 0.0
	for i := max(0, at-1); i <= min(len(v)-1, at+1); i++ {
		h = max(h, v[i])
	}
	return h
}

func (t trace) strength(f float64) float64 { return t.peak(t.size, f) }
func (t trace) over(f float64) float64     { return t.peak(t.ratio, f) }

// wave is the wave of any frequency that the values hold.
func (t trace) wave(f float64) (sum complex128) {
	step := cmplx.Rect(1, -2*math.Pi*f)
	at := complex(1, 0)
	for _, v := range t.values {
		sum += complex(v, 0) * at
		at *= step
	}
	return sum
}

// traces are the same of both axes.
type traces struct{ x, y trace }

// strength is how strong both are at a frequency, and over how many times as strong as
// usual.
func (t traces) strength(f float64) float64 { return min(t.x.strength(f), t.y.strength(f)) }
func (t traces) over(f float64) float64     { return min(t.x.over(f), t.y.over(f)) }

// most is the strength of the stronger.
func (t traces) most(f float64) float64 { return max(t.x.strength(f), t.y.strength(f)) }

// longer is the trace whose frequencies lie closer.
func (t traces) longer() trace {
	if t.x.padded >= t.y.padded {
		return t.x
	}
	return t.y
}

// each tells all frequencies from one up.
func (t traces) each(from float64, tell func(f, strength, over float64)) {
	n := t.longer().padded
	for b := int(from * float64(n)); b <= n/2; b++ {
		f := float64(b) / float64(n)
		tell(f, t.strength(f), t.over(f))
	}
}

// exact is the frequency of the peak about a frequency, between those of the transform.
func (t traces) exact(f float64) float64 {
	l := t.longer()
	at := int(math.Round(f * float64(l.padded)))
	top := at
	for i := max(1, at-2); i <= min(len(l.size)-1, at+2); i++ {
		if l.size[i] > l.size[top] {
			top = i
		}
	}
	if top < 1 || top+1 >= len(l.size) {
		return float64(top) / float64(l.padded)
	}
	// The parabola through three values.
	a, b, c := l.size[top-1], l.size[top], l.size[top+1]
	shift := 0.0
	if d := a - 2*b + c; d < 0 {
		shift = (a - c) / (2 * d)
	}
	return (float64(top) + shift) / float64(l.padded)
}
