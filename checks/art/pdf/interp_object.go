package pdf

import (
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"stoneproof/checks/art/pdf/syntax"
)

// drawObject is the Do operator (8.8).
func (in *interp) drawObject() {
	w := in.w
	name, ok := in.args.Name()
	if !ok {
		w.note("the operator Do lacks a name")
		return
	}
	o, found := w.doc.Find(in.sc.res, "XObject", name)
	sd, ok := w.doc.Get(o).(types.StreamDict)
	if !found || !ok {
		w.note("the object %q is not among the resources", name)
		return
	}
	in.join(sd.Dict["OC"])
	defer in.leave()
	switch w.doc.Name(sd.Dict["Subtype"]) {
	case "Image":
		in.paintImage(sd, syntax.ObjectNumber(o))
	case "Form":
		in.draw(w.streamAt(o, in.sc), nil)
	case "PS":
		w.note("a PostScript object is passed over")
	default:
		w.note("the object %q is neither an image nor a form", name)
	}
}

// beginMarked opens a marked-content sequence, which may belong to a layer (8.11.3.2).
func (in *interp) beginMarked() {
	if len(in.marks) >= in.w.doc.lim.Saves {
		in.extraMarks++
		in.w.truncate("marked content nests more than %d deep", in.w.doc.lim.Saves)
		return
	}
	var layer types.Object
	if l := in.args.List; len(l) >= 2 && l[0].Kind == syntax.Name && string(l[0].Raw) == "OC" && l[1].Kind == syntax.Name {
		layer, _ = in.w.doc.Find(in.sc.res, "Properties", l[1].NameString())
	}
	in.join(layer)
}

func (in *interp) endMarked() {
	switch {
	case in.extraMarks > 0:
		in.extraMarks--
	case len(in.marks) > 0:
		in.leave()
	}
}

// membership is what content owes to the layers around it.
type membership struct {
	hidden bool
	layer  int // see Item.Layer
}

func (m membership) mark(it *Item) { it.Hidden, it.Layer = m.hidden, m.layer }

// member is the membership of what is painted now.
func (in *interp) member() membership {
	if n := len(in.marks); n > 0 {
		return in.marks[n-1]
	}
	return membership{in.within.Hidden, in.within.Layer}
}

// join begins content that belongs to a group or a membership dictionary, if o is
// one. What is hidden stays so, by the layer that hid it.
func (in *interp) join(o types.Object) {
	m, hidden := in.member(), in.w.layerOff(o)
	if layer := in.w.doc.layerOf(o); !m.hidden && (hidden || layer != 0) {
		m = membership{hidden, layer}
	}
	in.marks = append(in.marks, m)
}

func (in *interp) leave() { in.marks = in.marks[:len(in.marks)-1] }
