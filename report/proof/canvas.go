package proof

import (
	"image"
	"image/color"
	"math"

	"golang.org/x/image/draw"
	"golang.org/x/image/vector"
)

// The colours. Fail and warn are dark enough for 9 to 1 with the casing, and their
// tags are filled and open, so that no one has to tell the two by colour.
var (
	desk   = color.RGBA{0xe9, 0xe7, 0xe2, 0xff} // what the card lies on
	paper  = color.RGBA{0xff, 0xff, 0xff, 0xff} // and every casing
	ink    = color.RGBA{0x1c, 0x1a, 0x2e, 0xff}
	failed = color.RGBA{0x78, 0x0c, 0x42, 0xff} // raspberry
	warned = color.RGBA{0x0b, 0x4a, 0x50, 0xff} // petrol
	veiled = color.RGBA{0x9b, 0x98, 0xa3, 0xff}
)

// canvas is what is drawn on. Coordinates are pixel edges.
type canvas struct {
	img  *image.RGBA
	fill *vector.Rasterizer
}

func newCanvas(w, h int) canvas {
	c := canvas{img: image.NewRGBA(image.Rect(0, 0, w, h)), fill: vector.NewRasterizer(0, 0)}
	draw.Draw(c.img, c.img.Rect, image.NewUniform(desk), image.Point{}, draw.Src)
	return c
}

// shape fills a closed outline.
func (c canvas) shape(colour color.Color, outline []pt) {
	lo, hi := outline[0], outline[0]
	for _, p := range outline {
		lo, hi = pt{min(lo.x, p.x), min(lo.y, p.y)}, pt{max(hi.x, p.x), max(hi.y, p.y)}
	}
	b := image.Rect(int(math.Floor(lo.x)), int(math.Floor(lo.y)), int(math.Ceil(hi.x)), int(math.Ceil(hi.y)))
	if b = b.Intersect(c.img.Rect.Inset(-1)); b.Empty() {
		return
	}
	c.fill.Reset(b.Dx(), b.Dy())
	at := func(p pt) (x, y float32) { return float32(p.x - float64(b.Min.X)), float32(p.y - float64(b.Min.Y)) }
	c.fill.MoveTo(at(outline[0]))
	for _, p := range outline[1:] {
		c.fill.LineTo(at(p))
	}
	c.fill.ClosePath()
	c.fill.Draw(c.img, b, image.NewUniform(colour), image.Point{})
}

// block fills a rectangle.
func (c canvas) block(colour color.Color, r rect) { c.shape(colour, corners(r)) }

func corners(r rect) []pt { return []pt{{r.x0, r.y0}, {r.x1, r.y0}, {r.x1, r.y1}, {r.x0, r.y1}} }

// disc fills a circle.
func (c canvas) disc(colour color.Color, at pt, radius float64) {
	const steps = 48
	o := make([]pt, steps)
	for i := range o {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / steps)
		o[i] = pt{at.x + radius*cos, at.y + radius*sin}
	}
	c.shape(colour, o)
}

// stroke draws a straight line with square ends.
func (c canvas) stroke(colour color.Color, a, b pt, width float64) {
	along := b.less(a)
	l := along.length()
	if l == 0 {
		return
	}
	across := pt{-along.y, along.x}.times(width / 2 / l)
	c.shape(colour, []pt{a.add(across), b.add(across), b.less(across), a.less(across)})
}

// A mark is a line with its casing, whole or broken into dashes.
type mark struct {
	colour       color.RGBA
	core, casing float64 // widths; the casing stands on both sides of the core
	dash, gap    float64 // 0 for a whole line

	bare bool // the core alone
}

// beneath is the casing of a mark, and above the rest of it.
func (m mark) beneath() mark { m.colour = paper; return m }
func (m mark) above() mark   { m.bare = true; return m }

// line draws a mark from a to b. The casing lies beneath the dashes alone, so that
// what is between them stays as it is.
func (c canvas) line(m mark, a, b pt) {
	l := a.distance(b)
	if l == 0 {
		return
	}
	along := b.less(a).times(1 / l)
	dash, pitch := l, l
	if m.dash > 0 {
		n := max(1, math.Round((l-m.dash)/(m.dash+m.gap)))
		dash, pitch = m.dash, (l-m.dash)/n // the ends of the line are dashes
	}
	for at := 0.0; at <= l-dash+0.01; at += pitch {
		from := at
		if m.dash > 0 {
			from = math.Round(at) // dashes begin between pixels, and are all alike
		}
		p, q := a.add(along.times(from)), a.add(along.times(from+dash))
		if !m.bare {
			c.stroke(paper, p.less(along.times(m.casing)), q.add(along.times(m.casing)), m.core+2*m.casing)
		}
		c.stroke(m.colour, p, q, m.core)
		if pitch <= 0 {
			break
		}
	}
}

// outline draws a mark around a rectangle: the casing first, so that corners close.
func (c canvas) outline(m mark, r rect) {
	o := corners(r)
	if m.dash == 0 {
		if !m.bare {
			c.ring(paper, r, m.core/2+m.casing)
		}
		c.ring(m.colour, r, m.core/2)
		return
	}
	for i := range o {
		c.line(m, o[i], o[(i+1)%4])
	}
}

// ring fills what lies within half of the edge of a rectangle, strip by strip: that
// costs far less than a shape with a hole.
func (c canvas) ring(colour color.Color, r rect, half float64) {
	o, i := r.outset(half), r.outset(-half)
	c.block(colour, rect{o.x0, o.y0, o.x1, i.y0})
	c.block(colour, rect{o.x0, i.y1, o.x1, o.y1})
	c.block(colour, rect{o.x0, i.y0, i.x0, i.y1})
	c.block(colour, rect{i.x1, i.y0, o.x1, i.y1})
}

// pill fills a rectangle with round ends.
func (c canvas) pill(colour color.Color, r rect) {
	radius := min(r.w(), r.h()) / 2
	const steps = 24
	var o []pt
	for _, end := range []struct{ x, from float64 }{{r.x1 - radius, -math.Pi / 2}, {r.x0 + radius, math.Pi / 2}} {
		for i := range steps + 1 {
			sin, cos := math.Sincos(end.from + math.Pi*float64(i)/steps)
			o = append(o, pt{end.x + radius*cos, r.centre().y + radius*sin})
		}
	}
	c.shape(colour, o)
}
