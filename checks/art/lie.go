package art

import (
	"stoneproof/checks/art/pdf"
	"stoneproof/checks/art/raster"
)

// Lie maps what the side is made of to trim coordinates, in micrometres: a page's
// user space, or the unit square that a PDF paints a picture into (ISO 32000-1,
// 8.9.5), as seen.
func (s *Side) Lie() pdf.Matrix {
	g := s.scale
	if s.Page != nil {
		return s.Page.Display().Mul(pdf.Matrix{g.stepX, 0, 0, g.stepY, -g.originX, -g.originY})
	}
	w, h := float64(s.Header.Width)*g.stepX, float64(s.Header.Height)*g.stepY
	return pdf.Matrix{w, 0, 0, -h, -g.originX, h - g.originY}
}

// Document is the PDF that the side is a page of; nil for a raster.
func (s *Side) Document() *pdf.Document { return s.art.PDF }

// Pixels are a raster side's, as seen.
func (s *Side) Pixels() (*raster.Pixels, error) { return s.pixels() }

// JPEG is a raster side's file, if that is a JPEG.
func (s *Side) JPEG() (raster.JPEGStream, bool) {
	if s.art.Raster == nil {
		return raster.JPEGStream{}, false
	}
	return s.art.Raster.JPEG()
}
