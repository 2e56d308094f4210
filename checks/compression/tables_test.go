package compression

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The tables at 75, which encoders start with, written out in IJG's own tests and in
// countless files: 8, 6, 5, 8 … are half of 16, 11, 10, 16, rounded.
func TestTableAt(t *testing.T) {
	got := TableAt(75)
	for i, want := range []uint16{8, 6, 5, 8, 12, 20, 26, 31, 6, 6, 7, 10, 13, 29, 30, 28} {
		if got[i] != want {
			t.Errorf("step %d is %d, want %d", i, got[i], want)
		}
	}
	if one, most := TableAt(100), TableAt(1); one != (Table{}).even(1) || most[63] != 255 {
		t.Errorf("100: %v, 1: %v", one, most)
	}
}

func (t Table) even(v uint16) Table {
	for i := range t {
		t[i] = v
	}
	return t
}

// Every standard table is told for what it is.
func TestQuality(t *testing.T) {
	for q := 1; q <= 100; q++ {
		for name, base := range map[string]Table{"luminance": luminance(), "chrominance": chrominance()} {
			got, exact := Quality(base.scaled(q))
			// The worst tables are all 255 alike.
			if !exact || got != q && base.scaled(got) != base.scaled(q) {
				t.Errorf("%s at %d: %d, exact %v", name, q, got, exact)
			}
		}
	}
}

// Other tables get the nearest quality.
func TestQualityOfOthers(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	for _, q := range []int{15, 40, 60, 80, 92} {
		other := luminance().scaled(q)
		for i, v := range other {
			other[i] = uint16(max(1, math.Round(float64(v)*(0.8+0.4*r.Float64()))))
		}
		if got, exact := Quality(other); exact || math.Abs(float64(got-q)) > 3 {
			t.Errorf("about %d: %d, exact %v", q, got, exact)
		}
	}
}

// The transform against its definition (T.81, A.3.3).
func TestTransform(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 2))
	var b block
	for i := range b {
		b[i] = float32(r.IntN(256) - 128)
	}
	got := b
	got.transform()
	for v := range 8 {
		for u := range 8 {
			sum := 0.0
			for y := range 8 {
				for x := range 8 {
					sum += float64(b[8*y+x]) * math.Cos(float64(2*x+1)*float64(u)*math.Pi/16) * math.Cos(float64(2*y+1)*float64(v)*math.Pi/16)
				}
			}
			for _, k := range []int{u, v} {
				if k == 0 {
					sum /= math.Sqrt2
				}
			}
			if want := sum / 4; math.Abs(want-float64(got[8*v+u])) > 1e-3 {
				t.Errorf("coefficient %d, %d is %v, want %v", u, v, got[8*v+u], want)
			}
		}
	}
}
