package pdf

import (
	"math"
	"strings"

	"stoneproof/checks/art/pdf/syntax"
)

func textOperators(t map[string]func(*interp)) {
	t["BT"] = (*interp).beginText
	t["ET"] = (*interp).endText
	t["Tf"] = (*interp).setFont
	t["Tc"] = func(in *interp) { in.setNumber(&in.gs.text.charSpace, "Tc") }
	t["Tw"] = func(in *interp) { in.setNumber(&in.gs.text.wordSpace, "Tw") }
	t["TL"] = func(in *interp) { in.setNumber(&in.gs.text.leading, "TL") }
	t["Ts"] = func(in *interp) { in.setNumber(&in.gs.text.rise, "Ts") }
	t["Tz"] = func(in *interp) {
		if v, ok := in.want(1, "Tz"); ok {
			in.gs.text.horizontal = v[0] / 100
		}
	}
	t["Tr"] = func(in *interp) {
		if v, ok := in.want(1, "Tr"); ok {
			in.gs.text.mode = int(math.Max(0, math.Min(7, v[0])))
		}
	}
	t["Td"] = func(in *interp) {
		if v, ok := in.want(2, "Td"); ok {
			in.newLine(v[0], v[1])
		}
	}
	t["TD"] = func(in *interp) {
		if v, ok := in.want(2, "TD"); ok {
			in.gs.text.leading = -v[1]
			in.newLine(v[0], v[1])
		}
	}
	t["Tm"] = func(in *interp) {
		if v, ok := in.want(6, "Tm"); ok {
			in.tm, in.tlm = Matrix(v), Matrix(v)
		}
	}
	t["T*"] = func(in *interp) { in.newLine(0, -in.gs.text.leading) }
	t["Tj"] = (*interp).showOne
	t["TJ"] = (*interp).showMany
	t["'"] = func(in *interp) { in.newLine(0, -in.gs.text.leading); in.showOne() }
	t["\""] = (*interp).showSpaced
}

func (in *interp) setNumber(to *float64, op string) {
	if v, ok := in.want(1, op); ok {
		*to = v[0]
	}
}

func (in *interp) beginText() {
	in.tm, in.tlm = identity(), identity()
}

// endText lets text that was shown in a clipping mode clip (9.3.6).
func (in *interp) endText() {
	if in.clipText {
		in.gs.clip, in.gs.shaped = in.gs.clip.Intersect(in.clipTo), true
		in.clipTo, in.clipText = nowhere(), false
	}
}

func (in *interp) newLine(x, y float64) {
	in.tlm = Matrix{1, 0, 0, 1, x, y}.Mul(in.tlm)
	in.tm = in.tlm
}

func (in *interp) setFont() {
	l := in.args.List
	if len(l) < 2 || l[len(l)-2].Kind != syntax.Name || l[len(l)-1].Kind != syntax.Number {
		in.w.note("the operator Tf lacks a font or a size")
		return
	}
	name := l[len(l)-2].NameString()
	in.gs.text.size = l[len(l)-1].Num
	o, ok := in.w.doc.Find(in.sc.res, "Font", name)
	if !ok {
		in.w.note("the font %q is not among the resources", name)
		in.gs.text.font = nil
		return
	}
	in.gs.text.font = in.w.fontAt(in.sc, o, name)
}

func (in *interp) showOne() {
	if t, ok := in.args.Last(syntax.Text, syntax.Hex); ok {
		in.show([]syntax.Token{t})
	}
}

func (in *interp) showSpaced() {
	l := in.args.List
	if len(l) < 3 || l[0].Kind != syntax.Number || l[1].Kind != syntax.Number {
		in.w.note("the operator \" lacks its numbers")
		return
	}
	in.gs.text.wordSpace, in.gs.text.charSpace = l[0].Num, l[1].Num
	in.newLine(0, -in.gs.text.leading)
	in.showOne()
}

func (in *interp) showMany() {
	if l := in.args.List; len(l) > 0 && l[0].Kind == syntax.Open {
		in.show(l[1 : 1+l[0].Span])
	}
}

// run gathers the glyphs of one showing operator.
type run struct {
	start  Matrix // text space of the first glyph → display space
	ink    Rect   // in start's space
	box    Rect   // the same in display space, glyph by glyph: tighter for turned text
	device Rect   // Type 3: in display space
	pen    Point  // how far a stroke reaches in start's space, for modes that stroke
	reach  Point  // and in display space
	text   strings.Builder
	glyphs int
	exact  bool
}

// show paints the strings of a Tj or TJ, numbers between them moving the place
// back by thousandths of an em (9.4.3).
func (in *interp) show(list []syntax.Token) {
	ts, w := &in.gs.text, in.w
	if ts.font == nil {
		w.note("text is shown without a font")
		return
	}
	r := run{ink: nowhere(), box: nowhere(), device: nowhere(), exact: true, start: in.tm.Mul(in.gs.ctm)}
	order, ok := w.take() // the run comes before what its Type 3 glyphs paint
	if !ok {
		return
	}
	r.pen, r.reach = in.textPen()
	x := 0.0 // along the line, in text space, from the start
	for _, t := range list {
		switch t.Kind {
		case syntax.Number:
			move := -t.Num / 1000 * ts.size
			if !ts.font.vertical {
				move *= ts.horizontal
			}
			x += move
		case syntax.Text, syntax.Hex:
			s := t.AppendString(w.scratch[:0])
			w.scratch = nil // a Type 3 glyph may show text itself
			x = in.showString(&r, s, x)
			w.scratch = s
		}
	}
	if ts.font.vertical {
		in.tm = Matrix{1, 0, 0, 1, 0, x}.Mul(in.tm)
	} else {
		in.tm = Matrix{1, 0, 0, 1, x, 0}.Mul(in.tm)
	}
	if r.glyphs > 0 {
		w.showsFont(ts.font)
		in.listText(&r, order)
	}
}

