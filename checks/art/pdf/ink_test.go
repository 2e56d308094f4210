package pdf

import (
	"fmt"
	"regexp"
	"strconv"
	"testing"
)

// seen is the box around everything that the content leaves on the page.
func seen(c *Content) Rect {
	r := nowhere()
	for _, x := range c.Texts {
		if x.Seen() {
			r = r.Union(x.Box)
		}
	}
	for _, x := range c.Images {
		if x.Seen() {
			r = r.Union(x.Box)
		}
	}
	for _, x := range c.Paths {
		if x.Seen() {
			r = r.Union(x.Box)
		}
	}
	for _, x := range c.Shadings {
		if x.Seen() {
			r = r.Union(x.Box)
		}
	}
	return r
}

// Ghostscript's bbox device renders each page at 4000 dpi and reports the box of the
// marks, in points from the bottom left, widened to whole steps of its raster. It
// rounds outlines and strokes a little differently, hence the slack. Clips here are
// upright rectangles: for others both give bounds, each its own.
func TestInkAgainstGhostscript(t *testing.T) {
	const slack = 0.12 // points
	bodies := []string{
		"20 30 100 40 re f",
		"3 w 20 30 100 40 re S",
		"6 w 20 20 m 60 80 l 100 20 l S",
		"6 w 20 20 m 60 80 l 100 20 l s",
		"6 w 1 j 20 20 m 60 80 l 100 20 l S",
		"6 w 2 j 20 20 m 60 80 l 100 20 l S",
		"6 w 2 M 20 20 m 60 140 l 100 20 l S",
		"10 w 20 20 m 100 60 l S",
		"10 w 1 J 20 20 m 100 60 l S",
		"10 w 2 J 20 20 m 100 60 l S",
		"12 w 30 40 m 60 140 120 140 140 50 c S",
		"12 w 2 J 30 40 m 90 140 20 130 140 50 c S",
		"q 2 0.5 0 1 0 0 cm 8 w 30 40 m 60 90 70 90 80 30 c S Q",
		"q 3 0 0 0.5 0 0 cm 8 w 1 J 20 40 m 60 90 l S Q",
		"q 0.8660254 0.5 -0.5 0.8660254 60 10 cm 4 w 20 20 60 30 re S Q",
		"q 60 30 50 60 re W n 20 40 m 140 40 l 140 140 l f Q",
		"BT /F1 24 Tf 20 60 Td (Wheels) Tj ET",
		"BT /F1 24 Tf 0.8660254 0.5 -0.3 0.8660254 40 40 Tm (HIH) Tj ET",
		"BT /F1 24 Tf 1 Tr 3 w 20 60 Td (HILL) Tj ET",
		"BT /F1 1 Tf 30 0 0 20 20 60 Tm 0.2 Tc [(H) -300 (E)] TJ ET",
		"BT /F1 24 Tf 60 Tz 5 Ts 20 60 Td (jpgqy) Tj ET",
		"q 80 10 -20 60 40 30 cm /Im Do Q",
		"/Fm Do",
		"BT /F3 20 Tf 30 50 Td (aa) Tj ET",
	}
	w := &writer{}
	im := w.stream("/Type /XObject /Subtype /Image /Width 2 /Height 2 /BitsPerComponent 8 /ColorSpace /DeviceGray", "\x01\x02\x03\x04")
	fm := w.form("/Matrix [0 0.5 -1.5 0 120 20] /BBox [10 10 60 70]", "", "0 0 200 200 re f")
	glyph := w.stream("", "500 0 d0 100 -100 300 400 re f")
	font := w.embedded()
	fonts := font[:len(font)-2] + fmt.Sprintf("/F3 << /Type /Font /Subtype /Type3 /FontBBox [0 0 0 0] /FontMatrix [0.002 0 0 0.002 0 0] /FirstChar 97 /LastChar 97 /Widths [500] /CharProcs << /a %s >> /Encoding << /Type /Encoding /Differences [97 /a] >> >> >>", ref(glyph))
	var pages []string
	for _, body := range bodies {
		pages = append(pages, fmt.Sprintf("/MediaBox [0 0 200 150] /Resources << %s /XObject << /Im %s /Fm %s >> >> /Contents %s", fonts, ref(im), ref(fm), ref(w.stream("", body))))
	}
	b := w.document("", pages...)
	out := command(t, "gs", "-q", "-dNOPAUSE", "-dBATCH", "-sDEVICE=bbox", saved(t, "a.pdf", b))
	boxes := regexp.MustCompile(`HiResBoundingBox: (\S+) (\S+) (\S+) (\S+)`).FindAllStringSubmatch(out, -1)
	if len(boxes) != len(bodies) {
		t.Fatalf("%d pages, gs says %s", len(bodies), out)
	}
	d := open(t, b)
	for i, m := range boxes {
		var v [4]float64
		for k := range v {
			v[k], _ = strconv.ParseFloat(m[k+1], 64)
		}
		want := Rect{v[0], 150 - v[3], v[2], 150 - v[1]}
		p, err := d.Page(i + 1)
		if err != nil {
			t.Fatal(err)
		}
		c, err := p.Walk()
		if err != nil {
			t.Fatal(err)
		}
		if got := seen(c); !near(got, want, slack) {
			t.Errorf("%s\n got %.3f\nwant %.3f", bodies[i], got, want)
		}
	}
}

// TestShortNames: what inline images call G is DeviceGray, but a colour space of the
// resources may have that name.
func TestShortNames(t *testing.T) {
	const gold = "/ColorSpace << /G [/Separation /Gold /DeviceCMYK << /FunctionType 2 /Domain [0 1] /N 1 >>] >>"
	c := walk(t, onePage(cardPage, gold, "/G cs 0 0 9 9 re f /RGB cs 0 0 9 9 re f"))
	if got := c.Paths[0].Fill.Space.String() + ", " + c.Paths[1].Fill.Space.String(); got != "Separation Gold, DeviceRGB" {
		t.Error(got)
	}
}
