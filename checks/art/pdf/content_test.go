package pdf

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

const square = "/MediaBox [0 0 100 100]"

func onlyPath(t testing.TB, b []byte) Path {
	t.Helper()
	c := walk(t, b)
	if len(c.Paths) != 1 || len(c.Notes) > 0 {
		t.Fatalf("%d paths, notes %q", len(c.Paths), c.Notes)
	}
	return c.Paths[0]
}

// Boxes in display space of a page of 100 × 100: y is 100 less that of the file.
func TestPathBoxes(t *testing.T) {
	const k = 0.5522847498 // control points of a quarter circle
	circle := fmt.Sprintf("%g %g m %g %g %g %g %g %g c %g %g %g %g %g %g c %g %g %g %g %g %g c %g %g %g %g %g %g c h ",
		70.0, 50.0, 70.0, 50+20*k, 50+20*k, 70.0, 50.0, 70.0, 50-20*k, 70.0, 30.0, 50+20*k, 30.0, 50.0,
		30.0, 50-20*k, 50-20*k, 30.0, 50.0, 30.0, 50+20*k, 30.0, 70.0, 50-20*k, 70.0, 50.0)
	cases := []struct {
		name, content string
		box           Rect
		rectangle     bool
	}{
		{"rectangle", "10 20 30 40 re f", Rect{10, 40, 40, 80}, true},
		{"negative width", "40 60 -30 -40 re f", Rect{10, 40, 40, 80}, true},
		{"rectangle by lines", "10 20 m 40 20 l 40 60 l 10 60 l h f", Rect{10, 40, 40, 80}, true},
		{"closed by a line", "10 20 m 10 60 l 40 60 l 40 20 l 10 20 l f", Rect{10, 40, 40, 80}, true},
		{"triangle", "10 20 m 40 20 l 40 60 l h f", Rect{10, 40, 40, 80}, false},
		{"two rectangles", "10 20 5 5 re 35 55 5 5 re f", Rect{10, 40, 40, 80}, false},
		{"turned by 90", "0 1 -1 0 100 0 cm 10 20 30 40 re f", Rect{40, 60, 80, 90}, true},
		{"turned by 45", "0.70710678 0.70710678 -0.70710678 0.70710678 50 20 cm 0 0 20 20 re f", Rect{35.8578644, 51.7157288, 64.1421356, 80}, false},
		{"circle filled", circle + "f", Rect{30, 30, 70, 70}, false},
		{"circle stroked", "2 w " + circle + "s", Rect{29, 29, 71, 71}, false},
		{"circle turned", "0.8660254 0.5 -0.5 0.8660254 31.69873 -18.30127 cm 2 w " + circle + "S", Rect{28.995, 28.995, 71.005, 71.005}, false},
		{"curve past its ends", "10 50 m 10 90 50 90 50 50 c f", Rect{10, 20, 50, 50}, false},
		{"v", "10 50 m 50 90 50 50 v f", Rect{10, 32.2222222, 50, 50}, false},
		{"y", "10 50 m 10 90 50 50 y f", Rect{10, 32.2222222, 50, 50}, false},
		{"line, butt ends", "4 w 10 50 m 60 50 l S", Rect{10, 48, 60, 52}, false},
		{"line, round ends", "4 w 1 J 10 50 m 60 50 l S", Rect{8, 48, 62, 52}, false},
		{"line, square ends", "4 w 2 J 10 50 m 60 50 l S", Rect{8, 48, 62, 52}, false},
		{"frame", "4 w 10 20 30 40 re S", Rect{8, 38, 42, 82}, true},
		{"frame, bevelled", "4 w 2 j 10 20 30 40 re S", Rect{8, 38, 42, 82}, true},
		{"pen squeezed", "q 1 0 0 3 0 0 cm 4 w 10 10 m 60 10 l S Q", Rect{10, 64, 60, 76}, false},
		{"hairline", "0 w 10 50 m 60 50 l S", Rect{10, 50, 60, 50}, false},
		{"dot under a round pen", "6 w 1 J 50 50 m 50 50 l S", Rect{47, 47, 53, 53}, false},
		// A right angle pointing up: the miter reaches w/√2 above the corner.
		{"mitred tip", "2 w 20 20 m 40 40 l 60 20 l S", Rect{19.2928932, 100 - 41.4142136, 60.7071068, 80.7071068}, false},
		// Under the miter limit the tip is cut: it reaches half the width, no more.
		{"tip cut by the limit", "2 w 1.1 M 20 20 m 40 40 l 60 20 l S", Rect{19.2928932, 100 - 40.7071068, 60.7071068, 80.7071068}, false},
		// A right angle's miter is √2 times the width long.
		{"tip just within the limit", "2 w 1.42 M 20 20 m 40 40 l 60 20 l S", Rect{19.2928932, 100 - 41.4142136, 60.7071068, 80.7071068}, false},
		{"tip just past the limit", "2 w 1.41 M 20 20 m 40 40 l 60 20 l S", Rect{19.2928932, 100 - 40.7071068, 60.7071068, 80.7071068}, false},
		{"a stray point counts not", "10 20 30 40 re 90 90 m f", Rect{10, 40, 40, 80}, false},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			p := onlyPath(t, onePage(square, "", c.content))
			if !near(p.Box, c.box, 0.01) || p.Rectangle != c.rectangle {
				t.Errorf("box %.4f rectangle %v, want %.4f %v", p.Box, p.Rectangle, c.box, c.rectangle)
			}
		})
	}
}

