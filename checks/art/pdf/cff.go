package pdf

// cff reads what we need of a Compact Font Format program (Adobe Technical Note
// 5176): outlines, and which glyph a name, a code or a CID means.
type cff struct {
	charstrings [][]byte
	global      [][]byte
	locals      [][][]byte // one a private dictionary
	fdSelect    []byte     // for each glyph its private dictionary; nil: all the first
	cid         bool
	scale       float64     // font units → ems
	charset     []int       // SID, or CID, of each glyph
	glyphs      map[int]int // and back
	encoding    [256]int    // glyph of each code in the font's own encoding
	strings     [][]byte
	steps       int // left to run charstrings for
}

const (
	cffMostGlyphs = 65535
	cffStandard   = 391 // strings that every font knows (appendix A)
)

// Operators of the dictionaries (section 9); two-byte ones are 12<<8 | second.
const (
	opCharset     = 15
	opEncoding    = 16
	opCharStrings = 17
	opPrivate     = 18
	opSubrs       = 19
	opFontMatrix  = 12<<8 | 7
	opROS         = 12<<8 | 30
	opFDArray     = 12<<8 | 36
	opFDSelect    = 12<<8 | 37
)

func newCFF(b fontData) *cff {
	_, at := cffIndex(b, b.u8(2))
	tops, at := cffIndex(b, at)
	f := &cff{scale: 0.001, steps: charstringSteps}
	f.strings, at = cffIndex(b, at)
	f.global, _ = cffIndex(b, at)
	if len(tops) == 0 {
		return nil
	}
	top := cffDict(tops[0])
	f.charstrings, _ = cffIndex(b, top.offset(opCharStrings))
	if len(f.charstrings) == 0 {
		return nil
	}
	if m := top[opFontMatrix]; len(m) == 6 && m[0] > 0 {
		f.scale = m[0]
	}
	_, f.cid = top[opROS]
	f.readPrivate(b, top)
	f.readCharset(b, top.offset(opCharset))
	if !f.cid {
		f.readEncoding(b, top.offset(opEncoding))
	}
	return f
}

// cffIndex reads an INDEX (section 5) and where it ends.
func cffIndex(b fontData, at int) (list [][]byte, end int) {
	n := b.u16(at)
	if n == 0 {
		return nil, at + 2
	}
	size := b.u8(at + 2)
	if size < 1 || size > 4 || at+3+size*(n+1) > len(b) {
		return nil, len(b)
	}
	offset := func(i int) int {
		v := 0
		for k := range size {
			v = v<<8 | b.u8(at+3+size*i+k)
		}
		return v
	}
	data := at + 2 + size*(n+1) // offsets count from the byte before the data
	list = make([][]byte, n)
	for i := range n {
		list[i] = b.cut(data+offset(i), offset(i+1)-offset(i))
	}
	return list, data + offset(n)
}

type cffEntries map[int][]float64

func (d cffEntries) offset(op int) int {
	if v := d[op]; len(v) > 0 && v[0] > 0 && v[0] < 1<<31 {
		return int(v[0])
	}
	return 0
}

// cffDict reads a DICT (section 4).
func cffDict(b fontData) cffEntries {
	d := cffEntries{}
	var args []float64
	for i := 0; i < len(b); {
		c := b.u8(i)
		switch {
		case c <= 21:
			op := c
			i++
			if c == 12 {
				op = 12<<8 | b.u8(i)
				i++
			}
			d[op], args = args, nil
		case c == 28:
			args, i = append(args, float64(b.i16(i+1))), i+3
		case c == 29:
			args, i = append(args, float64(int32(b.u32(i+1)))), i+5
		case c == 30:
			v, n := cffReal(b[i+1:])
			args, i = append(args, v), i+1+n
		case c >= 32 && c <= 246:
			args, i = append(args, float64(c-139)), i+1
		case c >= 247 && c <= 250:
			args, i = append(args, float64((c-247)*256+b.u8(i+1)+108)), i+2
		case c >= 251 && c <= 254:
			args, i = append(args, float64(-(c-251)*256-b.u8(i+1)-108)), i+2
		default:
			i++
		}
		if len(args) > 48 { // the most that section 4 allows
			args = args[:48]
		}
	}
	return d
}

// cffReal reads a number written in nibbles.
func cffReal(b fontData) (v float64, n int) {
	var text []byte
	for n < len(b) {
		c := b[n]
		n++
		for _, nibble := range [2]byte{c >> 4, c & 15} {
			switch {
			case nibble <= 9:
				text = append(text, '0'+nibble)
			case nibble == 10:
				text = append(text, '.')
			case nibble == 11:
				text = append(text, 'E')
			case nibble == 12:
				text = append(text, 'E', '-')
			case nibble == 14:
				text = append(text, '-')
			case nibble == 15:
				return scientific(text), n
			}
		}
	}
	return 0, n
}

