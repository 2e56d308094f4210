package art

import (
	"time"

	"stoneproof/checks/art/pdf"
	"stoneproof/checks/art/raster"
)

// Ceilings bound what an untrusted file may cost: what we dare read, as against
// the ticket's limits, which say what the craft needs.
type Ceilings struct {
	FileBytes   int64         // of a file on disk
	PaintPixels int           // of a side's rendered picture
	PaintPPI    float64       // resolution at which a page is rendered
	GreyPixels  int           // of a page's pictures that are looked at in their own pixels, all together
	BlendFaces  float64       // blended or see-through paint of a page, in areas of the card
	Deadline    time.Duration // for one file, from opening to verdict
	PDF         pdf.Limits
	Raster      raster.Limits
}

// DefaultCeilings suit a card on an ordinary computer.
func DefaultCeilings() Ceilings {
	pages := pdf.DefaultLimits()
	pages.Pages = 500 // a deck of cards with a back to each has some 120 sides
	return Ceilings{
		FileBytes: 512 << 20,
		// A6 with bleed at 300 ppi is 2.4 million pixels; a sheet of A3 is 17.
		PaintPixels: 24 << 20,
		// 0.085 mm a pixel: finer than the slack that a bleed is given.
		PaintPPI: 300,
		// As many as its paint may have, twice: pictures lie on each other.
		GreyPixels: 48 << 20,
		// Each costs the renderer 20 ms on a business card.
		BlendFaces: 200,
		Deadline:   60 * time.Second,
		PDF:        pages,
		Raster:     raster.DefaultLimits(),
	}
}
