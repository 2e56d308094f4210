package pdf

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"
)

// tidy asserts what holds for any content whatever.
func tidy(t *testing.T, c *Content) {
	t.Helper()
	check := func(it Item) {
		for _, v := range []float64{it.Box.X0, it.Box.Y0, it.Box.X1, it.Box.Y1} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("box %v", it.Box)
			}
		}
		if it.Box.Empty() {
			t.Fatalf("box %v is inside out", it.Box)
		}
	}
	for _, x := range c.Texts {
		check(x.Item)
		if x.Font == nil || math.IsNaN(x.Size) {
			t.Fatalf("%+v", x)
		}
	}
	for _, x := range c.Images {
		check(x.Item)
	}
	for _, x := range c.Paths {
		check(x.Item)
	}
	for _, x := range c.Shadings {
		check(x.Item)
	}
	for _, u := range c.Spaces {
		if u.Space == nil || u.Count < 1 || u.Kinds == 0 {
			t.Fatalf("%+v", u)
		}
	}
}

func FuzzOpen(f *testing.F) {
	for _, b := range [][]byte{
		plainCard(), placed(7, square), placed(9, square+" /Rotate 90"), onePage(square, helvetica, "BT /F1 9 Tf (x) Tj ET"),
		onePage("/MediaBox [0 0 9]", "", "BI /W 4 /H 2 /BPC 8 /CS /G ID abcdefgh EI"), []byte("%PDF-1.4\nstartxref\n0\n%%EOF"),
	} {
		f.Add(b)
	}
	lim := tight()
	lim.ReadTime = 2 * time.Second
	f.Fuzz(func(t *testing.T, b []byte) {
		d, err := Open(b, lim)
		if err != nil {
			return
		}
		p, err := d.Page(1)
		if err != nil {
			return
		}
		if c, err := p.Walk(); err == nil {
			tidy(t, c)
			for _, im := range c.Images {
				_, _ = im.Raw()
			}
		}
	})
}

func FuzzWalk(f *testing.F) {
	for _, s := range []string{
		"q 1 0 0 1 9 9 cm 0 0 9 9 re W n /Im Do Q", "BT /F1 9 Tf 1 0 0 1 9 9 Tm [(ab) -20 (c)] TJ 3 Tr (x) ' ET",
		"/Pattern cs /T scn 0 0 50 50 re B* /G gs /Fm Do", "BI /W 4 /H 2 /BPC 8 /CS /G /F /AHx ID 00> EI",
		"/OC /L BDC 1 0 0 RG 2 w 1 J 9 9 m 20 20 30 30 40 9 c s EMC", "/Sh sh /Idx cs 1 sc 0 0 9 9 re f", "BT /F3 9 Tf (aa) Tj ET",
		"<< /A [1 2 (x)] >> BDC 7 Tr BT /F1 9 Tf (clip) Tj ET 0 0 99 99 re f",
		"/OC /E BDC /Self Do /Pattern cs /Tself scn 0 0 9 9 re B EMC", "BT /F4 9 Tf 2 0 1 2 9 9 Tm 5 Ts 80 Tz 2 Tr (a a) Tj T* <61> \" ET",
	} {
		f.Add([]byte(s))
	}
	w := &writer{}
	im := w.picture(4, 4, "")
	tile := w.stream("/PatternType 1 /PaintType 2 /BBox [0 0 9 9] /XStep 9 /YStep 9 /Resources << >>", "0 0 5 5 re f")
	form := w.form("/Group << /S /Transparency >>", "/XObject << /Im "+ref(im)+" >>", "q 9 0 0 9 0 0 cm /Im Do Q")
	glyph := w.stream("", "500 0 d0 0 0 500 500 re f")
	layer := w.add("<< /Type /OCG /Name (L) >>")
	expression := w.add("<< /Type /OCMD /VE [/And [/Not " + ref(layer) + "] [/Or " + ref(layer) + " 99 0 R]] >>")
	me := ref(len(w.objects) + 1)
	w.form("", "/XObject << /Self "+me+" /Fm "+ref(form)+" >>", "/Fm Do /Self Do 0 0 5 5 re f")
	again := ref(len(w.objects) + 1)
	w.stream("/PatternType 1 /PaintType 1 /BBox [0 0 9 9] /XStep 9 /YStep 9 /Resources << /Pattern << /P "+again+" >> >>", "/Pattern cs /P scn 0 0 9 9 re f")
	shown := ref(len(w.objects) + 2)
	speaks := w.stream("", "9 0 d1 BT /F4 9 Tf (aa) Tj ET 0 0 5 5 re S")
	w.add("<< /Subtype /Type3 /FontMatrix [0.1 0 0 0.1 0 0] /FirstChar 97 /Widths [9] /CharProcs << /a " + ref(speaks) + " >> /Encoding << /Differences [97 /a] >> /Resources << /Font << /F4 " + shown + " >> >> >>")
	fonts := strings.TrimSuffix(w.embedded(), ">>") + "/F3 << /Subtype /Type3 /FontMatrix [0.002 0 0 0.002 0 0] /FirstChar 97 /Widths [500] /CharProcs << /a " + ref(glyph) + " >> /Encoding << /Differences [97 /a] >> >> /F4 " + shown + " >>"
	resources := "/XObject << /Im " + ref(im) + " /Fm " + ref(form) + " /Self " + me + " >> /Pattern << /T " + ref(tile) + " /Tself " + again + " >> " + fonts +
		"/ExtGState << /G << /ca 0.5 /SMask << /S /Alpha /G " + ref(form) + " >> >> >> /Shading << /Sh << /ShadingType 2 /ColorSpace /DeviceRGB >> >>" +
		"/ColorSpace << /Idx [/Indexed /DeviceCMYK 1 <0000000011111111>] /Un [/Pattern /DeviceRGB] >> /Properties << /L " + ref(layer) + " /E " + ref(expression) + " >>"
	content := w.stream("", "")
	page := w.document("/OCProperties << /OCGs ["+ref(layer)+"] /D << /OFF ["+ref(layer)+"] >> >>", fmt.Sprintf("%s /Resources << %s >> /Contents %s", square, resources, ref(content)))
	doc, err := Open(page, tight())
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, content []byte) {
		p, err := doc.Page(1)
		if err != nil {
			t.Fatal(err)
		}
		w := newWalker(p)
		in := w.interp(&stream{scope: newScope(doc.Dict(p.leaf.resources))}, p.display, p.Media)
		in.run(content)
		tidy(t, w.out)
	})
}

