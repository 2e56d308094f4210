package pdf

import (
	"fmt"
	"strings"
	"testing"
)

// hostile is a page that asks for too much under the limits that are shipped, and
// the note that says so; "" where it asks for much but no more than it may have.
type hostile struct {
	name string
	file func() []byte
	note string
}

const mega = 1_000_000

// scale divides both the pages and their limits: tests take the twentieth part, which
// also a slow machine walks in a moment, benchmarks the whole.
type scale int

func (k scale) limits() Limits {
	n := int(k)
	l := DefaultLimits()
	l.Operators, l.Operands, l.Segments, l.Items = l.Operators/n, l.Operands/n, l.Segments/n, l.Items/n
	l.DecodedBytes, l.FontBytes = l.DecodedBytes/int64(n), l.FontBytes/int64(n)
	return l
}

func (k scale) of(n int) int { return n / int(k) }

func (k scale) many(s string, n int) string { return strings.Repeat(s, k.of(n)) }

// content is a page of repeated operators.
func (k scale) content(before, again string, n int, after string) func() []byte {
	return func() []byte { return onePage(square, helvetica, before+k.many(again, n)+after) }
}

func (k scale) walk(t testing.TB, file []byte) *Content {
	t.Helper()
	return contentOf(t, file, k.limits())
}

// chain nests n forms, each drawn so many times by the one around it.
func chain(n, times int) []byte {
	w := &writer{}
	last := w.form("", "", "0 0 1 1 re f")
	for range n {
		last = w.form("", "/XObject << /F "+ref(last)+" >>", strings.Repeat("/F Do ", times))
	}
	return w.page(square, "/XObject << /F "+ref(last)+" >>", "/F Do 0 0 9 9 re f")
}

// circle is a glyph that paints with a tile that sets a soft mask that shows the
// glyph.
func circle() []byte {
	w := &writer{}
	resources := "/Resources << /Font << /F 5 0 R >> /Pattern << /P 3 0 R >> /ExtGState << /G << /SMask << /S /Alpha /G 4 0 R >> >> >> >>"
	w.add("null")
	w.stream("", "9 0 d0 /Pattern cs /P scn 0 0 9 9 re f")
	w.stream("/PatternType 1 /PaintType 1 /BBox [0 0 9 9] /XStep 9 /YStep 9 "+resources, "/G gs 0 0 9 9 re f")
	w.stream("/Subtype /Form /BBox [0 0 99 99] "+resources, "BT /F 9 Tf (a) Tj ET")
	w.add("<< /Type /Font /Subtype /Type3 /FontMatrix [1 0 0 1 0 0] /FirstChar 97 /Widths [1] /CharProcs << /a 2 0 R >> /Encoding << /Differences [97 /a] >> " + resources + " >>")
	return w.page(square, "/Font << /F 5 0 R >>", "BT /F 9 Tf (aaa) Tj ET")
}

// fonts makes n fonts that share what extra refers to, and a page that sets each.
func (k scale) fonts(n int, shared, extra string) []byte {
	w := &writer{}
	w.add(shared)
	var names, content strings.Builder
	content.WriteString("BT ")
	for i := range k.of(n) {
		fmt.Fprintf(&names, "/F%d %s ", i, ref(w.add("<< /Type /Font "+extra+" >>")))
		fmt.Fprintf(&content, "/F%d 9 Tf ", i)
	}
	return w.page(square, "/Font << "+names.String()+">>", content.String()+"(a) Tj ET")
}

// couple is two forms that draw themselves and each other.
func (k scale) couple() []byte {
	w := &writer{}
	w.add("null")
	both, resources := k.many("/F Do /G Do ", 20_000), "/XObject << /F 2 0 R /G 3 0 R >>"
	w.form("", resources, both)
	w.form("", resources, both)
	return w.page(square, resources, both)
}

// shaded is a shading, used many times, whose colour space has a table without end.
func (k scale) shaded() []byte {
	w := &writer{}
	w.add("(" + k.many("\\377", 4*mega) + ")")
	return w.page(square, "/Shading << /S << /ShadingType 1 /ColorSpace [/Indexed /DeviceRGB 255 1 0 R] >> >>", k.many("/S sh ", 100_000))
}

// spacesOver makes n colour spaces, all different to the eye, over one long string.
func (k scale) spacesOver(n int) []byte {
	w := &writer{}
	w.add("(" + k.many("\\377", 4*mega) + ")")
	var names, content strings.Builder
	for i := range k.of(n) {
		fmt.Fprintf(&names, "/C%d [/Indexed /DeviceRGB 255 1 0 R] ", i)
		fmt.Fprintf(&content, "/C%d cs ", i)
	}
	return w.page(square, "/ColorSpace << "+names.String()+">>", content.String()+"0 0 9 9 re f")
}

