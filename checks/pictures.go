package checks

import (
	"math"

	"stoneproof/checks/art"
	"stoneproof/checks/art/pdf"
	"stoneproof/rules"
)

// picture is one picture as it prints.
type picture struct {
	name       string
	w, h       int     // pixels
	ppiX, ppiY float64 // 0: that axis carries no detail
	oneBit     bool
	where      *rules.Box
	image      *pdf.Image // nil where the side itself is the picture
}

// ppi is the lesser of the two axes.
func (i picture) ppi() float64 {
	switch {
	case i.ppiX == 0:
		return i.ppiY
	case i.ppiY == 0:
		return i.ppiX
	}
	return math.Min(i.ppiX, i.ppiY)
}

// pictures lists what there is to judge, or says why nothing can be.
func (p *Pass) pictures() (list []picture, why string) {
	h := p.Side.Header
	if h == nil {
		return p.pagePictures()
	}
	if !p.Side.Placed() && !p.Side.DensityStated() {
		return nil, "The size at which this prints is not known: see trim-size."
	}
	x, y := p.Side.PPI()
	return []picture{{name: "the picture", w: h.Width, h: h.Height, ppiX: x, ppiY: y, oneBit: h.Bits == 1}}, ""
}

// pagePictures lists the pictures of a page that reach ink.
func (p *Pass) pagePictures() (list []picture, why string) {
	content, err := p.Side.Content()
	if err != nil {
		return nil, "The page's content could not be read: " + sentence(err.Error())
	}
	for i := range content.Images {
		im := &content.Images[i]
		if !im.Seen() || im.FillAlpha == 0 {
			continue
		}
		box := p.Side.Box(im.Box)
		if p.Side.Placed() {
			if box = box.Intersect(p.Side.Printed()); box.Empty() {
				continue
			}
		}
		one := picture{name: im.Name, w: im.W, h: im.H, oneBit: oneBit(im), where: &box, image: im}
		one.ppiX, one.ppiY = detailed(im.W, im.PPIX), detailed(im.H, im.PPIY)
		if !tiny(one) && one.ppi() > 0 {
			list = append(list, one)
		}
	}
	return list, ""
}

// detailed is the resolution of an axis, 0 where one or two pixels are drawn
// out over it: that is how programs write a flat tint or a gradient.
func detailed(pixels int, ppi float64) float64 {
	if pixels <= 2 {
		return 0
	}
	return ppi
}

// Tiny pictures do not alarm: under 64 px a side (an open working group's
// sheetfed specification exempts them) and small on the card as well.
const (
	tinyPixels = 64
	tinySize   = 10 * rules.Millimetre
)

func tiny(i picture) bool {
	return i.w < tinyPixels && i.h < tinyPixels && i.where.W < tinySize && i.where.H < tinySize
}

// oneBit reports whether an image is pure line art, whose edges are as coarse
// as its pixels.
func oneBit(im *pdf.Image) bool {
	return im.Bits == 1 && (im.Mask == pdf.Stencil || im.Space == nil || im.Space.N == 1)
}

// grey is the lightness of a picture's own pixels.
func (p *Pass) grey(i picture) (*art.Grey, error) {
	if i.image == nil {
		return p.Side.Grey(p.Ctx)
	}
	return p.Side.GreyOf(i.image)
}
