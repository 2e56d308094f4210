package codes

import "math"

// Plane is a grey picture.
type Plane struct {
	Pix      []byte // W × H, 0 is black and 255 white, coded as sRGB is
	W, H     int
	PxW, PxH float64 // micrometres a pixel
}

// Point is a place in micrometres from the picture's top left corner.
type Point struct{ X, Y float64 }

// ceilings bound what a picture may cost.
type ceilings struct {
	pixels   int // of a picture; one with more is not looked at
	finders  int // finder patterns that are combined
	alike    int // of these, of about one size; a side has room for few codes
	suspects int // triples that are looked into
	side     int // pixels of the picture as printed, a side
}

// limits suit a card: a postcard at 600 ppi has 9 million pixels.
func limits() ceilings {
	return ceilings{pixels: 64 << 20, finders: 192, alike: 32, suspects: 24, side: 2048}
}

// sound reports whether the picture is what it says.
func (p Plane) sound() bool {
	most := limits().pixels
	size := p.PxW > 0 && p.PxH > 0 && !math.IsInf(p.PxW, 1) && !math.IsInf(p.PxH, 1)
	return size && p.W > 0 && p.H > 0 && p.W <= most && p.H <= most/p.W && len(p.Pix) >= p.W*p.H
}

// at is the light at a place, between pixels, in pixels from the corner; outside
// the picture it is that of the nearest pixel.
func (p *Plane) at(x, y float64) float64 {
	x = max(0, min(float64(p.W-1), x-0.5))
	y = max(0, min(float64(p.H-1), y-0.5))
	x0, y0 := int(x), int(y)
	x1, y1 := min(x0+1, p.W-1), min(y0+1, p.H-1)
	fx, fy := x-float64(x0), y-float64(y0)
	top := float64(p.Pix[y0*p.W+x0])*(1-fx) + float64(p.Pix[y0*p.W+x1])*fx
	low := float64(p.Pix[y1*p.W+x0])*(1-fx) + float64(p.Pix[y1*p.W+x1])*fx
	return top*(1-fy) + low*fy
}

// light is at, by micrometres.
func (p *Plane) light(q Point) float64 { return p.at(q.X/p.PxW, q.Y/p.PxH) }

// inverted is the picture's negative.
func (p *Plane) inverted() Plane {
	out := *p
	out.Pix = make([]byte, p.W*p.H)
	for i := range out.Pix {
		out.Pix[i] = 255 - p.Pix[i]
	}
	return out
}

// box is a part of a picture in micrometres.
type box struct{ x0, y0, x1, y1 float64 }

// cut limits the box to the picture.
func (b box) cut(p *Plane) box {
	w, h := float64(p.W)*p.PxW, float64(p.H)*p.PxH
	return box{max(0, min(w, b.x0)), max(0, min(h, b.y0)), max(0, min(w, b.x1)), max(0, min(h, b.y1))}
}

// printed is a part of the picture made of square dots, each the mean of what it
// covers, softened by one dot: binomial weights 1 2 1 both ways, a spread of 0.7
// dots.
func (p *Plane) printed(part box, dot float64) Plane {
	part = part.cut(p)
	w := max(1, int((part.x1-part.x0)/dot))
	h := max(1, int((part.y1-part.y0)/dot))
	columns := shares(p.W, w, part.x0/p.PxW, dot/p.PxW)
	rows := shares(p.H, h, part.y0/p.PxH, dot/p.PxH)
	out := Plane{Pix: make([]byte, w*h), W: w, H: h, PxW: dot, PxH: dot}
	for y, row := range rows {
		for x, column := range columns {
			sum := 0.0
			for j, fy := range row.of {
				line := p.Pix[(row.from+j)*p.W+column.from:]
				part := 0.0
				for i, fx := range column.of {
					part += fx * float64(line[i])
				}
				sum += fy * part
			}
			out.Pix[y*w+x] = byte(sum + 0.5)
		}
	}
	out.spread()
	return out
}

// share is which pixels a dot covers, and how much of it each makes up.
type share struct {
	from int
	of   []float64
}

// shares lays count dots of step pixels from a place on along n pixels.
func shares(n, count int, from, step float64) []share {
	out := make([]share, count)
	for i := range out {
		a := max(0, min(float64(n)-1e-6, from+float64(i)*step))
		b := max(a+1e-6, min(float64(n), a+step))
		first := int(a)
		s := share{from: first}
		for k := first; k < n && float64(k) < b; k++ {
			s.of = append(s.of, (min(b, float64(k+1))-max(a, float64(k)))/(b-a))
		}
		out[i] = s
	}
	return out
}

// spread softens the picture.
func (p *Plane) spread() {
	line := make([]byte, max(p.W, p.H))
	soften := func(from, step, n int) {
		for i := range n {
			line[i] = p.Pix[from+i*step]
		}
		for i := range n {
			before, after := line[max(0, i-1)], line[min(n-1, i+1)]
			p.Pix[from+i*step] = byte((int(before) + 2*int(line[i]) + int(after) + 2) / 4)
		}
	}
	for y := range p.H {
		soften(y*p.W, 1, p.W)
	}
	for x := range p.W {
		soften(x, p.W, p.H)
	}
}
