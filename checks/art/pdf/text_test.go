package pdf

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"golang.org/x/image/font/gofont/goregular"
)

// embedded adds a simple TrueType font with its program, and gives the resource.
func (w *writer) embedded() string {
	file := w.stream(fmt.Sprintf("/Length1 %d", len(goregular.TTF)), string(goregular.TTF))
	desc := w.add("<< /Type /FontDescriptor /FontName /GoRegular /Flags 32 /Ascent 900 /Descent -200 /CapHeight 700 /FontFile2 " + ref(file) + " >>")
	var widths strings.Builder
	f := newTrueType(goregular.TTF)
	hmtx := sfntTables(goregular.TTF)["hmtx"]
	for c := 32; c < 127; c++ {
		fmt.Fprintf(&widths, "%.3f ", float64(hmtx.u16(4*f.glyphFor(c, rune(c))))*1000/f.perEm)
	}
	return "/Font << /F1 " + ref(w.add("<< /Type /Font /Subtype /TrueType /BaseFont /GoRegular /Encoding /WinAnsiEncoding /FirstChar 32 /LastChar 126 /Widths ["+
		widths.String()+"] /FontDescriptor "+ref(desc)+" >>")) + " >>"
}

// Heights of the letters of Go Regular in units of 2048, read off the font: H is
// 1480 high, x 1086 (from golang.org/x/image, gofont/goregular, by its glyf table).
func TestTextInkIsMeasured(t *testing.T) {
	w := &writer{}
	c := walk(t, w.page("/MediaBox [0 0 200 100]", w.embedded(), "BT /F1 20.48 Tf 10 40 Td (Hx) Tj ET"))
	if len(c.Texts) != 1 {
		t.Fatalf("%d runs, %q", len(c.Texts), c.Notes)
	}
	x := c.Texts[0]
	if x.String != "Hx" || !x.Exact || x.Glyphs != 2 || !x.Font.Embedded || !x.Font.Measured {
		t.Errorf("%+v", x)
	}
	if math.Abs(x.Size-20.48) > 1e-9 || math.Abs(x.Box.Y1-60) > 1e-9 || math.Abs(x.Box.Y0-(60-14.80)) > 0.05 {
		t.Errorf("size %v box %v", x.Size, x.Box)
	}
}

// The same word, the same size as printed, by different roads.
func TestTextSizeAsPrinted(t *testing.T) {
	roads := map[string]string{
		"font size":      "BT /F1 12 Tf 40 40 Td (Ham) Tj ET",
		"text matrix":    "BT /F1 1 Tf 12 0 0 12 40 40 Tm (Ham) Tj ET",
		"CTM":            "12 0 0 12 40 40 cm BT /F1 1 Tf (Ham) Tj ET",
		"negative size":  "BT /F1 -12 Tf -1 0 0 -1 40 40 Tm (Ham) Tj ET",
		"split":          "BT /F1 3 Tf 2 0 0 2 20 20 Tm [(H) 0 (am)] TJ ET",
		"next line":      "BT /F1 12 Tf 20 TL 40 60 Td (Ham) ' ET",
		"spaced by \"":   "BT /F1 12 Tf 20 TL 40 60 Td 0 0 (Ham) \" ET",
		"hexadecimal":    "BT /F1 12 Tf 40 40 Td <48616d> Tj ET",
		"octal":          "BT /F1 12 Tf 40 40 Td (\\110\\141m) Tj ET",
		"graphics state": "/G gs BT 40 40 Td (Ham) Tj ET",
	}
	var want Rect
	for _, name := range []string{"font size", "text matrix", "CTM", "negative size", "split", "next line", "spaced by \"", "hexadecimal", "octal", "graphics state"} {
		w := &writer{}
		fonts := w.embedded()
		object := strings.TrimSuffix(strings.TrimPrefix(fonts, "/Font << /F1 "), " >>")
		content := roads[name]
		if name == "split" {
			content = "2 0 0 2 0 0 cm " + content
		}
		c := walk(t, w.page("/MediaBox [0 0 200 100]", fonts+" /ExtGState << /G << /Font ["+object+" 12] >> >>", content))
		if len(c.Texts) != 1 || len(c.Notes) > 0 {
			t.Fatalf("%s: %d runs, %q", name, len(c.Texts), c.Notes)
		}
		x := c.Texts[0]
		if want == (Rect{}) {
			want = x.Box
		}
		if math.Abs(x.Size-12) > 1e-9 || x.String != "Ham" || name != "split" && !near(x.Box, want, 1e-6) {
			t.Errorf("%s: %q size %v box %v, want %v", name, x.String, x.Size, x.Box, want)
		}
	}
}

