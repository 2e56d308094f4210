package pdf

import "github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

// type3 is what a Type 3 font has in the place of outlines: content streams (9.6.5).
type type3 struct {
	matrix    Matrix
	procs     types.Dict
	resources types.Dict
}

func (f *Font) loadType3(dict types.Dict) {
	d := f.doc
	f.Embedded, f.Measured = true, true
	if f.Name == "" {
		f.Name = d.Name(dict["Name"])
	}
	f.type3 = &type3{
		matrix:    Matrix{0.001, 0, 0, 0.001, 0, 0},
		procs:     d.Dict(dict["CharProcs"]),
		resources: d.Dict(dict["Resources"]),
	}
	if v := d.Numbers(dict["FontMatrix"], 6); len(v) == 6 && Matrix(v).finite() {
		f.type3.matrix = Matrix(v)
	}
	f.simpleWidths(dict, f.type3.matrix[0])
	f.loadNames(dict["Encoding"])
}

// type3Glyph knows the width; the ink comes of drawing the glyph.
func (f *Font) type3Glyph(code int) glyph {
	name := f.names[code&255]
	g := glyph{width: f.width(code), ink: nowhere(), exact: true, proc: f.type3.procs[name]}
	if c := charOf(name); c != 0 {
		g.text = string(c)
	}
	return g
}

// drawGlyph runs a glyph's content under m, which maps its glyph space to display
// space, and gives the box of what it paints.
func (in *interp) drawGlyph(f *Font, g glyph, m Matrix) Rect {
	w := in.w
	if g.proc == nil {
		return nowhere()
	}
	parent := in.sc
	if f.type3.resources != nil {
		parent = w.resourcesOf(f)
	}
	s := w.streamAt(g.proc, parent)
	if s == nil {
		return nowhere()
	}
	before := w.counts()
	sub := in.draw(s, func(sub *interp) {
		sub.gs.ctm = m
		sub.within.InGlyph = true
		// 9.6.5: a glyph starts with the line settings of the content that shows it
		// and with its fill colour for both.
		sub.gs.Stroke = sub.gs.Fill
	})
	if sub == nil {
		return nowhere()
	}
	return w.unionSince(before)
}

// glyphShape is d1: colours come from outside. The box that it gives is often
// wrong, so the glyph is measured by what it paints.
func (in *interp) glyphShape() {
	if in.within.InGlyph {
		in.uncoloured = true
	}
}

func (w *walker) resourcesOf(f *Font) *scope {
	if sc, ok := w.glyphScopes[f]; ok {
		return sc
	}
	sc := newScope(f.type3.resources)
	w.glyphScopes[f] = sc
	return sc
}

// unionSince is the box around all that was listed since the counts were taken.
func (w *walker) unionSince(was [4]int) Rect {
	r := nowhere()
	for _, x := range w.out.Texts[was[0]:] {
		r = r.Union(x.Full)
	}
	for _, x := range w.out.Images[was[1]:] {
		r = r.Union(x.Full)
	}
	for _, x := range w.out.Paths[was[2]:] {
		r = r.Union(x.Full)
	}
	for _, x := range w.out.Shadings[was[3]:] {
		r = r.Union(x.Full)
	}
	return r
}
