package pdf

func pathOperators(t map[string]func(*interp)) {
	t["m"] = func(in *interp) {
		if v, ok := in.want(2, "m"); ok && in.room() {
			in.path.move(Point{v[0], v[1]})
		}
	}
	t["l"] = func(in *interp) {
		if v, ok := in.want(2, "l"); ok && in.begun(Point{v[0], v[1]}) {
			in.path.line(Point{v[0], v[1]})
		}
	}
	t["c"] = func(in *interp) {
		if v, ok := in.want(6, "c"); ok && in.begun(Point{v[0], v[1]}) {
			in.path.curve(Point{v[0], v[1]}, Point{v[2], v[3]}, Point{v[4], v[5]})
		}
	}
	t["v"] = func(in *interp) {
		if v, ok := in.want(4, "v"); ok && in.begun(Point{v[0], v[1]}) {
			in.path.curve(in.path.at, Point{v[0], v[1]}, Point{v[2], v[3]})
		}
	}
	t["y"] = func(in *interp) {
		if v, ok := in.want(4, "y"); ok && in.begun(Point{v[0], v[1]}) {
			in.path.curve(Point{v[0], v[1]}, Point{v[2], v[3]}, Point{v[2], v[3]})
		}
	}
	t["re"] = func(in *interp) {
		if v, ok := in.want(4, "re"); ok && in.room() {
			in.path.rectangle(v[0], v[1], v[2], v[3])
		}
	}
	t["h"] = func(in *interp) { in.path.close() }
	t["n"] = func(in *interp) { in.paint(false, false, false) }
	t["S"] = func(in *interp) { in.paint(false, true, false) }
	t["s"] = func(in *interp) { in.path.close(); in.paint(false, true, false) }
	t["f"] = func(in *interp) { in.paint(true, false, false) }
	t["F"] = t["f"]
	t["f*"] = func(in *interp) { in.paint(true, false, true) }
	t["B"] = func(in *interp) { in.paint(true, true, false) }
	t["B*"] = func(in *interp) { in.paint(true, true, true) }
	t["b"] = func(in *interp) { in.path.close(); in.paint(true, true, false) }
	t["b*"] = func(in *interp) { in.path.close(); in.paint(true, true, true) }
	t["W"] = func(in *interp) { in.path.clipping = true }
	t["W*"] = t["W"]
}

func (in *interp) room() bool {
	if len(in.path.parts) < in.w.doc.lim.Segments {
		return true
	}
	in.w.truncate("a path has more than %d segments", in.w.doc.lim.Segments)
	return false
}

// begun makes sure that there is a current point; readers start the path at the
// segment's first point where there is none.
func (in *interp) begun(p Point) bool {
	if !in.room() {
		return false
	}
	if !in.path.open {
		in.w.note("a path segment comes before any starting point")
		in.path.move(p)
	}
	return true
}

// paint ends the path: it is listed if it paints, and clips if asked to.
func (in *interp) paint(fill, stroke, evenOdd bool) {
	p, gs := &in.path, &in.gs
	defer p.reset()
	if len(p.parts) == 0 {
		if p.clipping { // an empty clip lets nothing through
			gs.clip = nowhere()
		}
		return
	}
	inside := p.bounds(gs.ctm)
	if fill || stroke {
		in.listPath(inside, fill, stroke, evenOdd)
	}
	if p.clipping {
		gs.clip = gs.clip.Intersect(inside)
		gs.shaped = gs.shaped || !p.isRectangle() || !gs.ctm.upright()
	}
}

func (in *interp) listPath(inside Rect, fill, stroke, evenOdd bool) {
	p, gs, w := &in.path, &in.gs, in.w
	full := inside
	if stroke {
		full = full.Union(p.strokeBounds(gs))
	}
	if full.Empty() {
		return // only a starting point
	}
	order, ok := w.take()
	if !ok {
		return
	}
	it := in.item(order, full)
	x := Path{
		Item: it, Filled: fill, Stroked: stroke, EvenOdd: evenOdd,
		Rectangle: p.isRectangle() && gs.ctm.upright(),
		Segments:  p.segments(), Dashed: stroke && gs.dashed,
	}
	if stroke {
		least, most := gs.ctm.stretch()
		x.WidthMin, x.WidthMax = gs.lineWidth*least, gs.lineWidth*most
		x.Strokes = p.strokes(gs.ctm)
		w.useColour(gs.Stroke, it.StrokeAlpha, UsePath, it)
	}
	if fill {
		x.Quads = p.quads(gs.ctm)
		w.useColour(gs.Fill, it.FillAlpha, UsePath, it)
	}
	w.out.Paths = append(w.out.Paths, x)
	if fill {
		in.fillWith(gs.Fill, it)
	}
	if stroke {
		in.fillWith(gs.Stroke, it)
	}
}
