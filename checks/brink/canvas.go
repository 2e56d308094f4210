package brink

import (
	"math"

	"stoneproof/rules"
)

// Canvas is a side's pixels placed in trim coordinates.
type Canvas struct {
	Pix  []byte       // straight-alpha RGBA, 4 bytes a pixel, stride 4*W
	W, H int          // pixels
	X, Y rules.Length // trim coordinates of the top left corner; negative: in the bleed
	PxW  float64      // width of one pixel, µm
	PxH  float64      // height of one pixel, µm
	Trim rules.Size
	// Transparent: alpha tells paint from no paint. False: an opaque raster,
	// whose unpainted ground is paper white.
	Transparent bool
}

// maxPixel is the coarsest pixel that is measured, µm: 25 ppi says nothing
// about the brink of a card.
const maxPixel = 1000

// readable reports whether the canvas can be measured at all: whole pixels, a
// sane pixel size, a trim, and lengths within what a sheet can be.
func (c *Canvas) readable() bool {
	const far = 10000 * rules.Millimetre
	return c.W > 0 && c.H > 0 && len(c.Pix)/4/c.W >= c.H &&
		c.PxW > 0 && c.PxW <= maxPixel && c.PxH > 0 && c.PxH <= maxPixel &&
		float64(c.W)*c.PxW < float64(far) && float64(c.H)*c.PxH < float64(far) &&
		c.Trim.W > 0 && c.Trim.W < far && c.Trim.H > 0 && c.Trim.H < far &&
		c.X > -far && c.X < far && c.Y > -far && c.Y < far
}

// col is the x of trim coordinate x (µm) in pixels from the left of the canvas.
func (c *Canvas) col(x float64) float64 { return (x - float64(c.X)) / c.PxW }

// row is the y of trim coordinate y (µm) in pixels from the top of the canvas.
func (c *Canvas) row(y float64) float64 { return (y - float64(c.Y)) / c.PxH }

func roundInt(v float64) int { return int(math.Round(v)) }

// length is v µm as a Length.
func length(v float64) rules.Length { return rules.Length(math.Round(v)) }
