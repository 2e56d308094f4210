package plates

import (
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"stoneproof/checks/art/pdf/syntax"
)

func colourOperators(t map[string]operator) {
	for op, name := range map[string]types.Name{"g": "DeviceGray", "rg": "DeviceRGB", "k": "DeviceCMYK"} {
		t[op] = func(r *rewriter) { r.setDevice(&r.g.fill, name) }
	}
	for op, name := range map[string]types.Name{"G": "DeviceGray", "RG": "DeviceRGB", "K": "DeviceCMYK"} {
		t[op] = func(r *rewriter) { r.setDevice(&r.g.stroke, name) }
	}
	t["cs"] = func(r *rewriter) { r.setSpace(&r.g.fill) }
	t["CS"] = func(r *rewriter) { r.setSpace(&r.g.stroke) }
	t["sc"] = func(r *rewriter) { r.setColour(&r.g.fill) }
	t["SC"] = func(r *rewriter) { r.setColour(&r.g.stroke) }
	t["scn"], t["SCN"] = t["sc"], t["SC"]
}

// Where colours come from outside, colour operators are ignored (8.7.3.3).

func (r *rewriter) setDevice(c *colour, name types.Name) {
	s := r.lookup.space(name, 0)
	if v, ok := r.args.Numbers(s.n); ok && !r.uncoloured {
		*c = colour{space: s, v: append([]float64(nil), v[:s.n]...)}
	}
}

func (r *rewriter) setSpace(c *colour) {
	if name, ok := r.args.Name(); ok && !r.uncoloured {
		s := r.lookup.byName(name, 0)
		*c = colour{space: s, v: s.initial()}
	}
}

// setColour takes as many numbers as the space has components, and the name of a
// pattern after them where the space is one.
func (r *rewriter) setColour(c *colour) {
	if r.uncoloured {
		return
	}
	v := make([]float64, 0, c.space.n)
	for _, t := range r.args.List {
		if t.Kind == syntax.Number && len(v) < c.space.n {
			v = append(v, t.Num)
		}
	}
	v = append(v, make([]float64, c.space.n-len(v))...)
	next := colour{space: c.space, v: v}
	if name, ok := r.args.Name(); ok && c.space.family == pattern {
		next.pattern = r.filling(name)
	}
	*c = next
}
