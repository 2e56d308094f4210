package press

import "math"

// seg is one step of a path: 'M' and 'L' use p[0], 'C' uses all three, 'Z' none.
type seg struct {
	op byte
	p  [3]pt
}

// path is a shape made of closed or open runs; areas fill by the nonzero rule.
type path []seg

func (p path) to(x, y float64) path   { return append(p, seg{'M', [3]pt{{x, y}}}) }
func (p path) line(x, y float64) path { return append(p, seg{'L', [3]pt{{x, y}}}) }
func (p path) curve(x1, y1, x2, y2, x, y float64) path {
	return append(p, seg{'C', [3]pt{{x1, y1}, {x2, y2}, {x, y}}})
}
func (p path) close() path { return append(p, seg{op: 'Z'}) }

func (p path) mapped(m affine) path {
	out := make(path, len(p))
	for i, s := range p {
		out[i] = seg{s.op, [3]pt{m.at(s.p[0]), m.at(s.p[1]), m.at(s.p[2])}}
	}
	return out
}

// join lays paths together as one shape.
func join(ps ...path) path {
	var out path
	for _, p := range ps {
		out = append(out, p...)
	}
	return out
}

func (r rect) path() path {
	return path{}.to(r.x, r.y).line(r.right(), r.y).line(r.right(), r.bottom()).line(r.x, r.bottom()).close()
}

func polygon(ps ...pt) path {
	out := path{}.to(ps[0].x, ps[0].y)
	for _, p := range ps[1:] {
		out = out.line(p.x, p.y)
	}
	return out.close()
}

func lineTo(x1, y1, x2, y2 float64) path { return path{}.to(x1, y1).line(x2, y2) }

// kappa is the arm of a cubic that follows a quarter circle, 4/3·(√2−1).
const kappa = 0.5522847498

func ellipse(x, y, rx, ry float64) path {
	kx, ky := kappa*rx, kappa*ry
	return path{}.to(x+rx, y).
		curve(x+rx, y+ky, x+kx, y+ry, x, y+ry).
		curve(x-kx, y+ry, x-rx, y+ky, x-rx, y).
		curve(x-rx, y-ky, x-kx, y-ry, x, y-ry).
		curve(x+kx, y-ry, x+rx, y-ky, x+rx, y).close()
}

func circle(x, y, r float64) path { return ellipse(x, y, r, r) }

// ring is a disc with a round hole.
func ring(x, y, outer, inner float64) path {
	hole := ellipse(x, y, inner, inner).mapped(affine{-1, 0, 0, 1, 2 * x, 0})
	return join(circle(x, y, outer), hole)
}

func (r rect) rounded(c float64) path {
	k := c * (1 - kappa)
	x, y, R, B := r.x, r.y, r.right(), r.bottom()
	return path{}.to(x+c, y).line(R-c, y).curve(R-k, y, R, y+k, R, y+c).
		line(R, B-c).curve(R, B-k, R-k, B, R-c, B).
		line(x+c, B).curve(x+k, B, x, B-k, x, B-c).
		line(x, y+c).curve(x, y+k, x+k, y, x+c, y).close()
}

// leaf is a pointed blade from the origin along +x, one unit long.
func leaf(width float64) path {
	return path{}.to(0, 0).curve(.3, -width, .7, -width*.8, 1, 0).curve(.7, width*.8, .3, width, 0, 0).close()
}

// arc is an open run of a circle from angle a to angle b, in radians.
func arc(x, y, r, a, b float64) path {
	n := int(math.Ceil(math.Abs(b-a)/(math.Pi/4))) + 1
	step := (b - a) / float64(n)
	k := 4.0 / 3 * math.Tan(step/4) * r
	from := polar(r, a)
	out := path{}.to(x+from.x, y+from.y)
	for i := range n {
		t, u := a+float64(i)*step, a+float64(i+1)*step
		p, q, dp, dq := polar(r, t), polar(r, u), polar(k, t+math.Pi/2), polar(k, u+math.Pi/2)
		out = out.curve(x+p.x+dp.x, y+p.y+dp.y, x+q.x-dq.x, y+q.y-dq.y, x+q.x, y+q.y)
	}
	return out
}

// flat cuts the path into runs of straight lines. Each curve takes enough steps
// to stay within about tol of the true one.
func (p path) flat(tol float64) (runs []polyline) {
	var run polyline
	end := func() {
		if len(run.at) > 0 {
			runs = append(runs, run)
		}
		run = polyline{}
	}
	for _, s := range p {
		switch s.op {
		case 'M':
			end()
			run.at = []pt{s.p[0]}
		case 'L':
			run.at = append(run.at, s.p[0])
		case 'C':
			run.at = bend(run.at, s.p, tol)
		case 'Z':
			run.closed = true
			end()
		}
	}
	end()
	return runs
}

// polyline is a run of straight lines.
type polyline struct {
	at     []pt
	closed bool
}

func bend(at []pt, c [3]pt, tol float64) []pt {
	from := at[len(at)-1]
	arms := math.Hypot(c[0].x-from.x, c[0].y-from.y) + math.Hypot(c[1].x-c[0].x, c[1].y-c[0].y) + math.Hypot(c[2].x-c[1].x, c[2].y-c[1].y)
	n := int(min(64, 3+math.Sqrt(arms/tol)))
	for i := 1; i <= n; i++ {
		t := float64(i) / float64(n)
		u := 1 - t
		w0, w1, w2, w3 := u*u*u, 3*u*u*t, 3*u*t*t, t*t*t
		at = append(at, pt{
			w0*from.x + w1*c[0].x + w2*c[1].x + w3*c[2].x,
			w0*from.y + w1*c[0].y + w2*c[1].y + w3*c[2].y,
		})
	}
	return at
}
