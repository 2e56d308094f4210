package plates

import (
	"context"

	"stoneproof/checks/art/render"
)

// Window is the part of the page to draw, and how large.
type Window struct {
	// X, Y, W, H is in display space: points of 1/72 inch, the origin at the top
	// left of the MediaBox as a reader sees the page, y down.
	X, Y, W, H float64
	PxW, PxH   int // size in pixels
}

// Plates is how much ink lies where.
type Plates struct {
	W, H  int
	Names []string // as in [Job]
	Ink   [][]byte // of each plate W·H bytes, row by row from the top left: 0 for none, 255 for all
	// Approximate, Partial and Solids are as in [Job].
	Approximate []string
	Partial     bool
	Solids      [][4]float64
}

// Render draws the plates. It opens a document of the engine while it works; do
// not hold another one meanwhile. Errors are those of package render.
func (j *Job) Render(ctx context.Context, e *render.Engine, w Window) (*Plates, error) {
	doc, err := e.Open(ctx, j.PDF)
	if err != nil {
		return nil, err
	}
	defer doc.Close()
	p := &Plates{W: w.PxW, H: w.PxH, Names: j.Names, Approximate: j.Approximate, Partial: j.Partial, Solids: j.Solids}
	view := render.View{
		Media: j.media, PxW: w.PxW, PxH: w.PxH,
		X: w.X / j.unit, Y: w.Y / j.unit, W: w.W / j.unit, H: w.H / j.unit,
	}
	for i := range j.Names {
		img, err := doc.RenderGray(ctx, i+1, view)
		if err != nil {
			return nil, err
		}
		for k, v := range img.Pix {
			img.Pix[k] = 255 - v
		}
		p.Ink = append(p.Ink, img.Pix)
	}
	return p, nil
}
