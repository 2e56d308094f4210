package icc

import (
	"encoding/binary"
	"math"
	"slices"
)

// A curve gives one number for another, both from 0 to 1.
type curve struct {
	at    func(float64) float64 // takes any number, a NaN as 0
	knots int                   // between so many equal steps it is straight; 0 where it is bent throughout
}

// curves are one curve for each channel.
type curves []curve

func (cs curves) apply(c *colour) {
	for i := range cs {
		c[i] = cs[i].at(c[i])
	}
}

// unit brings a number to 0 to 1. A NaN, as a hostile curve may give, is 0.
func unit(x float64) float64 {
	if !(x > 0) {
		return 0
	}
	return min(x, 1)
}

// readCurve makes a curve of what stands at the start of b, and tells how many
// bytes that takes.
func readCurve(b []byte) (c curve, size int, err error) {
	if len(b) < 12 {
		return curve{}, 0, formatError("a curve is cut off")
	}
	switch string(b[:4]) {
	case "curv":
		return sampledCurve(b)
	case "para":
		return parametricCurve(b)
	}
	return curve{}, 0, formatError("a curve is of the type %q", b[:4])
}

// sampledCurve reads 10.5: no entry is the identity, one is a gamma in
// u8Fixed8, more are 16-bit samples over the whole range.
func sampledCurve(b []byte) (curve, int, error) {
	n := int64(binary.BigEndian.Uint32(b[8:]))
	size := 12 + 2*n
	if size > int64(len(b)) {
		return curve{}, 0, formatError("a curve of %d samples has %d bytes", n, len(b))
	}
	switch n {
	case 0:
		return curve{unit, 2}, int(size), nil
	case 1:
		gamma := float64(binary.BigEndian.Uint16(b[12:])) / 256
		return curve{func(x float64) float64 { return math.Pow(unit(x), gamma) }, 0}, int(size), nil
	}
	return samples{b[12:size], true}.curve(), int(size), nil
}

// samples are numbers from 0 to 1, of 8 or of 16 bits each.
type samples struct {
	data []byte
	wide bool // of 16 bits
}

// split parts the first n samples from the rest.
func (s samples) split(n int) (head, rest samples) {
	if s.wide {
		n *= 2
	}
	return samples{s.data[:n:n], s.wide}, samples{s.data[n:], s.wide}
}

func (s samples) len() int {
	if s.wide {
		return len(s.data) / 2
	}
	return len(s.data)
}

func (s samples) at(i int) float64 {
	if s.wide {
		return float64(binary.BigEndian.Uint16(s.data[2*i:])) / 0xffff
	}
	return float64(s.data[i]) / 0xff
}

// curve goes straight from each of at least two samples to the next.
func (s samples) curve() curve {
	n := s.len()
	return curve{func(x float64) float64 {
		x = unit(x) * float64(n-1)
		i := min(int(x), n-2)
		f := x - float64(i)
		return s.at(i)*(1-f) + s.at(i+1)*f
	}, n}
}

// parametricCounts are the numbers that each function of 10.16 takes.
var parametricCounts = [...]int{1, 3, 4, 5, 7}

// parametricCurve reads 10.16. All five functions are the last of them with
// some numbers at rest: (ax+b)^g + e from d on, cx + f below.
func parametricCurve(b []byte) (curve, int, error) {
	kind := int(binary.BigEndian.Uint16(b[8:]))
	if kind >= len(parametricCounts) {
		return curve{}, 0, formatError("a curve has the function %d, not 0 to 4", kind)
	}
	size := 12 + 4*parametricCounts[kind]
	if len(b) < size {
		return curve{}, 0, formatError("a curve of function %d has %d bytes, not %d", kind, len(b), size)
	}
	var k [7]float64 // as in the file
	for i := range parametricCounts[kind] {
		k[i] = s15Fixed16(b[12+4*i:])
	}
	g, a, b1, c, d, e, f := k[0], k[1], k[2], k[3], k[4], k[5], k[6]
	switch kind {
	case 0:
		a = 1
	case 1:
		d = -b1 / a
	case 2:
		c, d, e, f = 0, -b1/a, c, c
	}
	return curve{func(x float64) float64 {
		x = unit(x)
		if x >= d {
			return unit(math.Pow(a*x+b1, g) + e)
		}
		return unit(c*x + f)
	}, 0}, size, nil
}

// inverseKnots are enough of them to turn a bent curve round: for a gamma of
// 2.2, x is off by less than 0.0001, and that at the black end alone.
const inverseKnots = 4096

// inverse turns a curve round. Where the curve goes back on its way it is held
// level. Of a level stretch the start counts, but of one at the bottom the end,
// so that black lies next to what is nearly black.
func (c curve) inverse() curve {
	n := inverseKnots
	if c.knots > 0 {
		n = min(c.knots, n)
	}
	ys := make([]float64, n)
	for i := range ys {
		ys[i] = c.at(float64(i) / float64(n-1))
	}
	falls := ys[0] > ys[n-1]
	if falls {
		slices.Reverse(ys)
	}
	for i := 1; i < n; i++ {
		ys[i] = max(ys[i], ys[i-1])
	}
	bottom := 0
	for bottom < n-1 && ys[bottom+1] == ys[0] {
		bottom++
	}
	return curve{func(y float64) float64 {
		x := max(where(ys, unit(y)), float64(bottom)) / float64(n-1)
		if falls {
			return 1 - x
		}
		return x
	}, 0}
}

// where finds the place of y between the rising ys, in steps from the first.
func where(ys []float64, y float64) float64 {
	i, found := slices.BinarySearch(ys, y)
	switch {
	case found || i == 0:
		return float64(i)
	case i == len(ys):
		return float64(i - 1)
	}
	return float64(i-1) + (y-ys[i-1])/(ys[i]-ys[i-1])
}
