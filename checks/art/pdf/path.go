package pdf

import "math"

// path is the current path in user space. The matrix cannot change between
// building and painting it (8.5.2.1), so it is mapped once, when painted.
type path struct {
	parts    []part
	start    Point // of the open subpath
	at       Point
	open     bool
	clipping bool // W or W* was given: the path clips once painted
}

type verb byte

const (
	moveTo verb = iota
	lineTo
	curveTo
	closePath
)

// part is one step of a path; p holds the control points and ends in the end point.
type part struct {
	verb verb
	p    [3]Point
}

func (p *path) reset() {
	p.parts = p.parts[:0]
	p.open, p.clipping = false, false
}

func (p *path) move(to Point) {
	p.parts = append(p.parts, part{verb: moveTo, p: [3]Point{to}})
	p.start, p.at, p.open = to, to, true
}

func (p *path) line(to Point) {
	p.parts = append(p.parts, part{verb: lineTo, p: [3]Point{to}})
	p.at = to
}

func (p *path) curve(c1, c2, to Point) {
	p.parts = append(p.parts, part{verb: curveTo, p: [3]Point{c1, c2, to}})
	p.at = to
}

func (p *path) close() {
	if p.open {
		p.parts = append(p.parts, part{verb: closePath, p: [3]Point{p.start}})
		p.at = p.start
	}
}

func (p *path) rectangle(x, y, w, h float64) {
	p.move(Point{x, y})
	p.line(Point{x + w, y})
	p.line(Point{x + w, y + h})
	p.line(Point{x, y + h})
	p.close()
}

// segments counts lines, curves and closings.
func (p *path) segments() int {
	n := 0
	for _, s := range p.parts {
		if s.verb != moveTo {
			n++
		}
	}
	return n
}

// quads are the four-sided shapes under m that the path fills, if it is made of
// nothing else; nil if it is.
func (p *path) quads(m Matrix) []Quad {
	const most = 64
	var out []Quad
	for parts := p.parts; len(parts) > 0; {
		n := 1
		for n < len(parts) && parts[n].verb != moveTo {
			n++
		}
		q, ok := quadOf(parts[:n])
		if !ok || len(out) == most {
			return nil
		}
		for i, c := range q {
			q[i] = m.At(c.X, c.Y)
		}
		out, parts = append(out, q), parts[n:]
	}
	return out
}

// quadOf reads one subpath as four straight sides. The last may be left to the
// filling, which closes it (8.5.3.1).
func quadOf(parts []part) (q Quad, ok bool) {
	if len(parts) < 4 || len(parts) > 6 || parts[0].verb != moveTo {
		return q, false
	}
	for i, s := range parts {
		switch {
		case i < 4 && s.verb <= lineTo:
			q[i] = s.p[0]
		case i >= 4 && (s.verb == closePath || s.verb == lineTo && s.p[0] == q[0]):
		default:
			return q, false
		}
	}
	return q, true
}

// strokes are the path's lines under m if it is nothing but single straight
// lines, each with a start of its own; nil if it is anything else.
func (p *path) strokes(m Matrix) [][2]Point {
	const most = 64
	n := len(p.parts) / 2
	if len(p.parts)%2 != 0 || n > most {
		return nil
	}
	out := make([][2]Point, 0, n)
	for i := 0; i < len(p.parts); i += 2 {
		from, to := p.parts[i], p.parts[i+1]
		if from.verb != moveTo || to.verb != lineTo {
			return nil
		}
		out = append(out, [2]Point{m.At(from.p[0].X, from.p[0].Y), m.At(to.p[0].X, to.p[0].Y)})
	}
	return out
}

// bounds is the box of the path's own geometry under m, curves measured exactly.
// A moveTo that nothing follows paints nothing.
func (p *path) bounds(m Matrix) Rect {
	r := nowhere()
	var at Point
	for i, s := range p.parts {
		switch s.verb {
		case moveTo:
			at = m.At(s.p[0].X, s.p[0].Y)
			if i+1 < len(p.parts) && p.parts[i+1].verb != moveTo {
				r.add(at)
			}
		case lineTo:
			at = m.At(s.p[0].X, s.p[0].Y)
			r.add(at)
		case curveTo:
			c1, c2, to := m.At(s.p[0].X, s.p[0].Y), m.At(s.p[1].X, s.p[1].Y), m.At(s.p[2].X, s.p[2].Y)
			r = r.Union(curveBounds(at, c1, c2, to))
			at = to
		case closePath:
			at = m.At(s.p[0].X, s.p[0].Y)
		}
	}
	return r
}

func curveBounds(a, b, c, d Point) Rect {
	x0, x1 := cubicRange(a.X, b.X, c.X, d.X)
	y0, y1 := cubicRange(a.Y, b.Y, c.Y, d.Y)
	return Rect{x0, y0, x1, y1}
}

// cubicRange gives the least and greatest value of a Bézier cubic on [0, 1]: at
// its ends or where the derivative is 0.
func cubicRange(a, b, c, d float64) (lo, hi float64) {
	lo, hi = math.Min(a, d), math.Max(a, d)
	if b >= lo && b <= hi && c >= lo && c <= hi {
		return lo, hi // inside the hull of the ends
	}
	// derivative/3 = p·t² + q·t + r
	p, q, r := -a+3*b-3*c+d, 2*(a-2*b+c), b-a
	try := func(t float64) {
		if t > 0 && t < 1 {
			u := 1 - t
			v := u*u*u*a + 3*u*u*t*b + 3*u*t*t*c + t*t*t*d
			lo, hi = math.Min(lo, v), math.Max(hi, v)
		}
	}
	if math.Abs(p) < 1e-12*(math.Abs(q)+math.Abs(r)) {
		if q != 0 {
			try(-r / q)
		}
		return lo, hi
	}
	if root := q*q - 4*p*r; root >= 0 {
		s := math.Sqrt(root)
		try((-q + s) / (2 * p))
		try((-q - s) / (2 * p))
	}
	return lo, hi
}

// isRectangle tells whether the path is exactly one rectangle with sides along
// its axes.
func (p *path) isRectangle() bool {
	n := len(p.parts)
	if n != 5 && n != 6 || p.parts[0].verb != moveTo {
		return false
	}
	var c [4]Point
	for i, s := range p.parts {
		corner := s.p[0]
		switch {
		case i < 4 && (i == 0) == (s.verb == moveTo) && s.verb <= lineTo:
			c[i] = corner
		case i >= 4 && (s.verb == closePath || s.verb == lineTo && corner == c[0]):
		default:
			return false
		}
	}
	flat := c[0].Y == c[1].Y && c[1].X == c[2].X && c[2].Y == c[3].Y && c[3].X == c[0].X
	steep := c[0].X == c[1].X && c[1].Y == c[2].Y && c[2].X == c[3].X && c[3].Y == c[0].Y
	return flat || steep
}
