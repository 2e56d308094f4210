package pdf

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"golang.org/x/image/font/gofont/goregular"
	"pgregory.net/rapid"
)

// op writes a matrix for an operator; content has no exponents (7.3.3).
func (m Matrix) op(operator string) string {
	var b strings.Builder
	for _, v := range m {
		fmt.Fprintf(&b, "%.9f ", v)
	}
	return b.String() + operator + " "
}

// inverse of a matrix, by Cramer's rule.
func (m Matrix) inverse() Matrix {
	det := m[0]*m[3] - m[1]*m[2]
	n := Matrix{m[3] / det, -m[1] / det, -m[2] / det, m[0] / det}
	n[4], n[5] = -(m[4]*n[0] + m[5]*n[2]), -(m[4]*n[1] + m[5]*n[3])
	return n
}

// anyMatrix turns, stretches, slants and mirrors, but not to nothing.
var anyMatrix = rapid.Custom(func(t *rapid.T) Matrix {
	turn := rapid.Float64Range(0, 2*math.Pi).Draw(t, "turn")
	sx, sy := rapid.Float64Range(0.3, 3).Draw(t, "sx"), rapid.Float64Range(0.3, 3).Draw(t, "sy")
	if rapid.Bool().Draw(t, "mirrored") {
		sx = -sx
	}
	slant := rapid.Float64Range(-1, 1).Draw(t, "slant")
	sin, cos := math.Sincos(turn)
	return Matrix{sx, 0, slant, sy, 0, 0}.Mul(Matrix{cos, sin, -sin, cos, 0, 0})
})

func walked(t *rapid.T, b []byte) *Content {
	c := contentOf(t, b, DefaultLimits())
	if len(c.Notes) > 0 {
		t.Fatal(c.Notes)
	}
	return c
}

func distance(a, b Point) float64 { return math.Hypot(a.X-b.X, a.Y-b.Y) }

// fromLine is how far p is from the line through a and b.
func fromLine(p, a, b Point) float64 {
	return math.Abs((b.X-a.X)*(p.Y-a.Y)-(b.Y-a.Y)*(p.X-a.X)) / distance(a, b)
}

// Sizes as printed under any matrix are those that measuring on the page gives: type
// from its baseline to the top of its em, a line across, at every angle that it may
// have, a picture along its sides.
func TestSizesUnderAnyMatrix(t *testing.T) {
	w := &writer{}
	fonts := w.embedded()
	im := w.picture(60, 30, "")
	rapid.Check(t, func(t *rapid.T) {
		outer, inner, text := anyMatrix.Draw(t, "outer"), anyMatrix.Draw(t, "inner"), anyMatrix.Draw(t, "text")
		unit := rapid.SampledFrom([]float64{0.5, 1, 2}).Draw(t, "unit")
		size, width := rapid.Float64Range(1, 20).Draw(t, "size"), rapid.Float64Range(0.1, 9).Draw(t, "width")
		stretch := rapid.Float64Range(40, 200).Draw(t, "Tz")
		c := walked(t, (&writer{objects: append([]string{}, w.objects...)}).page(
			fmt.Sprintf("/MediaBox [-5000 -5000 5000 5000] /UserUnit %g /Rotate %d", unit, rapid.SampledFrom([]int{0, 90, 180, 270}).Draw(t, "rotate")),
			fonts+" /XObject << /Im "+ref(im)+" >>",
			outer.op("cm")+inner.op("cm")+fmt.Sprintf("%.9f w 1 1 m 9 5 l S /Im Do BT 1 Tr /F1 %.9f Tf %.9f Tz ", width, size, stretch)+text.op("Tm")+"(H) Tj ET"))
		m := inner.Mul(outer).Mul(Matrix{unit, 0, 0, unit, 0, 0})

		least, most := math.Inf(1), 0.0
		const angles = 2000
		for i := range angles {
			sin, cos := math.Sincos(math.Pi * float64(i) / angles)
			across := fromLine(m.At(-sin*width, cos*width), m.At(0, 0), m.At(cos, sin))
			least, most = min(least, across), max(most, across)
		}
		close := func(got, want float64) bool { return math.Abs(got-want) < 1e-3*want }
		if p := c.Paths[0]; !close(p.WidthMin, least) || !close(p.WidthMax, most) {
			t.Fatalf("stroke from %v to %v, want %v to %v", p.WidthMin, p.WidthMax, least, most)
		}
		x := c.Texts[0]
		tm := text.Mul(m)
		if want := fromLine(tm.At(0, size), tm.At(0, 0), tm.At(1, 0)); !close(x.Size, want) {
			t.Fatalf("size %v, want %v", x.Size, want)
		}
		if !close(x.LineThin, least) {
			t.Fatalf("line of the type %v, want %v", x.LineThin, least)
		}
		right, top := distance(m.At(0, 0), m.At(1, 0))/72, distance(m.At(0, 0), m.At(0, 1))/72
		if i := c.Images[0]; !close(i.PPIX, 60/right) || !close(i.PPIY, 30/top) {
			t.Fatalf("%v × %v ppi, want %v × %v", i.PPIX, i.PPIY, 60/right, 30/top)
		}
	})
}

// sizes are the printed measures of all items, in their order.
func sizes(c *Content) (v []float64) {
	add := func(r Rect, more ...float64) { v = append(append(v, r.X0, r.Y0, r.X1, r.Y1), more...) }
	for _, x := range c.Texts {
		add(x.Box, x.Size, x.LineThin)
	}
	for _, x := range c.Images {
		add(x.Box, x.PPIX, x.PPIY)
	}
	for _, x := range c.Paths {
		add(x.Box, x.WidthMin, x.WidthMax)
	}
	for _, x := range c.Shadings {
		add(x.Box)
	}
	return v
}

