package pdf

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"golang.org/x/image/font/gofont/goregular"
)

// index writes a CFF INDEX (Technical Note 5176, section 5) with offsets of 2 bytes.
func index(items ...string) string {
	if len(items) == 0 {
		return "\x00\x00"
	}
	b := []byte{byte(len(items) >> 8), byte(len(items)), 2, 0, 1}
	at := 1
	for _, s := range items {
		at += len(s)
		b = append(b, byte(at>>8), byte(at))
	}
	return string(b) + strings.Join(items, "")
}

// long writes a number of a DICT in five bytes, whatever its size.
func long(v int) string {
	return string([]byte{29, byte(v >> 24), byte(v >> 16), byte(v >> 8), byte(v)})
}

// box is a Type 2 charstring of a rectangle from the origin.
func box(w, h int) string {
	return fmt.Sprintf("\x8b\x8b\x15%s\x06%s\x07%s\x06\x0e", short(w), short(h), short(-w))
}

func short(v int) string { return string([]byte{28, byte(v >> 8), byte(v)}) }

// cidKeyed is a CFF font of three glyphs, CIDs 0, 10 and 11, the last of which has
// its own private dictionary whose first subroutine draws it.
func cidKeyed() string {
	glyphs := index("\x0e", box(100, 200), string([]byte{139 - 107, 10, 14}))
	charset := "\x02\x00\x0a\x00\x01"                     // format 2: from 10, one more
	sel := "\x03\x00\x02\x00\x00\x00\x00\x02\x01\x00\x03" // format 3: from glyph 0 the first, from 2 the second
	subrs := index(strings.TrimSuffix(box(300, 400), "\x0e") + "\x0b")
	private := long(6) + "\x13" // Subrs follow the dictionary of 6 bytes
	build := func(at [5]int) (string, [5]int) {
		top := "\x8b\x8b\x8b\x0c\x1e" + long(at[0]) + "\x0f" + long(at[1]) + "\x0c\x25" + long(at[2]) + "\x11" + long(at[3]) + "\x0c\x24"
		s := "\x01\x00\x04\x02" + index("A") + index(top) + index() + index()
		at[0] = len(s)
		s += charset
		at[1] = len(s)
		s += sel
		at[2] = len(s)
		s += glyphs
		at[3] = len(s)
		s += index(long(0)+long(0)+"\x12", long(6)+long(at[4])+"\x12")
		at[4] = len(s)
		return s + private + subrs, at
	}
	_, at := build([5]int{})
	s, _ := build(at)
	return s
}

func TestCIDKeyedFont(t *testing.T) {
	f, ok := readProgram([]byte(cidKeyed())).(*cff)
	if !ok || !f.cid || f.glyphs[10] != 1 || f.glyphs[11] != 2 || f.name(1) != "" {
		t.Fatalf("%+v", f)
	}
	w := &writer{}
	desc := w.add("<< /Type /FontDescriptor /FontName /A /Flags 4 /FontFile3 " + ref(w.stream("/Subtype /CIDFontType0C", cidKeyed())) + " >>")
	child := w.add("<< /Type /Font /Subtype /CIDFontType0 /BaseFont /A /DW 500 /FontDescriptor " + ref(desc) + " >>")
	codes := w.stream("/Type /CMap", "/WMode 0 def 1 begincodespacerange <00> <7f> endcodespacerange 1 begincodespacerange <8000> <ffff> endcodespacerange 1 begincidrange <41> <42> 10 endcidrange 1 begincidchar <8001> 11 endcidchar")
	font := func(encoding string) string {
		return ref(w.add("<< /Type /Font /Subtype /Type0 /BaseFont /A /Encoding " + encoding + " /DescendantFonts [" + ref(child) + "] >>"))
	}
	fonts := "/Font << /H " + font("/Identity-H") + " /V " + font("/Identity-V") + " /C " + font(ref(codes)) + " /U " + font("/UniGB-UCS2-H") + " >>"
	c := walk(t, w.page(square, fonts, `BT 10 60 Td /H 10 Tf <000a000b> Tj ET BT 10 60 Td /C 10 Tf <418001> Tj ET
		BT 50 60 Td /V 10 Tf <000a000b> Tj ET BT 50 60 Td /U 10 Tf <4e2d> Tj ET`))
	if len(c.Texts) != 4 {
		t.Fatalf("%d runs, %q", len(c.Texts), c.Notes)
	}
	across := Rect{10, 36, 18, 40} // 1 by 2 points at 10, 3 by 4 points at 15
	if !near(c.Texts[0].Box, across, 1e-9) || !near(c.Texts[1].Box, across, 1e-9) || !c.Texts[1].Exact {
		t.Errorf("across: %v and %v, want %v", c.Texts[0].Box, c.Texts[1].Box, across)
	}
	// Down: each origin is half an advance to the right of the line and 0.88 em above
	// the glyph's (9.7.4.3), the second glyph one em lower.
	if down := (Rect{47.5, 46.8, 50.5, 58.8}); !near(c.Texts[2].Box, down, 1e-9) {
		t.Errorf("down: %v, want %v", c.Texts[2].Box, down)
	}
	if u := c.Texts[3]; u.String != "中" || u.Exact || u.Font.Measured {
		t.Errorf("named map: %+v", u)
	}
}

