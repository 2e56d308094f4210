package plates

import (
	"fmt"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// softMask writes the mask for a graphics state. The group that makes it lives in
// the coordinates of this moment, but else starts anew (11.6.5.2); it has no ink,
// only brightness.
func (r *rewriter) softMask(o types.Object) string {
	d := r.doc.Dict(o)
	if d == nil {
		r.g.masked = false
		return "/None"
	}
	r.g.masked = true
	sd, ok := r.doc.Get(d["G"]).(types.StreamDict)
	if !ok {
		r.causes.add(causeMissing)
		return "/None"
	}
	group := r.stream(d["G"], startState(r.matrix(sd.Dict["Matrix"]).Mul(r.g.ctm)), "mask",
		within{plate: maskPlate(), depth: r.depth, drawing: r.drawing})
	if group == "" {
		return "/None"
	}
	mask := "<</S/" + map[bool]string{true: "Alpha", false: "Luminosity"}[r.doc.Name(d["S"]) == "Alpha"] + "/G " + group
	if bc := r.doc.Numbers(d["BC"], 4); bc != nil {
		s := r.lookup.space(r.doc.Dict(sd.Dict["Group"])["CS"], 0)
		if len(bc) == s.n {
			mask += fmt.Sprintf("/BC[%.5f]", s.brightness(bc))
		}
	}
	if tr, ok := d["TR"]; ok && r.doc.Name(tr) != "Identity" {
		mask += "/TR " + r.source.Value(tr)
	}
	return mask + ">>"
}
