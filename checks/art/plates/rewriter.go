package plates

import (
	"bytes"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"stoneproof/checks/art/pdf"
	"stoneproof/checks/art/pdf/syntax"
)

// rewriter rewrites one stream of content for one plate: a page, form, tile, glyph
// or mask.
type rewriter struct {
	*separation
	within
	g     state
	saved []state
	start pdf.Matrix // at the start of the stream: what its patterns hang on
	extra int        // q beyond the ceiling, not saved

	res    types.Dict
	lookup *lookup
	used   *resources
	out    bytes.Buffer

	lex  syntax.Lexer
	args syntax.Operands
	path []byte // the path under construction
	clip string // W or W*, to go with the path

	hidden []bool // for each open marked-content sequence: does it hide?
	hiding int
	cost   int // operators that drawing the result runs
}

// within is what a stream takes over from around it, beside the graphics state.
type within struct {
	plate      plate
	depth      int
	isolated   bool // in an isolated group: what is left out must keep its shape
	apart      bool // in a group that is drawn for itself though it should blend with what lies behind
	rgbBlend   bool // colours are blended in RGB
	uncoloured bool // colours come from outside: a tile or glyph of that kind
	drawing    map[int]bool
}

// operator rewrites what stands in args.
type operator func(*rewriter)

func (j *separation) rewriter(p plate, g state, res types.Dict) *rewriter {
	r := &rewriter{separation: j, g: g, start: g.ctm, res: res, lookup: newLookup(j, res), used: newResources()}
	r.plate, r.drawing = p, map[int]bool{}
	r.args.Most = j.limits.Operands
	return r
}

// run rewrites until the stream or the budget ends.
func (r *rewriter) run(content []byte) {
	r.lex = syntax.Lexer{B: content}
	for {
		t := r.lex.Next()
		switch {
		case t.Kind == syntax.End:
			return
		case t.Kind != syntax.Word || syntax.IsOperand(t.Raw):
			if t.Kind != syntax.Stray {
				r.args.Add(t)
			}
			continue
		}
		r.cost++
		if !r.afford(1) {
			return
		}
		r.execute(string(t.Raw))
	}
}

func (r *rewriter) execute(op string) {
	r.args.Settle()
	if r.args.Full {
		r.args.Full = false
		r.causes.add(causeOperands)
	}
	if f, ok := r.table[op]; ok {
		f(r)
	}
	r.args.Reset()
}

// end closes what the content left open.
func (r *rewriter) end() {
	for range r.saved {
		r.out.WriteString("Q\n")
	}
	r.saved, r.hidden, r.hiding = nil, nil, 0
}

// emit writes an operator after its operands.
func (r *rewriter) emit(operands, op string) {
	r.out.WriteString(operands)
	r.out.WriteByte(' ')
	r.out.WriteString(op)
	r.out.WriteByte('\n')
}

// pass writes the operator with its operands as they are.
func pass(op string) operator {
	return func(r *rewriter) {
		r.out.Write(appendTokens(r.out.AvailableBuffer(), r.args.List))
		r.out.WriteString(op)
		r.out.WriteByte('\n')
	}
}

// operators lists what is understood (Annex A). The rest draws nothing: marks,
// hints, compatibility sections.
func operators() map[string]operator {
	t := map[string]operator{
		"q": (*rewriter).save, "Q": (*rewriter).restore, "cm": (*rewriter).concat, "gs": (*rewriter).setGraphics,
		"Do": (*rewriter).drawObject, "sh": (*rewriter).paintShading, "BI": (*rewriter).inlineImage,
		"BMC": (*rewriter).beginMarked, "BDC": (*rewriter).beginMarked, "EMC": (*rewriter).endMarked,
		"d0": pass("d0"), "d1": (*rewriter).glyphShape,
	}
	for _, op := range []string{"w", "J", "j", "M", "d"} {
		t[op] = pass(op)
	}
	pathOperators(t)
	colourOperators(t)
	textOperators(t)
	return t
}

func (r *rewriter) save() {
	if len(r.saved) >= r.limits.Saves {
		r.extra++
		r.causes.add(causeDeep)
		return
	}
	r.saved = append(r.saved, r.g)
	r.out.WriteString("q\n")
}

func (r *rewriter) restore() {
	n := len(r.saved)
	switch {
	case r.extra > 0:
		r.extra--
	case n > 0:
		r.g, r.saved = r.saved[n-1], r.saved[:n-1]
		r.out.WriteString("Q\n")
	}
}

func (r *rewriter) concat() {
	if v, ok := r.args.Numbers(6); ok {
		r.g.ctm = pdf.Matrix(v).Mul(r.g.ctm)
		pass("cm")(r)
	}
}

// beginMarked opens a marked-content sequence, which may belong to a layer that is
// off (8.11.3.2).
func (r *rewriter) beginMarked() {
	hide := false
	if l := r.args.List; len(l) >= 2 && l[0].Kind == syntax.Name && string(l[0].Raw) == "OC" && l[1].Kind == syntax.Name {
		o, ok := r.doc.Find(r.res, "Properties", l[1].NameString())
		hide = ok && r.doc.LayerOff(o)
	}
	if len(r.hidden) >= r.limits.Saves {
		r.causes.add(causeDeep)
		return
	}
	r.hidden = append(r.hidden, hide)
	if hide {
		r.hiding++
	}
}

func (r *rewriter) endMarked() {
	if n := len(r.hidden) - 1; n >= 0 {
		if r.hidden[n] {
			r.hiding--
		}
		r.hidden = r.hidden[:n]
	}
}