func TestTextTurnedAndSpaced(t *testing.T) {
	show := func(content string) Text {
		w := &writer{}
		c := walk(t, w.page("/MediaBox [0 0 200 200]", w.embedded(), content))
		if len(c.Texts) == 0 {
			t.Fatalf("nothing shown: %q", c.Notes)
		}
		return c.Texts[len(c.Texts)-1]
	}
	flat := show("BT /F1 10 Tf 50 50 Td (HIH) Tj ET")
	up := show("BT /F1 10 Tf 0 1 -1 0 50 50 Tm (HIH) Tj ET")
	if math.Abs(up.Box.H()-flat.Box.W()) > 1e-9 || math.Abs(up.Box.W()-flat.Box.H()) > 1e-9 || up.Size != 10 {
		t.Errorf("turned %v, flat %v", up.Box, flat.Box)
	}
	slant := show("BT /F1 10 Tf 0.8660254 0.5 -0.5 0.8660254 50 50 Tm (HIH) Tj ET")
	side := math.Hypot(slant.Quad[1].X-slant.Quad[0].X, slant.Quad[1].Y-slant.Quad[0].Y)
	if math.Abs(side-flat.Box.W()) > 1e-5 || math.Abs(slant.Size-10) > 1e-6 {
		t.Errorf("turned by 30°: side %v, want %v", side, flat.Box.W())
	}
	// 9.3: character spacing goes after each glyph, Tz scales across, TJ moves back.
	if w := show("BT /F1 10 Tf 3 Tc 50 50 Td (HIH) Tj ET").Box.W(); math.Abs(w-flat.Box.W()-6) > 1e-9 {
		t.Errorf("spaced by 3: %v", w)
	}
	if w := show("BT /F1 10 Tf 50 Tz 50 50 Td (HIH) Tj ET").Box.W(); math.Abs(w-flat.Box.W()/2) > 1e-9 {
		t.Errorf("half as wide: %v", w)
	}
	if w := show("BT /F1 10 Tf 50 50 Td [(H) -400 (IH)] TJ ET").Box.W(); math.Abs(w-flat.Box.W()-4) > 1e-9 {
		t.Errorf("moved by 400: %v", w)
	}
	if y := show("BT /F1 10 Tf 4 Ts 50 50 Td (HIH) Tj ET").Box.Y0; math.Abs(flat.Box.Y0-y-4) > 1e-9 {
		t.Errorf("raised by 4: %v", y)
	}
	// The second run begins where the first one ended.
	if next := show("BT /F1 10 Tf 50 50 Td (HIH) Tj (H) Tj ET"); next.Box.X0 <= flat.Box.X1 {
		t.Errorf("next run at %v", next.Box)
	}
	word := show("BT /F1 10 Tf 5 Tw 50 50 Td (H H) Tj ET").Box.W()
	if plain := show("BT /F1 10 Tf 50 50 Td (H H) Tj ET").Box.W(); math.Abs(word-plain-5) > 1e-9 {
		t.Errorf("word spacing: %v, %v", word, plain)
	}
}

func TestTextModes(t *testing.T) {
	w := &writer{}
	c := walk(t, w.page("/MediaBox [0 0 200 200]", w.embedded(), `BT /F1 10 Tf 50 50 Td 3 Tr (unseen) Tj 2 w 1 Tr (lines) Tj ET
		q BT /F1 10 Tf 7 Tr 20 100 Td (HHHH) Tj ET 0 0 200 200 re f Q`))
	if len(c.Texts) != 3 || c.Texts[0].Seen() || !c.Texts[1].Seen() || c.Texts[2].Seen() {
		t.Fatalf("%+v", c.Texts)
	}
	if c.Texts[1].LineThin != 2 {
		t.Errorf("line %v", c.Texts[1].LineThin)
	}
	if got, want := c.Paths[0].Box, c.Texts[2].Full; !near(got, want, 1e-9) {
		t.Errorf("text clips to %v, want %v", got, want)
	}
	// Type of no ink leaves nothing.
	if c := walk(t, onePage("/MediaBox [0 0 9 9]", helvetica, "BT /F1 9 Tf (   ) Tj ET")); len(c.Texts) != 0 || len(c.Fonts) != 1 {
		t.Errorf("spaces: %+v", c.Texts)
	}
}

