package plates

import (
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"stoneproof/checks/art/pdf/syntax"
	"stoneproof/checks/art/pdf/write"
)

// typeface is a Type 3 font in use: its glyphs are content, and are rewritten when
// they are shown. Of another font nothing need be known.
type typeface struct {
	glyphs *glyphs
	size   string
}

func (t typeface) key() string {
	if t.glyphs == nil {
		return ""
	}
	return t.glyphs.id + " " + t.size
}

func textOperators(t map[string]operator) {
	for _, op := range []string{"BT", "ET", "Tc", "Tw", "Tz", "TL", "Ts", "Td", "TD", "Tm", "T*"} {
		t[op] = pass(op)
	}
	t["Tr"] = func(r *rewriter) {
		if v, ok := r.args.Numbers(1); ok {
			r.g.textMode = int(v[0]) & 7
			pass("Tr")(r)
		}
	}
	t["Tf"] = (*rewriter).setFont
	for _, op := range []string{"Tj", "TJ", "'", `"`} {
		t[op] = func(r *rewriter) {
			if r.dressText() {
				pass(op)(r)
			}
		}
	}
}

func (r *rewriter) setFont() {
	l := r.args.List
	if len(l) < 2 || l[len(l)-2].Kind != syntax.Name || l[len(l)-1].Kind != syntax.Number {
		return
	}
	o, ok := r.doc.Find(r.res, "Font", l[len(l)-2].NameString())
	if !ok {
		r.causes.add(causeMissing)
		return
	}
	r.useFont(o, string(write.AppendNumber(nil, l[len(l)-1].Num)))
}

// useFont sets a font in the output, unless its glyphs have to be made first.
func (r *rewriter) useFont(o types.Object, size string) {
	r.g.font = typeface{}
	if r.doc.Name(r.doc.Dict(o)["Subtype"]) == "Type3" {
		r.g.font = typeface{r.glyphsOf(o), size}
		return
	}
	r.g.shown.font = ""
	r.emit(r.used.name("Font", r.source.Value(o))+" "+size, "Tf")
}

// dressText gets ready to show text; false means that it must not be shown.
func (r *rewriter) dressText() bool {
	switch f := r.g.font.glyphs; {
	case f == nil:
		r.dressMode(r.g.textMode)
		return true
	case !r.setGlyphs():
		return false
	case f.coloured:
		r.dressColoured(f)
	default:
		r.dressMode(0) // the mode does not matter to Type 3 fonts (9.3.6)
	}
	return true
}

// setGlyphs sets the Type 3 font in use, and pays for the glyphs about to be shown.
func (r *rewriter) setGlyphs() bool {
	t := r.g.font
	made := r.glyphFont(t.glyphs)
	for _, arg := range r.args.List {
		if arg.Kind == syntax.Text || arg.Kind == syntax.Hex {
			r.cost += made.cost * len(arg.Raw)
			if !r.afford(made.cost * len(arg.Raw)) {
				return false
			}
		}
	}
	font := r.used.name("Font", made.reference) + " " + t.size + " Tf\n"
	if r.g.shown.font != font {
		r.g.shown.font = font
		r.out.WriteString(font)
	}
	return true
}

// dressMode is for glyphs in the fill colour, the stroke colour or both (Table 106).
func (r *rewriter) dressMode(mode int) {
	fill, stroke := spared, spared
	switch mode & 3 {
	case 0:
		fill = r.lands(true)
	case 1:
		stroke = r.lands(false)
	case 2:
		fill, stroke = r.lands(true), r.lands(false)
		if fill != stroke && (fill == shielded || stroke == shielded) {
			r.causes.add(causeOverText)
			fill, stroke = unshielded(fill), unshielded(stroke)
		}
	default:
		return
	}
	r.dressType(fill, stroke)
}

// dressColoured is for glyphs that bring their colours along, and overprint for
// themselves. Glyphs of the same font that do not cannot be spared alone.
func (r *rewriter) dressColoured(f *glyphs) {
	switch {
	case r.hiding > 0:
		r.dressType(spared, spared)
	case !f.shapes:
		r.dress(spared, spared)
	default:
		if r.lands(true) != inked {
			r.causes.add(causeOverGlyph)
		}
		r.dress(inked, spared)
	}
}

func unshielded(l landing) landing {
	if l == shielded {
		return spared
	}
	return l
}