func (f *cff) readPrivate(b fontData, top cffEntries) {
	dicts := []cffEntries{top}
	if f.cid {
		fonts, _ := cffIndex(b, top.offset(opFDArray))
		dicts = nil
		for _, d := range fonts[:min(len(fonts), 256)] {
			dicts = append(dicts, cffDict(d))
		}
		f.fdSelect = readFDSelect(b, top.offset(opFDSelect), len(f.charstrings))
	}
	for _, d := range dicts {
		var subrs [][]byte
		if p := d[opPrivate]; len(p) == 2 && p[0] >= 0 && p[1] > 0 && p[0] < 1<<31 && p[1] < 1<<31 {
			size, from := int(p[0]), int(p[1])
			if at := cffDict(b.cut(from, size)).offset(opSubrs); at > 0 {
				subrs, _ = cffIndex(b, from+at)
			}
		}
		f.locals = append(f.locals, subrs)
	}
}

func readFDSelect(b fontData, at, glyphs int) []byte {
	sel := make([]byte, min(glyphs, cffMostGlyphs))
	switch b.u8(at) {
	case 0:
		copy(sel, b.cut(at+1, len(sel)))
	case 3:
		g := 0 // ranges go upwards; one that goes back would cost the same again
		for i := range b.u16(at + 1) {
			r := at + 3 + 3*i
			for g = max(g, b.u16(r)); g < min(b.u16(r+3), len(sel)); g++ {
				sel[g] = byte(b.u8(r + 2))
			}
		}
	}
	return sel
}

// readCharset reads which name or CID each glyph has (section 13). The two
// predefined expert sets are not told apart from the standard one.
func (f *cff) readCharset(b fontData, at int) {
	n := len(f.charstrings)
	f.charset = make([]int, 1, n)
	switch {
	case at <= 2:
		for g := 1; g < n; g++ {
			f.charset = append(f.charset, g)
		}
	case b.u8(at) == 0:
		for g := 1; g < n; g++ {
			f.charset = append(f.charset, b.u16(at+2*g-1))
		}
	default:
		size := b.u8(at) // 1 or 2: bytes of the count of a range
		for p := at + 1; len(f.charset) < n && p < len(b); p += 2 + size {
			left := b.u8(p + 2)
			if size == 2 {
				left = b.u16(p + 2)
			}
			for first, k := b.u16(p), 0; k <= left && len(f.charset) < n; k++ {
				f.charset = append(f.charset, first+k)
			}
		}
	}
	f.glyphs = make(map[int]int, len(f.charset))
	for g, id := range f.charset {
		if _, ok := f.glyphs[id]; !ok {
			f.glyphs[id] = g
		}
	}
}

// readEncoding reads the font's own encoding (section 12).
func (f *cff) readEncoding(b fontData, at int) {
	if at <= 1 {
		for code := range f.encoding {
			f.encoding[code] = f.glyphs[standardSID(code)]
		}
		return
	}
	g := 1
	switch b.u8(at) & 0x7f {
	case 0:
		for i := range b.u8(at + 1) {
			f.encoding[b.u8(at+2+i)] = g
			g++
		}
	case 1:
		for i := range b.u8(at + 1) {
			first, left := b.u8(at+2+2*i), b.u8(at+3+2*i)
			for k := 0; k <= left && first+k < 256; k++ {
				f.encoding[first+k] = g
				g++
			}
		}
	}
}

// named finds the glyph of a name, 0 if there is none.
func (f *cff) named(name string) int {
	if sid, ok := latin.sid[name]; ok {
		if g, ok := f.glyphs[sid]; ok {
			return g
		}
	}
	for i, s := range f.strings {
		if string(s) == name {
			return f.glyphs[cffStandard+i]
		}
	}
	return 0
}

// name is the name of a glyph, "" for the rarer ones that we have no list of.
func (f *cff) name(glyph int) string {
	if f.cid || glyph < 0 || glyph >= len(f.charset) {
		return ""
	}
	switch sid := f.charset[glyph]; {
	case sid < len(latin.list):
		return latin.list[sid]
	case sid >= cffStandard && sid-cffStandard < len(f.strings):
		return string(f.strings[sid-cffStandard])
	}
	return ""
}

func (f *cff) ink(glyph int) (Rect, bool) {
	if glyph < 0 || glyph >= len(f.charstrings) {
		return Rect{}, false
	}
	fd := 0
	if glyph < len(f.fdSelect) {
		fd = int(f.fdSelect[glyph])
	}
	c := charstring{global: f.global, steps: &f.steps}
	if fd < len(f.locals) {
		c.local = f.locals[fd]
	}
	c.seac = func(code int) []byte {
		if g, ok := f.glyphs[standardSID(code)]; ok {
			return f.charstrings[g]
		}
		return nil
	}
	r, ok := c.bounds(f.charstrings[glyph])
	return Rect{r.X0 * f.scale, r.Y0 * f.scale, r.X1 * f.scale, r.Y1 * f.scale}, ok
}