// textPen is how far the stroke reaches past an outline: the pen is round in user
// space, an ellipse in text space and on the page. Mitred tips of letters reach
// further, but of the outline only the box is known.
func (in *interp) textPen() (text, display Point) {
	m, half := in.tm, in.gs.lineWidth/2
	det := math.Abs(m[0]*m[3] - m[1]*m[2])
	if !paintsStroke(in.gs.text.mode) || det == 0 {
		return text, display
	}
	text = Point{half * math.Hypot(m[2], m[3]) / det, half * math.Hypot(m[0], m[1]) / det}
	return text, in.gs.ctm.reach(half)
}

func (w *walker) showsFont(f *Font) {
	if !w.shown[f] {
		w.shown[f] = true
		w.out.Fonts = append(w.out.Fonts, f)
	}
}

// textPerOperator is how many bytes of text a glyph may mean at no further cost.
const textPerOperator = 16

func (in *interp) showString(r *run, s []byte, x float64) float64 {
	ts := &in.gs.text
	f := ts.font
	for len(s) > 0 {
		code, n := f.next(s)
		s = s[n:]
		g := f.glyph(code, n)
		if !in.w.afford(1 + len(g.text)/textPerOperator) {
			return x
		}
		r.glyphs++
		r.text.WriteString(g.text)
		r.exact = r.exact && g.exact
		in.placeGlyph(r, g, x)
		step := g.width*ts.size + ts.charSpace
		if n == 1 && code == ' ' {
			step += ts.wordSpace
		}
		if !f.vertical {
			step *= ts.horizontal
		}
		x += step
	}
	return x
}

// placeGlyph adds a glyph's ink, which is in ems from an origin at x along the line.
func (in *interp) placeGlyph(r *run, g glyph, x float64) {
	ts := &in.gs.text
	if ts.font.type3 != nil {
		// em space → text space → user space → display space (9.4.4)
		m := Matrix{ts.size * ts.horizontal, 0, 0, ts.size, x, ts.rise}.Mul(in.tm).Mul(in.gs.ctm)
		if ts.mode != 3 {
			r.device = r.device.Union(in.drawGlyph(ts.font, g, ts.font.type3.matrix.Mul(m)))
		}
		return
	}
	if g.ink.Empty() {
		return
	}
	sx, sy := ts.size*ts.horizontal, ts.size
	dx, dy := x, ts.rise
	if ts.font.vertical {
		dx, dy = 0, x+ts.rise
	}
	ink := nowhere() // a size below zero turns it over
	ink.add(Point{g.ink.X0*sx + dx, g.ink.Y0*sy + dy})
	ink.add(Point{g.ink.X1*sx + dx, g.ink.Y1*sy + dy})
	r.ink = r.ink.Union(ink.grow(r.pen.X, r.pen.Y))
	r.box = r.box.Union(r.start.quad(ink).Bounds().grow(r.reach.X, r.reach.Y))
}

// listText lists the run; one that leaves no ink, such as a row of spaces, is not
// listed.
func (in *interp) listText(r *run, order int) {
	ts, gs, w := &in.gs.text, &in.gs, in.w
	quad, full := r.bounds()
	if full.Empty() {
		return
	}
	if ts.mode >= 4 && ts.font.type3 == nil { // Type 3 glyphs have no outline to clip by (9.3.6)
		in.clipText = true
		in.clipTo = in.clipTo.Union(full)
	}
	t := Text{
		Item: in.item(order, full), String: r.text.String(), Font: ts.font, Mode: ts.mode, Quad: quad,
		Size: math.Abs(ts.size) * r.start.height(), Exact: r.exact, Glyphs: r.glyphs,
	}
	if paintsStroke(ts.mode) {
		least, _ := gs.ctm.stretch()
		t.LineThin = gs.lineWidth * least
	}
	w.out.Texts = append(w.out.Texts, t)
	in.useText(t)
}

// bounds is the box around the run's ink, turned with the text and upright.
func (r *run) bounds() (Quad, Rect) {
	if b := r.device; !b.Empty() {
		return Quad{{b.X0, b.Y1}, {b.X1, b.Y1}, {b.X1, b.Y0}, {b.X0, b.Y0}}, b
	}
	if r.ink.Empty() {
		return Quad{}, r.ink
	}
	return r.start.quad(r.ink), r.box
}

// useText counts the colours of a run. A Type 3 glyph brings its own paint, which
// is counted as it is drawn.
func (in *interp) useText(t Text) {
	if t.Font.type3 != nil {
		return
	}
	if paintsFill(t.Mode) {
		in.w.useColour(t.Fill, t.FillAlpha, UseText, t.Item)
		in.fillWith(t.Fill, t.Item)
	}
	if paintsStroke(t.Mode) {
		in.w.useColour(t.Stroke, t.StrokeAlpha, UseText, t.Item)
		in.fillWith(t.Stroke, t.Item)
	}
}

// Text rendering modes (Table 106): 0 fill, 1 stroke, 2 both, 3 neither, and the
// same with clipping from 4 on.
func paintsFill(mode int) bool   { return mode&3 == 0 || mode&3 == 2 }
func paintsStroke(mode int) bool { return mode&3 == 1 || mode&3 == 2 }