func FuzzFontProgram(f *testing.F) {
	f.Add([]byte("\x01\x00\x04\x01\x00\x01\x01\x01\x02A\x00\x01\x01\x01\x05\x1c\x00\x19\x11\x00\x00\x00\x00\x00\x01\x01\x01\x02\x0e"))
	f.Add([]byte("\x00\x01\x00\x00\x00\x01\x00\x00\x00\x00\x00\x00head\x00\x00\x00\x00\x00\x00\x00\x1c\x00\x00\x00\x36"))
	f.Add([]byte("%!PS-AdobeFont-1.0\n/FontMatrix [0.001 0 0 0.001 0 0] def\n/Encoding StandardEncoding def\ncurrentfile eexec\nabcd"))
	f.Fuzz(func(t *testing.T, b []byte) {
		o := readProgram(b)
		if o == nil {
			return
		}
		for g := range 40 {
			if r, ok := o.ink(g); ok && math.IsNaN(r.X0+r.X1) && !r.Empty() {
				t.Fatalf("glyph %d: %v", g, r)
			}
		}
		switch p := o.(type) {
		case *trueType:
			p.glyphFor(65, 'A')
		case *cff:
			p.named("A")
		case *type1:
			p.inkOf("A")
		}
	})
}

func FuzzCMap(f *testing.F) {
	f.Add([]byte("1 begincodespacerange <00> <ff> endcodespacerange 1 beginbfrange <01> <09> <0041> endbfrange 1 begincidrange <00> <ff> 0 endcidrange"), []byte("abc"))
	f.Add([]byte("beginbfrange <01> <03> [<41> <42>] endbfrange /WMode 1 def"), []byte{1, 2, 3})
	f.Fuzz(func(t *testing.T, program, text []byte) {
		m := parseCMap(program, 1000)
		for len(text) > 0 {
			v, n := m.cut(text)
			if n < 1 || n > len(text) {
				t.Fatalf("cut %d of %d", n, len(text))
			}
			_, _ = m.cid(v, n), m.textOf(v)
			text = text[n:]
		}
	})
}
