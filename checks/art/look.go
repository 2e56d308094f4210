package art

import (
	"context"
	"image"
	"math"

	"golang.org/x/image/draw"

	"stoneproof/checks/art/icc"
	"stoneproof/checks/art/icc/press"
	"stoneproof/checks/art/raster"
	"stoneproof/rules"
)

// Look is the side as it will look in print, on white paper: the card with the
// bleed that the ticket wants, as far as there is any; of a side without a trim, all
// of it. It has no more than most pixels, and is no finer than a page's Paint. Ink
// looks as the carried press prints it, light as it is. Errors are told in the
// picture's words.
func (s *Side) Look(ctx context.Context, most int) rules.Picture {
	seen, err := s.seen(ctx)
	if ctx.Err() != nil {
		return rules.Picture{Side: s.Number, Why: "The side takes too long to draw."}
	}
	if err != nil {
		return rules.Picture{Side: s.Number, Why: "The side could not be drawn. " + firstUpper(AsFault(err).What) + "."}
	}
	return rules.Picture{Side: s.Number, Box: seen.Box(), Image: seen.shrunk(s.art.ceilings.PaintPPI, most)}
}

// seen is the look in the side's own pixels, opaque.
func (s *Side) seen(ctx context.Context) (*Paint, error) {
	if s.Page == nil {
		return s.seenImage()
	}
	if err := s.drawable(); err != nil {
		return nil, err
	}
	part, w, h := s.toSee()
	if s.laysInk() {
		ppi := float64(w) / part.W.Inches()
		if p, err := s.pagePlates(ctx, part, ppi); err == nil && !p.Partial {
			return p.seen(), nil
		} else if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		// What the plates would lose, the renderer's own conversion shows.
	}
	paint := s.Paint
	if !s.Placed() {
		paint = func(ctx context.Context) (*Paint, error) { return s.draw(ctx, part, w, h) }
	}
	p, err := paint(ctx)
	if err != nil {
		return nil, err
	}
	return p.onPaper(), nil
}

// toSee is the part of the page to show, and its size in pixels.
func (s *Side) toSee() (part rules.Box, w, h int) {
	if s.Placed() {
		return s.window()
	}
	part = s.Box(s.Page.Media)
	ppi := s.affordable(part, s.art.ceilings.PaintPPI)
	return part, max(1, int(part.W.Pixels(ppi))), max(1, int(part.H.Pixels(ppi)))
}

// laysInk reports whether anything seen on the page is coloured in ink rather than
// in light or grey.
func (s *Side) laysInk() bool {
	content, err := s.Content()
	if err != nil {
		return false
	}
	for _, use := range content.Spaces {
		if use.Space.Inked() {
			return true
		}
	}
	return false
}

// seenImage is the look of a picture.
func (s *Side) seenImage() (*Paint, error) {
	whole, err := s.decode()
	if err != nil {
		return nil, err
	}
	part, x0, y0 := whole, 0, 0
	if s.Placed() {
		left, top, right, bottom := whole.Bounds(s.Printed())
		part, x0, y0 = whole.cut(left, top, right, bottom), left, top
	}
	if ink := s.decoded.pixels.Ink; ink != nil {
		rgb := make([]byte, 3*part.W)
		return part.coloured(func(y int) []byte {
			at := ((y0+y)*whole.W + x0) * 4
			press.Screen(rgb, ink[at:at+4*part.W])
			return rgb
		}), nil
	}
	to := s.lightTransform()
	if to == nil {
		return part.onPaper(), nil
	}
	rgb, own := make([]byte, 3*part.W), make([]byte, 3*part.W)
	return part.coloured(func(y int) []byte {
		for x, q := 0, part.Pix[4*y*part.W:]; x < part.W; x, q = x+1, q[4:] {
			copy(own[3*x:3*x+3], q)
		}
		to.Bytes(rgb, own)
		return rgb
	}), nil
}

