package press

import "math"

// pt is a point; which unit and which way is up depends on the canvas.
type pt struct{ x, y float64 }

// rect is an upright rectangle: x right, y down, millimetres from the top left
// corner of the trim unless said otherwise.
type rect struct{ x, y, w, h float64 }

func (r rect) right() float64  { return r.x + r.w }
func (r rect) bottom() float64 { return r.y + r.h }
func (r rect) mid() pt         { return pt{r.x + r.w/2, r.y + r.h/2} }

// inset takes d off each edge.
func (r rect) inset(d float64) rect { return rect{r.x + d, r.y + d, r.w - 2*d, r.h - 2*d} }

// least is the shorter side.
func (r rect) least() float64 { return min(r.w, r.h) }

// cut splits the rectangle along its longer axis: the first part takes the
// fraction f, and a gap lies between the parts.
func (r rect) cut(f, gap float64) (first, second rect) {
	if r.w >= r.h {
		a := (r.w - gap) * f
		return rect{r.x, r.y, a, r.h}, rect{r.x + a + gap, r.y, r.w - a - gap, r.h}
	}
	a := (r.h - gap) * f
	return rect{r.x, r.y, r.w, a}, rect{r.x, r.y + a + gap, r.w, r.h - a - gap}
}

// affine maps (x, y) to (a·x + c·y + e, b·x + d·y + f), as PDF writes it.
type affine struct{ a, b, c, d, e, f float64 }

func identity() affine { return affine{a: 1, d: 1} }

func (m affine) at(p pt) pt { return pt{m.a*p.x + m.c*p.y + m.e, m.b*p.x + m.d*p.y + m.f} }

// after is the map that does first and then m.
func (m affine) after(first affine) affine {
	return affine{
		a: m.a*first.a + m.c*first.b, b: m.b*first.a + m.d*first.b,
		c: m.a*first.c + m.c*first.d, d: m.b*first.c + m.d*first.d,
		e: m.a*first.e + m.c*first.f + m.e, f: m.b*first.e + m.d*first.f + m.f,
	}
}

// scale is the map's mean enlargement.
func (m affine) scale() float64 { return math.Sqrt(math.Abs(m.a*m.d - m.b*m.c)) }

func moved(x, y float64) affine    { return affine{1, 0, 0, 1, x, y} }
func scaled(s float64) affine      { return affine{s, 0, 0, s, 0, 0} }
func turned(rad float64) affine    { s, c := math.Sincos(rad); return affine{c, s, -s, c, 0, 0} }
func polar(r, rad float64) pt      { s, c := math.Sincos(rad); return pt{r * c, r * s} }
func lerp(a, b, t float64) float64 { return a + (b-a)*t }
func clamp(v float64) float64      { return max(0, min(1, v)) }

// smooth rises from 0 at a to 1 at b.
func smooth(a, b, v float64) float64 {
	t := clamp((v - a) / (b - a))
	return t * t * (3 - 2*t)
}