// nameKeyed is a CFF font whose own encoding gives code 1 to the glyph "A", code 2 to
// "acute" and code 3 to one of the font's own names; "Aacute" is built of the two.
func nameKeyed() string {
	accented := string([]byte{139, 139}) + short(50) + short(600) + short(65) + short(194) + "\x0e"
	glyphs := index("\x0e", box(400, 500), box(100, 50), box(20, 30), accented[2:])
	charset := "\x00\x00\x22\x00\x7d\x01\x87\x00\xab" // A, acute, the first own string, Aacute
	encoding := "\x00\x03\x01\x02\x03"
	build := func(at [3]int) (string, [3]int) {
		top := "\x1e\x0a\x00\x1f\x8b\x8b" // a real number and two zeros that belong to no key we read
		top = long(at[0]) + "\x0f" + long(at[1]) + "\x10" + long(at[2]) + "\x11" + top + "\x05"
		s := "\x01\x00\x04\x02" + index("A") + index(top) + index("mark") + index()
		at[0] = len(s)
		s += charset
		at[1] = len(s)
		s += encoding
		at[2] = len(s)
		return s + glyphs, at
	}
	_, at := build([3]int{})
	s, _ := build(at)
	return s
}

func TestNameKeyedFont(t *testing.T) {
	w := &writer{}
	desc := w.add("<< /Type /FontDescriptor /FontName /A /Flags 4 /FontFile3 " + ref(w.stream("/Subtype /Type1C", nameKeyed())) + " >>")
	own := w.add("<< /Type /Font /Subtype /Type1 /BaseFont /A /FirstChar 1 /LastChar 3 /Widths [500 500 500] /FontDescriptor " + ref(desc) + " >>")
	named := w.add("<< /Type /Font /Subtype /Type1 /BaseFont /A /FirstChar 65 /LastChar 67 /Widths [500 500 500] /Encoding << /Differences [65 /mark /Aacute] >> /FontDescriptor " + ref(desc) + " >>")
	c := walk(t, w.page(square, "/Font << /O "+ref(own)+" /N "+ref(named)+" >>", `BT 10 60 Td /O 10 Tf <0103> Tj ET BT 10 60 Td /N 10 Tf (A) Tj ET BT 10 60 Td /N 10 Tf (B) Tj ET`))
	for i, want := range []struct {
		text string
		box  Rect
	}{
		{"A\ufffd", Rect{10, 35, 15.2, 40}},
		{"\ufffd", Rect{10, 39.7, 10.2, 40}},
		{"Á", Rect{10, 33.5, 14, 40}}, // the accent is 50 right and 600 up, 50 high
	} {
		if x := c.Texts[i]; x.String != want.text || !near(x.Box, want.box, 1e-9) || !x.Exact {
			t.Errorf("%q in %v, want %q in %v", x.String, x.Box, want.text, want.box)
		}
	}
}

func TestFontProgramsThatCannotBeRead(t *testing.T) {
	for _, program := range []string{"", "nothing", "OTTO", "\x01\x00\x04\x01", "\x00\x01\x00\x00", "%!PS eexec "} {
		w := &writer{}
		desc := w.add("<< /Type /FontDescriptor /FontName /A /Flags 32 /CapHeight 700 /FontFile2 " + ref(w.stream("", program)) + " >>")
		font := w.add("<< /Type /Font /Subtype /TrueType /BaseFont /A /FirstChar 72 /LastChar 72 /Widths [700] /Encoding /WinAnsiEncoding /FontDescriptor " + ref(desc) + " >>")
		x := walk(t, w.page(square, "/Font << /F1 "+ref(font)+" >>", "BT /F1 10 Tf 10 50 Td (H) Tj ET")).Texts[0]
		if x.Exact || !x.Font.Embedded || x.Font.Measured || x.String != "H" || math.Abs(x.Box.W()-7) > 1e-9 {
			t.Errorf("%q: %+v", program, x)
		}
	}
}

// Estimates hold the ink of every letter, here of a font that is also measured; a
// few letters hang over the ends of their advance by up to 0.05 em.
func TestEstimatesHoldTheInk(t *testing.T) {
	f := newTrueType(goregular.TTF)
	plain := &Font{}
	hmtx := sfntTables(goregular.TTF)["hmtx"]
	for c := rune('!'); c <= '~'; c++ {
		g := f.glyphFor(int(c), c)
		ink, _ := f.ink(g)
		e := plain.estimate(c, float64(hmtx.u16(4*g))/f.perEm)
		if e = e.grow(0.05, 0); !e.Contains(ink, 0) {
			t.Errorf("%c: ink %.3f is not in %.3f", c, ink, e)
		}
	}
}

func TestStandardNames(t *testing.T) {
	for name, want := range map[string]string{
		"Helvetica": "Helvetica", "ArialMT": "Helvetica", "Arial,BoldItalic": "Helvetica-BoldOblique", "Arial-BoldMT": "Helvetica-Bold",
		"TimesNewRomanPS-ItalicMT": "Times-Italic", "CourierNew": "Courier", "Symbol": "Symbol", "ABCDEF+Helvetica": "", "Gotham": "",
	} {
		if got := standardName(name); got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
}

func TestNamesAndTexts(t *testing.T) {
	for name, want := range map[string]rune{"A": 'A', "a.sc": 'a', "uni20AC": '€', "u1F600": '\U0001F600', "Euro": '€', "g123": 0, "unique": 0, "": 0, "uniXYZW": 0} {
		if got := charOf(name); got != want {
			t.Errorf("%q: %q, want %q", name, got, want)
		}
	}
	for in, want := range map[string]string{"\xfe\xff\x00A\x20\xac": "A€", "\xef\xbb\xbfA€": "A€", "caf\xe9": "café", "": ""} {
		if got := plainText([]byte(in)); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
}
