package plates

import (
	"fmt"
	"math"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"stoneproof/checks/art/pdf/syntax"
	"stoneproof/checks/art/pdf/write"
)

// shading is a shading (8.7.4.5) before it is turned into grey.
type shading struct {
	object types.Object
	dict   types.Dict
	kind   int // ShadingType
	space  *space
	f      function  // from the parameter to a colour; nil where the mesh has colours itself
	domain []float64 // of f
}

// shadingOf reads a shading; nil where that cannot be done.
func (r *rewriter) shadingOf(o types.Object) *shading {
	d := r.doc.Dict(o)
	s := &shading{object: o, dict: d, kind: r.doc.Integer(d["ShadingType"], 0), space: r.lookup.space(d["ColorSpace"], 0)}
	inputs := 1
	switch {
	case d == nil || s.kind < 1 || s.kind > 7 || s.space.family == pattern:
		r.causes.add(causeShading)
		return nil
	case s.kind == 1:
		inputs = 2
		s.domain = r.doc.Numbers(d["Domain"], 4)
	case s.kind <= 3:
		s.domain = r.doc.Numbers(d["Domain"], 2)
	default:
		if v := r.doc.Numbers(d["Decode"], syntax.Few); len(v) >= 6 {
			s.domain = v[4:6]
		}
	}
	if len(s.domain) != 2*inputs {
		s.domain = []float64{0, 1, 0, 1}[:2*inputs]
	}
	fo, given := d["Function"]
	if s.f = r.functionAt(fo, 0); s.f == nil && (given || s.kind < 4) {
		r.causes.add(causeFunction)
		return nil
	}
	return s
}

// paintShading is the sh operator (8.7.4.2).
func (r *rewriter) paintShading() {
	name, _ := r.args.Name()
	o, ok := r.doc.Find(r.res, "Shading", name)
	if !ok {
		r.causes.add(causeMissing)
		return
	}
	if r.uncoloured || r.hiding > 0 {
		return
	}
	s := r.shadingOf(o)
	if s == nil {
		return
	}
	// Colours of a shading are computed: the nonzero overprint mode is not for them.
	switch r.landsIn(s.space, s.space.initial(), r.g.overprint(true), false) {
	case shielded:
		r.causes.add(causeOverShade)
	case inked:
		r.dress(spared, spared)
		r.emit(r.used.name("Shading", r.greyShading(s)), "sh")
	}
}

// greyShading writes the shading with colours turned into greys, and gives a
// value for the resources.
func (r *rewriter) greyShading(s *shading) string {
	key := fmt.Sprint("shading", syntax.ObjectNumber(s.object), s.space.key(), r.plate)
	if had, ok := r.drawn[key]; ok && syntax.ObjectNumber(s.object) != 0 {
		return had.reference
	}
	entries := fmt.Sprintf("/ShadingType %d/ColorSpace/DeviceGray", s.kind)
	for _, k := range [...]string{"BBox", "AntiAlias", "Coords", "Domain", "Extend", "Matrix", "BitsPerCoordinate", "BitsPerComponent", "BitsPerFlag", "VerticesPerRow"} {
		if v, ok := s.dict[k]; ok {
			entries += "/" + k + " " + r.source.Value(v)
		}
	}
	if v := r.doc.Numbers(s.dict["Background"], syntax.MaxColorants); v != nil {
		entries += fmt.Sprintf("/Background[%.5f]", r.lightness(s.space, v))
	}
	if s.f != nil {
		entries += "/Function " + r.greyFunction(s)
	}
	ref := ""
	switch {
	case s.kind < 4:
		ref = r.file.Add("<<" + entries + ">>")
	case s.f != nil:
		ref = r.file.Stream(entries+"/Decode "+r.source.Value(s.dict["Decode"]), r.content(s.object))
	default:
		decode, data := r.greyMesh(s)
		ref = r.file.Stream(entries+"/Decode "+decode, data)
	}
	r.drawn[key] = &drawn{reference: ref}
	return ref
}

// greyFunction writes a table of the greys along the parameter. Renderers step a
// shading more coarsely.
func (r *rewriter) greyFunction(s *shading) string {
	size := []int{1024}
	if s.kind == 1 {
		size = []int{128, 128}
	}
	r.afford(1024)
	total := 1
	for _, n := range size {
		total *= n
	}
	data := make([]byte, 0, 2*total)
	in := make([]float64, len(size))
	for i := range total {
		at := i
		for k, n := range size {
			u := float64(at%n) / float64(n-1)
			if s.kind == 2 || s.kind == 3 {
				u = min(1, midStep(u))
			}
			in[k] = between(u, 0, 1, s.domain[2*k], s.domain[2*k+1])
			at /= n
		}
		v := uint16(math.Round(65535 * r.lightness(s.space, s.f(in))))
		data = append(data, byte(v>>8), byte(v))
	}
	sizes := make([]float64, len(size))
	for k, n := range size {
		sizes[k] = float64(n)
	}
	return r.file.Stream("/FunctionType 0/BitsPerSample 16/Range[0 1]/Domain"+write.Numbers(s.domain...)+"/Size"+write.Numbers(sizes...), data)
}

// midStep makes up for the steps in which the renderer paints axial and radial
// shadings: what lies between i/255 and (i+1)/255 of the way gets the colour of
// i/256, and should get that of the middle. Without it such plates are 0.4 per cent
// off (measured).
func midStep(u float64) float64 { return (256*u + 0.5) / 255 }