func TestStandardFontWidths(t *testing.T) {
	// Helvetica: H 722, i 222, space 278 (Adobe Core 14 AFM).
	c := walk(t, onePage("/MediaBox [0 0 200 200]", helvetica, "BT /F1 100 Tf 0 50 Td (Hi H) Tj ET"))
	x := c.Texts[0]
	if math.Abs(x.Box.X1-(72.2+22.2+27.8+72.2)) > 1e-9 || x.Exact || !x.Font.Standard || x.Font.Embedded {
		t.Errorf("box %v font %+v", x.Box, x.Font)
	}
}

func TestType3Glyphs(t *testing.T) {
	w := &writer{}
	square := w.stream("", "500 0 0 0 500 500 d1 1 0 0 rg 0 0 500 500 re f")
	own := w.stream("", "500 0 d0 /Green cs 0 1 0 sc 0 0 500 250 re f")
	font := w.add(fmt.Sprintf("<< /Type /Font /Subtype /Type3 /FontBBox [0 0 500 500] /FontMatrix [0.002 0 0 0.002 0 0] /FirstChar 97 /LastChar 98 /Widths [500 500] /CharProcs << /sq %s /own %s >> /Encoding << /Differences [97 /sq /own] >> /Resources << /ColorSpace << /Green /DeviceRGB >> >> >>", ref(square), ref(own)))
	c := walk(t, w.page("/MediaBox [0 0 100 100]", "/Font << /F1 "+ref(font)+" >>", "0 0 1 rg BT /F1 10 Tf 20 20 Td (ab) Tj ET"))
	if len(c.Texts) != 1 || len(c.Paths) != 2 {
		t.Fatalf("%d runs, %d paths, %q", len(c.Texts), len(c.Paths), c.Notes)
	}
	if x := c.Texts[0]; !near(x.Box, Rect{20, 70, 40, 80}, 1e-9) || x.Size != 10 || !x.Font.Embedded || x.Order != 0 {
		t.Errorf("%+v", x)
	}
	// d1: the colour comes from outside; d0: from the glyph (9.6.5, Table 113).
	if v := c.Paths[0].Fill.Values; v[0] != 0 || v[2] != 1 || !c.Paths[0].InGlyph {
		t.Errorf("the shape is painted %v", v)
	}
	if v := c.Paths[1].Fill.Values; v[1] != 1 || !near(c.Paths[1].Box, Rect{30, 75, 40, 80}, 1e-9) {
		t.Errorf("the coloured glyph is painted %v in %v", v, c.Paths[1].Box)
	}
}

// A glyph may show text itself; the run that it is part of goes on as if nothing was.
func TestTextInAGlyph(t *testing.T) {
	w := &writer{}
	glyph := w.stream("", "500 0 d0 BT /F2 300 Tf 50 50 Td (xyz) Tj ET")
	font := w.add("<< /Type /Font /Subtype /Type3 /FontMatrix [0.002 0 0 0.002 0 0] /FirstChar 97 /LastChar 97 /Widths [500] /CharProcs << /a " + ref(glyph) +
		" >> /Encoding << /Differences [97 /a] >> /Resources << /Font << /F2 << /Subtype /Type1 /BaseFont /Courier >> >> >> >>")
	c := walk(t, w.page(square, "/Font << /F1 "+ref(font)+" >>", "BT /F1 10 Tf 20 20 Td (aaa) Tj ET"))
	var got []string
	for i, x := range c.Texts {
		got = append(got, x.String)
		if x.Order != i || x.InGlyph != (i > 0) {
			t.Errorf("run %d: %+v", i, x.Item)
		}
	}
	if fmt.Sprint(got) != "[aaa xyz xyz xyz]" {
		t.Errorf("%q", got)
	}
}

