package brink_test

import (
	"image"
	"image/color"
	"image/draw"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"

	"stoneproof/checks/brink"
	"stoneproof/rules"
)

// sheet is a small drawing board in millimetres from the top left corner of
// the trim. It draws on a transparent ground, antialiased.
type sheet struct {
	w, h, bleed float64 // mm
	ppi         float64
	rng         *rand.Rand
	img         *image.RGBA
}

type point struct{ x, y float64 }

func newSheet(trim point, bleed, ppi float64, seed uint64) *sheet {
	s := &sheet{w: trim.x, h: trim.y, bleed: bleed, ppi: ppi, rng: rand.New(rand.NewPCG(seed, 7))}
	px := func(mm float64) int { return int(math.Round(mm / 25.4 * ppi)) }
	s.img = image.NewRGBA(image.Rect(0, 0, px(trim.x+2*bleed), px(trim.y+2*bleed)))
	return s
}

// to turns millimetres into pixels of the picture.
func (s *sheet) to(p point) (x, y float32) {
	b := s.img.Bounds()
	return float32((p.x + s.bleed) / (s.w + 2*s.bleed) * float64(b.Dx())),
		float32((p.y + s.bleed) / (s.h + 2*s.bleed) * float64(b.Dy()))
}

// from is the place of a pixel's centre.
func (s *sheet) from(x, y int) point {
	b := s.img.Bounds()
	return point{(float64(x)+.5)/float64(b.Dx())*(s.w+2*s.bleed) - s.bleed,
		(float64(y)+.5)/float64(b.Dy())*(s.h+2*s.bleed) - s.bleed}
}

func grey(v uint8) color.NRGBA                 { return color.NRGBA{v, v, v, 255} }
func rgb(r, g, b uint8) color.NRGBA            { return color.NRGBA{r, g, b, 255} }
func faint(c color.NRGBA, a uint8) color.NRGBA { c.A = a; return c }

var (
	white = grey(255)
	ink   = rgb(30, 28, 40)
	teal  = rgb(20, 110, 120)
	rust  = rgb(180, 80, 40)
	straw = rgb(240, 220, 150)
	cream = rgb(252, 251, 248)
)

// between is a random number.
func (s *sheet) between(a, b float64) float64 { return a + (b-a)*s.rng.Float64() }

// hue is a random colour that is clearly neither white nor pale.
func (s *sheet) hue() color.NRGBA {
	c := [3]uint8{uint8(s.between(0, 90)), uint8(s.between(40, 160)), uint8(s.between(60, 200))}
	s.rng.Shuffle(3, func(i, j int) { c[i], c[j] = c[j], c[i] })
	return rgb(c[0], c[1], c[2])
}

// poly fills closed polygons, holes by turning the other way round.
func (s *sheet) poly(c color.Color, loops ...[]point) { s.fill(image.NewUniform(c), loops...) }

func (s *sheet) fill(src image.Image, loops ...[]point) {
	area := s.bounds(loops)
	if area.Empty() {
		return
	}
	r := vector.NewRasterizer(area.Dx(), area.Dy())
	for _, loop := range loops {
		for i, p := range loop {
			x, y := s.to(p)
			x, y = x-float32(area.Min.X), y-float32(area.Min.Y)
			if i == 0 {
				r.MoveTo(x, y)
			} else {
				r.LineTo(x, y)
			}
		}
		r.ClosePath()
	}
	r.Draw(s.img, area, src, area.Min)
}

// bounds is the part of the picture that polygons may touch.
func (s *sheet) bounds(loops [][]point) image.Rectangle {
	var area image.Rectangle
	for _, loop := range loops {
		for _, p := range loop {
			x, y := s.to(p)
			at := image.Pt(int(math.Floor(float64(x))), int(math.Floor(float64(y))))
			area = area.Union(image.Rectangle{Min: at, Max: at.Add(image.Pt(1, 1))})
		}
	}
	return area.Intersect(s.img.Bounds())
}

func box(x, y, w, h float64) []point {
	return []point{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}
}

func reversed(p []point) []point {
	out := make([]point, len(p))
	for i := range p {
		out[len(p)-1-i] = p[i]
	}
	return out
}

func (s *sheet) rect(c color.Color, x, y, w, h float64) { s.poly(c, box(x, y, w, h)) }

// all paints out to the bleed edge.
func (s *sheet) all(c color.Color) {
	s.rect(c, -s.bleed, -s.bleed, s.w+2*s.bleed, s.h+2*s.bleed)
}

func oval(x, y, rx, ry float64) []point {
	const n = 72
	p := make([]point, n)
	for i := range p {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / n)
		p[i] = point{x + rx*cos, y + ry*sin}
	}
	return p
}