func TestStrokeWidthAsPrinted(t *testing.T) {
	p := onlyPath(t, onePage(square+" /UserUnit 2", "", "3 0 0 0.5 0 0 cm 2 w [3 1] 0 d 1 1 m 9 9 l S"))
	if p.WidthMin != 2 || p.WidthMax != 12 || !p.Dashed || !p.Stroked || p.Filled {
		t.Errorf("%+v", p)
	}
	p = onlyPath(t, onePage(square, "", "0.8660254 0.5 -0.5 0.8660254 0 0 cm 2 w [] 0 d 9 9 m 9 1 l s"))
	if math.Abs(p.WidthMin-2) > 1e-6 || math.Abs(p.WidthMax-2) > 1e-6 || p.Dashed || p.Segments != 2 {
		t.Errorf("%+v", p)
	}
}

// A filled path of four-sided shapes alone is told as such, in display space.
func TestQuads(t *testing.T) {
	for content, want := range map[string][]Quad{
		"10 20 30 1 re f":                             {{{10, 80}, {40, 80}, {40, 79}, {10, 79}}},
		"10 20 m 40 30 l 40 31 l 10 21 l f":           {{{10, 80}, {40, 70}, {40, 69}, {10, 79}}},
		"10 20 m 40 20 l 40 21 l 10 21 l 10 20 l h f": {{{10, 80}, {40, 80}, {40, 79}, {10, 79}}},
		"2 0 0 2 0 0 cm 5 10 15 1 re 5 20 1 9 re f": {
			{{10, 80}, {40, 80}, {40, 78}, {10, 78}}, {{10, 60}, {12, 60}, {12, 42}, {10, 42}}},
		"10 20 30 1 re S":                                       nil, // nothing is filled
		"10 20 30 1 re 50 50 m 60 50 l 60 60 l f":               nil, // a triangle beside it
		"10 20 m 40 20 l 40 21 l 30 30 l 10 21 l h f":           nil,
		"10 20 m 40 20 l 40 21 40 22 30 22 c 10 21 l h f":       nil,
		"0 0 1 1 re " + strings.Repeat("5 5 1 1 re ", 64) + "f": nil, // too many to tell
	} {
		got := onlyPath(t, onePage(square, "", content)).Quads
		if len(got) != len(want) {
			t.Errorf("%.40s: %v, want %v", content, got, want)
			continue
		}
		for i := range got {
			for j := range got[i] {
				if math.Hypot(got[i][j].X-want[i][j].X, got[i][j].Y-want[i][j].Y) > 1e-9 {
					t.Errorf("%.40s: %v, want %v", content, got[i], want[i])
				}
			}
		}
	}
}

