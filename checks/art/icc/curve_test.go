package icc

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The five functions of 10.16, each worked out by hand at one place of either part.
func TestCurves(t *testing.T) {
	for name, c := range map[string]struct {
		tag        []byte
		x, y       float64
		x2, y2     float64
		size, less int // bytes it takes, and at which it is cut off
	}{
		"identity":   {be32(element("curv"), 0), 0.3, 0.3, 7, 1, 12, 11},
		"gamma":      {gammaTag(2), 0.5, 0.25, -1, 0, 14, 13},
		"samples":    {put16(be32(element("curv"), 3), 0, 0.2, 1), 0.25, 0.1, 0.75, 0.6, 18, 17},
		"function 0": {paraTag(0, 2), 0.5, 0.25, 1, 1, 16, 15},
		"function 1": {paraTag(1, 2, 0.5, -0.25), 0.75, 0.015625, 0.25, 0, 24, 23},
		"function 2": {paraTag(2, 2, 0.5, -0.25, 0.125), 0.75, 0.140625, 0.25, 0.125, 28, 27},
		"function 3": {paraTag(3, 2, 0.5, 0.25, 0.5, 0.5), 0.75, 0.390625, 0.25, 0.125, 32, 31},
		"function 4": {paraTag(4, 2, 0.5, 0.25, 0.5, 0.5, 0.125, 0.25), 0.75, 0.515625, 0.25, 0.375, 40, 39},
		"no slope":   {paraTag(1, 2, 0, 0.5), 0, 0.25, 1, 0.25, 24, 23},
		"no number":  {paraTag(4, 0.5, 1, -2, 0, 0, 0, 0), 0.5, 0, math.NaN(), 0, 40, 39},
	} {
		got, size, err := readCurve(append(c.tag, 1, 2, 3))
		if err != nil || size != c.size {
			t.Errorf("%s takes %d bytes, not %d; %v", name, size, c.size, err)
			continue
		}
		for x, y := range map[float64]float64{c.x: c.y, c.x2: c.y2} {
			if v := got.at(x); !(math.Abs(v-y) < 2e-5) {
				t.Errorf("%s: %v gives %v, not %v", name, x, v, y)
			}
		}
		var format FormatError
		if _, _, err := readCurve(c.tag[:c.less]); !errors.As(err, &format) {
			t.Errorf("%s, cut off: %v", name, err)
		}
	}
	for name, tag := range map[string][]byte{
		"another type": textTag("a curve, it says"), "function 5": paraTag(5, 1, 1, 1, 1, 1, 1, 1), "endless": be32(element("curv"), math.MaxUint32),
	} {
		if _, _, err := readCurve(tag); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

// There and back is where one was, wherever the curve is not level: for curves
// that rise or fall, straight between samples or bent.
func TestCurveInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 40).Draw(t, "samples")
		values := []float64{0}
		for range n - 1 {
			values = append(values, values[len(values)-1]+rapid.Float64Range(0.01, 1).Draw(t, "step"))
		}
		falls := rapid.Bool().Draw(t, "falls")
		for i, v := range values {
			values[i] = v / values[n-1]
			if falls {
				values[i] = 1 - values[i]
			}
		}
		c, _, err := readCurve(put16(be32(element("curv"), uint32(n)), values...))
		if err != nil {
			t.Fatal(err)
		}
		x := rapid.Float64Range(0, 1).Draw(t, "x")
		if back := c.inverse().at(c.at(x)); math.Abs(back-x) > 1e-9 {
			t.Fatalf("%v goes to %v and back to %v", x, c.at(x), back)
		}
	})
	rapid.Check(t, func(t *rapid.T) {
		c, _, err := readCurve(gammaTag(rapid.Float64Range(1, 3).Draw(t, "gamma")))
		if err != nil {
			t.Fatal(err)
		}
		y := rapid.Float64Range(0, 1).Draw(t, "y")
		if again := c.at(c.inverse().at(y)); math.Abs(again-y) > 1e-5 {
			t.Fatalf("%v comes from %v, which gives %v", y, c.inverse().at(y), again)
		}
	})
}

// A level stretch has many ways back: the end of one at the bottom, the start of
// one elsewhere. A curve that is level altogether has some, and that is all.
func TestCurveInverseLevel(t *testing.T) {
	at := func(y float64, samples ...float64) float64 {
		c, _, err := readCurve(put16(be32(element("curv"), uint32(len(samples))), samples...))
		if err != nil {
			t.Fatal(err)
		}
		return c.inverse().at(y)
	}
	for i, c := range []struct{ got, want float64 }{
		{at(0, 0, 0, 0, 0.5, 1), 0.5},
		{at(0.5, 0, 0.25, 0.5, 0.5, 1), 0.5},
		{at(1, 0, 0.5, 1, 1, 1), 0.5},
		{at(0.8, 0, 0.8, 0.4, 0.9, 1), 0.25}, // held level on its way back
		{at(0.1, 0.2, 0.5, 1), 0},
		{at(0.9, 0.2, 0.5, 0.8), 1},
		{at(0.3, 0.3, 0.3, 0.3), 1},
	} {
		if math.Abs(c.got-c.want) > 1e-4 {
			t.Errorf("case %d: %v, not %v", i, c.got, c.want)
		}
	}
}
