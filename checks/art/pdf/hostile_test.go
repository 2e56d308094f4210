package pdf

import (
	"bytes"
	"compress/zlib"
	"errors"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// tight are ceilings low enough to be hit in a moment.
func tight() Limits {
	l := DefaultLimits()
	l.Operators, l.Items, l.DecodedBytes, l.Segments, l.Operands = 20_000, 5_000, 4<<20, 5_000, 5_000
	return l
}

// contentOf is what the first page of a file paints, within limits.
func contentOf(t rapid.TB, b []byte, l Limits) *Content {
	t.Helper()
	d, err := Open(b, l)
	if err != nil {
		t.Fatal(err)
	}
	p, err := d.Page(1)
	if err != nil {
		t.Fatal(err)
	}
	c, err := p.Walk()
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func truncated(t *testing.T, b []byte, want string) *Content {
	t.Helper()
	c := contentOf(t, b, tight())
	if !c.Truncated || !strings.Contains(strings.Join(c.Notes, "\n"), want) {
		t.Errorf("truncated %v, notes %q, want %q", c.Truncated, c.Notes, want)
	}
	return c
}

func TestContentThatNeverEnds(t *testing.T) {
	// calls makes a chain of forms, each drawing the next one n times.
	calls := func(depth, n int) []byte {
		w := &writer{}
		last := w.form("", "", "0 0 1 1 re f")
		for range depth {
			last = w.form("", "/XObject << /F "+ref(last)+" >>", strings.Repeat("/F Do ", n))
		}
		return w.page(square, "/XObject << /F "+ref(last)+" >>", "/F Do 0 0 9 9 re f")
	}
	// loop makes one object, the second of the file, that refers to itself.
	loop := func(dict, content, resources, page string) []byte {
		w := &writer{}
		w.add("null")
		w.stream(dict, content)
		return w.page(square, resources, page)
	}
	cases := map[string]struct {
		file []byte
		want string
	}{
		"a form that draws itself": {loop("/Subtype /Form /BBox [0 0 9 9] /Resources << /XObject << /F 2 0 R >> >>", "/F Do",
			"/XObject << /F 2 0 R >>", "/F Do"), "object 2 draws itself"},
		"a tile of itself": {loop("/PatternType 1 /PaintType 1 /BBox [0 0 9 9] /XStep 9 /YStep 9 /Resources << /Pattern << /P 2 0 R >> >>",
			"/Pattern cs /P scn 0 0 9 9 re f", "/Pattern << /P 2 0 R >>", "/Pattern cs /P scn 0 0 9 9 re f"), "object 2 draws itself"},
		"a mask of itself": {loop("/Subtype /Form /BBox [0 0 9 9] /Resources << /XObject << /F 2 0 R >> >>", "/F Do",
			"/ExtGState << /G << /SMask << /G 2 0 R >> >> >>", "/G gs"), "object 2 draws itself"},
		"a glyph of itself": {loop("", "9 0 d0 BT /F 9 Tf (a) Tj ET",
			"/Font << /F << /Type /Font /Subtype /Type3 /FontMatrix [1 0 0 1 0 0] /FirstChar 97 /Widths [1] /CharProcs << /a 2 0 R >> /Encoding << /Differences [97 /a] >> >> >>",
			"BT /F 9 Tf (a) Tj ET"), "object 2 draws itself"},
		"forms too deep":         {calls(40, 1), "forms nest more than 28 deep"},
		"forms by the million":   {calls(20, 4), "more than 20000 operators"},
		"saved too deep":         {onePage(square, "", strings.Repeat("q ", 10_000)+"0 0 9 9 re f"), "nest more than 1000 deep"},
		"marked too deep":        {onePage(square, "", strings.Repeat("/A BMC ", 10_000)+strings.Repeat("EMC ", 10_000)), "marked content nests"},
		"a million operators":    {onePage(square, "", strings.Repeat("g ", 1_000_000)), "more than 20000 operators"},
		"a million glyphs":       {onePage(square, helvetica, "BT /F1 9 Tf ("+strings.Repeat("x", 1_000_000)+") Tj ET"), "more than 20000 operators"},
		"things by the thousand": {onePage(square, "", strings.Repeat("0 0 9 9 re f ", 9_000)), "more than 5000 things"},
		"a path without end":     {onePage(square, "", strings.Repeat("9 9 m 1 1 l ", 9_000)+"S"), "more than 5000 segments"},
		"operands without end":   {onePage(square, "", strings.Repeat("1 ", 9_000)+"w 0 0 9 9 re f"), "more than 5000 operands"},
		"arrays in arrays":       {onePage(square, "", strings.Repeat("[", 9_000)+" TJ 0 0 9 9 re f"), "more than 5000 operands"},
		"content that unpacks":   {bomb(), "decodes to more than 4194304 bytes"},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) { truncated(t, c.file, c.want) })
	}
}

