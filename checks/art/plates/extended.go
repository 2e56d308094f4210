package plates

import (
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"stoneproof/checks/art/pdf/write"
)

// setGraphics applies a graphics state parameter dictionary (8.4.5). What decides
// about ink is kept in the state; the rest is written on.
func (r *rewriter) setGraphics() {
	name, _ := r.args.Name()
	o, ok := r.doc.Find(r.res, "ExtGState", name)
	d := r.doc.Dict(o)
	if !ok || d == nil {
		r.causes.add(causeMissing)
		return
	}
	entries := ""
	for _, key := range [...]string{"LW", "LC", "LJ", "ML", "D", "FL", "SA", "AIS", "TK"} {
		if v, ok := d[key]; ok {
			entries += "/" + key + " " + r.source.Value(v)
		}
	}
	r.setOverprint(d)
	r.setTransfer(d)
	if font := r.doc.Array(d["Font"]); len(font) == 2 {
		r.useFont(font[0], string(write.AppendNumber(nil, r.doc.NumberOr(font[1], 1))))
	}
	g := &r.g
	g.strokeAlpha = unit(r.doc.NumberOr(d["CA"], g.strokeAlpha))
	g.fillAlpha = unit(r.doc.NumberOr(d["ca"], g.fillAlpha))
	if mode, ok := d["BM"]; ok {
		g.blend, _ = r.doc.BlendMode(mode)
	}
	if mask, ok := d["SMask"]; ok {
		entries += "/SMask" + r.softMask(mask)
	}
	if entries != "" {
		r.emit(r.used.name("ExtGState", "<<"+entries+">>"), "gs")
	}
}

// setOverprint: OP sets both unless op is there too (Table 58).
func (r *rewriter) setOverprint(d types.Dict) {
	g := &r.g
	if o, ok := d["OP"]; ok {
		g.strokeOver = r.doc.Flag(o, false)
		g.fillOver = g.strokeOver
	}
	if o, ok := d["op"]; ok {
		g.fillOver = r.doc.Flag(o, false)
	}
	if o, ok := d["OPM"]; ok {
		g.overMode = r.doc.Integer(o, 0)
	}
}

// setTransfer passes over what would bend the tones of plates (10.5, 10.6).
func (r *rewriter) setTransfer(d types.Dict) {
	for _, key := range [...]string{"TR2", "TR"} {
		o, ok := d[key]
		if !ok {
			continue
		}
		if n := r.doc.Name(o); n != "Identity" && n != "Default" {
			r.causes.add(causeTransfer)
		}
		break // TR2 wins over TR (Table 58)
	}
	halftone := r.doc.Dict(d["HT"])
	if o, ok := halftone["TransferFunction"]; ok && r.doc.Name(o) != "Identity" {
		r.causes.add(causeHalftone)
	}
}

// blendMode is the mode for this plate. A spot colour takes part in no mode that
// mixes colorants or turns bare paper into ink (11.7.4.2).
func (r *rewriter) blendMode() string {
	n := r.g.blend
	switch n {
	case "Hue", "Saturation", "Color", "Luminosity":
		r.causes.add(causeBlend + n)
	case "Difference", "Exclusion":
	default:
		return n
	}
	if r.plate.process == notProcess && !r.plate.mask {
		return normal
	}
	return n
}