// Whatever the matrix, the box of a cubic lies in that of its control points and
// holds every point of it.
func TestCurveBoundsHoldTheCurve(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := rapid.Float64Range(-100, 100)
		var p [4]Point
		hull := nowhere()
		for i := range p {
			p[i] = Point{num.Draw(t, "x"), num.Draw(t, "y")}
			hull.add(p[i])
		}
		r := curveBounds(p[0], p[1], p[2], p[3])
		if !hull.Contains(r, 1e-9) {
			t.Fatalf("%v is not in %v", r, hull)
		}
		tight := nowhere()
		for i := range 1001 {
			q := cubicAt(p, float64(i)/1000)
			if !r.Contains(Rect{q.X, q.Y, q.X, q.Y}, 1e-9) {
				t.Fatalf("%v is not in %v", q, r)
			}
			tight.add(q)
		}
		if !tight.Contains(r, 0.01) {
			t.Fatalf("%v is wider than %v", r, tight)
		}
	})
}

func TestClip(t *testing.T) {
	c := walk(t, onePage(square, "", `q 10 10 50 50 re W n 40 40 50 50 re f
		q 0 0 20 20 re W n 15 15 50 50 re f 70 70 9 9 re f Q 0 0 100 100 re f Q
		90 90 20 20 re f 60 0 40 40 re W* f 0 0 100 100 re f`))
	want := []Rect{{40, 40, 60, 60}, {15, 80, 20, 85}, {}, {40, 10, 90, 60}, {90, 0, 100, 10}, {60, 60, 100, 100}, {60, 60, 100, 100}}
	want[3] = Rect{10, 40, 60, 90}
	for i, p := range c.Paths {
		if !near(p.Box, want[i], 1e-9) || p.Clipped != (i == 2) || p.Order != i {
			t.Errorf("path %d: %+v", i, p.Item)
		}
	}
	if c.Paths[2].Full != (Rect{70, 21, 79, 30}) || c.Paths[2].Seen() {
		t.Errorf("%+v", c.Paths[2])
	}
	// What only touches the clip's edge is not seen.
	if c := walk(t, onePage(square, "", "0 0 50 50 re W n 50 0 20 20 re f")); !c.Paths[0].Clipped {
		t.Error("an edge was seen")
	}
	if c := walk(t, onePage(square, "", "W n 50 0 20 20 re f")); !c.Paths[0].Clipped {
		t.Error("an empty clip lets paint through")
	}
}

func spaces(c *Content) string {
	var s []string
	for _, u := range c.Spaces {
		var kinds string
		for i, k := range []string{"text", "path", "image", "shading"} {
			if u.Kinds&(1<<i) != 0 {
				kinds += " " + k
			}
		}
		s = append(s, fmt.Sprintf("%s: %d%s", u.Space, u.Count, kinds))
	}
	return strings.Join(s, "; ")
}

func TestColourSpaces(t *testing.T) {
	w := &writer{}
	icc := w.stream("/N 3 /Alternate /DeviceRGB", "RGB profile")
	res := `/ColorSpace << /Icc [/ICCBased ` + ref(icc) + `] /Gold [/Separation /Gold#20Foil /DeviceCMYK 99 0 R] /Two [/DeviceN [/Gold /Black] /DeviceCMYK 99 0 R]
		/Idx [/Indexed /DeviceRGB 1 <ff0000 00ff00>] /Lab [/Lab << /WhitePoint [0.9 1 0.8] >>] /Cal [/CalRGB << >>] /Pat [/Pattern /DeviceCMYK] >>` + helvetica
	c := walk(t, w.page(square, res, `
		/Icc cs 1 0 0 sc 0 0 9 9 re f 0 0 9 9 re f
		/Gold CS 0.5 SCN 1 1 m 9 9 l S
		/Two cs 0.1 0.2 scn BT /F1 9 Tf 20 20 Td (Hat) Tj ET
		/Idx cs 1 sc 0 0 9 9 re f
		/Lab cs 50 -20 20 scn 0 0 9 9 re f
		/Cal cs 0 0 9 9 re B
		0.1 g 0 0 9 9 re f 0.2 0.3 0.4 rg 0 0 9 9 re f 0 0 0 1 k 0 0 9 9 re f
		1 0 0 RG 500 500 9 9 re S`))
	want := "ICCBased with 3 components: 2 path; Separation Gold Foil: 2 path; DeviceN Gold, Black: 1 text; " +
		"Indexed over DeviceRGB: 1 path; Lab: 1 path; CalRGB: 1 path; DeviceGray: 1 path; DeviceRGB: 1 path; DeviceCMYK: 1 path"
	if got := spaces(c); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	icced := c.Spaces[0].Space
	if p, err := icced.Profile(); err != nil || string(p) != "RGB profile" || icced.Object != icc || icced.Base.Family != DeviceRGB {
		t.Errorf("%+v %q %v", icced, p, err)
	}
	if x := c.Texts[0].Fill; fmt.Sprint(x.Values) != "[0.1 0.2]" || x.Space.Base.Family != DeviceCMYK {
		t.Errorf("%+v", x)
	}
	if tab := c.Spaces[3].Space.Table; string(tab) != "\xff\x00\x00\x00\xff\x00" {
		t.Errorf("table %x", tab)
	}
	if _, err := c.Spaces[4].Space.Profile(); err != ErrNoProfile {
		t.Error(err)
	}
}

