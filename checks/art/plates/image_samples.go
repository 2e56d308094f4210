package plates

import (
	"github.com/pdfcpu/pdfcpu/pkg/filter"

	"stoneproof/checks/art/pdf/syntax"
)

// raw gives the data with all filters undone but the codec.
func (p *picture) raw(most int64) ([]byte, error) { return syntax.Decode(p.sd, most) }

func (p *picture) rowBytes() int { return (p.w*p.space.n*p.bits + 7) / 8 }

// readCodes reads the samples, once for all plates.
func (r *rewriter) readCodes(p *picture) bool {
	if p.codes != nil || p.tried {
		return p.codes != nil
	}
	p.tried = true
	n := p.space.n
	need := int64(p.w) * int64(p.h) * int64(n+4+3) // codes, estimated inks, RGB on the way
	if need > r.held {
		r.causes.add(causeMuch)
		return false
	}
	switch p.codec {
	case filter.DCT:
		if err := p.readJPEG(r.doc, r.held); err != nil {
			r.causes.add(causePicture)
			return false
		}
	case "":
		b, err := p.raw(r.held)
		if err != nil || len(b) < p.rowBytes()*p.h {
			r.causes.add(causeCut)
		}
		p.unpack(b)
	default:
		r.causes.add(causeCodec + p.codec)
		return false
	}
	r.held -= need
	return true
}

// unpack makes a byte of each sample; of 16 bits the upper byte is enough. What is
// missing is 0.
func (p *picture) unpack(b []byte) {
	n, row := p.w*p.space.n, p.rowBytes()
	full := make([]byte, row*p.h)
	copy(full, b)
	switch p.bits {
	case 8:
		p.codes, p.top = full, 255
		return
	case 16:
		p.top = 255
	default:
		p.top = 1<<min(p.bits, 8) - 1
	}
	p.codes = make([]byte, n*p.h)
	for y := range p.h {
		line := full[y*row : (y+1)*row]
		for x := range n {
			v := bitsAt(line, x*p.bits, p.bits)
			p.codes[y*n+x] = byte(v >> max(0, p.bits-8))
		}
	}
}
