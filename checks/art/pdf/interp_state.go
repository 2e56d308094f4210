package pdf

import "stoneproof/checks/art/pdf/syntax"

// operatorTable lists the operators of Annex A.
func operatorTable() map[string]func(*interp) {
	t := map[string]func(*interp){
		"q": (*interp).save, "Q": (*interp).restore, "cm": (*interp).concat,
		"w": (*interp).setLineWidth, "J": (*interp).setCap, "j": (*interp).setJoin, "M": (*interp).setMiter,
		"d": (*interp).setDash, "gs": (*interp).setGraphics, "ri": nothing, "i": nothing,

		"Do": (*interp).drawObject, "sh": (*interp).paintShading, "BI": (*interp).inlineImage,
		"ID": nothing, "EI": nothing,

		"BMC": (*interp).beginMarked, "BDC": (*interp).beginMarked, "EMC": (*interp).endMarked,
		"MP": nothing, "DP": nothing, "BX": nothing, "EX": nothing,
		"d0": nothing, "d1": (*interp).glyphShape,
	}
	pathOperators(t)
	colourOperators(t)
	textOperators(t)
	return t
}

func nothing(*interp) {}

func (in *interp) save() {
	if len(in.saved) >= in.w.doc.lim.Saves {
		in.extra++
		in.w.truncate("graphics states nest more than %d deep", in.w.doc.lim.Saves)
		return
	}
	in.saved = append(in.saved, in.gs)
}

func (in *interp) restore() {
	n := len(in.saved)
	switch {
	case in.extra > 0:
		in.extra--
	case n == 0:
		in.w.note("there are more Q than q")
	default:
		in.gs, in.saved = in.saved[n-1], in.saved[:n-1]
	}
}

func (in *interp) concat() {
	v, ok := in.want(6, "cm")
	if !ok {
		return
	}
	m := Matrix(v).Mul(in.gs.ctm)
	if !m.finite() {
		in.w.note("a matrix overflows")
		return
	}
	in.gs.ctm = m
}

func (in *interp) setLineWidth() {
	if v, ok := in.want(1, "w"); ok {
		in.gs.lineWidth = max(v[0], -v[0])
	}
}

func (in *interp) setCap() {
	if v, ok := in.want(1, "J"); ok {
		in.gs.lineCap = int(max(0, min(2, v[0])))
	}
}

func (in *interp) setJoin() {
	if v, ok := in.want(1, "j"); ok {
		in.gs.lineJoin = int(max(0, min(2, v[0])))
	}
}

func (in *interp) setMiter() {
	if v, ok := in.want(1, "M"); ok {
		in.gs.miter = v[0]
	}
}

func (in *interp) setDash() {
	if len(in.args.List) > 0 && in.args.List[0].Kind == syntax.Open {
		in.gs.dashed = in.args.List[0].Span > 0
	}
}

func (in *interp) setGraphics() {
	if name, ok := in.args.Name(); ok {
		in.setExtended(name)
	}
}
