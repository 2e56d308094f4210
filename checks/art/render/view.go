package render

import (
	"fmt"
	"image"
	"math"
)

// A View says which part of a page to draw, and how large.
type View struct {
	// Media is the page's MediaBox in user space: x0, y0, x1, y1, with
	// x0 < x1 and y0 < y1. The CropBox is not regarded.
	Media [4]float64
	// X, Y, W, H is the window, in units of user space without UserUnit, its
	// origin at the top left of the MediaBox as the page is displayed (after
	// Rotate), y down. What reaches outside the MediaBox stays transparent.
	X, Y, W, H float64
	// PxW, PxH is the size of the picture in pixels. The scales across and down
	// need not be the same. At these scales the page must not reach more than
	// 30 000 pixels from the window's corner.
	PxW, PxH int
	// Printing shows the page as it prints: with annotations that print, and
	// with the layers for print. Without it annotations are left out and
	// layers are as on the screen.
	Printing bool
}

// mostUnits bounds coordinates: beyond it the renderer's single-precision
// numbers are no longer good to a tenth of a pixel at 300 an inch.
const mostUnits = 1 << 17

// check refuses a view that no page can have.
func (v View) check(pixels int64) error {
	for _, n := range []float64{v.Media[0], v.Media[1], v.Media[2], v.Media[3], v.X, v.Y, v.W, v.H} {
		if !(math.Abs(n) <= mostUnits) { // a NaN is not within
			return fmt.Errorf("%w: %v units is out of range", ErrView, n)
		}
	}
	switch {
	case v.Media[0] >= v.Media[2] || v.Media[1] >= v.Media[3]:
		return fmt.Errorf("%w: the MediaBox %v is empty", ErrView, v.Media)
	case v.W <= 0 || v.H <= 0 || v.PxW <= 0 || v.PxH <= 0:
		return fmt.Errorf("%w: %v × %v units in %d × %d pixels is empty", ErrView, v.W, v.H, v.PxW, v.PxH)
	case int64(v.PxW) > pixels || int64(v.PxH) > pixels/int64(v.PxW):
		return fmt.Errorf("%w: %d × %d pixels, more than %d", ErrTooBig, v.PxW, v.PxH, pixels)
	}
	return nil
}

// scale is pixels per unit, across and down.
func (v View) scale() (x, y float64) {
	return float64(v.PxW) / v.W, float64(v.PxH) / v.H
}

// mostReach bounds how far the page's edges may lie from the picture's origin,
// in pixels. Shapes that reach 32 000 pixels and more come out wrong, without an
// error; TestFarReach guards the limit. A 13 × 19 in sheet reaches as far at
// 1500 pixels an inch.
const mostReach = 30_000

// reach is how far the edges of a page of the given displayed size lie from the
// picture's origin, in pixels.
func (v View) reach(w, h float64) float64 {
	sx, sy := v.scale()
	return max(math.Abs(v.X)*sx, math.Abs(w-v.X)*sx, math.Abs(v.Y)*sy, math.Abs(h-v.Y)*sy)
}

// inside is the part of the picture whose pixels have their centres on a page
// of the given displayed size in units.
func (v View) inside(w, h float64) image.Rectangle {
	sx, sy := v.scale()
	first := func(at, scale float64) int { // the first pixel whose centre lies at or after the edge
		return int(math.Ceil(max(-1, min(at*scale, mostReach)) - 0.5))
	}
	return image.Rect(
		first(-v.X, sx), first(-v.Y, sy),
		first(w-v.X, sx), first(h-v.Y, sy),
	).Intersect(image.Rect(0, 0, v.PxW, v.PxH))
}
