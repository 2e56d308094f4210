package pdf

import (
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"stoneproof/checks/art/pdf/syntax"
)

// mostFunctions is how many functions a space or a gradient can need: one for
// each component.
const mostFunctions = syntax.MaxColorants

// meter holds the calculator functions (7.10.5) below o against their ceiling: a
// renderer runs one for every pixel of a gradient. An array of functions, and
// those that a stitching function (7.10.4) joins, count each.
func (w *walker) meter(o types.Object, depth int) {
	if depth > 3 {
		return
	}
	if list := w.doc.Array(o); list != nil {
		for _, f := range list[:min(len(list), mostFunctions)] {
			w.meter(f, depth+1)
		}
		return
	}
	d := w.doc.Dict(o)
	switch w.doc.Integer(d["FunctionType"], 0) {
	case 3:
		w.meter(d["Functions"], depth+1)
	case 4:
		most := int64(w.doc.lim.FunctionBytes)
		if b, err := w.doc.StreamBytes(o, most+1); err != nil || int64(len(b)) > most {
			w.truncate("a function of a gradient or an ink is over %d bytes long", most)
		}
	}
}