func TestCompositeFont(t *testing.T) {
	w := &writer{}
	file := w.stream("", string(goregular.TTF))
	desc := w.add("<< /Type /FontDescriptor /FontName /Go /Flags 4 /FontFile2 " + ref(file) + " >>")
	f := newTrueType(goregular.TTF)
	g := f.glyphFor('H', 'H')
	child := w.add(fmt.Sprintf("<< /Type /Font /Subtype /CIDFontType2 /BaseFont /Go /CIDToGIDMap /Identity /DW 500 /W [%d [700] %d %d 600] /FontDescriptor %s >>", g, g+1, g+4, ref(desc)))
	uni := w.stream("", fmt.Sprintf("1 begincodespacerange <0000> <ffff> endcodespacerange 1 beginbfchar <%04x> <0048> endbfchar 1 beginbfrange <%04x> <%04x> <0049> endbfrange 1 beginbfrange <%04x> <%04x> [<D83DDE00> <004d>] endbfrange", g, g+1, g+3, g+4, g+5))
	font := w.add(fmt.Sprintf("<< /Type /Font /Subtype /Type0 /BaseFont /Go /Encoding /Identity-H /DescendantFonts [%s] /ToUnicode %s >>", ref(child), ref(uni)))
	mapped := make([]byte, 12)
	mapped[11] = byte(g) // CID 5 is the glyph of H
	other := w.add(fmt.Sprintf("<< /Type /Font /Subtype /CIDFontType2 /BaseFont /Go /CIDToGIDMap %s /FontDescriptor %s >>", ref(w.stream("", string(mapped))), ref(desc)))
	by := w.add("<< /Type /Font /Subtype /Type0 /BaseFont /Go /Encoding /Identity-H /DescendantFonts [" + ref(other) + "] >>")
	direct := w.add("<< /Type /Font /Subtype /Type0 /BaseFont /Go /Encoding /Identity-H /DescendantFonts [" + ref(child) + "] >>")
	viaMap := walk(t, (&writer{objects: append([]string{}, w.objects...)}).page(square, "/Font << /F1 "+ref(by)+" /F2 "+ref(direct)+" >>",
		fmt.Sprintf("BT /F1 10 Tf 10 50 Td <0005> Tj ET BT /F2 10 Tf 10 50 Td <%04x> Tj ET", g)))
	if a, b := viaMap.Texts[0], viaMap.Texts[1]; a.Box != b.Box || !a.Exact {
		t.Errorf("by CIDToGIDMap %v, as it is %v", a.Box, b.Box)
	}
	c := walk(t, w.page("/MediaBox [0 0 200 100]", "/Font << /F1 "+ref(font)+" >>",
		fmt.Sprintf("BT /F1 10 Tf 10 50 Td <%04x%04x%04x%04x%04x> Tj (%c%c) Tj ET", g, g+2, g+4, g+5, g+9, 0, g)))
	if len(c.Texts) != 2 {
		t.Fatalf("%d runs, %q", len(c.Texts), c.Notes)
	}
	if s := c.Texts[0].String; s != "HJ\U0001F600M\ufffd" || !c.Texts[0].Exact {
		t.Errorf("%q, exact %v", s, c.Texts[0].Exact)
	}
	if x := c.Texts[1].Box.X0 - c.Texts[0].Box.X0; math.Abs(x-(7+6+6+5+5)) > 1e-9 {
		t.Errorf("the second H stands %v to the right", x)
	}
}

