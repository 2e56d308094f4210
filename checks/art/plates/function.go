package plates

import (
	"math"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"stoneproof/checks/art/pdf/syntax"
)

// A function maps numbers to numbers (7.10). The slice that it returns is the
// caller's.
type function func(in []float64) []float64

const (
	mostNested    = 8  // functions in stitching functions
	mostInputs    = 4  // of a sampled function: the corners of a cell double with each
	mostFunctions = 64 // in a stitching function or an array
)

// functionAt reads a function, or an array of them with one output each. It gives
// nil for what is none.
func (j *separation) functionAt(o types.Object, depth int) function {
	if depth > mostNested {
		return nil
	}
	if list, ok := j.doc.Get(o).(types.Array); ok {
		return j.together(list, depth)
	}
	d := j.doc.Dict(o)
	domain, span := j.doc.Numbers(d["Domain"], syntax.Few), j.doc.Numbers(d["Range"], syntax.Few)
	if len(domain) < 2 || len(domain)%2 != 0 || len(span)%2 != 0 {
		return nil
	}
	var f function
	switch j.doc.Integer(d["FunctionType"], -1) {
	case 0:
		f = j.sampled(o, d, domain, span)
	case 2:
		f = j.exponential(d)
	case 3:
		f = j.stitched(d, domain, depth)
	case 4:
		f = j.calculator(o, len(span)/2)
	}
	if f == nil {
		return nil
	}
	return func(in []float64) []float64 {
		arg := make([]float64, len(domain)/2)
		copy(arg, in)
		clip(arg, domain)
		out := f(arg)
		clip(out, span)
		return out
	}
}

// clip holds each number within its pair of bounds.
func clip(v, bounds []float64) {
	for i := range v {
		if math.IsNaN(v[i]) {
			v[i] = 0
		}
		if 2*i+1 < len(bounds) {
			v[i] = math.Max(bounds[2*i], math.Min(bounds[2*i+1], v[i]))
		}
	}
}

func (j *separation) together(list types.Array, depth int) function {
	var parts []function
	for _, o := range list {
		f := j.functionAt(o, depth+1)
		if f == nil || len(parts) == mostFunctions {
			return nil
		}
		parts = append(parts, f)
	}
	if len(parts) == 0 {
		return nil
	}
	return func(in []float64) []float64 {
		var out []float64
		for _, f := range parts {
			out = append(out, f(in)...)
		}
		return out
	}
}

// exponential is type 2 (7.10.3).
func (j *separation) exponential(d types.Dict) function {
	c0, c1 := j.doc.Numbers(d["C0"], syntax.Few), j.doc.Numbers(d["C1"], syntax.Few)
	if c0 == nil {
		c0 = []float64{0}
	}
	if c1 == nil {
		c1 = []float64{1}
	}
	n := j.doc.NumberOr(d["N"], 1)
	if len(c0) != len(c1) {
		return nil
	}
	return func(in []float64) []float64 {
		x := math.Pow(in[0], n)
		out := make([]float64, len(c0))
		for i := range out {
			out[i] = c0[i] + x*(c1[i]-c0[i])
		}
		return out
	}
}

// stitched is type 3 (7.10.4).
func (j *separation) stitched(d types.Dict, domain []float64, depth int) function {
	list := j.doc.Array(d["Functions"])
	k := len(list)
	bounds, encode := j.doc.Numbers(d["Bounds"], mostFunctions), j.doc.Numbers(d["Encode"], 2*mostFunctions)
	if k == 0 || k > mostFunctions || len(bounds) != k-1 || len(encode) < 2*k {
		return nil
	}
	parts := make([]function, k)
	for i, o := range list {
		if parts[i] = j.functionAt(o, depth+1); parts[i] == nil {
			return nil
		}
	}
	edges := append(append([]float64{domain[0]}, bounds...), domain[1])
	return func(in []float64) []float64 {
		i := 0
		for i < k-1 && in[0] >= bounds[i] {
			i++
		}
		return parts[i]([]float64{between(in[0], edges[i], edges[i+1], encode[2*i], encode[2*i+1])})
	}
}

// between maps x from one interval to another.
func between(x, x0, x1, y0, y1 float64) float64 {
	if x1 == x0 {
		return y0
	}
	return y0 + (x-x0)*(y1-y0)/(x1-x0)
}
