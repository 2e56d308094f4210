package brink_test

import (
	"math"
	"testing"

	"stoneproof/checks/brink"
	"stoneproof/rules"
)

// fuzzCanvas makes any small canvas of any bytes: geometry that does not fit
// its pixels included.
func fuzzCanvas(pix []byte, w, h uint8, x, y int32, px, py float64, tw, th int32) brink.Canvas {
	c := brink.Canvas{W: int(w), H: int(h), X: rules.Length(x), Y: rules.Length(y), PxW: px, PxH: py,
		Trim: rules.Size{W: rules.Length(tw), H: rules.Length(th)}, Transparent: len(pix)%2 == 0}
	if len(pix) > 0 && len(pix) < 4*c.W*c.H {
		full := make([]byte, 4*c.W*c.H)
		for i := range full {
			full[i] = pix[(i+i/97)%len(pix)]
		}
		pix = full
	}
	c.Pix = pix
	return c
}

func seedFuzz(f *testing.F) {
	f.Add([]byte{255, 255, 255, 255, 0, 0, 0, 255}, uint8(40), uint8(30), int32(-300), int32(-300), 100., 100., int32(3400), int32(2400), int32(300))
	f.Add([]byte{1, 2, 3, 0, 200}, uint8(255), uint8(200), int32(-3000), int32(-3000), 84.667, 84.6, int32(15000), int32(11000), int32(3000))
	f.Add([]byte{}, uint8(1), uint8(1), int32(0), int32(0), math.NaN(), 1., int32(1), int32(1), int32(-5))
	f.Add([]byte{9}, uint8(3), uint8(200), int32(5000), int32(90), .001, 999., int32(1<<30), int32(1), int32(1<<30))
}

func FuzzBleed(f *testing.F) {
	seedFuzz(f)
	f.Fuzz(func(t *testing.T, pix []byte, w, h uint8, x, y int32, px, py float64, tw, th, wanted int32) {
		c := fuzzCanvas(pix, w, h, x, y, px, py, tw, th)
		for k, e := range brink.Bleed(c, rules.Length(wanted)) {
			if e.Edge != rules.AllEdges[k] || e.Extent < 0 || e.Extent > e.Room || e.To < e.From {
				t.Errorf("%+v", e)
			}
		}
	})
}

func FuzzSafe(f *testing.F) {
	seedFuzz(f)
	f.Fuzz(func(t *testing.T, pix []byte, w, h uint8, x, y int32, px, py float64, tw, th, safe int32) {
		c := fuzzCanvas(pix, w, h, x, y, px, py, tw, th)
		for _, in := range brink.ReadGround(c).Intruders(rules.Length(safe)) {
			if in.Box.Empty() || in.Distance >= rules.Length(safe) {
				t.Errorf("%+v", in)
			}
		}
	})
}

func FuzzBorder(f *testing.F) {
	seedFuzz(f)
	f.Fuzz(func(t *testing.T, pix []byte, w, h uint8, x, y int32, px, py float64, tw, th, _ int32) {
		c := fuzzCanvas(pix, w, h, x, y, px, py, tw, th)
		b, ok := brink.ReadMargins(c).Border()
		if ok != (len(b.Sides) > 0) || len(b.Sides) > 4 {
			t.Errorf("%v %+v", ok, b)
		}
		for _, s := range b.Sides {
			if s.To < s.From {
				t.Errorf("%+v", s)
			}
		}
	})
}

func FuzzCutMarks(f *testing.F) {
	seedFuzz(f)
	f.Fuzz(func(t *testing.T, pix []byte, w, h uint8, x, y int32, px, py float64, tw, th, bleed int32) {
		c := fuzzCanvas(pix, w, h, x, y, px, py, tw, th)
		m := brink.FindCutMarks(c, rules.Length(bleed))
		if m.Arms > 8 || m.Corners > 4 || m.Crosses > 4 || m.Any() && len(m.Boxes) == 0 {
			t.Errorf("%+v", m)
		}
	})
}
