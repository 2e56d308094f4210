package press

import (
	"fmt"
	"slices"
	"strings"

	"golang.org/x/image/font/sfnt"
)

// pdfFont is a face as a composite font: two-byte codes are glyph numbers
// (Identity-H), the file holds the glyphs in use (ISO 32000-1 9.7).
type pdfFont struct {
	face *face
	obj  ref
	used map[sfnt.GlyphIndex]glyph
}

func (j *pdfJob) fontOf(f *face) *pdfFont {
	for _, known := range j.fonts {
		if known.face == f {
			return known
		}
	}
	made := &pdfFont{face: f, obj: j.doc.reserve(), used: map[sfnt.GlyphIndex]glyph{}}
	j.fonts = append(j.fonts, made)
	return made
}

// encode writes the codes of a line in hex, and notes its letters as used.
func (f *pdfFont) encode(t text) string {
	var b strings.Builder
	for _, g := range t.glyphs() {
		f.used[g.index] = g
		fmt.Fprintf(&b, "%04X", g.index)
	}
	return b.String()
}

// letters are the used glyphs in order.
func (f *pdfFont) letters() []glyph {
	var out []glyph
	for _, g := range f.used {
		out = append(out, g)
	}
	slices.SortFunc(out, func(a, b glyph) int { return int(a.index) - int(b.index) })
	return out
}

// finish writes the font's objects, now that its letters are known.
func (j *pdfJob) finish(f *pdfFont, tag string) {
	letters := f.letters()
	name, file := f.face.name, ""
	if !j.set.looseFonts {
		ttf := subset(f.face.ttf, letters)
		// Six letters and a plus sign mark a subset (ISO 32000-1 9.6.4).
		name = tag + "+" + name
		file = fmt.Sprintf(" /FontFile2 %v", j.doc.stream(fmt.Sprintf("/Length1 %d", len(ttf)), ttf))
	}
	m := readMetrics(f.face.ttf)
	descriptor := j.doc.add(fmt.Sprintf(
		"<< /Type /FontDescriptor /FontName /%s /Flags 4 /FontBBox [%d %d %d %d] /ItalicAngle %d /Ascent %d /Descent %d /CapHeight %d /StemV 80%s >>",
		name, m.box[0], m.box[1], m.box[2], m.box[3], m.slant, m.ascent, m.descent, m.capHeight, file))
	widths := ""
	for _, g := range letters {
		widths += fmt.Sprintf(" %d [%s]", g.index, num(float64(g.advance)*1000/unitsPerEm))
	}
	cid := j.doc.add(fmt.Sprintf(
		"<< /Type /Font /Subtype /CIDFontType2 /BaseFont /%s /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> /FontDescriptor %v /CIDToGIDMap /Identity /DW 0 /W [%s ] >>",
		name, descriptor, widths))
	j.doc.set(f.obj, fmt.Sprintf("<< /Type /Font /Subtype /Type0 /BaseFont /%s /Encoding /Identity-H /DescendantFonts [%v] /ToUnicode %v >>",
		name, cid, j.doc.stream("", toUnicode(letters))))
}

// toUnicode maps codes back to letters (ISO 32000-1 9.10.3), in the blocks of
// at most 100 that the CMap language allows.
func toUnicode(letters []glyph) []byte {
	var b strings.Builder
	b.WriteString("/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n" +
		"/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n" +
		"/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n" +
		"1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n")
	for block := range slices.Chunk(letters, 100) {
		fmt.Fprintf(&b, "%d beginbfchar\n", len(block))
		for _, g := range block {
			fmt.Fprintf(&b, "<%04X> <%04X>\n", g.index, g.r)
		}
		b.WriteString("endbfchar\n")
	}
	b.WriteString("endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n")
	return []byte(b.String())
}
