package art

import (
	"context"
	"math"
	"strings"

	"stoneproof/checks/art/pdf"
	"stoneproof/checks/art/raster"
	"stoneproof/checks/art/render"
	"stoneproof/rules"
)

// Side is one face of the card: a page of a PDF, or one raster image.
type Side struct {
	Number int            // from 1
	Page   *pdf.Page      // nil for a raster
	Header *raster.Header // nil for a PDF page

	// Set by Place.
	Placing Placing
	Stated  rules.Size  // finished size, or size of the whole, as the file itself states it
	Trim    rules.Size  // finished size, as placed
	Room    rules.Edges // how far the file reaches beyond the trim
	Basis   rules.Basis // how the trim was placed

	art    *Art
	scale  grid         // from the page's points, or the raster's pixels, to trim coordinates
	bleed  rules.Length // that the ticket wants
	safe   rules.Length // margin that the ticket wants
	walked *walked
	paint  *painted

	decoded *decoded // a raster's pixels
	greys   greys    // pictures whose own pixels were looked at
}

type walked struct {
	content *pdf.Content
	err     error
}

type decoded struct {
	pixels *raster.Pixels
	err    error
}

type painted struct {
	paint *Paint
	err   error
}

// grid maps a side's own units (points or pixels from its top left corner) to
// micrometres in trim coordinates: trim = own × step − origin.
type grid struct {
	stepX, stepY     float64 // micrometres in one unit
	originX, originY float64 // micrometres from the side's corner to the trim's
}

// Box is a box of the side's own units in trim coordinates.
func (g grid) box(x0, y0, x1, y1 float64) rules.Box {
	left, top := g.x(x0), g.y(y0)
	return rules.Box{X: left, Y: top, W: g.x(x1) - left, H: g.y(y1) - top}
}

func (g grid) x(v float64) rules.Length { return length(v*g.stepX - g.originX) }
func (g grid) y(v float64) rules.Length { return length(v*g.stepY - g.originY) }

// length rounds to a micrometre; what lies beyond ten kilometres is as far.
func length(um float64) rules.Length {
	const far = 1e10
	return rules.Length(math.Round(max(-far, min(far, um))))
}

// Box puts a box of the page's display space into trim coordinates.
func (s *Side) Box(r pdf.Rect) rules.Box { return s.scale.box(r.X0, r.Y0, r.X1, r.Y1) }

// Placed reports whether the trim could be placed.
func (s *Side) Placed() bool { return s.Placing != Unplaced }

// Card is the trim as a box.
func (s *Side) Card() rules.Box { return rules.Box{W: s.Trim.W, H: s.Trim.H} }

// Printed is the card with the bleed that the ticket wants: what reaches ink.
func (s *Side) Printed() rules.Box { return s.Card().Inset(-s.bleed) }

// Content is what the page paints, walked once.
func (s *Side) Content() (*pdf.Content, error) {
	if s.walked == nil {
		c, err := s.Page.Walk()
		s.walked = &walked{c, err}
	}
	return s.walked.content, s.walked.err
}

// Paint is a side's picture in trim coordinates.
type Paint struct {
	Pix         []byte // straight-alpha RGBA, 4 bytes a pixel, W × H
	W, H        int
	X, Y        rules.Length // trim coordinates of the top left corner
	PxW, PxH    float64      // micrometres a pixel
	Transparent bool         // alpha tells paint from no paint

	luma []byte
}

// Luma is the lightness of the paint on white paper, a byte a pixel, made once. It is
// only to be read.
func (p *Paint) Luma() []byte {
	if p.luma == nil {
		p.luma = raster.LumaOf(p.Pix)
	}
	return p.luma
}

// Paint is the side's pixels, made once. A PDF page is rendered over a
// transparent ground across the trim and the bleed that the ticket wants; a
// raster is decoded as it is.
func (s *Side) Paint(ctx context.Context) (*Paint, error) {
	if s.paint == nil {
		p, err := s.makePaint(ctx)
		s.paint = &painted{p, err}
	}
	return s.paint.paint, s.paint.err
}

func (s *Side) makePaint(ctx context.Context) (*Paint, error) {
	if s.Page == nil {
		return s.decode()
	}
	// The walk is bounded and cheap, the renderer is neither: what is too much
	// for the one is not given to the other.
	if err := s.drawable(); err != nil {
		return nil, err
	}
	window, w, h := s.window()
	return s.draw(ctx, window, w, h)
}

// draw renders a part of the page over a transparent ground.
func (s *Side) draw(ctx context.Context, part rules.Box, w, h int) (*Paint, error) {
	doc, err := s.art.pages.open(ctx)
	if err != nil {
		return nil, err
	}
	uu := 25400.0 / 72 * s.Page.UserUnit // micrometres a default user unit
	img, err := doc.Render(ctx, s.Number, render.View{
		Media: s.Page.RawMedia,
		X:     (float64(part.X) + s.scale.originX) / uu, Y: (float64(part.Y) + s.scale.originY) / uu,
		W: float64(part.W) / uu, H: float64(part.H) / uu,
		PxW: w, PxH: h, Printing: true,
	})
	if err != nil {
		return nil, err
	}
	return &Paint{
		Pix: img.Pix, W: w, H: h, X: part.X, Y: part.Y,
		PxW: float64(part.W) / float64(w), PxH: float64(part.H) / float64(h),
		Transparent: true,
	}, nil
}