// bomb has content of 64 MB in 64 kB.
func bomb() []byte {
	w := &writer{}
	c := w.stream("/Filter /FlateDecode", deflated(bytes.Repeat([]byte("0 0 9 9 re f "), 5_000_000)))
	return w.document("", square+" /Contents "+ref(c))
}

func deflated(b []byte) string {
	var out bytes.Buffer
	z := zlib.NewWriter(&out)
	z.Write(b)
	z.Close()
	return out.String()
}

// What comes after the part that went too deep is still walked, in the right state.
func TestWalkGoesOnAfterTheDeepPart(t *testing.T) {
	c := truncated(t, onePage(square, "", "q 1 0 0 rg "+strings.Repeat("q ", 3_000)+strings.Repeat("Q ", 3_000)+"0 0 9 9 re f Q 0 0 9 9 re f"), "nest more than")
	if len(c.Paths) != 2 || c.Paths[0].Fill.Space.Family != DeviceRGB || c.Paths[1].Fill.Space.Family != DeviceGray {
		t.Errorf("%+v", c.Paths)
	}
}

// A page tree of few objects can have any number of leaves.
func TestPageTreeOfLaughs(t *testing.T) {
	w := &writer{}
	last := w.add("<< /Type /Page /MediaBox [0 0 9 9] >>")
	for range 20 {
		last = w.add("<< /Type /Pages /Count 1 /Kids [" + strings.Repeat(ref(last)+" ", 10) + "] >>")
	}
	w.root = w.add("<< /Type /Catalog /Pages " + ref(last) + " >>")
	if _, err := Open(w.bytes(), DefaultLimits()); !errors.Is(err, ErrTooLarge) {
		t.Errorf("%v", err)
	}
}

// A table with thousands of entries for one long stream would make the parser copy
// it thousands of times.
func TestManyEntriesForOneStream(t *testing.T) {
	var b bytes.Buffer
	b.WriteString("%PDF-1.4\n")
	at := b.Len()
	fmt.Fprintf(&b, "1 0 obj\n<< /Length 1000000 >>\nstream\n%s\nendstream\nendobj\n", strings.Repeat("x", 1_000_000))
	catalog := b.Len()
	b.WriteString("2 0 obj\n<< /Type /Catalog /Pages 3 0 R >>\nendobj\n")
	start := b.Len()
	b.WriteString("xref\n0 20000\n0000000000 65535 f \n")
	for i := 1; i < 20_000; i++ {
		where := at
		if i == 2 {
			where = catalog
		}
		fmt.Fprintf(&b, "%010d 00000 n \n", where)
	}
	fmt.Fprintf(&b, "trailer\n<< /Size 20000 /Root 2 0 R >>\nstartxref\n%d\n%%%%EOF\n", start)
	if _, err := Open(b.Bytes(), DefaultLimits()); !errors.Is(err, ErrDamaged) || !errors.Is(err, errRation) {
		t.Errorf("%v", err)
	}
}

// Object streams are decoded on opening; together they stay below the ceiling.
func TestObjectStreamsThatUnpack(t *testing.T) {
	w := &writer{}
	zeros := deflated(make([]byte, 64<<20))
	for range 20 {
		w.stream("/Type /ObjStm /N 1 /First 4 /Filter /FlateDecode", zeros)
	}
	b := w.document("", square)
	lim := DefaultLimits()
	lim.DecodedBytes = 16 << 20
	if d, err := Open(b, lim); err == nil && d.PageCount != 1 {
		t.Errorf("%d pages", d.PageCount)
	}
}

func TestNumbersOutOfAnyUse(t *testing.T) {
	for _, b := range [][]byte{
		onePage("/MediaBox [0 0 1e99 1e99]", "", ""),
		onePage("/MediaBox [0 0 99999999999999999999 99999999999999999999]", "", ""),
		onePage(square+" /Rotate 99999999999999999999", "", ""),
		onePage(square, "", strings.Repeat("99999999999 0 0 99999999999 0 0 cm ", 50)+"0 0 9 9 re B 9 w 1 1 m 2 2 3 3 4 4 c S"),
		onePage(square, helvetica, "BT /F1 99999999999999999999999999999999999999 Tf 9999999999999999 Tz (xx) Tj ET"),
		onePage(square, "", "0 0 0 0 0 0 cm 0 0 9 9 re B q BI /W 9 /H 9 /BPC 8 /CS /G ID xxxx EI"),
		onePage(square, "", "BI /W 1048577 /H 1048577 /BPC 16 /CS /CMYK ID xxxx EI BI /W -5 /H 0 ID x EI"),
		onePage(square, "", "-------5.5.5 0 9 9 re f . - + 7 8 re f"),
	} {
		p := first(t, b)
		if _, err := p.Walk(); err != nil {
			t.Error(err)
		}
		if !(p.Media.W() > 0 && p.Media.W() < 1e8) {
			t.Errorf("media %v", p.Media)
		}
	}
}
