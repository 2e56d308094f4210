package art

import (
	"context"
	"math"
	"slices"

	"stoneproof/checks/art/icc/press"
	"stoneproof/checks/art/plates"
	"stoneproof/checks/art/raster"
	"stoneproof/rules"
)

// Plates are the inks of a side, a picture each, in trim coordinates.
type Plates struct {
	Names    []string // "cyan", "magenta", "yellow", "black", then extra inks as the file names them
	Ink      [][]byte // for each name W × H bytes: 0 no ink, 255 full
	W, H     int
	X, Y     rules.Length // trim coordinates of the top left corner
	PxW, PxH float64      // micrometres a pixel

	// Approximate names, in plain words, what could not be separated faithfully;
	// empty where every number is the file's own.
	Approximate []string
	Partial     bool // something that is seen on the page is missing from the plates

	solids [][4]float64 // for each extra ink the process inks that look like it
}

// processPlates are the names of the process inks in their order.
var processPlates = []string{"cyan", "magenta", "yellow", "black"}

// Coverage is the mean ink of each plate over its whole area, in per cent.
func (p *Plates) Coverage() []float64 {
	mean := make([]float64, len(p.Ink))
	for i, ink := range p.Ink {
		sum := 0
		for _, v := range ink {
			sum += int(v)
		}
		if len(ink) > 0 {
			mean[i] = float64(sum) / 255 / float64(len(ink)) * 100
		}
	}
	return mean
}

// Heavy is the square of a side with the most ink.
type Heavy struct {
	Box rules.Box // trim coordinates
	Sum float64   // all inks together, per cent of one solid, mean over the box
	Ink []float64 // each plate's share of it
}

// Heaviest finds the square, edge long, over which the inks sum up to most on
// average: a stray pixel or a thin line is not what keeps paper wet.
func (p *Plates) Heaviest(edge rules.Length) Heavy {
	w := max(1, min(p.W, int(float64(edge)/p.PxW+0.5)))
	h := max(1, min(p.H, int(float64(edge)/p.PxH+0.5)))
	x, y := p.heaviestAt(w, h)
	heavy := Heavy{
		Box: rules.Box{
			X: p.X + length(float64(x)*p.PxW), Y: p.Y + length(float64(y)*p.PxH),
			W: length(float64(w) * p.PxW), H: length(float64(h) * p.PxH),
		},
		Ink: make([]float64, len(p.Ink)),
	}
	for i, ink := range p.Ink {
		sum := 0
		for row := y; row < y+h; row++ {
			for _, v := range ink[row*p.W+x : row*p.W+x+w] {
				sum += int(v)
			}
		}
		heavy.Ink[i] = float64(sum) / float64(w*h) / 255 * 100
		heavy.Sum += heavy.Ink[i]
	}
	return heavy
}

// asHeavy is the share of the most ink from which on a window counts as heavy
// as the heaviest: that is less than eight bits a plate can tell.
const asHeavy = 0.998

// heaviestAt is the top left pixel of the window of w × h pixels with the most
// ink; of those as heavy, the one nearest to the middle, for in a flat ground
// any would do and the middle is where people look.
func (p *Plates) heaviestAt(w, h int) (x, y int) {
	most, all := 0, p.sums()
	p.windows(all, w, h, func(_ int, sums []int) { most = max(most, slices.Max(sums)) })
	nearest, heavy := math.MaxInt, int(math.Ceil(asHeavy*float64(most)))
	p.windows(all, w, h, func(row int, sums []int) {
		dy := 2*row + h - p.H
		for col, sum := range sums {
			if sum < heavy {
				continue
			}
			dx := 2*col + w - p.W
			if far := dx*dx + dy*dy; far < nearest {
				nearest, x, y = far, col, row
			}
		}
	})
	return x, y
}

// windows tells row by row the sums of all windows of w × h pixels; a row's are told
// for the time of the call. Columns of h pixels are kept as running sums, and a
// window slides over them: each pixel is added once and taken off once.
func (p *Plates) windows(all []uint16, w, h int, tell func(row int, sums []int)) {
	columns, sums := make([]int, p.W), make([]int, p.W-w+1)
	for row := range p.H {
		for col, v := range all[row*p.W : (row+1)*p.W] {
			columns[col] += int(v)
		}
		if row >= h {
			for col, v := range all[(row-h)*p.W : (row-h+1)*p.W] {
				columns[col] -= int(v)
			}
		}
		if row < h-1 {
			continue
		}
		sum := 0
		for _, v := range columns[:w] {
			sum += v
		}
		for col := range sums {
			sums[col] = sum
			if col+w < p.W {
				sum += columns[col+w] - columns[col]
			}
		}
		tell(row-h+1, sums)
	}
}

// sums are all inks of each pixel together, in 255ths; there are fewer than 257 inks.
func (p *Plates) sums() []uint16 {
	all := make([]uint16, p.W*p.H)
	for _, ink := range p.Ink {
		for i, v := range ink[:len(all)] {
			all[i] += uint16(v)
		}
	}
	return all
}

