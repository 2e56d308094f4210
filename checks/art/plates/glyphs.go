package plates

import (
	"fmt"
	"maps"
	"slices"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"stoneproof/checks/art/pdf/syntax"
	"stoneproof/checks/art/pdf/write"
)

// glyphs is a Type 3 font (9.6.5).
type glyphs struct {
	object   types.Object
	id       string
	dict     types.Dict
	coloured bool // some glyph brings its own colours
	shapes   bool // some glyph does not
}

// glyphsOf looks a font up, once.
func (j *separation) glyphsOf(o types.Object) *glyphs {
	id := syntax.ObjectNumber(o)
	if g, ok := j.fonts[id]; ok && id != 0 {
		return g
	}
	g := &glyphs{object: o, dict: j.doc.Dict(o)}
	g.id = fmt.Sprintf("%d %p", id, g)
	for _, proc := range j.doc.Dict(g.dict["CharProcs"]) {
		if coloured(j.content(proc)) {
			g.coloured = true
		} else {
			g.shapes = true
		}
	}
	j.fonts[id] = g
	return g
}

// coloured tells whether a glyph begins with d0 (Table 113).
func coloured(content []byte) bool {
	const few = 8
	l := syntax.Lexer{B: content}
	for range few {
		if t := l.Next(); t.Kind == syntax.Word {
			return string(t.Raw) == "d0"
		}
	}
	return false
}

// glyphShape is d1: colours come from outside.
func (r *rewriter) glyphShape() {
	r.uncoloured = true
	pass("d1")(r)
}

// glyphFont writes the font with its glyphs rewritten for the present state, or
// for all plates at once where they have no colours. Its cost is that of the
// dearest glyph.
func (r *rewriter) glyphFont(f *glyphs) *drawn {
	g, in := r.g, r.within
	g.stroke, g.strokeOver = g.fill, g.fillOver // a glyph starts with the fill colour for both (9.6.5)
	g.ctm = r.matrix(f.dict["FontMatrix"]).Mul(g.ctm)
	g.shown = look{fillAlpha: 1, strokeAlpha: 1, blend: normal}
	g.fillAlpha, g.strokeAlpha, g.blend, g.font = 1, 1, normal, typeface{}
	if !f.coloured {
		g, in.plate, in.uncoloured, in.isolated, in.rgbBlend = startState(g.ctm), plate{}, true, false, false
	}
	key := "font " + f.id + in.key() + g.key()
	had, ok := r.drawn[key]
	if !ok {
		had = &drawn{reference: "null"} // for glyphs that show their own font
		r.drawn[key] = had
		*had = r.writeFont(f, g, in)
	}
	return had
}

func (r *rewriter) writeFont(f *glyphs, g state, in within) drawn {
	res := r.res
	if own := r.doc.Dict(f.dict["Resources"]); own != nil {
		res = own
	}
	procs, before, dearest := "", r.cost, 0
	all := r.doc.Dict(f.dict["CharProcs"])
	for _, name := range slices.Sorted(maps.Keys(all)) {
		if ref := r.glyph(all[name], res, g, in); ref != "" {
			procs += string(write.AppendName(nil, name)) + " " + ref
		}
		dearest, r.cost = max(dearest, r.cost-before), before
	}
	entries := "<</Type/Font/Subtype/Type3/CharProcs<<" + procs + ">>"
	for _, key := range [...]string{"FontBBox", "FontMatrix", "Encoding", "FirstChar", "LastChar", "Widths"} {
		if v, ok := f.dict[key]; ok {
			entries += "/" + key + " " + r.source.Value(v)
		}
	}
	return drawn{r.file.Add(entries + "/Resources<<>>>>"), dearest}
}

// glyph rewrites one glyph, whose resources are the font's.
func (r *rewriter) glyph(o types.Object, res types.Dict, g state, in within) string {
	was := r.res
	r.res = res
	defer func() { r.res = was }()
	return r.stream(o, g, "glyph", in)
}
