package icc

import (
	"encoding/binary"
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// A table of a straight function gives just that, of any number of inputs and
// by either interpolation.
func TestGridIsStraight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		points := rapid.SliceOfN(rapid.IntRange(2, 5), 1, 4).Draw(t, "points")
		slopes := rapid.SliceOfN(rapid.Float64Range(0, 0.25), 4, 4).Draw(t, "slopes")
		f := func(in []float64) []float64 {
			sum := 0.0
			for i, v := range in {
				sum += v * slopes[i]
			}
			return []float64{sum, 1 - sum}
		}
		g, rest, err := newGrid(points, 2, samples{append(put16(nil, crossings(points, f)...), 9), true})
		if err != nil || rest.len() != 0 {
			t.Fatal(rest.len(), err)
		}
		g.lab = rapid.Bool().Draw(t, "lab")
		in := rapid.SliceOfN(rapid.Float64Range(0, 1), len(points), len(points)).Draw(t, "in")
		var c colour
		copy(c[:], in)
		g.apply(&c)
		for i, want := range f(in) {
			if math.Abs(c[i]-want) > 1.0/0xffff {
				t.Fatalf("%v gives %v, not %v", in, c, f(in))
			}
		}
	})
}

// A device's grey stays grey between the crossings, though the table bends: by
// tetrahedra. Numbers beyond 0 and 1, or none at all, are the nearest.
func TestGridKeepsGrey(t *testing.T) {
	corner := func(in []float64) []float64 { return []float64{in[0] * in[1] * in[2]} }
	g, _, err := newGrid([]int{2, 2, 2}, 1, samples{put16(nil, crossings([]int{2, 2, 2}, corner)...), true})
	if err != nil {
		t.Fatal(err)
	}
	for in, want := range map[colour]float64{
		{0.5, 0.5, 0.5}: 0.5, {0.5, 0.25, 1}: 0.25, {7, 7, 0.75}: 0.75, {-1, 0.5, 0.5}: 0, {math.NaN(), 1, 1}: 0,
	} {
		c := in
		if g.apply(&c); c[0] != want {
			t.Errorf("%v gives %v, not %v", in, c[0], want)
		}
	}
	g.lab = true
	c := colour{0.5, 0.5, 0.5}
	if g.apply(&c); math.Abs(c[0]-0.125) > 1e-9 {
		t.Errorf("in Lab: %v", c[0])
	}
}

// Tables that say more than they hold are refused with their own words.
func TestTableRefuses(t *testing.T) {
	old := oldDraft{kind: "mft2", in: 3, out: 3, points: 2, bend: 1, f: labToRGB}.bytes()
	three := [][]byte{gammaTag(1), gammaTag(1), gammaTag(1)}
	full := newDraft{kind: "mAB ", in: 3, out: 3, a: three, points: []int{2, 2, 2}, f: labToRGB, m: three, matrix: make([]float64, 12), b: three}
	change := func(b []byte, at int, v ...byte) []byte {
		b = append([]byte(nil), b...)
		copy(b[at:], v)
		return b
	}
	part := func(p part) int { return int(binary.BigEndian.Uint32(full.bytes()[p:])) }
	for name, c := range map[string]struct {
		tag  []byte
		says string
	}{
		"nothing":           {nil, "cut off"},
		"a head alone":      {old[:50], "cut off"},
		"another type":      {change(old, 0, 'm', 'p', 'e', 't'), `type "mpet"`},
		"channels":          {change(old, 8, 4), "from 4 to 3"},
		"one sample":        {change(old, 48, 0, 1), "curves of 1 samples"},
		"samples":           {change(old, 48, 255, 255), "curves of 65535"},
		"output samples":    {change(old, 50, 255, 255), "curves of 65535"},
		"one point":         {change(old, 10, 1), "grid of 1 points"},
		"points":            {change(old, 10, 255), "grid has"},
		"a part beyond":     {change(full.bytes(), int(gridABC), 1), "beyond its"},
		"a curve beyond":    {change(full.bytes(), int(curvesM), 0, 0, 0, byte(32+8)), "type"},
		"a grid's width":    {change(full.bytes(), part(gridABC)+16, 3), "width"},
		"a grid's points":   {change(full.bytes(), part(gridABC), 200), "grid has"},
		"a grid of none":    {change(full.bytes(), part(gridABC)+2, 0), "grid of 0 points"},
		"a grid at the end": {change(full.bytes(), int(gridABC), binary.BigEndian.AppendUint32(nil, uint32(len(full.bytes())-4))...), "cut off"},
		"a matrix at the end": {change(full.bytes(), int(matrixM), binary.BigEndian.AppendUint32(nil, uint32(len(full.bytes())-8))...),
			"matrix for 3 channels has 8 bytes"},
	} {
		_, _, err := readTable(c.tag, RGB, Lab)
		var format FormatError
		if !errors.As(err, &format) || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v; want %q in it", name, err, c.says)
		}
	}
	lone := newDraft{kind: "mAB ", in: 4, out: 3, b: append(three, gammaTag(1))}.bytes()
	if _, _, err := readTable(lone, CMYK, Lab); err == nil || !strings.Contains(err.Error(), "no grid") {
		t.Errorf("from four to three without a grid: %v", err)
	}
	early := newDraft{kind: "mAB ", in: 4, out: 3, b: three, matrix: make([]float64, 12)}.bytes()
	if _, _, err := readTable(early, CMYK, Lab); err == nil || !strings.Contains(err.Error(), "matrix for 4 channels") {
		t.Errorf("a matrix for four: %v", err)
	}
}
