package pdf

import (
	"fmt"
	"slices"

	"stoneproof/checks/art/pdf/syntax"
)

// Walk interprets the page's content once and lists what it paints. An error
// means that nothing could be walked at all; what was merely odd is in Notes.
func (p *Page) Walk() (c *Content, err error) {
	w := newWalker(p)
	defer func() {
		if r := recover(); r != nil {
			c, err = nil, fmt.Errorf("%w: the content of page %d: %v", ErrDamaged, p.Number, r)
		}
	}()
	page := &stream{dict: p.leaf.dict, content: w.pageContent(), scope: newScope(p.doc.Dict(p.leaf.resources))}
	in := w.interp(page, p.display, p.Media)
	in.run(page.content)
	w.walkAnnotations()
	// A run comes before what its Type 3 glyphs show, but is known only after it.
	slices.SortStableFunc(w.out.Texts, func(a, b Text) int { return a.Order - b.Order })
	return w.out, nil
}

// interp runs one stream.
type interp struct {
	w     *walker
	sc    *scope
	base  Matrix // at the start of the stream: what its patterns hang on
	depth int

	gs    gstate
	saved []gstate
	extra int // q beyond the ceiling, not saved

	lex        syntax.Lexer
	args       syntax.Operands
	path       path
	within     Item         // flags that all items of this stream share
	marks      []membership // for each open marked-content sequence
	extraMarks int          // sequences beyond the ceiling
	tm, tlm    Matrix
	clipTo     Rect  // union of the text that clips
	clipText   bool  // such text was shown
	group      group // the transparency groups around this stream
	area       *Rect // inside a tile: what is tiled
	uncoloured bool  // colours come from outside: tile or glyph of that kind
}

// interp makes an interpreter for s with a fresh graphics state.
func (w *walker) interp(s *stream, ctm Matrix, clip Rect) *interp {
	in := &interp{w: w, sc: s.scope, base: ctm, clipTo: nowhere(), tm: identity(), tlm: identity(), group: noGroup()}
	in.gs = startState(ctm, clip, w.deviceIn(s.scope, DeviceGray, 0))
	in.args.Most = w.doc.lim.Operands
	return in
}

// run executes operators until the stream or the budget ends.
func (in *interp) run(content []byte) {
	w := in.w
	in.lex = syntax.Lexer{B: content}
	for {
		t := in.lex.Next()
		switch t.Kind {
		case syntax.End:
			return
		case syntax.Word:
			if syntax.IsOperand(t.Raw) {
				in.args.Add(t)
				continue
			}
			if !w.afford(1) {
				return
			}
			in.execute(t.Raw)
		case syntax.Stray:
			w.note("content holds a stray %q", t.Raw)
		default:
			in.args.Add(t)
		}
	}
}

func (in *interp) execute(op []byte) {
	in.args.Settle()
	if in.args.Full {
		in.args.Full = false
		in.w.truncate("an operator has more than %d operands", in.args.Most)
	}
	if f, ok := in.w.table[string(op)]; ok {
		f(in)
	} else {
		in.w.note("content holds an unknown operator %q", clipped(op))
	}
	in.args.Reset()
}

func clipped(b []byte) []byte { return b[:min(len(b), 20)] }

// want takes n numbers for the operator op, or notes that they are not there.
func (in *interp) want(n int, op string) ([6]float64, bool) {
	v, ok := in.args.Numbers(n)
	if !ok {
		in.w.note("the operator %q lacks its %d numbers", op, n)
	}
	return v, ok
}

// draw runs another stream in the present graphics state and returns to it: what
// Do does with a form (8.10.1).
func (in *interp) draw(s *stream, adjust func(*interp)) *interp {
	w := in.w
	switch {
	case s.object != 0 && w.active[s.object]:
		w.truncate("object %d draws itself", s.object)
		return nil
	case in.depth >= w.doc.lim.Depth:
		w.truncate("forms nest more than %d deep", w.doc.lim.Depth)
		return nil
	}
	if !w.afford(drawCost + len(s.content)/bytesPerOperator) {
		return nil
	}
	w.active[s.object] = true
	defer delete(w.active, s.object)

	sub := &interp{w: w, sc: s.scope, depth: in.depth + 1, gs: in.gs, within: in.within, clipTo: nowhere(), tm: identity(), tlm: identity(),
		group: in.group, area: in.area, uncoloured: in.uncoloured}
	sub.args.Most = in.args.Most
	in.member().mark(&sub.within)
	sub.gs.ctm = s.matrix.Mul(in.gs.ctm)
	if w.doc.Name(w.doc.Dict(s.dict["Group"])["S"]) == "Transparency" {
		sub.enterGroup()
	}
	if adjust != nil {
		adjust(sub)
	}
	sub.base = sub.gs.ctm
	if !s.box.Empty() {
		sub.gs.clip = sub.gs.clip.Intersect(sub.gs.ctm.quad(s.box).Bounds())
		sub.gs.shaped = sub.gs.shaped || !sub.gs.ctm.upright()
	}
	sub.run(s.content)
	return sub
}

// drawCost is what drawing a form costs beside the operators in it: reading it costs
// something too, however few operators it has.
const drawCost, bytesPerOperator = 10, 100

// afford takes n operators off the budget; false means that the walk is over.
func (w *walker) afford(n int) bool {
	if w.operators -= n; w.operators < 0 && !w.stopped {
		w.truncate("the page runs more than %d operators", w.doc.lim.Operators)
		w.stopped = true
	}
	return !w.stopped
}

// take gives the next place in the paint order, unless there are too many items.
func (w *walker) take() (order int, ok bool) {
	if w.order >= w.doc.lim.Items {
		w.truncate("the page paints more than %d things", w.doc.lim.Items)
		w.stopped = true // nothing more would be listed
		return 0, false
	}
	w.order++
	return w.order - 1, true
}

// item starts an item that covers full.
func (in *interp) item(order int, full Rect) Item {
	it := in.within
	it.Order, it.Full, it.Box = order, full, full.Intersect(in.gs.clip)
	it.Clipped = it.Box.Empty() || it.Box.W() == 0 && full.W() > 0 || it.Box.H() == 0 && full.H() > 0
	switch {
	case it.Clipped:
		it.Box = Rect{}
	case in.area != nil:
		it.Box = *in.area
	}
	in.member().mark(&it)
	it.Shaped = in.gs.shaped
	it.Look = in.gs.Look
	in.group.onto(&it.Look)
	return it
}