func (s *sheet) disc(c color.Color, x, y, r float64) { s.poly(c, oval(x, y, r, r)) }

func (s *sheet) ring(c color.Color, x, y, r, thick float64) {
	s.poly(c, oval(x, y, r, r), reversed(oval(x, y, r-thick, r-thick)))
}

// frame draws a border line, thick wide, its outer side at inset from the trim.
func (s *sheet) frame(c color.Color, inset, thick float64) {
	in := inset + thick
	s.poly(c, box(inset, inset, s.w-2*inset, s.h-2*inset), reversed(box(in, in, s.w-2*in, s.h-2*in)))
}

// rounded is a rectangle with round corners.
func rounded(x, y, w, h, r float64) []point {
	var p []point
	corner := func(cx, cy, from float64) {
		for i := 0; i <= 16; i++ {
			sin, cos := math.Sincos(from + math.Pi/2*float64(i)/16)
			p = append(p, point{cx + r*cos, cy + r*sin})
		}
	}
	corner(x+w-r, y+r, -math.Pi/2)
	corner(x+w-r, y+h-r, 0)
	corner(x+r, y+h-r, math.Pi/2)
	corner(x+r, y+r, math.Pi)
	return p
}

// line is a stroke as a polygon.
func stroke(a, b point, thick float64) []point {
	dx, dy := b.x-a.x, b.y-a.y
	l := math.Hypot(dx, dy)
	nx, ny := -dy/l*thick/2, dx/l*thick/2
	return []point{{a.x + nx, a.y + ny}, {b.x + nx, b.y + ny}, {b.x - nx, b.y - ny}, {a.x - nx, a.y - ny}}
}

func turned(p []point, about point, angle float64) []point {
	sin, cos := math.Sincos(angle)
	out := make([]point, len(p))
	for i, q := range p {
		x, y := q.x-about.x, q.y-about.y
		out[i] = point{about.x + x*cos - y*sin, about.y + x*sin + y*cos}
	}
	return out
}

// stripes paints bars of the pitch at an angle over the whole sheet.
func (s *sheet) stripes(c color.Color, degrees, pitch, thick, phase float64) {
	mid := point{s.w / 2, s.h / 2}
	reach := s.w + s.h
	for o := -reach + phase; o < reach; o += pitch {
		bar := box(mid.x-reach, mid.y+o, 2*reach, thick)
		s.poly(c, turned(bar, mid, degrees*math.Pi/180))
	}
}

// shade paints every pixel by a function of its place.
func (s *sheet) shade(f func(p point) color.NRGBA) { s.shadeIn(nil, f) }

// shadeIn paints by a function inside a polygon; nil is everywhere.
func (s *sheet) shadeIn(loop []point, f func(p point) color.NRGBA) {
	b := s.img.Bounds()
	src := image.NewRGBA(b)
	for y := range b.Dy() {
		for x := range b.Dx() {
			c := f(s.from(x, y))
			a := uint16(c.A)
			i := src.PixOffset(x, y)
			src.Pix[i], src.Pix[i+1], src.Pix[i+2], src.Pix[i+3] =
				uint8(uint16(c.R)*a/255), uint8(uint16(c.G)*a/255), uint8(uint16(c.B)*a/255), c.A
		}
	}
	if loop == nil {
		draw.Draw(s.img, b, src, image.Point{}, draw.Over)
		return
	}
	s.fill(src, loop)
}

func mix(a, b color.NRGBA, t float64) color.NRGBA {
	t = max(0, min(1, t))
	m := func(x, y uint8) uint8 { return uint8(math.Round(float64(x) + (float64(y)-float64(x))*t)) }
	return color.NRGBA{m(a.R, b.R), m(a.G, b.G), m(a.B, b.B), m(a.A, b.A)}
}

func plus(c color.NRGBA, d float64) color.NRGBA {
	a := func(v uint8) uint8 { return uint8(max(0, min(255, math.Round(float64(v)+d)))) }
	return color.NRGBA{a(c.R), a(c.G), a(c.B), c.A}
}

// noise is smooth noise of the sheet's seed: one value in -1..1 a place, with
// features about scale mm wide.
func (s *sheet) noise(scale float64) func(p point) float64 {
	salt := s.rng.Uint64()
	lattice := func(x, y int) float64 {
		h := salt ^ uint64(x)*0x9E3779B97F4A7C15 ^ uint64(y)*0xC2B2AE3D27D4EB4F
		h ^= h >> 29
		h *= 0xBF58476D1CE4E5B9
		h ^= h >> 32
		return float64(h>>11)/(1<<52) - 1
	}
	return func(p point) float64 {
		x, y := p.x/scale+1000, p.y/scale+1000
		ix, iy := int(math.Floor(x)), int(math.Floor(y))
		fx, fy := x-float64(ix), y-float64(iy)
		fx, fy = fx*fx*(3-2*fx), fy*fy*(3-2*fy)
		top := lattice(ix, iy)*(1-fx) + lattice(ix+1, iy)*fx
		bottom := lattice(ix, iy+1)*(1-fx) + lattice(ix+1, iy+1)*fx
		return top*(1-fy) + bottom*fy
	}
}

