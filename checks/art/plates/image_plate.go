package plates

import (
	"fmt"
	"math"

	"github.com/pdfcpu/pdfcpu/pkg/filter"

	"stoneproof/checks/art/pdf/write"
)

// platePicture writes the picture for this plate and gives a reference, "" where it
// cannot be. A blank picture has its shape alone and takes no ink.
func (r *rewriter) platePicture(p *picture, key imageKey, blank bool) string {
	name := fmt.Sprintf("picture %d %p %v %v", key.object, key.data, r.plate, blank)
	if had, ok := r.drawn[name]; ok {
		return had.reference
	}
	ref := r.writePicture(p, blank)
	r.drawn[name] = &drawn{reference: ref}
	return ref
}

func (r *rewriter) writePicture(p *picture, blank bool) string {
	_, named := p.space.ink(p.space.initial(), r.plate)
	grayElsewhere := p.space.family == gray && r.plate.process != black && !r.plate.mask
	switch {
	case p.key == nil && (blank || !named || grayElsewhere):
		return r.file.Stream("/Type/XObject/Subtype/Image/Width 1/Height 1/BitsPerComponent 8/ColorSpace/DeviceGray"+p.masks, []byte{255})
	case p.space.n == 1 && (p.codec == "" || p.space.family != indexed || p.bits == 1):
		return r.passPicture(p, blank)
	}
	if !r.readCodes(p) {
		return ""
	}
	return r.samplePicture(p, blank)
}

// head writes the entries that all plates of the picture share.
func (p *picture) head(bits int) string {
	return fmt.Sprintf("/Type/XObject/Subtype/Image/Width %d/Height %d/BitsPerComponent %d%s", p.w, p.h, bits, p.masks)
}

// passPicture leaves the data of a picture of one component as they are: only what
// they mean is changed, by a Decode array or a table.
func (r *rewriter) passPicture(p *picture, blank bool) string {
	r.check(p)
	grey := func(v float64) float64 {
		if blank {
			return 1
		}
		return r.lightness(p.space, []float64{v})
	}
	lo, hi := p.component(0)
	entries := p.head(p.bits) + r.filters(p.sd)
	if p.key != nil {
		entries += "/Mask" + write.Numbers(p.key...)
	}
	if p.space.family != indexed || p.bits == 1 {
		entries += "/ColorSpace/DeviceGray/Decode" + write.Numbers(grey(lo), grey(hi))
		return r.file.Stream(entries, p.sd.Raw)
	}
	top := 1<<min(p.bits, 8) - 1
	table := make([]byte, top+1)
	for i := range table {
		table[i] = eight(grey(math.Round(between(float64(i), 0, float64(top), lo, hi))))
	}
	entries += fmt.Sprintf("/ColorSpace[/Indexed/DeviceGray %d<%x>]", top, table)
	return r.file.Stream(entries, p.sd.Raw)
}

// check takes note of what the renderer would pass over in silence.
func (r *rewriter) check(p *picture) {
	if p.tried {
		return
	}
	p.tried = true
	switch {
	case p.codec == filter.DCT:
		if n, err := p.jpegComponents(r.held); err != nil || n != 1 {
			r.causes.add(causePicture)
		}
	case p.codec == "" && !p.is(filter.CCITTFax):
		if b, err := p.raw(r.held); err != nil || len(b) < p.rowBytes()*p.h {
			r.causes.add(causeCut)
		}
	}
}

func (p *picture) is(name string) bool {
	n := len(p.sd.FilterPipeline)
	return n > 0 && p.sd.FilterPipeline[n-1].Name == name
}

// samplePicture writes a picture from its samples.
func (r *rewriter) samplePicture(p *picture, blank bool) string {
	data := make([]byte, p.w*p.h)
	switch {
	case blank:
		for i := range data {
			data[i] = 255
		}
	default:
		r.plane(data, p)
	}
	entries := p.head(8) + "/ColorSpace/DeviceGray"
	if p.key != nil {
		entries += "/Mask " + r.keyMask(p)
	}
	return r.file.Stream(entries, data)
}

// plane fills in the grey of each pixel.
func (r *rewriter) plane(dst []byte, p *picture) {
	s, n := p.space, p.space.n
	component := notProcess
	switch {
	case r.plate.mask:
	case s.family == cmyk:
		component = r.plate.process
	case s.family == inks:
		for i, name := range s.names {
			if name == r.plate.name {
				component = i
				break
			}
		}
	case s.family == rgb || s.family == lab:
		r.toProcess(p)
		for i := range dst {
			dst[i] = 255 - p.process[4*i+r.plate.process]
		}
		return
	}
	if component != notProcess {
		table := p.table(component, func(v float64) float64 { return 1 - unit(v) })
		for i := range dst {
			dst[i] = table[p.codes[n*i+component]]
		}
		return
	}
	r.eachPixel(p, func(i int, v []float64) { dst[i] = eight(r.lightness(s, v)) })
}

// table gives f of a component for each code.
func (p *picture) table(component int, f func(float64) float64) (t [256]byte) {
	lo, hi := p.component(component)
	for c := range t {
		t[c] = eight(f(between(math.Min(float64(c), float64(p.top)), 0, float64(p.top), lo, hi)))
	}
	return t
}

// eachPixel calls f with the colour of each pixel. The slice is used again.
func (r *rewriter) eachPixel(p *picture, f func(i int, v []float64)) {
	n := p.space.n
	v := make([]float64, n)
	for i := range p.w * p.h {
		for k := range v {
			lo, hi := p.component(k)
			v[k] = between(float64(p.codes[n*i+k]), 0, float64(p.top), lo, hi)
		}
		f(i, v)
	}
}

// toProcess estimates the CMYK of an RGB or Lab picture, once for all plates.
func (r *rewriter) toProcess(p *picture) {
	if p.process != nil {
		return
	}
	rgb := make([]byte, 3*p.w*p.h)
	r.eachPixel(p, func(i int, v []float64) {
		red, green, blue := v[0], v[1], v[2]
		if p.space.family == lab {
			red, green, blue = labToRGB(v[0], v[1], v[2])
		}
		rgb[3*i], rgb[3*i+1], rgb[3*i+2] = eight(red), eight(green), eight(blue)
	})
	p.process = make([]byte, 4*p.w*p.h)
	if r.estimate != nil {
		r.estimate(p.process, rgb)
		return
	}
	for i := range p.w * p.h {
		k := 255 - max(rgb[3*i], rgb[3*i+1], rgb[3*i+2])
		for c := range 3 {
			p.process[4*i+c] = 255 - rgb[3*i+c] - k
		}
		p.process[4*i+3] = k
	}
}

// keyMask makes a stencil of the pixels that the colour key masks out (8.9.6.4).
func (r *rewriter) keyMask(p *picture) string {
	row, n := (p.w+7)/8, p.space.n
	data := make([]byte, row*p.h)
	shift := max(0, p.bits-8)
	for i := range p.w * p.h {
		masked := true
		for k := 0; k < n && masked; k++ {
			c := int(p.codes[n*i+k])
			masked = c >= int(p.key[2*k])>>shift && c <= int(p.key[2*k+1])>>shift
		}
		if masked {
			data[i/p.w*row+i%p.w/8] |= 0x80 >> (i % p.w & 7)
		}
	}
	return r.file.Stream(fmt.Sprintf("/Type/XObject/Subtype/Image/ImageMask true/Width %d/Height %d/BitsPerComponent 1", p.w, p.h), data)
}