// drawable refuses a page that would keep the renderer busy for longer than a
// card deserves: it cannot be stopped once it is at work.
func (s *Side) drawable() error {
	content, err := s.Content()
	switch {
	case err != nil:
		return err
	case content.Truncated:
		return tooMuchWork(content)
	case s.blendedFaces(content) > s.art.ceilings.BlendFaces:
		return &Fault{"The page lays more see-through paint on itself than a card should", "Flatten the artwork, or export it as a picture at 300 ppi."}
	}
	return nil
}

// blendedFaces is how often over the page's see-through and blended paint would
// cover the part that is drawn.
func (s *Side) blendedFaces(c *pdf.Content) float64 {
	window := s.Box(s.Page.Media)
	if s.Placed() {
		window, _, _ = s.window()
	}
	area := 0.0
	add := func(it *pdf.Item) {
		if it.Seen() && (it.Blend != "Normal" || it.FillAlpha < 1 || it.StrokeAlpha < 1 || it.SoftMask) {
			b := s.Box(it.Box).Intersect(window)
			area += b.W.MM() * b.H.MM()
		}
	}
	for i := range c.Texts {
		add(&c.Texts[i].Item)
	}
	for i := range c.Images {
		add(&c.Images[i].Item)
	}
	for i := range c.Paths {
		add(&c.Paths[i].Item)
	}
	for i := range c.Shadings {
		add(&c.Shadings[i].Item)
	}
	return area / max(1, window.W.MM()*window.H.MM())
}

func tooMuchWork(c *pdf.Content) *Fault {
	return &Fault{
		"The page asks for far more work than a card should: " + strings.Join(c.Notes, "; "),
		"Flatten or simplify the artwork, or export it as a picture at 300 ppi.",
	}
}

// window is the part of the page to render, in trim coordinates, and its size
// in pixels. The resolution is set so that the bleed is a whole number of
// pixels: then trim and bleed edges fall on pixel edges, and a background that
// ends there leaves no half-covered row to be mistaken for a sliver.
func (s *Side) window() (b rules.Box, w, h int) {
	out := func(e rules.Edge) rules.Length { return max(0, min(s.Room.Of(e), s.bleed)) }
	b = rules.Box{X: -out(rules.Left), Y: -out(rules.Top)}
	b.W = s.Trim.W + out(rules.Left) + out(rules.Right)
	b.H = s.Trim.H + out(rules.Top) + out(rules.Bottom)
	ppi := s.art.ceilings.PaintPPI
	if s.bleed > 0 {
		ppi = math.Max(1, math.Round(s.bleed.Pixels(ppi))) / s.bleed.Inches()
	}
	ppi = s.affordable(b, ppi)
	whole := func(l rules.Length) int { return max(1, int(math.Round(l.Pixels(ppi)))) }
	return b, whole(b.W), whole(b.H)
}

func (s *Side) decode() (*Paint, error) {
	px, err := s.pixels()
	if err != nil {
		return nil, err
	}
	return &Paint{
		Pix: px.Pix, W: px.Width, H: px.Height,
		X: s.scale.x(0), Y: s.scale.y(0), PxW: s.scale.stepX, PxH: s.scale.stepY,
		Transparent: !px.Opaque,
	}, nil
}

// pixels are a raster's, decoded once: paint and plates share them.
func (s *Side) pixels() (*raster.Pixels, error) {
	if s.decoded == nil {
		px, err := s.art.Raster.Decode(s.Number - 1)
		if err != nil {
			err = faultOf(s.art.Kind, err)
		}
		s.decoded = &decoded{px, err}
	}
	return s.decoded.pixels, s.decoded.err
}

// affordable is the resolution at which a part has no more pixels than the
// ceiling allows, ppi at most.
func (s *Side) affordable(b rules.Box, ppi float64) float64 {
	most := float64(s.art.ceilings.PaintPixels)
	if px := b.W.Pixels(ppi) * b.H.Pixels(ppi); px > most {
		ppi *= math.Sqrt(most / px)
	}
	return ppi
}

// Release lets go of what was made for the side; what is asked for again is
// made again.
func (s *Side) Release() { s.walked, s.paint, s.decoded, s.greys = nil, nil, nil, greys{} }

// Facts are what a report tells of the side.
func (s *Side) Facts() rules.SideFacts {
	return rules.SideFacts{Number: s.Number, Trim: s.Trim, Bleed: s.Room, Basis: s.Basis, Placing: s.Placing.String()}
}

// PPI is a raster side's resolution at the size at which it was placed.
func (s *Side) PPI() (x, y float64) { return 25400 / s.scale.stepX, 25400 / s.scale.stepY }

// Bounds are the pixels that a box of trim coordinates touches, cut to the
// picture: columns x0 up to x1, rows y0 up to y1.
func (p *Paint) Bounds(b rules.Box) (x0, y0, x1, y1 int) {
	at := func(v, origin rules.Length, px float64, most int) float64 {
		return max(0, min(float64(most), float64(v-origin)/px))
	}
	x0 = int(math.Floor(at(b.X, p.X, p.PxW, p.W)))
	y0 = int(math.Floor(at(b.Y, p.Y, p.PxH, p.H)))
	x1 = int(math.Ceil(at(b.Right(), p.X, p.PxW, p.W)))
	y1 = int(math.Ceil(at(b.Bottom(), p.Y, p.PxH, p.H)))
	return x0, y0, x1, y1
}
