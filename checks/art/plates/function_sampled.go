package plates

import (
	"math"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"stoneproof/checks/art/pdf/syntax"
)

// samples is the table of a sampled function (7.10.2).
type samples struct {
	size           []int
	outputs, bits  int
	encode, decode []float64
	domain         []float64
	data           []byte
}

// sampled is type 0: a table, with straight lines between its points.
func (j *separation) sampled(o types.Object, d types.Dict, domain, span []float64) function {
	s := samples{
		outputs: len(span) / 2, bits: j.doc.Integer(d["BitsPerSample"], 0), domain: domain,
		encode: j.doc.Numbers(d["Encode"], syntax.Few), decode: j.doc.Numbers(d["Decode"], syntax.Few),
	}
	total := 1
	for _, n := range j.doc.Numbers(d["Size"], mostInputs) {
		if n < 1 || n > 1<<16 || total > 1<<24 {
			return nil
		}
		s.size = append(s.size, int(n))
		total *= int(n)
	}
	if len(s.decode) != len(span) {
		s.decode = span
	}
	if len(s.encode) != len(domain) {
		s.encode = nil
		for _, n := range s.size {
			s.encode = append(s.encode, 0, float64(n-1))
		}
	}
	if s.outputs == 0 || len(s.size) != len(domain)/2 || s.bits < 1 || s.bits > 32 {
		return nil
	}
	s.data = j.content(o)
	if int64(len(s.data))*8 < int64(total)*int64(s.outputs)*int64(s.bits) {
		return nil
	}
	return s.at
}

// at mixes the corners of the cell that the input lies in.
func (s samples) at(in []float64) []float64 {
	m := len(s.size)
	var low [mostInputs]int
	var part [mostInputs]float64
	for i, n := range s.size {
		x := between(in[i], s.domain[2*i], s.domain[2*i+1], s.encode[2*i], s.encode[2*i+1])
		x = math.Max(0, math.Min(float64(n-1), x))
		low[i] = min(int(x), max(0, n-2))
		part[i] = x - float64(low[i])
	}
	out := make([]float64, s.outputs)
	for corner := range 1 << m {
		weight, index, step := 1.0, 0, 1
		for i, n := range s.size {
			if corner>>i&1 == 1 {
				weight *= part[i]
				index += min(low[i]+1, n-1) * step
			} else {
				weight *= 1 - part[i]
				index += low[i] * step
			}
			step *= n
		}
		if weight > 0 {
			s.addTo(out, index, weight)
		}
	}
	return out
}

func (s samples) addTo(out []float64, index int, weight float64) {
	full := float64(uint64(1)<<s.bits - 1)
	for k := range out {
		v := bitsAt(s.data, (index*s.outputs+k)*s.bits, s.bits)
		out[k] += weight * between(float64(v), 0, full, s.decode[2*k], s.decode[2*k+1])
	}
}

// bitsAt reads n bits, the most significant first; past the end they are 0.
func bitsAt(b []byte, at, n int) uint64 {
	var v uint64
	for i := at; i < at+n; i++ {
		v <<= 1
		if i>>3 < len(b) {
			v |= uint64(b[i>>3]>>(7-i&7)) & 1
		}
	}
	return v
}
