package art

import (
	"context"

	"stoneproof/rules"
)

// Detail is a part of the side by itself: of a page drawn at ppi, or as finely as the
// ceiling on pixels lets it; of a picture, whose pixels are all there are, cut out of
// its Paint. The side must have been painted before: what is too much for Paint is
// not drawn here. What reaches beyond Paint is left out; nil if nothing is left.
func (s *Side) Detail(ctx context.Context, part rules.Box, ppi float64) (*Paint, error) {
	whole, err := s.Paint(ctx)
	if err != nil {
		return nil, err
	}
	x0, y0, x1, y1 := whole.Bounds(part)
	if x0 >= x1 || y0 >= y1 {
		return nil, nil
	}
	if s.Page == nil {
		return whole.cut(x0, y0, x1, y1), nil
	}
	edge := rules.Box{W: length(float64(whole.W) * whole.PxW), H: length(float64(whole.H) * whole.PxH), X: whole.X, Y: whole.Y}
	part = part.Intersect(edge)
	ppi = s.affordable(part, ppi)
	w, h := max(1, int(part.W.Pixels(ppi))), max(1, int(part.H.Pixels(ppi)))
	return s.draw(ctx, part, w, h)
}

// cut is the part of the paint from column x0 up to x1 and row y0 up to y1.
func (p *Paint) cut(x0, y0, x1, y1 int) *Paint {
	out := *p
	out.luma = nil
	out.W, out.H = x1-x0, y1-y0
	out.X += length(float64(x0) * p.PxW)
	out.Y += length(float64(y0) * p.PxH)
	out.Pix = make([]byte, 0, 4*out.W*out.H)
	for y := y0; y < y1; y++ {
		out.Pix = append(out.Pix, p.Pix[4*(y*p.W+x0):4*(y*p.W+x1)]...)
	}
	return &out
}
