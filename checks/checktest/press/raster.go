package press

import (
	"image"
	"image/draw"
	"math"

	"golang.org/x/image/vector"
)

// raster is a canvas of pixels that each hold an amount of the four inks.
type raster struct {
	w, h   int
	m      affine    // millimetres to pixels
	inks   []float32 // C, M, Y, K of each pixel
	clips  []image.Alpha
	coarse float64 // pictures are taken at this many ppi; 0 means the raster's own
}

func newRaster(w, h int, m affine) *raster {
	return &raster{w: w, h: h, m: m, inks: make([]float32, 4*w*h)}
}

// mask is where p lies: how much of each pixel it covers.
func (r *raster) mask(p path) *image.Alpha {
	lo, hi := pt{1e9, 1e9}, pt{-1e9, -1e9}
	runs := p.mapped(r.m).flat(.05)
	for _, run := range runs {
		for _, q := range run.at {
			lo = pt{min(lo.x, q.x), min(lo.y, q.y)}
			hi = pt{max(hi.x, q.x), max(hi.y, q.y)}
		}
	}
	box := image.Rect(int(math.Floor(lo.x)), int(math.Floor(lo.y)), int(math.Ceil(hi.x)), int(math.Ceil(hi.y)))
	out := image.NewAlpha(box.Intersect(image.Rect(0, 0, r.w, r.h)))
	if out.Rect.Empty() {
		return out
	}
	// The rasterizer has its own origin: the mask's top left corner.
	z := vector.NewRasterizer(out.Rect.Dx(), out.Rect.Dy())
	z.DrawOp = draw.Src
	at := func(q pt) (x, y float32) {
		return float32(q.x - float64(out.Rect.Min.X)), float32(q.y - float64(out.Rect.Min.Y))
	}
	for _, run := range runs {
		z.MoveTo(at(run.at[0]))
		for _, q := range run.at[1:] {
			z.LineTo(at(q))
		}
		z.ClosePath()
	}
	z.Draw(out, out.Rect, image.Opaque, image.Point{})
	return out
}

// through paints the inks that at tells wherever mask and clips let it.
func (r *raster) through(mask *image.Alpha, at func(x, y int) (k ink, cover float64)) {
	b := mask.Rect
	eachRow(b.Min.Y, b.Max.Y, func(y int) {
		for x := b.Min.X; x < b.Max.X; x++ {
			a := float64(mask.AlphaAt(x, y).A) / 255
			for i := range r.clips {
				a *= float64(r.clips[i].AlphaAt(x, y).A) / 255
			}
			if a == 0 {
				continue
			}
			k, cover := at(x, y)
			r.lay(x, y, k, a*cover)
		}
	})
}

func (r *raster) lay(x, y int, k ink, a float64) {
	px := r.inks[4*(y*r.w+x):][:4]
	for i, v := range [4]float64{k.c, k.m, k.y, k.k} {
		px[i] = float32(lerp(float64(px[i]), v, a))
	}
}

func (r *raster) fill(p path, k ink) {
	r.through(r.mask(p), func(int, int) (ink, float64) { return k, 1 })
}

func (r *raster) stroke(p path, width float64, k ink) { r.fill(thicken(p, width/2), k) }

func (r *raster) shade(p path, from, to pt, a, b ink) {
	dx, dy := to.x-from.x, to.y-from.y
	length := dx*dx + dy*dy
	r.through(r.mask(p), func(x, y int) (ink, float64) {
		q := r.place(x, y)
		return a.mix(b, clamp(((q.x-from.x)*dx+(q.y-from.y)*dy)/length)), 1
	})
}

// place is the middle of a pixel in millimetres.
func (r *raster) place(x, y int) pt {
	return pt{(float64(x) + .5 - r.m.e) / r.m.a, (float64(y) + .5 - r.m.f) / r.m.d}
}

func (r *raster) write(t text, at pt) { r.fill(t.outline(at), t.ink) }

func (r *raster) picture(area rect, s scene) {
	if r.coarse > 0 {
		s = s.enlarged(area, r.coarse)
	}
	r.through(r.mask(area.path()), func(x, y int) (ink, float64) {
		q := r.place(x, y)
		return s.pixel(q.x-area.x, q.y-area.y, x, y)
	})
}

func (r *raster) engrave(area rect, k ink, on func(x, y float64) bool) {
	const n = 4 // samples each way in a pixel: at 300 ppi, 1200 lines an inch
	step := 1 / (r.m.a * n)
	r.through(r.mask(area.path()), func(x, y int) (ink, float64) {
		q, hits := r.place(x, y), 0
		for i := range n * n {
			dx, dy := (float64(i%n)-1.5)*step, (float64(i/n)-1.5)*step
			if on(q.x-area.x+dx, q.y-area.y+dy) {
				hits++
			}
		}
		return k, float64(hits) / (n * n)
	})
}

func (r *raster) stamp(e emblem, m affine, k, ground ink) { e.draw(pen{r, m, k, ground}) }

func (r *raster) tile(area path, cell rect, draw func(canvas)) {
	r.clipped(area, func() {
		base := r.m
		for _, at := range repeats(r.extent(), cell) {
			r.m = base.after(moved(at.x, at.y))
			draw(r)
		}
		r.m = base
	})
}

// extent is the whole raster in millimetres.
func (r *raster) extent() rect {
	a, b := r.place(0, 0), r.place(r.w-1, r.h-1)
	return rect{a.x, a.y, b.x - a.x, b.y - a.y}
}

// repeats lists the steps that bring cell over all of area.
func repeats(area, cell rect) []pt {
	var out []pt
	for y := math.Floor((area.y - cell.y) / cell.h); y*cell.h+cell.y < area.bottom(); y++ {
		for x := math.Floor((area.x - cell.x) / cell.w); x*cell.w+cell.x < area.right(); x++ {
			out = append(out, pt{x * cell.w, y * cell.h})
		}
	}
	return out
}

func (r *raster) clipped(p path, draw func()) {
	r.clips = append(r.clips, *r.mask(p))
	draw()
	r.clips = r.clips[:len(r.clips)-1]
}
