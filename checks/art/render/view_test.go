package render

import (
	"errors"
	"image"
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestViewCheck(t *testing.T) {
	good := whole(cardMedia, 1)
	cases := map[string]struct {
		change func(*View)
		want   error
	}{
		"as it is":          {func(*View) {}, nil},
		"negative place":    {func(v *View) { v.X, v.Y = -50, -50 }, nil},
		"no width":          {func(v *View) { v.W = 0 }, ErrView},
		"negative height":   {func(v *View) { v.H = -1 }, ErrView},
		"no pixels":         {func(v *View) { v.PxW = 0 }, ErrView},
		"not a number":      {func(v *View) { v.X = math.NaN() }, ErrView},
		"infinite":          {func(v *View) { v.W = math.Inf(1) }, ErrView},
		"empty MediaBox":    {func(v *View) { v.Media = [4]float64{} }, ErrView},
		"reversed MediaBox": {func(v *View) { v.Media = [4]float64{270, 0, 0, 162} }, ErrView},
		"as many as may be": {func(v *View) { v.PxW, v.PxH = 1000, 1000 }, nil},
		"one row too many":  {func(v *View) { v.PxW, v.PxH = 1000, 1001 }, ErrTooBig},
		"overflowing":       {func(v *View) { v.PxW, v.PxH = math.MaxInt, math.MaxInt }, ErrTooBig},
	}
	for name, c := range cases {
		v := good
		c.change(&v)
		if got := v.check(1_000_000); !errors.Is(got, c.want) {
			t.Errorf("%s: %v, not %v", name, got, c.want)
		}
	}
}

// A pixel is inside if and only if its centre lies on the page.
func TestInsideIsByCentres(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		units := rapid.Float64Range(-300, 300)
		size := rapid.Float64Range(0.5, 300)
		v := View{
			X: units.Draw(t, "x"), Y: units.Draw(t, "y"), W: size.Draw(t, "w"), H: size.Draw(t, "h"),
			PxW: rapid.IntRange(1, 40).Draw(t, "pxw"), PxH: rapid.IntRange(1, 40).Draw(t, "pxh"),
		}
		pageW, pageH := size.Draw(t, "page w"), size.Draw(t, "page h")
		got := v.inside(pageW, pageH)
		const slack = 1e-9
		for y := range v.PxH {
			for x := range v.PxW {
				cx := v.X + (float64(x)+0.5)*v.W/float64(v.PxW)
				cy := v.Y + (float64(y)+0.5)*v.H/float64(v.PxH)
				surelyIn := cx > slack && cx < pageW-slack && cy > slack && cy < pageH-slack
				surelyOut := cx < -slack || cx > pageW+slack || cy < -slack || cy > pageH+slack
				in := image.Pt(x, y).In(got)
				if surelyIn && !in || surelyOut && in {
					t.Fatalf("pixel %d,%d with centre %v,%v: inside is %v", x, y, cx, cy, in)
				}
			}
		}
	})
}