// A symbolic font without an encoding brings its own: which glyph a code shows is
// clear, what it means is not (9.6.6.4).
func TestSymbolicFonts(t *testing.T) {
	program := append([]byte{}, goregular.TTF...)
	show := func(program []byte) Text {
		w := &writer{}
		desc := w.add("<< /Type /FontDescriptor /FontName /Go /Flags 4 /FontFile2 " + ref(w.stream("", string(program))) + " >>")
		font := w.add("<< /Type /Font /Subtype /TrueType /BaseFont /Go /FirstChar 72 /LastChar 72 /Widths [700] /FontDescriptor " + ref(desc) + " >>")
		return walk(t, w.page(square, "/Font << /F1 "+ref(font)+" >>", "BT /F1 20 Tf 10 50 Td (H) Tj ET")).Texts[0]
	}
	mac := show(program)
	// Make the Windows map a symbol map, and the Macintosh one unknown.
	cmap := sfntTables(program)["cmap"]
	for i := range cmap.u16(2) {
		switch at := 4 + 8*i; cmap.u16(at) {
		case 3:
			cmap[at+3] = 0
		case 1:
			cmap[at+1] = 9
		}
	}
	symbol := show(program)
	if mac.Box != symbol.Box || !mac.Exact || !symbol.Exact || mac.String != "\ufffd" || mac.Box.H() < 10 {
		t.Errorf("%+v\n%+v", mac, symbol)
	}
}

// word is a word with its box, from pdftotext -bbox (poppler). Its heights come of
// the font's ascent and descent, its widths of the advances, so ink lies within.
type word struct {
	box  Rect
	text string
}

func pdftotext(t *testing.T, b []byte) []word {
	return wordsOf(command(t, "pdftotext", "-bbox", saved(t, "a.pdf", b), "-"))
}

func TestTextAgainstPdftotext(t *testing.T) {
	w := &writer{}
	files := map[string][]byte{
		"TrueType": w.page("/MediaBox [0 0 270 162]", w.embedded(), "BT /F1 14 Tf 20 100 Td (Bicycles) Tj 0 -30 Td 3 Tc (mended) Tj ET"),
		"standard": onePage("/MediaBox [10 20 280 182]", helvetica, "BT /F1 11 Tf 30 100 Td (Wendlebury) Tj 2 0 0 2 60 50 Tm [(Cro) 80 (ss)] TJ ET"),
		"turned":   onePage("/MediaBox [0 0 162 270] /Rotate 90", helvetica, "BT /F1 11 Tf 0 1 -1 0 50 30 Tm (Bakery) Tj ET"),
	}
	for name, b := range files {
		c := walk(t, b)
		words := pdftotext(t, b)
		if len(words) != len(c.Texts) || len(words) == 0 {
			t.Fatalf("%s: %d words, %d runs", name, len(words), len(c.Texts))
		}
		for i, word := range words {
			x := c.Texts[i]
			if x.String != word.text || !word.box.Contains(Rect{x.Box.X0, word.box.Y0, x.Box.X1, word.box.Y0}, 0.5) || math.Abs(x.Box.W()-word.box.W()) > 3.2 {
				t.Errorf("%s: %q in %v, pdftotext says %q in %v", name, x.String, x.Box, word.text, word.box)
			}
			if x.Box.Y0 < word.box.Y0-1.6 || x.Box.Y1 > word.box.Y1+1.6 {
				t.Errorf("%s: %q in %v, pdftotext says %v", name, x.String, x.Box, word.box)
			}
		}
	}
}

// An em is as high as its lines lie apart: slanting and drawing out leave it so.
func TestSizeIsHeight(t *testing.T) {
	for set, want := range map[string]float64{
		"/F 10 Tf":                                 10,
		"/F -10 Tf":                                10,
		"/F 10 Tf 1 0 .5 1 20 20 Tm":               10,
		"/F 10 Tf 50 Tz 3 0 2 1 20 20 Tm":          10,
		"/F 1 Tf 0 8 -8 0 20 20 Tm":                8,
		"/F 10 Tf .6 .8 -.8 .6 20 20 Tm":           10,
		"/F 10 Tf .6 .8 -.5 1 20 20 Tm":            10,
		"/F 10 Tf -1 0 .3 .5 20 20 Tm":             5,
		"/F 10 Tf 0 0 0 1 20 20 Tm 1 0 0 1 9 9 Tm": 10,
	} {
		w := &writer{}
		font := w.add("<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>")
		content := w.stream("", "BT "+set+" (Ab) Tj ET")
		c := walk(t, w.document("", fmt.Sprintf("%s /Contents %s /Resources << /Font << /F %s >> >>", square, ref(content), ref(font))))
		if len(c.Texts) != 1 || math.Abs(c.Texts[0].Size-want) > 1e-9 {
			t.Errorf("%s: %+v, want %v", set, c.Texts, want)
		}
	}
}