// contents is a page whose content is the same stream many times.
func (k scale) contents(n int, dict, data string) []byte {
	w := &writer{}
	c := w.stream(dict, data)
	return w.document("", square+" /Contents ["+k.many(ref(c)+" ", n)+"]")
}

// longForm is a form of many bytes but few operators, drawn many times.
func (k scale) longForm(times int) []byte {
	w := &writer{}
	f := w.form("", "", "0 0 9 9 re f % "+k.many("x", mega))
	return w.page(square, "/XObject << /F "+ref(f)+" >>", k.many("/F Do ", times))
}

// wordy is a glyph that means a book, shown many times.
func (k scale) wordy(times int) []byte {
	w := &writer{}
	uni := w.stream("", "1 beginbfchar <61> <"+k.many("0062", mega)+"> endbfchar")
	return w.page(square, "/Font << /F << /Type /Font /Subtype /Type1 /BaseFont /Helvetica /ToUnicode "+ref(uni)+" >> >>",
		"BT /F 9 Tf ("+k.many("a", times)+") Tj ET")
}

// scripts is a font of as many glyphs as may be shown, each shown once.
func (k scale) scripts(n int) []byte {
	w := &writer{}
	codes := w.stream("", "1 begincodespacerange <00000000> <ffffffff> endcodespacerange")
	child := w.add("<< /Type /Font /Subtype /CIDFontType2 /BaseFont /Go >>")
	font := w.add("<< /Type /Font /Subtype /Type0 /BaseFont /Go /Encoding " + ref(codes) + " /DescendantFonts [" + ref(child) + "] >>")
	var s strings.Builder
	for i := range k.of(n) {
		fmt.Fprintf(&s, "%08x", i)
	}
	return w.page(square, "/Font << /F "+ref(font)+" >>", "BT /F 9 Tf <"+s.String()+"> Tj ET")
}

// filtered is an image with a filter list without end, painted many times.
func (k scale) filtered(filters, times int) []byte {
	w := &writer{}
	im := w.picture(1, 1, "/Filter ["+k.many("/AHx ", filters)+"]")
	return w.page(square, "/XObject << /Im "+ref(im)+" >>", k.many("/Im Do ", times))
}

// expressions is content in a layer whose visibility expression shares its parts,
// so that it has 10^20 terms.
func (k scale) expressions(times int) []byte {
	w := &writer{}
	last := w.add("<< /Type /OCG /Name (a) >>")
	for range 20 {
		last = w.add("[/And " + strings.Repeat(ref(last)+" ", 10) + "]")
	}
	member := w.add("<< /Type /OCMD /VE " + ref(last) + " >>")
	content := w.stream("", k.many("/OC /M BDC 0 0 9 9 re f EMC ", times))
	return w.document("/OCProperties << /OCGs [1 0 R] /D << >> >>",
		fmt.Sprintf("%s /Contents %s /Resources << /Properties << /M %s >> >>", square, ref(content), ref(member)))
}