// The same drawing prints the same whatever the page's unit, rotation and origin, if
// the content makes up for them.
func TestSameDrawingOnOddPages(t *testing.T) {
	w := &writer{}
	fonts := strings.TrimSuffix(w.embedded(), ">>")
	im := w.picture(60, 30, "")
	form := w.form("/Matrix [0.5 0.2 0 2 3 4] /BBox [0 0 90 40]", "/XObject << /Im "+ref(im)+" >>", "q 30 0 9 20 5 5 cm /Im Do Q 2 w 0 0 50 50 re S")
	glyph := w.stream("", "500 0 d1 0 0 m 400 0 l 200 500 l f")
	type3 := w.add("<< /Type /Font /Subtype /Type3 /FontMatrix [0.002 0 0 0.002 0 0] /FirstChar 97 /Widths [500] /CharProcs << /a " + ref(glyph) + " >> /Encoding << /Differences [97 /a] >> >>")
	resources := fmt.Sprintf("%s /F3 %s >> /XObject << /Im %s /Fm %s >> /Shading << /Sh << /ShadingType 2 /ColorSpace /DeviceCMYK >> >>", fonts, ref(type3), ref(im), ref(form))
	const drawing = `q 40 10 -5 20 30 30 cm /Im Do Q q 20 10 200 130 re W n /Fm Do /Sh sh Q 3 w 1 J 30 100 m 60 140 90 60 120 100 c S
		BT /F1 12 Tf 1 0.3 0.2 1 60 60 Tm 2 Tc 90 Tz 3 Ts (Saddles) Tj 1 Tr 0.5 w 0 -20 Td [(br) -200 (idles)] TJ /F3 9 Tf T* (aa) Tj ET
		q BT /F1 40 Tf 7 Tr 100 20 Td (HH) Tj ET 0 0 270 162 re f Q`
	page := func(box, content string) []byte {
		return (&writer{objects: append([]string{}, w.objects...)}).page(box, resources, content)
	}
	plain := first(t, page("/MediaBox [0 0 270 162]", drawing))
	c, err := plain.Walk()
	if err != nil {
		t.Fatal(err)
	}
	want := sizes(c)
	if len(c.Texts) != 4 || len(c.Images) != 2 || len(c.Paths) != 5 || len(c.Shadings) != 1 {
		t.Fatalf("%d texts, %d images, %d paths, %d shadings, %q", len(c.Texts), len(c.Images), len(c.Paths), len(c.Shadings), c.Notes)
	}
	rapid.Check(t, func(t *rapid.T) {
		rotate := rapid.SampledFrom([]int{-90, 0, 90, 180, 270, 450}).Draw(t, "rotate")
		unit := rapid.SampledFrom([]float64{0.5, 1, 2, 2.8346}).Draw(t, "unit")
		x, y := rapid.Float64Range(-500, 500).Draw(t, "x"), rapid.Float64Range(-500, 500).Draw(t, "y")
		wide, high := 270/unit, 162/unit
		if rotate%180 != 0 {
			wide, high = high, wide
		}
		media := Rect{x, y, x + wide, y + high}
		back := plain.display.Mul(displayMatrix(media, (rotate+360)%360, unit).inverse())
		box := fmt.Sprintf("/MediaBox [%.9f %.9f %.9f %.9f] /Rotate %d /UserUnit %g", media.X0, media.Y0, media.X1, media.Y1, rotate, unit)
		got := sizes(walked(t, page(box, back.op("cm")+drawing)))
		if len(got) != len(want) {
			t.Fatalf("%d measures, want %d", len(got), len(want))
		}
		for i := range want {
			if math.Abs(got[i]-want[i]) > 1e-4 {
				t.Fatalf("measure %d: %v, want %v", i, got[i], want[i])
			}
		}
	})
}

// The pen of stroked type is round in user space, however the text is slanted: the
// box holds the outline's corners with the pen around each.
func TestStrokedTypeUnderAnyMatrix(t *testing.T) {
	w := &writer{}
	fonts := w.embedded()
	f := newTrueType(goregular.TTF)
	ink, _ := f.ink(f.glyphFor('H', 'H'))
	rapid.Check(t, func(t *rapid.T) {
		m, text := anyMatrix.Draw(t, "matrix"), anyMatrix.Draw(t, "text")
		const size, half = 20, 1.5
		c := walked(t, (&writer{objects: append([]string{}, w.objects...)}).page("/MediaBox [-500 -500 500 500]", fonts,
			m.op("cm")+fmt.Sprintf("%d w BT 2 Tr /F1 %d Tf ", int(2*half), size)+text.op("Tm")+"(H) Tj ET"))
		want := nowhere()
		for _, corner := range []Point{{ink.X0, ink.Y0}, {ink.X1, ink.Y0}, {ink.X1, ink.Y1}, {ink.X0, ink.Y1}} {
			user := text.At(corner.X*size, corner.Y*size)
			for i := range 360 {
				sin, cos := math.Sincos(float64(i) * math.Pi / 180)
				p := m.At(user.X+half*cos, user.Y+half*sin)
				want.add(Point{p.X + 500, 500 - p.Y})
			}
		}
		if got := c.Texts[0].Full; !near(got, want, 0.01) {
			t.Fatalf("box %v, want %v", got, want)
		}
		if q := c.Texts[0].Quad.Bounds(); !q.Contains(want, 0.01) {
			t.Fatalf("quad %v does not hold %v", q, want)
		}
	})
}
