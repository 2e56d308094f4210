package art

import (
	"math"

	"stoneproof/rules"
)

// placeImage places the trim of a raster. An image cannot say where it is cut;
// its size, pixels over density, is compared with the card and the card with
// bleed. A density that cannot be true, or none, leaves its shape.
func (s *Side) placeImage(t rules.Ticket) {
	s.scale = grid{stepX: umAt(s.Header.Density.X), stepY: umAt(s.Header.Density.Y)}
	if s.DensityStated() {
		s.Stated = s.imageSize()
		f, ok := fitSize(s.Stated, t, s.imageTolerance(t))
		if ok {
			s.Placing, s.Basis = f.placing, rules.Measured
			s.centred(s.Stated, f.trim)
			return
		}
	}
	s.Basis = rules.Inferred
	if outer, trim, ok := s.fitShape(t); ok {
		s.Placing = ByShape
		s.scale = grid{
			stepX: float64(outer.W) / float64(s.Header.Width),
			stepY: float64(outer.H) / float64(s.Header.Height),
		}
		s.centred(outer, trim)
	}
}

// DensityStated reports whether the image tells its density at all.
func (s *Side) DensityStated() bool { return s.Header.Density.X > 0 && s.Header.Density.Y > 0 }

// umAt is the width of a pixel at ppi, at 300 ppi where none is told: the side
// still wants some scale for its pixels.
func umAt(ppi float64) float64 {
	if ppi <= 0 {
		ppi = 300
	}
	return float64(rules.Inch) / ppi
}

// ImageTolerance is how far a raster's finished size may be off: the ticket's
// tolerance or one pixel, whichever is larger.
func (s *Side) imageTolerance(t rules.Ticket) rules.Length {
	return max(t.Limits.RasterTrimTolerance, length(max(s.scale.stepX, s.scale.stepY)))
}

// Tolerance is how far the side's finished size may be off.
func (s *Side) Tolerance(t rules.Ticket) rules.Length {
	if s.Page != nil {
		return t.Limits.TrimTolerance
	}
	return s.imageTolerance(t)
}

func (s *Side) imageSize() rules.Size {
	return rules.Size{
		W: length(float64(s.Header.Width) * s.scale.stepX),
		H: length(float64(s.Header.Height) * s.scale.stepY),
	}
}

// Bounds of a believable resolution where the shape alone is read.
const (
	leastShapePPI = 30
	mostShapePPI  = 2540
)

// shapeSlack is how far the two resolutions that a shape would have may differ:
// half a millimetre on an 85 mm card.
const shapeSlack = 0.006

// fitShape reads the trim from the image's shape: of the card with bleed and
// the card alone, either way round, the one whose two resolutions agree best.
func (s *Side) fitShape(t rules.Ticket) (outer, trim rules.Size, ok bool) {
	px := rules.Size{W: rules.Length(s.Header.Width), H: rules.Length(s.Header.Height)}
	lying := lyingAs(t.Trim, px)
	best := math.Inf(1)
	for _, c := range []rules.Size{lying, lying.Turned()} {
		for _, b := range []rules.Length{t.Bleed, rules.MM(3), rules.Inches(0.125), rules.MM(2), 0} {
			o := c.Grow(b)
			x, y := float64(px.W)/o.W.Inches(), float64(px.H)/o.H.Inches()
			off := math.Abs(x-y) / max(x, y)
			if off > shapeSlack || min(x, y) < leastShapePPI || max(x, y) > mostShapePPI {
				continue
			}
			// The ticket's own bleed comes first and loses only to a clearly
			// better fit: a pixel of rounding is no reason to read another one.
			if off < best-0.5/float64(min(px.W, px.H)) {
				best, outer, trim, ok = off, o, c, true
			}
		}
	}
	return outer, trim, ok
}

// ScreenDensity reports whether the stated density is one that programs write
// for "unknown": 72 (so the Exif standard has it) and 96, a screen's.
func (s *Side) ScreenDensity() bool {
	d := s.Header.Density
	screen := func(v float64) bool { return math.Abs(v-72) < 1 || math.Abs(v-96) < 1 }
	return screen(d.X) && screen(d.Y)
}
