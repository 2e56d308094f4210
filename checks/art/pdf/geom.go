package pdf

import (
	"math"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// Point is a place in display space, in points of 1/72 inch.
type Point struct{ X, Y float64 }

// Rect is a box with X0 ≤ X1 and Y0 ≤ Y1.
type Rect struct{ X0, Y0, X1, Y1 float64 }

// Quad is a rectangle after a matrix: the images of (0,0), (1,0), (1,1) and (0,1)
// of the thing's own space, in that order.
type Quad [4]Point

// W is the width in points.
func (r Rect) W() float64 { return r.X1 - r.X0 }

// H is the height in points.
func (r Rect) H() float64 { return r.Y1 - r.Y0 }

// Empty tells whether the box holds no area and no line.
func (r Rect) Empty() bool { return r.X1 < r.X0 || r.Y1 < r.Y0 }

// Intersect is the part that both boxes share; Empty when there is none.
func (r Rect) Intersect(s Rect) Rect {
	return Rect{math.Max(r.X0, s.X0), math.Max(r.Y0, s.Y0), math.Min(r.X1, s.X1), math.Min(r.Y1, s.Y1)}
}

// Union is the smallest box around both; an Empty one adds nothing.
func (r Rect) Union(s Rect) Rect {
	switch {
	case r.Empty():
		return s
	case s.Empty():
		return r
	}
	return Rect{math.Min(r.X0, s.X0), math.Min(r.Y0, s.Y0), math.Max(r.X1, s.X1), math.Max(r.Y1, s.Y1)}
}

// Contains tells whether s lies in r, with slack points of tolerance.
func (r Rect) Contains(s Rect, slack float64) bool {
	return s.X0 >= r.X0-slack && s.Y0 >= r.Y0-slack && s.X1 <= r.X1+slack && s.Y1 <= r.Y1+slack
}

func (r Rect) grow(dx, dy float64) Rect { return Rect{r.X0 - dx, r.Y0 - dy, r.X1 + dx, r.Y1 + dy} }

func (r *Rect) add(p Point) {
	r.X0, r.X1 = math.Min(r.X0, p.X), math.Max(r.X1, p.X)
	r.Y0, r.Y1 = math.Min(r.Y0, p.Y), math.Max(r.Y1, p.Y)
}

// nowhere is the empty box that add and Union grow from.
func nowhere() Rect { return Rect{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)} }

// everywhere is a box that clips nothing; finite, so that sums with it stay numbers.
func everywhere() Rect { return Rect{-1e9, -1e9, 1e9, 1e9} }

// Bounds is the smallest box around the quad.
func (q Quad) Bounds() Rect {
	r := nowhere()
	for _, p := range q {
		r.add(p)
	}
	return r
}

// Matrix is [a b c d e f] as the standard writes it (8.3.3):
// x' = a·x + c·y + e, y' = b·x + d·y + f.
type Matrix [6]float64

func identity() Matrix { return Matrix{1, 0, 0, 1, 0, 0} }

// Mul is the matrix that applies m first and n after it.
func (m Matrix) Mul(n Matrix) Matrix {
	return Matrix{
		m[0]*n[0] + m[1]*n[2], m[0]*n[1] + m[1]*n[3],
		m[2]*n[0] + m[3]*n[2], m[2]*n[1] + m[3]*n[3],
		m[4]*n[0] + m[5]*n[2] + n[4], m[4]*n[1] + m[5]*n[3] + n[5],
	}
}

// At is the image of (x, y).
func (m Matrix) At(x, y float64) Point {
	return Point{m[0]*x + m[2]*y + m[4], m[1]*x + m[3]*y + m[5]}
}

// Scales are the lengths of the images of the unit vectors along x and y.
func (m Matrix) Scales() (x, y float64) {
	return math.Hypot(m[0], m[1]), math.Hypot(m[2], m[3])
}

// quad is the image of a box given in the matrix's own space.
func (m Matrix) quad(r Rect) Quad {
	return Quad{m.At(r.X0, r.Y0), m.At(r.X1, r.Y0), m.At(r.X1, r.Y1), m.At(r.X0, r.Y1)}
}

// stretch gives the least and the greatest factor by which the matrix scales any
// length: its singular values. A pen of width 1 paints lines between the two.
func (m Matrix) stretch() (least, most float64) {
	a, b, c, d := m[0], m[1], m[2], m[3]
	s1 := math.Hypot(a+d, b-c) / 2
	s2 := math.Hypot(a-d, b+c) / 2
	return math.Abs(s1 - s2), s1 + s2
}

// height is how far two level lines that lie one unit apart are under the matrix:
// slanting makes letters longer along their stems but no higher.
func (m Matrix) height() float64 {
	sx, _ := m.Scales()
	if sx == 0 {
		return 0
	}
	return math.Abs(m[0]*m[3]-m[1]*m[2]) / sx
}

// upright tells whether boxes stay boxes under the matrix.
func (m Matrix) upright() bool {
	const slack = 1e-9
	sx, sy := m.Scales()
	return (math.Abs(m[1]) <= slack*sx && math.Abs(m[2]) <= slack*sy) ||
		(math.Abs(m[0]) <= slack*sx && math.Abs(m[3]) <= slack*sy)
}

func (m Matrix) finite() bool {
	for _, v := range m {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}

// matrix reads a matrix object, the identity where there is none to use.
func (d *Document) matrix(o types.Object) Matrix {
	v := d.Numbers(o, 6)
	if len(v) != 6 || !Matrix(v).finite() {
		return identity()
	}
	return Matrix(v)
}
