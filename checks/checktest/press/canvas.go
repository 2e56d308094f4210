package press

// canvas is what a style draws on, in millimetres from the top left corner of
// the trim, x right, y down. Later paint covers earlier paint.
type canvas interface {
	fill(p path, k ink)
	// stroke draws a line of round ends and joins, width mm thick.
	stroke(p path, width float64, k ink)
	// shade fills p with a passage from ink a at from to ink b at to.
	shade(p path, from, to pt, a, b ink)
	// write sets type with its baseline starting at at.
	write(t text, at pt)
	// picture lays a continuous-tone picture.
	picture(r rect, s scene)
	// engrave lays a one-bit picture: ink where on tells so, nothing elsewhere.
	engrave(r rect, k ink, on func(x, y float64) bool)
	// stamp draws an emblem, its unit disc mapped by m.
	stamp(e emblem, m affine, k, ground ink)
	// tile covers area with repeats of cell, which draw fills once.
	tile(area path, cell rect, draw func(canvas))
	// clipped keeps what draw paints inside p.
	clipped(p path, draw func())
}

// scene is a picture still to be taken: the ink at a place, in millimetres from
// the picture's own top left corner, at whatever resolution the job asks for.
type scene struct {
	paint func(x, y float64) ink
	// cover is how opaque the picture is there; nil means wholly.
	cover func(x, y float64) float64
	// grain is how much each pixel strays: film grain, tooth of the paper.
	grain float64
}

// pen draws an emblem: in a disc of radius one about the origin, x right, y
// down, in one ink on one ground.
type pen struct {
	on        canvas
	m         affine
	k, ground ink
}

// thinnest is the least width of a line in millimetres: 0.57 pt, above the half
// point that lines reversed out of a solid need (common practice).
const thinnest = .2

func (p pen) fill(shape path)            { p.on.fill(shape.mapped(p.m), p.k) }
func (p pen) cut(shape path)             { p.on.fill(shape.mapped(p.m), p.ground) }
func (p pen) line(run path, w float64)   { p.stroke(run, w, p.k) }
func (p pen) groove(run path, w float64) { p.stroke(run, w, p.ground) }

func (p pen) stroke(run path, w float64, k ink) {
	p.on.stroke(run.mapped(p.m), max(thinnest, w*p.m.scale()), k)
}

// within is a pen whose unit is mapped by m first.
func (p pen) within(m affine) pen { p.m = p.m.after(m); return p }