func hostilePages(k scale) []hostile {
	l := k.limits()
	operators := fmt.Sprintf("more than %d operators", l.Operators)
	things := fmt.Sprintf("more than %d things", l.Items)
	operands := fmt.Sprintf("more than %d operands", l.Operands)
	segments := fmt.Sprintf("more than %d segments", l.Segments)
	bytes := fmt.Sprintf("decodes to more than %d bytes", l.DecodedBytes)
	const plainFont = "/Subtype /Type1 /BaseFont /Helvetica "
	return []hostile{
		{"forms 10 000 deep", func() []byte { return chain(k.of(10_000), 1) }, "forms nest more than 28 deep"},
		{"a form called 4^9 times", func() []byte { return chain(9, 4) }, operators},
		{"a form called 10^20 times", func() []byte { return chain(20, 10) }, things},
		{"forms that draw themselves and others", k.couple, "draws itself"},
		{"glyph, tile and mask in a circle", circle, "object 2 draws itself"},
		{"a million operators", k.content("", "0 g ", mega, ""), ""},
		{"ten million operators", k.content("", "0 g ", 10*mega, ""), operators},
		{"a million saved states", k.content("", "q ", mega, "0 0 9 9 re f"), "nest more than 1000 deep"},
		{"a million restored states", k.content("", "Q ", mega, "0 0 9 9 re f"), ""},
		{"a million marks", k.content("", "/OC /M BDC ", mega, "0 0 9 9 re f"), "nests more than 1000 deep"},
		{"a path of 100 000 segments", k.content("0 0 m ", "9 0 l 0 9 9 9 9 0 c ", 50_000, "B"), ""},
		{"a path of two million segments", k.content("0 0 m ", "1 1 l ", 2*mega, "S"), segments},
		{"a million paths", k.content("", "0 0 9 9 re f ", mega, ""), things},
		{"a million glyphs", k.content("BT /F1 9 Tf (", "x", mega, ") Tj ET"), ""},
		{"five million glyphs", k.content("BT /F1 9 Tf (", "x", 5*mega, ") Tj ET"), operators},
		{"an inline image without end", k.content("BI /W 9 /H 9 /BPC 8 /CS /G ID ", "x", 50*mega, ""), ""},
		{"inline images by the thousand", k.content("", "BI /W 9 /H 9 /BPC 8 /CS /G ID x EI ", 300_000, ""), things},
		{"an inline image's keys without end", k.content("BI ", "/W 9 ", mega, ""), ""},
		{"an array of two million", k.content("[", "1 ", 2*mega, "] TJ 0 0 9 9 re f"), operands},
		{"arrays two million deep", k.content("", "[", 2*mega, " TJ 0 0 9 9 re f"), operands},
		{"a string of fifty million", k.content("(", "x", 50*mega, ") w 0 0 9 9 re f"), ""},
		{"a name of ten million", k.content("/", "x", 10*mega, " gs 0 0 9 9 re f"), ""},
		{"a long form drawn often", func() []byte { return k.longForm(200_000) }, operators},
		{"a glyph that means a book", func() []byte { return k.wordy(mega) }, operators},
		{"three million different glyphs", func() []byte { return k.scripts(3 * mega) }, operators},
		{"many fonts", func() []byte { return k.fonts(20_000, "null", plainFont) }, operators},
		{"many fonts of a long encoding", func() []byte {
			return k.fonts(5_000, "<< /Differences ["+k.many("/a ", mega)+"] >>", plainFont+"/Encoding 1 0 R")
		}, ""},
		{"many fonts of a long map", func() []byte {
			data := k.many("<61> <62>\n", 2*mega)
			return k.fonts(5_000, fmt.Sprintf("<< /Length %d >>\nstream\n%s\nendstream", len(data), data), plainFont+"/ToUnicode 1 0 R")
		}, ""},
		{"many colour spaces of a long table", func() []byte { return k.spacesOver(100_000) }, operators},
		{"a shading of a long table", k.shaded, ""},
		{"an image of many filters", func() []byte { return k.filtered(mega, 100_000) }, ""},
		{"layers that are much alike", func() []byte { return k.expressions(100_000) }, operators},
		{"content that unpacks, many times", func() []byte {
			return k.contents(100_000, "/Filter /FlateDecode", deflated(make([]byte, k.of(300*mega))))
		}, bytes},
		{"long content that comes to nothing, many times", func() []byte {
			return k.contents(100_000, "/Filter /FlateDecode", "\x78\x9c"+k.many("\x00\x00\x00\xff\xff", 4*mega)+"\x03\x00\x00\x00\x00\x01")
		}, bytes},
		{"content that unpacks and fails, many times", func() []byte {
			return k.contents(100_000, "/Filter [/FlateDecode /ASCII85Decode]", deflated([]byte(k.many("zzzzzzz", 8*mega)+"~~~")))
		}, bytes},
	}
}

// Every such page ends within the ceilings. How soon and in how much memory
// BenchmarkHostilePages tells.
func TestHostilePages(t *testing.T) {
	const k scale = 20
	for _, h := range hostilePages(k) {
		t.Run(h.name, func(t *testing.T) {
			c := k.walk(t, h.file())
			if notes := strings.Join(c.Notes, "\n"); c.Truncated != (h.note != "") || !strings.Contains(notes, h.note) {
				t.Errorf("truncated %v, notes %q, want %q", c.Truncated, c.Notes, h.note)
			}
			for _, n := range c.Notes {
				if len(n) > longestNote+len("…") {
					t.Errorf("a note of %d bytes", len(n))
				}
			}
		})
	}
}

func BenchmarkHostilePages(b *testing.B) {
	const k scale = 1
	for _, h := range hostilePages(k) {
		b.Run(h.name, func(b *testing.B) {
			file := h.file()
			b.ReportAllocs()
			for b.Loop() {
				k.walk(b, file)
			}
		})
	}
}
