package plates

import (
	"fmt"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"stoneproof/checks/art/pdf/syntax"
)

// picture is an image (8.9) that is not a stencil.
type picture struct {
	sd      types.StreamDict
	w, h    int
	bits    int // per component
	space   *space
	decode  []float64
	key     []float64 // ranges of a colour key mask
	codec   string    // JPEG, JPEG 2000 or JBIG2: what the samples are still wrapped in
	masks   string    // entries for its soft or explicit mask
	tried   bool      // the samples were read, or cannot be
	codes   []byte    // samples as in the file, a byte for each component
	top     int       // of codes
	process []byte    // CMYK of an RGB or Lab picture, 255 for full ink
}

// imageKey tells images apart: by object number, or inline by where their data are.
type imageKey struct {
	object int
	data   *byte
}

// inlineImage is BI … ID … EI (8.9.7). It becomes an image like any other.
func (r *rewriter) inlineImage() {
	components := func(o types.Object) int { return r.lookup.space(o, 0).n }
	sd, _ := r.doc.InlineImage(&r.lex, &r.args, components)
	if len(sd.Raw) > 0 && r.hiding == 0 {
		r.drawImage(sd, imageKey{data: &sd.Raw[0]})
	}
}

func (r *rewriter) drawImage(sd types.StreamDict, key imageKey) {
	if r.doc.Flag(sd.Dict["ImageMask"], false) {
		r.drawStencil(sd, key)
		return
	}
	if r.uncoloured {
		return // 8.7.3.3
	}
	p := r.pictureOf(sd, key)
	if p == nil {
		r.causes.add(causePicture)
		return
	}
	// The nonzero overprint mode is not for sampled images (Table 149).
	l := r.landsIn(p.space, p.space.initial(), r.g.overprint(true), false)
	if l == spared {
		return
	}
	ref := r.platePicture(p, key, l == shielded)
	if ref == "" {
		return
	}
	if l == inked {
		l = spared // it does not use the fill colour
	}
	r.dress(l, spared)
	r.emit(r.used.name("XObject", ref), "Do")
}

// drawStencil paints the fill colour through a stencil mask (8.9.6.2).
func (r *rewriter) drawStencil(sd types.StreamDict, key imageKey) {
	l := r.lands(true)
	if l == spared {
		return
	}
	r.dress(l, spared)
	r.emit(r.used.name("XObject", r.mask(sd, key)), "Do")
}

// mask copies a stencil, or a soft or explicit mask, once.
func (r *rewriter) mask(sd types.StreamDict, key imageKey) string {
	name := fmt.Sprintf("mask %d %p", key.object, key.data)
	if had, ok := r.drawn[name]; ok {
		return had.reference
	}
	entries := "/Type/XObject/Subtype/Image"
	for _, k := range [...]string{"Width", "Height", "BitsPerComponent", "ImageMask", "Decode", "Interpolate"} {
		if v, ok := sd.Dict[k]; ok {
			entries += "/" + k + " " + r.source.Value(v)
		}
	}
	if _, ok := sd.Dict["ColorSpace"]; ok {
		entries += "/ColorSpace/DeviceGray"
	}
	if _, ok := sd.Dict["Matte"]; ok {
		r.causes.add(causeMatte)
	}
	ref := r.file.Stream(entries+r.filters(sd), sd.Raw)
	r.drawn[name] = &drawn{reference: ref}
	return ref
}

// filters writes the entries that tell how a stream is encoded.
func (r *rewriter) filters(sd types.StreamDict) string {
	if len(sd.FilterPipeline) == 0 {
		return ""
	}
	var names, parms types.Array
	for _, f := range sd.FilterPipeline {
		names = append(names, types.Name(f.Name))
		if f.DecodeParms == nil {
			parms = append(parms, nil)
		} else {
			parms = append(parms, f.DecodeParms)
		}
	}
	return "/Filter" + r.source.Value(names) + "/DecodeParms" + r.source.Value(parms)
}

// pictureOf reads an image dictionary (Table 89), once.
func (r *rewriter) pictureOf(sd types.StreamDict, key imageKey) *picture {
	if p, ok := r.pictures[key]; ok {
		return p
	}
	d := sd.Dict
	p := &picture{
		sd: sd, codec: syntax.ImageCodec(sd.FilterPipeline),
		w: r.doc.Integer(d["Width"], 0), h: r.doc.Integer(d["Height"], 0),
		bits:   r.doc.Integer(d["BitsPerComponent"], 8),
		space:  r.lookup.space(d["ColorSpace"], 0),
		decode: r.doc.Numbers(d["Decode"], syntax.Few),
	}
	const most = 1 << 16
	if p.w <= 0 || p.h <= 0 || p.w > most || p.h > most || p.space.n == 0 || p.bits < 1 || p.bits > 16 || p.space.family == pattern {
		p = nil
	} else {
		p.takeMasks(r)
	}
	r.pictures[key] = p
	return p
}

// takeMasks reads how the picture is masked; SMask wins over Mask (Table 89).
func (p *picture) takeMasks(r *rewriter) {
	for _, k := range [...]string{"SMask", "Mask"} {
		o := p.sd.Dict[k]
		if sd, ok := r.doc.Get(o).(types.StreamDict); ok {
			p.masks = "/" + k + " " + r.mask(sd, imageKey{object: syntax.ObjectNumber(o)})
			return
		}
	}
	if v := r.doc.Numbers(p.sd.Dict["Mask"], syntax.Few); len(v) >= 2*p.space.n {
		p.key = v
	}
}

// range of component k, from the Decode array or else the space's own (Table 90).
func (p *picture) component(k int) (lo, hi float64) {
	switch {
	case 2*k+1 < len(p.decode):
		return p.decode[2*k], p.decode[2*k+1]
	case p.space.family == indexed:
		return 0, float64(int(1)<<p.bits - 1)
	}
	return p.space.component(k)
}
