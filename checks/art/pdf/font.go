package pdf

import (
	"sort"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"stoneproof/checks/art/pdf/syntax"
)

// Font is a font as the page uses it.
type Font struct {
	Name     string // BaseFont, with the tag of a subset such as "ABCDEF+"; "" for most Type 3 fonts
	Subtype  string // "Type1", "MMType1", "TrueType", "Type3", "Type0"
	Embedded bool   // the glyphs travel with the file; always so for Type 3
	Standard bool   // one of the 14 that every reader has
	Object   int    // object number of the font dictionary
	Measured bool   // the embedded outlines can be read, so that ink is measured

	doc       *Document
	composite bool
	program   outlines
	names     [256]string // simple fonts: glyph name of each code, "" unknown
	toUnicode *codeMap
	codes     *codeMap // Type0: nil stands for two-byte codes that are CIDs
	ucs       bool     // Type0: the codes are UTF-16 themselves
	vertical  bool
	widths    []widthRange // in ems, by code or CID, in order
	missing   float64      // width of the rest
	cidToGID  []byte       // CIDFontType2: two bytes a CID; nil is identity
	symbolic  bool
	encoded   bool // an Encoding names the glyphs
	metrics   verticals
	type3     *type3
	cache     map[int]glyph
}

type widthRange struct {
	lo, hi int
	w      float64
}

// glyph is one code of a font, measured once.
type glyph struct {
	width float64 // in ems; for vertical writing the (negative) step down
	ink   Rect    // in ems from the origin; Empty if blank
	exact bool
	text  string
	proc  types.Object // Type 3
}

// verticals are heights in ems for estimates.
type verticals struct{ ascent, descent, caps, x float64 }

// fontAt loads the font that o refers to. It never returns nil.
func (w *walker) fontAt(sc *scope, o types.Object, name string) *Font {
	id := syntax.ObjectNumber(o)
	if f, ok := w.doc.fonts[id]; ok && id != 0 {
		return f
	}
	if f, ok := sc.fonts[name]; ok && id == 0 {
		return f
	}
	w.afford(fontCost)
	f := w.doc.loadFont(w.doc.Dict(o), id)
	if id != 0 {
		w.doc.fonts[id] = f
	} else {
		sc.fonts[name] = f
	}
	return f
}

// fontCost is what loading a font costs in operators: it takes as long, and some
// kilobytes.
const fontCost = 500

// fontArray gives an array of a font at the price of its length: fonts may share it,
// and each reads it anew.
func (d *Document) fontArray(o types.Object) types.Array {
	const entry = 16 // bytes
	a := d.Array(o)
	if d.fontBytes -= int64(len(a)) * entry; d.fontBytes < 0 {
		return nil
	}
	return a
}

func (d *Document) loadFont(dict types.Dict, id int) *Font {
	f := &Font{
		doc: d, Object: id, Name: d.Name(dict["BaseFont"]), Subtype: d.Name(dict["Subtype"]),
		cache: map[int]glyph{},
	}
	if b := d.fontStream(dict["ToUnicode"]); b != nil {
		f.toUnicode = parseCMap(b, d.lim.Operands)
	}
	switch f.Subtype {
	case "Type0":
		f.loadComposite(dict)
	case "Type3":
		f.loadType3(dict)
	default:
		f.loadSimple(dict)
	}
	return f
}

// loadSimple reads a Type 1, MMType1 or TrueType font (9.6).
func (f *Font) loadSimple(dict types.Dict) {
	d := f.doc
	desc := d.Dict(dict["FontDescriptor"])
	f.describe(desc)
	f.missing = d.NumberOr(desc["MissingWidth"], 0) / 1000
	f.simpleWidths(dict, 0.001)
	f.loadNames(dict["Encoding"])
	if std := standardName(f.Name); std != "" {
		f.Standard = !f.Embedded
		if len(f.widths) == 0 {
			f.standardWidths(std)
		}
	}
}

// simpleWidths reads Widths, of which there are as many as codes at most.
func (f *Font) simpleWidths(dict types.Dict, scale float64) {
	first := f.doc.Integer(dict["FirstChar"], 0)
	for i, w := range f.doc.Numbers(dict["Widths"], 256) {
		f.widths = append(f.widths, widthRange{first + i, first + i, w * scale})
	}
}

// describe reads the font descriptor (9.8) and the program that it embeds.
func (f *Font) describe(desc types.Dict) {
	d := f.doc
	f.symbolic = d.Integer(desc["Flags"], 0)&4 != 0
	f.metrics = verticals{
		ascent: heightOr(d.NumberOr(desc["Ascent"], 0), 0.95), descent: -heightOr(-d.NumberOr(desc["Descent"], 0), 0.25),
		caps: heightOr(d.NumberOr(desc["CapHeight"], 0), 0.74), x: heightOr(d.NumberOr(desc["XHeight"], 0), 0.55),
	}
	for _, key := range []string{"FontFile2", "FontFile3", "FontFile"} {
		if _, ok := d.Get(desc[key]).(types.StreamDict); !ok {
			continue
		}
		f.Embedded = true
		f.program = d.fontProgram(desc[key])
		f.Measured = f.program != nil
		return
	}
}

// heightOr takes a height of the descriptor if it is believable.
func heightOr(v, def float64) float64 {
	if v /= 1000; v > 0.2 && v < 1.5 || def < 0.3 && v > 0 && v < 1 {
		return v
	}
	return def
}

func (f *Font) width(code int) float64 {
	i := sort.Search(len(f.widths), func(i int) bool { return f.widths[i].lo > code }) - 1
	if i >= 0 && code <= f.widths[i].hi {
		return f.widths[i].w
	}
	return f.missing
}

// next takes the next code off s; n is how many bytes it has.
func (f *Font) next(s []byte) (code, n int) {
	switch {
	case !f.composite:
		return int(s[0]), 1
	case f.codes != nil:
		return f.codes.cut(s)
	case len(s) == 1:
		return int(s[0]), 1
	}
	return int(s[0])<<8 | int(s[1]), 2
}

// mostCached is more glyphs than any font has.
const mostCached = 1 << 16

// glyph measures a code, once.
func (f *Font) glyph(code, n int) glyph {
	key := code<<3 | n
	if g, ok := f.cache[key]; ok {
		return g
	}
	var g glyph
	switch {
	case f.type3 != nil:
		g = f.type3Glyph(code)
	case f.composite:
		g = f.compositeGlyph(code, n)
	default:
		g = f.simpleGlyph(code)
	}
	if s := f.toUnicode.textOf(code); s != "" {
		g.text = s
	}
	if g.text == "" {
		g.text = "\ufffd"
	}
	if len(f.cache) < mostCached {
		f.cache[key] = g
	}
	return g
}