// octaves adds up noise of halving scale and strength.
func (s *sheet) octaves(scale float64, n int) func(p point) float64 {
	layers := make([]func(point) float64, n)
	for i := range layers {
		layers[i] = s.noise(scale / math.Pow(2, float64(i)))
	}
	return func(p point) float64 {
		sum, w := 0.0, 1.0
		for _, l := range layers {
			sum += w * l(p)
			w /= 2
		}
		return sum
	}
}

// faces are parsed once; a face is made for each size and resolution.
type faces struct{ regular, bold *sfnt.Font }

func parseFaces() faces {
	r, err := opentype.Parse(goregular.TTF)
	if err != nil {
		panic(err)
	}
	b, err := opentype.Parse(gobold.TTF)
	if err != nil {
		panic(err)
	}
	return faces{r, b}
}

var fonts = parseFaces()

// text draws a line with its ink's top left corner at x, y, and tells the
// bounds of its ink in mm.
func (s *sheet) text(c color.Color, x, y, pt float64, words string) (l, t, r, b float64) {
	return s.letters(c, fonts.regular, x, y, pt, words)
}

func (s *sheet) letters(c color.Color, f *sfnt.Font, x, y, pt float64, words string) (l, t, r, b float64) {
	face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: pt, DPI: s.ppi})
	if err != nil {
		panic(err)
	}
	defer face.Close()
	bounds, _ := font.BoundString(face, words)
	px, py := s.to(point{x, y})
	dot := fixed.Point26_6{X: fixed.Int26_6(px*64) - bounds.Min.X, Y: fixed.Int26_6(py*64) - bounds.Min.Y}
	d := font.Drawer{Dst: s.img, Src: image.NewUniform(c), Face: face, Dot: dot}
	d.DrawString(words)
	mm := func(v fixed.Int26_6) float64 { return float64(v) / 64 / s.ppi * 25.4 }
	return x, y, x + mm(bounds.Max.X-bounds.Min.X), y + mm(bounds.Max.Y-bounds.Min.Y)
}

// size is the width and height of a line's ink in mm.
func (s *sheet) size(pt float64, words string) (w, h float64) {
	face, err := opentype.NewFace(fonts.regular, &opentype.FaceOptions{Size: pt, DPI: s.ppi})
	if err != nil {
		panic(err)
	}
	defer face.Close()
	b, _ := font.BoundString(face, words)
	mm := func(v fixed.Int26_6) float64 { return float64(v) / 64 / s.ppi * 25.4 }
	return mm(b.Max.X - b.Min.X), mm(b.Max.Y - b.Min.Y)
}

// picture is a card to judge: its name tells what is on it.
type picture struct {
	name  string
	trim  point
	paint func(s *sheet)
}

var (
	business = point{88.9, 50.8}
	upright  = point{55, 85}
	poker    = point{63, 88}
)

const usBleed = 3.175

func (p picture) sheet(ppi float64, seed uint64) *sheet {
	s := newSheet(p.trim, usBleed, ppi, seed)
	p.paint(s)
	return s
}

// once draws a picture once for each resolution and hands out copies to draw
// on: most of a test's time goes into the drawing. Not for several goroutines.
func (p picture) once(seed uint64) func(ppi float64) *sheet {
	drawn := map[float64]*sheet{}
	return func(ppi float64) *sheet {
		if drawn[ppi] == nil {
			drawn[ppi] = p.sheet(ppi, seed)
		}
		return drawn[ppi].copied()
	}
}

// copied is a copy to draw on.
func (s *sheet) copied() *sheet {
	c, img := *s, *s.img
	img.Pix = slices.Clone(s.img.Pix)
	c.img = &img
	return &c
}

// wanted is the bleed that the tests ask for.
const wantedBleed = 3175 * rules.Micrometre

func checkSilentBleed(t *testing.T, c brink.Canvas) {
	t.Helper()
	for _, f := range brink.Bleed(c, wantedBleed) {
		if f.From != f.To || f.Extent != f.Room || len(f.Also) > 0 {
			t.Errorf("%s: paint told to stop at %v, %v to %v (room %v, also %v)",
				f.Edge, f.Extent, f.From, f.To, f.Room, f.Also)
		}
	}
}
