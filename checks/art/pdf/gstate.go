package pdf

import (
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"stoneproof/checks/art/pdf/syntax"
)

// gstate is the graphics state (8.4) as far as it changes where paint lands, how
// large, and in which colour. Its matrix leads straight to display space.
type gstate struct {
	Look
	ctm       Matrix
	clip      Rect // bounds of the clip, in display space
	shaped    bool // the clip is not the whole of its bounds
	lineWidth float64
	lineCap   int
	lineJoin  int
	miter     float64
	dashed    bool
	text      textState
	softGroup int // object number of the soft mask's group, to walk it once
}

// textState is what 9.3 keeps between text objects.
type textState struct {
	font       *Font
	size       float64
	charSpace  float64
	wordSpace  float64
	horizontal float64 // Tz as a factor
	leading    float64
	rise       float64
	mode       int
}

func startState(ctm Matrix, clip Rect, gray *Space) gstate {
	black := Colour{Space: gray, Values: []float64{0}}
	return gstate{
		Look: Look{Fill: black, Stroke: black, FillAlpha: 1, StrokeAlpha: 1, Blend: "Normal"},
		ctm:  ctm, clip: clip, lineWidth: 1, miter: 10,
		text: textState{horizontal: 1},
	}
}

// setExtended applies a graphics state parameter dictionary (8.4.5).
func (in *interp) setExtended(name string) {
	w := in.w
	o, ok := w.doc.Find(in.sc.res, "ExtGState", name)
	d := w.doc.Dict(o)
	if !ok || d == nil {
		w.note("the graphics state %q is not among the resources", name)
		return
	}
	for _, key := range [...]string{"LW", "LC", "LJ", "ML", "D", "Font", "CA", "ca", "BM", "OP", "op", "OPM", "SMask"} {
		if o, ok := d[key]; ok {
			in.setParameter(key, o)
		}
	}
}

func (in *interp) setParameter(key string, o types.Object) {
	doc, gs := in.w.doc, &in.gs
	switch key {
	case "LW":
		gs.lineWidth = doc.NumberOr(o, gs.lineWidth)
	case "LC":
		gs.lineCap = doc.Integer(o, gs.lineCap)
	case "LJ":
		gs.lineJoin = doc.Integer(o, gs.lineJoin)
	case "ML":
		gs.miter = doc.NumberOr(o, gs.miter)
	case "D":
		if a := doc.Array(o); len(a) > 0 {
			gs.dashed = len(doc.Array(a[0])) > 0
		}
	case "Font":
		if a := doc.Array(o); len(a) == 2 {
			gs.text.font = in.w.fontAt(in.sc, a[0], "")
			gs.text.size = doc.NumberOr(a[1], gs.text.size)
		}
	case "CA":
		gs.StrokeAlpha = unit(doc.NumberOr(o, 1))
	case "ca":
		gs.FillAlpha = unit(doc.NumberOr(o, 1))
	case "BM":
		gs.Blend = in.w.blendMode(o)
	case "OP":
		gs.StrokeOverprint = doc.Flag(o, false)
		gs.FillOverprint = gs.StrokeOverprint // until op, which comes next, says otherwise (Table 58)
	case "op":
		gs.FillOverprint = doc.Flag(o, false)
	case "OPM":
		gs.OverprintMode = doc.Integer(o, 0)
	case "SMask":
		in.setSoftMask(o)
	}
}

func unit(v float64) float64 { return max(0, min(1, v)) }

func (w *walker) blendMode(o types.Object) string {
	mode, known := w.doc.BlendMode(o)
	if !known {
		w.note("a blend mode is unknown, so Normal is assumed")
	}
	return mode
}

// setSoftMask notes the mask and walks its group, whose images and paint may
// matter too. The group lives in the coordinates of this moment but else starts
// anew (11.6.5.2).
func (in *interp) setSoftMask(o types.Object) {
	d := in.w.doc.Dict(o)
	if d == nil {
		in.gs.SoftMask, in.gs.softGroup = false, 0
		return
	}
	in.gs.SoftMask = true
	group := syntax.ObjectNumber(d["G"])
	if group != 0 && group == in.gs.softGroup {
		return
	}
	in.gs.softGroup = group
	s := in.w.streamAt(d["G"], in.sc)
	if s == nil {
		in.w.note("a soft mask has no group")
		return
	}
	in.draw(s, func(sub *interp) {
		sub.gs = startState(sub.gs.ctm, in.gs.clip, in.w.deviceIn(s.scope, DeviceGray, 0))
		sub.gs.shaped = in.gs.shaped
		sub.group, sub.within.InMask, sub.uncoloured = noGroup(), true, false
	})
}
