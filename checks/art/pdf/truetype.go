package pdf

import "sort"

// trueType reads what we need of a TrueType font program (OpenType 1.9, chapters
// glyf, loca, head, cmap). Writers of PDF leave many tables out, so none but the
// first three is asked for.
type trueType struct {
	glyf, loca fontData
	perEm      float64
	long       bool // loca has 32-bit offsets
	cmaps      []charMap
}

// charMap is one subtable of cmap.
type charMap struct {
	platform, encoding int
	data               fontData
}

// sfntTables reads the table directory.
func sfntTables(b fontData) map[string]fontData {
	t := map[string]fontData{}
	n := min(b.u16(4), 64)
	for i := range n {
		at := 12 + 16*i
		if tag := b.cut(at, 4); tag != nil {
			t[string(tag)] = b.cut(b.u32(at+8), b.u32(at+12))
		}
	}
	return t
}

func newTrueType(b fontData) *trueType {
	t := sfntTables(b)
	f := &trueType{glyf: t["glyf"], loca: t["loca"], perEm: float64(t["head"].u16(18)), long: t["head"].u16(50) != 0}
	if f.perEm == 0 || f.loca == nil {
		return nil
	}
	cmap := t["cmap"]
	for i := range min(cmap.u16(2), 16) {
		at := 4 + 8*i
		from := cmap.u32(at + 4)
		if from < len(cmap) {
			f.cmaps = append(f.cmaps, charMap{cmap.u16(at), cmap.u16(at + 2), cmap[from:]})
		}
	}
	return f
}

// ink takes the box that stands at the head of each glyph.
func (f *trueType) ink(glyph int) (Rect, bool) {
	from, to := f.loca.u16(2*glyph)*2, f.loca.u16(2*glyph+2)*2
	size := 2
	if f.long {
		from, to, size = f.loca.u32(4*glyph), f.loca.u32(4*glyph+4), 4
	}
	if glyph < 0 || size*(glyph+2) > len(f.loca) {
		return Rect{}, false
	}
	if to <= from {
		return nowhere(), true
	}
	g := f.glyf.cut(from, min(to, len(f.glyf))-from)
	if len(g) < 10 {
		return Rect{}, false
	}
	r := Rect{float64(g.i16(2)), float64(g.i16(4)), float64(g.i16(6)), float64(g.i16(8))}
	return Rect{r.X0 / f.perEm, r.Y0 / f.perEm, r.X1 / f.perEm, r.Y1 / f.perEm}, !r.Empty()
}

func (f *trueType) charMap(platform, encoding int) *charMap {
	for i := range f.cmaps {
		if m := &f.cmaps[i]; m.platform == platform && m.encoding == encoding {
			return m
		}
	}
	return nil
}

// glyph looks a character up, 0 if it is not there. A nil map holds nothing.
func (m *charMap) glyph(c int) int {
	if m == nil {
		return 0
	}
	d := m.data
	switch d.u16(0) {
	case 0:
		if c < 256 {
			return d.u8(6 + c)
		}
	case 4:
		return segmentGlyph(d, c)
	case 6:
		if i := c - d.u16(6); i >= 0 && i < d.u16(8) {
			return d.u16(10 + 2*i)
		}
	case 12:
		groups := min(d.u32(12), len(d)/12) // in order
		i := sort.Search(groups, func(i int) bool { return d.u32(16+12*i) > c }) - 1
		if at := 16 + 12*i; i >= 0 && c <= d.u32(at+4) {
			return d.u32(at+8) + c - d.u32(at)
		}
	}
	return 0
}

// segmentGlyph looks up a cmap of format 4.
func segmentGlyph(d fontData, c int) int {
	twice := d.u16(6)
	for i := 0; i < twice; i += 2 {
		if c > d.u16(14+i) {
			continue
		}
		start := d.u16(16 + twice + i)
		if c < start {
			return 0
		}
		delta := d.u16(16 + 2*twice + i)
		at := 16 + 3*twice + i
		offset := d.u16(at)
		if offset == 0 {
			return (c + delta) & 0xffff
		}
		if g := d.u16(at + offset + 2*(c-start)); g != 0 {
			return (g + delta) & 0xffff
		}
		return 0
	}
	return 0
}

// glyphFor finds the glyph of a code in a simple font (9.6.6.4): through Unicode
// or the Macintosh encoding where the font has an encoding, else through the
// font's own symbol or Macintosh table.
func (f *trueType) glyphFor(code int, char rune) int {
	if char > 0 {
		if g := f.charMap(3, 1).glyph(int(char)); g != 0 {
			return g
		}
		if g := f.charMap(3, 10).glyph(int(char)); g != 0 {
			return g
		}
		if mac, ok := macCode(char); ok {
			if g := f.charMap(1, 0).glyph(mac); g != 0 {
				return g
			}
		}
	}
	for _, c := range []int{code, 0xf000 + code} {
		if g := f.charMap(3, 0).glyph(c); g != 0 {
			return g
		}
	}
	return f.charMap(1, 0).glyph(code)
}