// DefaultRGB and its like take the place of the device spaces (8.6.5.6), also below
// Indexed, but never of themselves.
func TestDefaultSpaces(t *testing.T) {
	w := &writer{}
	icc := w.stream("/N 3", "profile")
	im := w.stream("/Subtype /Image /Width 1 /Height 1 /BitsPerComponent 8 /ColorSpace /DeviceRGB", "abc")
	res := fmt.Sprintf("/ColorSpace << /DefaultRGB [/ICCBased %s] /DefaultGray /DeviceGray /DefaultCMYK [/ICCBased %s] /Idx [/Indexed /DeviceRGB 0 <000000>] >> /XObject << /Im %s >>", ref(icc), ref(icc), ref(im))
	c := walk(t, w.page(square, res, "1 0 0 rg 0 0 9 9 re f 0 g 0 0 9 9 re f 0 0 0 1 k 0 0 9 9 re f 9 0 0 9 0 0 cm /Im Do /Idx cs 0 0 1 1 re f"))
	want := "DeviceRGB remapped to ICCBased with 3 components: 2 path image; DeviceGray: 1 path; DeviceCMYK: 1 path; Indexed over DeviceRGB remapped to ICCBased with 3 components: 1 path"
	if got := spaces(c); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

func TestGraphicsStateParameters(t *testing.T) {
	res := `/ExtGState << /A << /ca 0.5 /CA 0.25 /BM [/Odd /Multiply] /OP true /OPM 1 /LW 3 /SMask << /S /Alpha /G 99 0 R >> >> /B << /BM /Compatible /OP true /op false /SMask /None /D [[2] 0] >> >>`
	c := walk(t, onePage(square, res, "0 0 9 9 re B q /A gs 0 0 9 9 re B /B gs 0 0 9 9 re B Q 0 0 9 9 re B"))
	plain := Look{FillAlpha: 1, StrokeAlpha: 1, Blend: "Normal"}
	got := make([]Look, 4)
	for i, p := range c.Paths {
		got[i] = p.Look
		got[i].Fill, got[i].Stroke = Colour{}, Colour{}
	}
	want := []Look{plain,
		{FillAlpha: 0.5, StrokeAlpha: 0.25, Blend: "Multiply", SoftMask: true, FillOverprint: true, StrokeOverprint: true, OverprintMode: 1},
		{FillAlpha: 0.5, StrokeAlpha: 0.25, Blend: "Normal", StrokeOverprint: true, OverprintMode: 1},
		plain}
	for i := range want {
		if fmt.Sprint(got[i]) != fmt.Sprint(want[i]) {
			t.Errorf("path %d: %+v, want %+v", i, got[i], want[i])
		}
	}
	if c.Paths[1].WidthMax != 3 || !c.Paths[2].Dashed || c.Paths[3].WidthMax != 1 {
		t.Error("line settings")
	}
}

// A transparency group starts anew inside; what was set outside goes for the whole
// (11.6.6). A form that is no group just goes on.
func TestGroupsAndForms(t *testing.T) {
	w := &writer{}
	g := w.form("/Group << /S /Transparency >>", "/ExtGState << /H << /ca 0.5 >> >>", "0 0 9 9 re f /H gs 0 0 9 9 re f")
	f := w.form("/Matrix [2 0 0 2 0 0] /BBox [0 0 10 10]", "/XObject << /G "+ref(g)+" >>", "0 0 50 50 re f /G Do 1 0 0 rg")
	bare := w.stream("/Subtype /Form /BBox [0 0 100 100]", "BT /F1 9 Tf 5 5 Td (mine) Tj ET")
	c := walk(t, w.page(square, "/ExtGState << /H << /ca 0.5 /BM /Multiply >> >> /XObject << /F "+ref(f)+" /Bare "+ref(bare)+" >> "+helvetica,
		"q /H gs 1 0 0 1 10 10 cm /F Do Q 0 0 5 5 re f /Bare Do"))
	alphas := []float64{0.5, 0.5, 0.25, 1}
	for i, p := range c.Paths {
		if p.FillAlpha != alphas[i] || (p.Blend == "Multiply") != (i < 3) || p.Fill.Space.Family != DeviceGray {
			t.Errorf("path %d: %+v", i, p.Look)
		}
	}
	if !near(c.Paths[0].Box, Rect{10, 70, 30, 90}, 1e-9) || !near(c.Paths[1].Box, Rect{10, 72, 28, 90}, 1e-9) {
		t.Errorf("%v %v", c.Paths[0].Box, c.Paths[1].Box)
	}
	if len(c.Texts) != 1 || c.Texts[0].String != "mine" {
		t.Errorf("a form without resources: %+v, %q", c.Texts, c.Notes)
	}
}

func TestPatterns(t *testing.T) {
	w := &writer{}
	im := w.picture(10, 10, "")
	tile := w.stream("/PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 10 10] /XStep 10 /YStep 10 /Matrix [0.5 0 0 0.5 0 0] /Resources << /XObject << /Im "+ref(im)+" >> >>",
		"q 10 0 0 10 0 0 cm /Im Do Q 1 0 0 rg 20 20 5 5 re f")
	plain := w.stream("/PatternType 1 /PaintType 2 /TilingType 1 /BBox [0 0 10 10] /XStep 10 /YStep 10 /Resources << >>", "1 0 0 rg 0 0 5 5 re f")
	shade := w.add("<< /PatternType 2 /Shading << /ShadingType 2 /ColorSpace /DeviceCMYK /Coords [0 0 1 1] >> >>")
	res := fmt.Sprintf("/Pattern << /T %s /P %s /S %s >> /ColorSpace << /Un [/Pattern /DeviceCMYK] >> /Shading << /Sh << /ShadingType 3 /ColorSpace /DeviceRGB >> /Bx << /ShadingType 2 /ColorSpace /DeviceRGB /BBox [0 0 10 10] >> >>", ref(tile), ref(plain), ref(shade))
	c := walk(t, w.page(square, res, `3 0 0 3 0 0 cm /Pattern cs /T scn 0 0 10 10 re f 20 20 5 5 re f
		/Un cs 0.1 0.2 0.3 0.4 /P scn 0 0 10 10 re f
		/Pattern cs /S scn 0 0 10 10 re f
		q 0 0 20 20 re W n /Sh sh Q /Bx sh`))
	if len(c.Images) != 1 || len(c.Paths) != 6 || len(c.Shadings) != 2 || len(c.Notes) > 0 {
		t.Fatalf("%d images, %d paths, %d shadings, %q", len(c.Images), len(c.Paths), len(c.Shadings), c.Notes)
	}
	// The pattern hangs on the page, not on the matrix of the moment (8.7.2): 10 px
	// over 5 pt. It is listed once and covers both places.
	if im := c.Images[0]; im.PPIX != 144 || !im.InPattern || !near(im.Box, Rect{0, 25, 75, 100}, 1e-9) {
		t.Errorf("%+v", im)
	}
	// Outside the tile's BBox nothing is seen, wherever the tile is painted with.
	if p := c.Paths[1]; !p.InPattern || !p.Clipped || p.Box != (Rect{}) {
		t.Errorf("%+v", p)
	}
	if got, want := spaces(c), "DeviceGray: 1 image; DeviceCMYK: 3 path shading; DeviceRGB: 2 shading"; got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	for _, p := range c.Paths {
		if p.InPattern && !p.Clipped && fmt.Sprint(p.Fill.Values) != "[0.1 0.2 0.3 0.4]" {
			t.Errorf("uncoloured tile: %+v", p.Fill)
		}
	}
	if c := walk(t, w.page(square, res+" /ExtGState << /H << /ca 0.5 >> >>", "/H gs /Pattern cs /T scn 0 0 9 9 re f")); c.Images[0].FillAlpha != 0.5 {
		t.Errorf("a tile painted half through: %+v", c.Images[0].Look)
	}
	if s := c.Shadings[0]; !near(s.Box, Rect{0, 40, 60, 100}, 1e-9) || s.Type != 3 {
		t.Errorf("%+v", s)
	}
	if s := c.Shadings[1]; !near(s.Box, Rect{0, 70, 30, 100}, 1e-9) {
		t.Errorf("%+v", s)
	}
}

func TestSoftMaskGroup(t *testing.T) {
	w := &writer{}
	im := w.picture(10, 10, "")
	g := w.form("/Group << /S /Transparency /CS /DeviceGray >>", "/XObject << /Im "+ref(im)+" >>", "q 20 0 0 20 0 0 cm /Im Do Q")
	c := walk(t, w.page(square, "/ExtGState << /M << /SMask << /S /Luminosity /G "+ref(g)+" >> >> >>", "2 0 0 2 0 0 cm /M gs /M gs 1 0 0 rg 0 0 9 9 re f"))
	if len(c.Images) != 1 || !c.Images[0].InMask || c.Images[0].PPIX != 18 || c.Images[0].Seen() {
		t.Errorf("%+v", c.Images)
	}
	if got := spaces(c); got != "DeviceRGB: 1 path" {
		t.Error(got)
	}
}

func TestStreamsAreJoinedApart(t *testing.T) {
	w := &writer{}
	a, b := w.stream("", "q 1 0 0 rg 0 0 9 9 re f"), w.stream("", "Q 0 0 5 5 re f")
	bad := w.stream("/Filter /FlateDecode", "not deflated")
	c := walk(t, w.document("", fmt.Sprintf("%s /Contents [%s %s 99 0 R %s]", square, ref(a), ref(bad), ref(b))))
	if len(c.Paths) != 2 || len(c.Notes) != 2 || c.Paths[1].Fill.Space.Family != DeviceGray {
		t.Errorf("%d paths, %q", len(c.Paths), c.Notes)
	}
}

// Content that slips is read as far as it makes sense, and the slip is noted.
func TestSlips(t *testing.T) {
	for content, want := range map[string]string{
		"0 0 9 9 re f frobnicate":         `unknown operator "frobnicate"`,
		"1 0 rg 0 0 9 9 re f":             `"DeviceRGB" lacks its 3 numbers`,
		"Q 0 0 9 9 re f":                  "more Q than q",
		"0 0 9 9 re f 5 5 l S":            "before any starting point",
		"/None Do 0 0 9 9 re f":           `"None" is not among`,
		"/Pattern cs /P scn 0 0 9 9 re f": `pattern "P" is not among`,
		"/X cs 0 0 9 9 re f":              `colour space "X" is not among`,
		"/G gs 0 0 9 9 re f":              `graphics state "G" is not among`,
		"/S sh 0 0 9 9 re f":              `shading "S" is not among`,
		"BT (x) Tj ET 0 0 9 9 re f":       "without a font",
		"BT /F 9 Tf ET 0 0 9 9 re f":      `font "F" is not among`,
		") 0 0 9 9 re f":                  `stray ")"`,
		"0 0 9 9 re f BI /W 4 ID xxx":     "no end",
	} {
		c := walk(t, onePage(square, "", content))
		if len(c.Paths) == 0 || !strings.Contains(strings.Join(c.Notes, "\n"), want) || c.Truncated {
			t.Errorf("%s: %d paths, notes %q", content, len(c.Paths), c.Notes)
		}
	}
}
