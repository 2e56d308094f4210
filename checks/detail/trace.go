package detail

import (
	"math"
	"math/cmplx"
	"slices"
)

// A filter is a difference between neighbours, of which a trace tells the size by place.
// They are wanted in several forms, for enlarging leaves its period in other frequencies
// by factor and method; of an exact doubling about pixel centres only those of even
// length see anything: to the others both places between two pixels look the same.
type filter int

const (
	step   filter = iota // p₁-p₀: pixels that were repeated
	slope                // the same with its sign, which has no period but the picture's own
	third                // p₃-3p₂+3p₁-p₀: factors to 3
	second               // p₃-p₂-p₁+p₀: the same, where a JPEG hides the finest
	wide                 // third, over two pixels each: factors from 2 to 8
	widest               // p₈-2p₄+p₀: factors from 5
	filters
)

// centre is where the middle of a filter lies.
var centre = [filters]float64{0.5, 0.5, 1.5, 1.5, 3, 4}

// sums add up what the filters find at each place of an axis, over its lines.
type sums [][filters]int32

// reach is how many pixels the longest filter takes.
const reach = 9

func newSums(length int) sums { return make(sums, length-reach+1) }

// weight is what a size counts: its root, less what rounding makes, so that a few hard
// edges do not speak for the picture.
var weight = func() (w [2048]int32) {
	for v := range w {
		w[v] = int32(16 * math.Sqrt(max(0, float64(v-2))))
	}
	return w
}()

func (s sums) add(line []int32) {
	w := &weight
	weigh := func(v int32) int32 { return w[max(v, -v)&2047] }
	p0, p1, p2, p3, p4, p5, p6, p7 := line[0], line[1], line[2], line[3], line[4], line[5], line[6], line[7]
	even := 0 // how many pixels were the same as the one before
	for i, p8 := range line[reach-1:] {
		if p8 != p7 {
			even = 0
		} else if even++; even >= reach {
			continue // flat: nothing to add, and nothing that moves on
		}
		at := &s[i]
		at[step] += weigh(p1 - p0)
		at[third] += weigh(p3 - p0 - 3*(p2-p1))
		at[second] += weigh(p3 - p2 - p1 + p0)
		at[wide] += weigh(p6 - p0 - 3*(p4-p2))
		at[widest] += weigh(p8 - 2*p4 + p0)
		at[slope] += p1 - p0
		p0, p1, p2, p3, p4, p5, p6, p7 = p1, p2, p3, p4, p5, p6, p7, p8
	}
}

// trace is how a filter's size waxes and wanes along an axis. Between the pixels that a
// small picture had, an enlarging program puts averages, which are smoother: so roughness
// has a period, the distance of the pixels that were there. (A. Gallagher, Detection of
// linear and cubic interpolation in JPEG compressed images, 2005, from memory, shows it
// of second differences.)
type trace struct {
	values []float64    // by place, windowed
	waves  []complex128 // of i cycles over the padded length
	size   []float64    // how large they are
	over   []float64    // how many times as large as is usual about their frequency
}

// traces makes the traces of two filters: the waves of real values need but half of a
// transform.
func (s sums) traces(f, g filter) (a, b trace) {
	a.values, b.values = s.values(f), s.values(g)
	a.waves, b.waves = waves(a.values, b.values)
	for _, t := range []*trace{&a, &b} {
		t.size = sizes(t.waves)
		t.over = overUsual(t.size)
	}
	return a, b
}

// values sets each place against its surroundings, so that it does not matter where in
// the picture there is more to see, and lets the ends fade out (Hann's window).
func (s sums) values(f filter) []float64 {
	const around = 8
	n := len(s)
	before := make([]float64, n+1)
	for i := range s {
		before[i+1] = before[i] + math.Abs(float64(s[i][f]))
	}
	usual := before[n] / float64(n)
	out := make([]float64, n)
	for i := range s {
		lo, hi := max(0, i-around), min(n, i+around+1)
		mean := (before[hi] - before[lo]) / float64(hi-lo)
		if mean == 0 {
			continue
		}
		own := float64(s[i][f]) / mean
		if f != slope {
			own--
		}
		const most = 1.5 // what one place may count
		fade := 1 - math.Cos(2*math.Pi*(float64(i)+0.5)/float64(n))
		out[i] = max(-most, min(own, most)) * min(1, 2*mean/usual) * fade / float64(n)
	}
	return out
}

// waves are the waves of two sets of values.
func waves(a, b []float64) (x, y []complex128) {
	padded := 2
	for padded < len(a) {
		padded *= 2
	}
	both := make([]complex128, padded)
	for i := range a {
		both[i] = complex(a[i], b[i])
	}
	transform(both)
	x, y = make([]complex128, padded/2+1), make([]complex128, padded/2+1)
	for i := range x {
		p, q := both[i], cmplx.Conj(both[(padded-i)%padded])
		x[i], y[i] = (p+q)/2, (p-q)/2i
	}
	return x, y
}

func sizes(waves []complex128) []float64 {
	out := make([]float64, len(waves))
	for i, w := range waves {
		out[i] = math.Sqrt(real(w)*real(w) + imag(w)*imag(w))
	}
	return out
}

// overUsual sets each value against the median of its neighbourhood.
func overUsual(v []float64) []float64 {
	out := make([]float64, len(v))
	wide := max(8, len(v)/24)
	near := make([]float64, 0, wide+1)
	for at := 0; at < len(v); at += wide {
		near = near[:0]
		for i := max(1, at-wide/2); i < min(len(v), at+wide+wide/2); i += 2 { // each second is enough
			near = append(near, v[i])
		}
		slices.Sort(near)
		usual := max(near[len(near)/2], 1e-9)
		for i := at; i < min(len(v), at+wide); i++ {
			out[i] = v[i] / usual
		}
	}
	return out
}

// near is the place of the strongest wave at a frequency, give or take what the padded
// length leaves open.
func (t *trace) near(f float64) int {
	at := min(len(t.over)-1, int(math.Round(f*float64(2*(len(t.over)-1)))))
	top := at
	for i := max(0, at-1); i < min(len(t.over), at+2); i++ {
		if t.over[i] > t.over[top] {
			top = i
		}
	}
	return top
}

// exact is the frequency of the peak about a frequency, between those of the transform:
// the top of the parabola through the logarithms of three.
func (t *trace) exact(f float64) float64 {
	top := t.near(f)
	n := float64(2 * (len(t.over) - 1))
	if top < 1 || top+1 >= len(t.over) {
		return float64(top) / n
	}
	log := func(i int) float64 { return math.Log(t.size[i] + 1e-12) }
	a, b, c := log(top-1), log(top), log(top+1)
	shift := 0.0
	if d := a - 2*b + c; d < 0 {
		shift = (a - c) / (2 * d)
	}
	return (float64(top) + max(-1, min(shift, 1))) / n
}

// wave is the wave of any frequency that the values hold.
func (t *trace) wave(f float64) (sum complex128) {
	step := cmplx.Rect(1, -2*math.Pi*f)
	at := complex(1, 0)
	for _, v := range t.values {
		sum += complex(v, 0) * at
		at *= step
	}
	return sum
}