// rasterPlates are the inks of a picture: its own samples where it is CMYK or
// grey, a guess through the press profile where it is RGB.
func (s *Side) rasterPlates() (*Plates, error) {
	px, err := s.pixels()
	if err != nil {
		return nil, err
	}
	p := &Plates{
		Names: processPlates, W: px.Width, H: px.Height,
		X: s.scale.x(0), Y: s.scale.y(0), PxW: s.scale.stepX, PxH: s.scale.stepY,
	}
	if s.Header.Extra > 0 {
		p.Approximate = append(p.Approximate, "channels beyond the four process inks, which are not counted")
	}
	switch {
	case px.Ink != nil:
		p.Ink = planes(px.Ink, 4, px.Width*px.Height)
	case s.Header.Space == raster.Gray:
		p.Ink = blackOf(px)
	default:
		p.Ink = estimated(px)
		p.Approximate = append(p.Approximate, lightEstimated)
	}
	return p, nil
}

// lightEstimated is why inks of RGB and Lab are no more than a guess.
const lightEstimated = "RGB colours, whose inks are estimated for offset printing on coated paper"

// planes takes pixels of n samples apart into n pictures.
func planes(pix []byte, n, pixels int) [][]byte {
	out := make([][]byte, n)
	for i := range out {
		out[i] = make([]byte, pixels)
	}
	for at := range pixels {
		for i := range out {
			out[i][at] = pix[at*n+i]
		}
	}
	return out
}

// blackOf prints grey in black alone, on white paper where the picture is clear.
func blackOf(px *raster.Pixels) [][]byte {
	n := px.Width * px.Height
	out := [][]byte{make([]byte, n), make([]byte, n), make([]byte, n), make([]byte, n)}
	for at := range n {
		out[3][at] = over(255-px.Pix[at*4], px.Pix[at*4+3])
	}
	return out
}

// over is ink under an alpha, on bare paper.
func over(ink, alpha byte) byte { return byte((int(ink)*int(alpha) + 127) / 255) }

// estimated guesses the inks of light on white paper.
func estimated(px *raster.Pixels) [][]byte {
	n := px.Width * px.Height
	cmyk := make([]byte, n*4)
	rgb := make([]byte, n*3)
	for at := range n {
		c := px.Pix[at*4 : at*4+4]
		for i := range 3 {
			rgb[at*3+i] = 255 - over(255-c[i], c[3])
		}
	}
	press.Inks(cmyk, rgb)
	return planes(cmyk, 4, n)
}

// Part says which part of a side is meant.
type Part int

// Parts of a side. A picture is always taken whole.
const (
	PartWhole   Part = iota // the whole page, to its MediaBox
	PartPrinted             // the card with the bleed that the ticket wants, as far as there is room
)

// Plates separates the side into its inks. A page is drawn at ppi; a picture
// keeps its own pixels. They are made anew at each call.
func (s *Side) Plates(ctx context.Context, part Part, ppi float64) (*Plates, error) {
	if s.Page == nil {
		return s.rasterPlates()
	}
	return s.pagePlates(ctx, s.part(part), ppi)
}

func (s *Side) part(part Part) rules.Box {
	if part == PartPrinted && s.Placed() {
		b, _, _ := s.window()
		return b
	}
	return s.Box(s.Page.Media)
}

func (s *Side) pagePlates(ctx context.Context, b rules.Box, ppi float64) (*Plates, error) {
	if err := s.drawable(); err != nil {
		return nil, err
	}
	if s.art.pages.renderer == nil {
		return nil, errNoRenderer
	}
	ppi = s.affordable(b, ppi)
	job, err := plates.Separate(s.art.PDF, s.Number, plates.Options{Estimate: press.Inks, Limits: plates.DefaultLimits()})
	if err != nil {
		return nil, err
	}
	s.art.pages.close() // the renderer waits for one document before it opens the next
	w, h := max(1, int(math.Round(b.W.Pixels(ppi)))), max(1, int(math.Round(b.H.Pixels(ppi))))
	drawn, err := job.Render(ctx, s.art.pages.renderer, plates.Window{
		X: (float64(b.X) + s.scale.originX) / umPerPoint, Y: (float64(b.Y) + s.scale.originY) / umPerPoint,
		W: float64(b.W) / umPerPoint, H: float64(b.H) / umPerPoint, PxW: w, PxH: h,
	})
	if err != nil {
		return nil, err
	}
	return &Plates{
		Names: drawn.Names, Ink: drawn.Ink, W: w, H: h, X: b.X, Y: b.Y,
		PxW: float64(b.W) / float64(w), PxH: float64(b.H) / float64(h), Approximate: drawn.Approximate, Partial: drawn.Partial,
		solids: drawn.Solids,
	}, nil
}
