package plates

import (
	"fmt"
	"strconv"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"stoneproof/checks/art/pdf"
	"stoneproof/checks/art/pdf/syntax"
)

// drawn is content that was rewritten already.
type drawn struct {
	reference string // "" where it could not be
	cost      int    // operators that drawing it runs
}

// drawCost is what drawing a form costs beside the operators in it.
const drawCost = 10

// drawObject is the Do operator (8.8).
func (r *rewriter) drawObject() {
	name, _ := r.args.Name()
	o, _ := r.doc.Find(r.res, "XObject", name)
	sd, ok := r.doc.Get(o).(types.StreamDict)
	switch {
	case !ok:
		r.causes.add(causeMissing)
	case r.hiding > 0 || r.doc.LayerOff(sd.Dict["OC"]):
	case r.doc.Name(sd.Dict["Subtype"]) == "Image":
		r.drawImage(sd, imageKey{object: syntax.ObjectNumber(o)})
	case r.doc.Name(sd.Dict["Subtype"]) == "Form":
		r.drawForm(o, sd)
	default:
		r.causes.add(causePostScript)
	}
}

// drawForm draws a form in the present graphics state (8.10.1).
func (r *rewriter) drawForm(o types.Object, sd types.StreamDict) {
	r.dress(spared, spared)
	if f := r.stream(o, r.formState(sd), "form", r.formWithin(sd)); f != "" {
		r.emit(r.used.name("XObject", f), "Do")
	}
}

func (j *separation) isGroup(d types.Dict) bool {
	return j.doc.Name(j.doc.Dict(d["Group"])["S"]) == "Transparency"
}

// formState is what a form begins with: the state around it, but for what a group
// applies as a whole (11.6.6).
func (r *rewriter) formState(sd types.StreamDict) state {
	g := r.g
	g.ctm = r.matrix(sd.Dict["Matrix"]).Mul(g.ctm)
	if r.isGroup(sd.Dict) {
		g.fillAlpha, g.strokeAlpha, g.blend, g.masked = 1, 1, normal, false
	}
	g.shown = look{fillAlpha: g.fillAlpha, strokeAlpha: g.strokeAlpha, blend: g.blend}
	return g
}

func (r *rewriter) formWithin(sd types.StreamDict) within {
	in := r.within
	if !r.isGroup(sd.Dict) {
		return in
	}
	g := r.doc.Dict(sd.Dict["Group"])
	if r.doc.Flag(g["K"], false) {
		r.causes.add(causeKnockout)
	}
	in.apart = in.apart || r.g.transparent()
	if r.doc.Flag(g["I"], false) {
		in.isolated, in.apart = true, false
		if cs, ok := g["CS"]; ok { // else, and if not isolated, that around it (Table 147)
			in.rgbBlend = r.lookup.space(cs, 0).mixesRGB()
			r.blending.transparent = r.blending.transparent || in.rgbBlend
		}
	}
	return in
}

// group writes a group's dictionary: on a plate all blending is in grey.
func (j *separation) group(g types.Dict) string {
	s := "/Group<</S/Transparency"
	if _, ok := g["CS"]; ok {
		s += "/CS/DeviceGray"
	}
	if j.doc.Flag(g["I"], false) {
		s += "/I true"
	}
	if j.doc.Flag(g["K"], false) {
		s += "/K true"
	}
	return s + ">>"
}

// stream rewrites a form, tile, glyph or mask, once for each state that it takes
// over, and gives a reference, "" where there is none.
func (r *rewriter) stream(o types.Object, g state, use string, in within) string {
	id := syntax.ObjectNumber(o)
	sd, ok := r.doc.Get(o).(types.StreamDict)
	if !ok || r.drawing[id] || r.depth >= r.limits.Depth {
		r.causes.add(causeDeep)
		return ""
	}
	key := strconv.Itoa(id) + use + in.key() + g.key()
	had, ok := r.drawn[key]
	if !ok {
		had = r.rewrite(o, sd, g, in)
		r.drawn[key] = had
	} else if !r.afford(had.cost) {
		return ""
	}
	r.cost += had.cost
	return had.reference
}

func (in within) key() string {
	return fmt.Sprint(in.plate, in.isolated, in.apart, in.rgbBlend, in.uncoloured)
}

func (r *rewriter) rewrite(o types.Object, sd types.StreamDict, g state, in within) *drawn {
	if !r.afford(drawCost) {
		return &drawn{}
	}
	id := syntax.ObjectNumber(o)
	r.drawing[id] = true
	defer delete(r.drawing, id)

	res := r.doc.Dict(sd.Dict["Resources"])
	if res == nil {
		res = r.res // as readers allow for old files (7.8.3)
	}
	sub := r.separation.rewriter(in.plate, g, res)
	sub.within = in
	sub.depth, sub.drawing = r.depth+1, r.drawing
	sub.run(r.content(o))
	sub.end()
	entries := r.streamEntries(sd.Dict) + "/Resources" + sub.used.String()
	return &drawn{r.file.Stream(entries, sub.out.Bytes()), sub.cost + drawCost}
}

// streamEntries writes what the dictionary of a form or tile says of where it lies.
func (r *rewriter) streamEntries(d types.Dict) string {
	entries := ""
	for _, key := range [...]string{"Subtype", "FormType", "BBox", "Matrix", "PatternType", "PaintType", "TilingType", "XStep", "YStep"} {
		if v, ok := d[key]; ok {
			entries += "/" + key + " " + r.source.Value(v)
		}
	}
	if g := r.doc.Dict(d["Group"]); g != nil {
		entries += r.group(g)
	}
	return entries
}

// matrix reads a matrix object.
func (j *separation) matrix(o types.Object) pdf.Matrix {
	if v := j.doc.Numbers(o, 6); len(v) == 6 {
		return pdf.Matrix(v)
	}
	return pdf.Matrix{1, 0, 0, 1, 0, 0}
}
