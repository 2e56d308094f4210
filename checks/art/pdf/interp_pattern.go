package pdf

import (
	"math"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// pattern looks up a pattern of the resources. Its matrix hangs on the start of
// the stream, not on the present one (8.7.2).
func (in *interp) pattern(name string) *Pattern {
	w := in.w
	o, ok := w.doc.Find(in.sc.res, "Pattern", name)
	d := w.doc.Dict(o)
	if !ok || d == nil {
		w.note("the pattern %q is not among the resources", name)
		return nil
	}
	p := &Pattern{Name: name, Matrix: w.doc.matrix(d["Matrix"]).Mul(in.base)}
	if w.doc.Integer(d["PatternType"], 1) == 2 {
		p.Shading = w.shadingSpace(in.sc, "Pattern "+name, d["Shading"])
		return p
	}
	p.Tiling = true
	p.Colored = w.doc.Integer(d["PaintType"], 1) == 1
	p.tile = w.streamAt(o, in.sc)
	return p
}

// shadingSpace resolves the colour space of a shading once a scope.
func (w *walker) shadingSpace(sc *scope, name string, o types.Object) *Space {
	if s, ok := sc.shades[name]; ok {
		return s
	}
	s := w.spaceIn(sc, w.doc.Dict(o)["ColorSpace"], 0)
	w.meter(w.doc.Dict(o)["Function"], 0)
	sc.shades[name] = s
	return s
}

// paintShading is the sh operator: it fills the clip (8.7.4.2), within the
// shading's own BBox.
func (in *interp) paintShading() {
	w := in.w
	name, ok := in.args.Name()
	o, found := w.doc.Find(in.sc.res, "Shading", name)
	d := w.doc.Dict(o)
	if !ok || !found || d == nil {
		w.note("the shading %q is not among the resources", name)
		return
	}
	full := in.gs.clip
	if v := w.doc.Numbers(d["BBox"], 4); len(v) == 4 {
		full = in.gs.ctm.quad(Rect{v[0], v[1], v[2], v[3]}).Bounds()
	}
	order, ok := w.take()
	if !ok {
		return
	}
	it := in.item(order, full)
	s := Shading{Item: it, Type: w.doc.Integer(d["ShadingType"], 0), Space: w.shadingSpace(in.sc, "Shading "+name, o)}
	w.out.Shadings = append(w.out.Shadings, s)
	w.use(s.Space, UseShading, it)
}

// tileKey tells tilings apart: the same tile on the same grid in the same colour
// is walked once, however often it is painted with.
type tileKey struct {
	object int
	matrix Matrix
	flags  [5]bool
	space  *Space
}

// tiling remembers which items came of a tile, to widen their boxes when the tile
// is painted with again.
type tiling struct{ texts, images, paths, shadings [2]int }

// fillWith walks the tile of the tiling pattern, if any, that an item is painted with.
func (in *interp) fillWith(c Colour, it Item) {
	p, area := c.Pattern, it.Box
	if p == nil || p.tile == nil || it.Clipped {
		return
	}
	w := in.w
	w.lay(p, area)
	key := tileKey{object: p.tile.object, matrix: p.Matrix, space: c.Space.Base}
	key.flags = [5]bool{it.Hidden, it.Annotation, it.InMask, it.InPattern, it.InGlyph}
	if had, ok := w.tiles[key]; ok && key.object != 0 {
		w.widen(had, area)
		return
	}
	was := w.counts()
	in.draw(p.tile, func(sub *interp) {
		gray := w.deviceIn(p.tile.scope, DeviceGray, 0)
		sub.gs = startState(p.Matrix, everywhere(), gray)
		sub.group = in.around()
		sub.within.InPattern, sub.area = true, &area
		if sub.uncoloured = !p.Colored; sub.uncoloured {
			own := Colour{Space: c.Space.Base, Values: c.Values}
			sub.gs.Fill, sub.gs.Stroke = own, own
		}
	})
	now := w.counts()
	w.tiles[key] = tiling{
		texts: [2]int{was[0], now[0]}, images: [2]int{was[1], now[1]},
		paths: [2]int{was[2], now[2]}, shadings: [2]int{was[3], now[3]},
	}
}

// lay holds the tiles that fill an area against their ceiling: a renderer draws
// each (8.7.3.1).
func (w *walker) lay(p *Pattern, area Rect) {
	across, _ := w.doc.Number(p.tile.dict["XStep"])
	down, _ := w.doc.Number(p.tile.dict["YStep"])
	m := p.Matrix
	each := math.Abs((m[0]*m[3] - m[1]*m[2]) * across * down)
	if each == 0 || area.Empty() {
		return // no grid, or nothing to fill: nothing is drawn
	}
	if w.tiled += area.W() * area.H() / each; w.tiled > float64(w.doc.lim.Tiles) {
		w.truncate("its patterns lay over %d tiles", w.doc.lim.Tiles)
	}
}

func (w *walker) counts() [4]int {
	return [4]int{len(w.out.Texts), len(w.out.Images), len(w.out.Paths), len(w.out.Shadings)}
}

func (w *walker) widen(t tiling, area Rect) {
	for _, r := range [][2]int{t.texts, t.images, t.paths, t.shadings} {
		w.afford(r[1] - r[0])
	}
	for i := t.texts[0]; i < t.texts[1]; i++ {
		w.out.Texts[i].widen(area)
	}
	for i := t.images[0]; i < t.images[1]; i++ {
		w.out.Images[i].widen(area)
	}
	for i := t.paths[0]; i < t.paths[1]; i++ {
		w.out.Paths[i].widen(area)
	}
	for i := t.shadings[0]; i < t.shadings[1]; i++ {
		w.out.Shadings[i].widen(area)
	}
}

func (i *Item) widen(area Rect) {
	if !i.Clipped {
		i.Box = i.Box.Union(area)
	}
}
