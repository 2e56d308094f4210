package plates

import (
	"math"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"stoneproof/checks/art/pdf"
)

// filling is a pattern used as a colour (8.7).
type filling struct {
	object   types.Object
	dict     types.Dict
	coloured bool     // a tile with colours of its own
	shading  *shading // nil for a tile
	base     pdf.Matrix
}

// filling looks up a pattern of the resources; nil where it cannot be used.
func (r *rewriter) filling(name string) *filling {
	o, _ := r.doc.Find(r.res, "Pattern", name)
	d := r.doc.Dict(o)
	if d == nil {
		r.causes.add(causeMissing)
		return nil
	}
	f := &filling{object: o, dict: d, base: r.start}
	if r.doc.Integer(d["PatternType"], 1) == 2 {
		if f.shading = r.shadingOf(d["Shading"]); f.shading == nil {
			return nil
		}
		return f
	}
	f.coloured = r.doc.Integer(d["PaintType"], 1) == 1
	if r.tiles(f) > float64(r.limits.Tiles) {
		r.causes.add(causeTile)
		return nil
	}
	return f
}

// tiles is how many of the tile it takes to cover the page. A pattern's matrix
// hangs on the start of the stream, not on the present one (8.7.2).
func (r *rewriter) tiles(f *filling) float64 {
	m := r.matrix(f.dict["Matrix"]).Mul(f.base)
	area := math.Abs(m[0]*m[3]-m[1]*m[2]) * math.Abs(r.doc.NumberOr(f.dict["XStep"], 0)*r.doc.NumberOr(f.dict["YStep"], 0))
	if !(area > 0) {
		return math.Inf(1)
	}
	return r.page.Media.W() * r.page.Media.H() / area
}

// patternFor writes the pattern of a colour, as a value for the resources.
func (r *rewriter) patternFor(c colour) string {
	p := c.pattern
	if p.shading != nil {
		return r.shadingPattern(p)
	}
	in := r.within
	in.isolated, in.rgbBlend = false, r.rgbBlend
	if !p.coloured {
		in.plate, in.uncoloured = plate{}, true // it is the same on all plates
	}
	if ref := r.stream(p.object, startState(r.matrix(p.dict["Matrix"]).Mul(p.base)), "tile", in); ref != "" {
		return ref
	}
	return "null"
}

// shadingPattern keeps the pattern's place and graphics state.
func (r *rewriter) shadingPattern(p *filling) string {
	value := "<</PatternType 2/Shading " + r.greyShading(p.shading)
	if m, ok := p.dict["Matrix"]; ok {
		value += "/Matrix" + r.source.Value(m)
	}
	return value + ">>"
}
