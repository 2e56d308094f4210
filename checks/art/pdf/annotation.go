package pdf

import (
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// Annotation lies on the page beside its content (12.5).
type Annotation struct {
	Subtype    string // "Link", "Widget", "Stamp" …
	Box        Rect   // display space
	Prints     bool   // the Print flag is set, Hidden is not, and its layer is printed
	Hidden     bool   // the Hidden or NoView flag is set
	Appearance bool   // it has a normal appearance to draw
	Border     bool   // it asks for a border, which readers draw for links (12.5.4)
	Script     bool   // it runs JavaScript

	normal types.Object // the appearance stream in force
	rect   Rect         // user space
	layer  types.Object
}

// Annotation flags (Table 165).
const (
	flagHidden = 1 << 1
	flagPrint  = 1 << 2
	flagNoView = 1 << 5
)

func (p *Page) readAnnotations() {
	d := p.doc
	left := d.lim.Operands
	for _, o := range d.Array(p.leaf.dict["Annots"]) {
		a := d.Dict(o)
		if left -= 1 + len(d.members(a["OC"])); left < 0 {
			return
		}
		v := d.Numbers(a["Rect"], 4)
		if a == nil || len(v) != 4 {
			continue
		}
		flags := d.Integer(a["F"], 0)
		r := nowhere()
		r.add(Point{v[0], v[1]})
		r.add(Point{v[2], v[3]})
		x := Annotation{
			Subtype: d.Name(a["Subtype"]), Box: p.display.quad(r).Bounds(), rect: r, layer: a["OC"],
			Prints: flags&flagPrint != 0 && flags&flagHidden == 0 && !d.LayerOff(a["OC"]),
			Hidden: flags&(flagHidden|flagNoView) != 0,
			Border: d.borderWidth(a) > 0,
			Script: d.isScript(a["A"]) || d.hasScript(a["AA"]),
			normal: d.normalAppearance(a),
		}
		_, x.Appearance = d.Get(x.normal).(types.StreamDict)
		p.Annotations = append(p.Annotations, x)
	}
}

// borderWidth reads BS, else Border, in which it is the third number; it is 1 where
// there is neither (Tables 164 and 166).
func (d *Document) borderWidth(a types.Dict) float64 {
	if style := d.Dict(a["BS"]); style != nil {
		return d.NumberOr(style["W"], 1)
	}
	if border := d.Array(a["Border"]); len(border) >= 3 {
		return d.NumberOr(border[2], 1)
	}
	return 1
}

// normalAppearance picks the stream out of AP/N, which may be a dictionary of
// states (12.5.5).
func (d *Document) normalAppearance(a types.Dict) types.Object {
	n := d.Dict(a["AP"])["N"]
	if states, ok := d.Get(n).(types.Dict); ok {
		return states[d.Name(a["AS"])]
	}
	return n
}

// walkAnnotations draws the appearances of the annotations that print.
func (w *walker) walkAnnotations() {
	for _, a := range w.page.Annotations {
		form, m, ok := a.Printed(w.doc)
		if !ok {
			continue
		}
		s := w.streamAt(form, newScope(nil))
		in := w.interp(&stream{scope: newScope(nil)}, w.page.display, w.page.Media)
		in.within.Annotation = true
		in.within.Hidden, in.within.Layer = w.layerOff(a.layer), w.doc.layerOf(a.layer)
		in.gs.ctm = m.Mul(w.page.display)
		in.draw(s, nil)
	}
}

// Printed gives the form that the annotation adds to the page when it prints, and
// the matrix that puts it in its place in user space (12.5.5). Its layer may be off:
// see [Annotation.Layer].
func (a Annotation) Printed(d *Document) (form types.Object, m Matrix, ok bool) {
	if !a.Prints || !a.Appearance || a.Subtype == "Popup" {
		return nil, m, false
	}
	dict := d.Dict(a.normal)
	v := d.Numbers(dict["BBox"], 4)
	if len(v) != 4 || v[0] == v[2] || v[1] == v[3] {
		return nil, m, false
	}
	box := d.matrix(dict["Matrix"]).quad(Rect{v[0], v[1], v[2], v[3]}).Bounds()
	return a.normal, fit(box, a.rect), true
}

// Layer is what the annotation's visibility hangs on, nil if nothing; see
// [Document.LayerOff].
func (a Annotation) Layer() types.Object { return a.layer }

// fit is the matrix that scales and moves one box onto another (12.5.5, step 2 of
// the algorithm).
func fit(from, to Rect) Matrix {
	sx, sy := to.W()/from.W(), to.H()/from.H()
	m := Matrix{sx, 0, 0, sy, to.X0 - from.X0*sx, to.Y0 - from.Y0*sy}
	if !m.finite() {
		return identity()
	}
	return m
}