// lightTransform takes the picture's RGB to the screen's where a profile says that
// they differ; nil where they do not, or nobody can tell.
func (s *Side) lightTransform() *icc.Transform {
	if s.Header.Space != raster.RGB || len(s.Header.Profile) == 0 {
		return nil
	}
	p, err := icc.Parse(s.Header.Profile)
	if err != nil || p.Space != icc.RGB || p.SRGB() {
		return nil
	}
	t, err := icc.NewTransform(p, press.SRGB(), icc.RelativeColorimetric)
	if err != nil {
		return nil
	}
	return t
}

// Box is what the paint shows, in trim coordinates.
func (p *Paint) Box() rules.Box {
	return rules.Box{X: p.X, Y: p.Y, W: length(float64(p.W) * p.PxW), H: length(float64(p.H) * p.PxH)}
}

// onPaper lays the paint on white paper.
func (p *Paint) onPaper() *Paint {
	rgb := make([]byte, 3*p.W)
	return p.coloured(func(y int) []byte {
		for x, q := 0, p.Pix[4*y*p.W:]; x < p.W; x, q = x+1, q[4:] {
			copy(rgb[3*x:3*x+3], q)
		}
		return rgb
	})
}

// coloured is the paint on white paper in other colours, which row tells: three
// bytes a pixel, good until it is called again.
func (p *Paint) coloured(row func(y int) []byte) *Paint {
	out := *p
	out.Transparent = false
	out.Pix = make([]byte, 4*p.W*p.H)
	for y := range p.H {
		rgb := row(y)
		for x := range p.W {
			at := 4 * (y*p.W + x)
			q, alpha := out.Pix[at:at+4:at+4], p.Pix[at+3]
			for k := range 3 {
				q[k] = 255 - over(255-rgb[3*x+k], alpha)
			}
			q[3] = 255
		}
	}
	return &out
}

// seen is how the inks look together on white paper. An extra ink takes as much of the
// light as the colour takes that the file shows it by: what truly comes of two inks on
// each other only the press knows (common practice).
func (p *Plates) seen() *Paint {
	out := &Paint{W: p.W, H: p.H, X: p.X, Y: p.Y, PxW: p.PxW, PxH: p.PxH, Pix: make([]byte, 4*p.W*p.H)}
	inks, rgb := make([]byte, 4*p.W), make([]byte, 3*p.W)
	extra := p.extra()
	for y := range p.H {
		for x := range p.W {
			for k := range 4 {
				inks[4*x+k] = p.Ink[k][y*p.W+x]
			}
		}
		press.Screen(rgb, inks)
		for i, solid := range extra {
			for x, ink := range p.Ink[4+i][y*p.W : (y+1)*p.W] {
				for k := range 3 {
					q := &rgb[3*x+k]
					*q = over(*q, 255-over(255-solid[k], ink))
				}
			}
		}
		for x := range p.W {
			at := 4 * (y*p.W + x)
			copy(out.Pix[at:at+3], rgb[3*x:])
			out.Pix[at+3] = 255
		}
	}
	return out
}

// extra is what the extra inks look like, solid on white paper.
func (p *Plates) extra() [][3]byte {
	out := make([][3]byte, min(len(p.solids), max(0, len(p.Ink)-4)))
	for i := range out {
		var inks [4]byte
		for k, v := range p.solids[i] {
			inks[k] = byte(math.Round(255 * v))
		}
		press.Screen(out[i][:], inks[:])
	}
	return out
}

// shrunk is an opaque paint as a picture, no finer than ppi and with no more than
// most pixels.
func (p *Paint) shrunk(ppi float64, most int) image.Image {
	img := &image.RGBA{Pix: p.Pix, Stride: 4 * p.W, Rect: image.Rect(0, 0, p.W, p.H)}
	// A pixel's worth of slack: the finest that a page is drawn at may be a little
	// finer than ppi.
	const slack = 1.1
	scale := min(1, math.Sqrt(float64(most)/float64(p.W*p.H)))
	if own := 25400 / min(p.PxW, p.PxH); own > slack*ppi {
		scale = min(scale, ppi/own)
	}
	if scale == 1 {
		return img
	}
	w, h := max(1, int(float64(p.W)*scale)), max(1, int(float64(p.H)*scale))
	small := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.BiLinear.Scale(small, small.Rect, img, img.Rect, draw.Src, nil)
	return small
}
