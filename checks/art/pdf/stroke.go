package pdf

import "math"

// pen strokes a path and keeps only the box of the result: the pen is a circle of
// the line width in user space, an ellipse on the page.
type pen struct {
	m     Matrix
	half  float64 // half the line width, user space
	cap   int     // 0 butt, 1 round, 2 square
	join  int     // 0 miter, 1 round, 2 bevel
	miter float64
	box   Rect

	start, at  Point
	first, dir Point // directions of the subpath's first segment and of the last one
	drawn      bool
}

// strokeBounds is the box of the path's stroke (8.4.3, 8.5.3.2).
func (p *path) strokeBounds(gs *gstate) Rect {
	n := pen{m: gs.ctm, half: gs.lineWidth / 2, cap: gs.lineCap, join: gs.lineJoin, miter: gs.miter, box: nowhere()}
	for _, s := range p.parts {
		switch s.verb {
		case moveTo:
			n.finish()
			n.start, n.at, n.drawn = s.p[0], s.p[0], false
		case lineTo:
			n.line(s.p[0])
		case curveTo:
			n.curve(s.p)
		case closePath:
			n.shut(s.p[0])
		}
	}
	n.finish()
	return n.box
}

func (n *pen) add(x, y float64) { n.box.add(n.m.At(x, y)) }

// reach is how far the ellipse that m makes of a circle goes along the page's sides.
func (m Matrix) reach(radius float64) Point {
	return Point{radius * math.Hypot(m[0], m[2]), radius * math.Hypot(m[1], m[3])}
}

// round adds the pen itself at p.
func (n *pen) round(p Point) {
	c := n.m.At(p.X, p.Y)
	d := n.m.reach(n.half)
	n.box = n.box.Union(Rect{c.X, c.Y, c.X, c.Y}.grow(d.X, d.Y))
}

// edge adds the two points at p across the direction u, moved along it by ahead.
func (n *pen) edge(p, u Point, ahead float64) {
	x, y := p.X+u.X*ahead, p.Y+u.Y*ahead
	n.add(x-u.Y*n.half, y+u.X*n.half)
	n.add(x+u.Y*n.half, y-u.X*n.half)
}

func (n *pen) line(to Point) {
	u, ok := direction(n.at, to)
	if !ok {
		if !n.drawn && n.cap == 1 {
			n.round(to) // a line of no length is a dot under a round pen
		}
		return
	}
	n.turn(u)
	n.edge(n.at, u, 0)
	n.edge(to, u, 0)
	n.at, n.dir = to, u
}

// turn joins the direction so far with u at the present point.
func (n *pen) turn(u Point) {
	if !n.drawn {
		n.first, n.drawn = u, true
		return
	}
	n.corner(n.at, n.dir, u)
}

func (n *pen) corner(p, from, to Point) {
	switch n.join {
	case 1:
		n.round(p)
	case 0:
		// The tip lies along the sum of the two normals; its distance over the half
		// width is 1/sin(angle/2), which the miter limit bounds (8.4.3.5).
		cos := from.X*to.X + from.Y*to.Y
		half := math.Sqrt(math.Max(0, (1+cos)/2)) // sin of half the inner angle
		if half*n.miter < 1 || half < 1e-6 {
			return
		}
		nx, ny := -from.Y-to.Y, from.X+to.X
		l := math.Hypot(nx, ny)
		r := n.half / half / l
		if from.X*to.Y-from.Y*to.X > 0 {
			r = -r // the outer side of a left turn is on the right
		}
		n.add(p.X+nx*r, p.Y+ny*r)
	}
}

// curve strokes a Bézier cubic: the pen's full reach where the curve itself turns
// back, and the points across its direction along the way.
func (n *pen) curve(c [3]Point) {
	p := [4]Point{n.at, c[0], c[1], c[2]}
	u, ok := tangent(p, 0)
	if !ok {
		return // all four points are one
	}
	n.turn(u)
	n.edge(n.at, u, 0)
	n.turns(p)
	const samples = 16
	for i := 1; i <= samples; i++ {
		t := float64(i) / samples
		if u, ok := tangent(p, t); ok {
			n.dir = u
			n.edge(cubicAt(p, t), u, 0)
		}
	}
	n.at = c[2]
}

// turns adds the pen on the sides where the curve passes beyond both its ends:
// there it runs along the side, and the pen reaches out squarely.
func (n *pen) turns(p [4]Point) {
	var d [4]Point
	for i := range p {
		d[i] = n.m.At(p[i].X, p[i].Y)
	}
	ends := nowhere()
	ends.add(d[0])
	ends.add(d[3])
	r := curveBounds(d[0], d[1], d[2], d[3])
	reach := n.m.reach(n.half)
	if r.X0 < ends.X0 {
		r.X0 -= reach.X
	}
	if r.X1 > ends.X1 {
		r.X1 += reach.X
	}
	if r.Y0 < ends.Y0 {
		r.Y0 -= reach.Y
	}
	if r.Y1 > ends.Y1 {
		r.Y1 += reach.Y
	}
	n.box = n.box.Union(r)
}

func cubicAt(p [4]Point, t float64) Point {
	u := 1 - t
	a, b, c, d := u*u*u, 3*u*u*t, 3*u*t*t, t*t*t
	return Point{a*p[0].X + b*p[1].X + c*p[2].X + d*p[3].X, a*p[0].Y + b*p[1].Y + c*p[2].Y + d*p[3].Y}
}

// tangent is the direction of the curve at t; where control points coincide with an
// end it is that towards the next point that differs.
func tangent(p [4]Point, t float64) (Point, bool) {
	switch t {
	case 0:
		for _, q := range p[1:] {
			if u, ok := direction(p[0], q); ok {
				return u, true
			}
		}
	case 1:
		for i := 2; i >= 0; i-- {
			if u, ok := direction(p[i], p[3]); ok {
				return u, true
			}
		}
	}
	u := 1 - t
	a, b, c := u*u, 2*u*t, t*t
	return direction(Point{}, Point{
		a*(p[1].X-p[0].X) + b*(p[2].X-p[1].X) + c*(p[3].X-p[2].X),
		a*(p[1].Y-p[0].Y) + b*(p[2].Y-p[1].Y) + c*(p[3].Y-p[2].Y),
	})
}

func (n *pen) shut(start Point) {
	n.line(start)
	if n.drawn {
		n.corner(start, n.dir, n.first)
	}
	n.drawn = false
}

// finish caps an open subpath at both ends.
func (n *pen) finish() {
	if !n.drawn {
		return
	}
	switch n.cap {
	case 1:
		n.round(n.start)
		n.round(n.at)
	case 2:
		n.edge(n.start, n.first, -n.half)
		n.edge(n.at, n.dir, n.half)
	}
	n.drawn = false
}

func direction(a, b Point) (Point, bool) {
	dx, dy := b.X-a.X, b.Y-a.Y
	l := math.Hypot(dx, dy)
	if l == 0 || math.IsInf(l, 0) {
		return Point{}, false
	}
	return Point{dx / l, dy / l}, true
}
