package raster

// Pixels is a decoded picture, as seen, rows from the top. Samples of 16 bits
// are reduced to 8 by rounding.
//
// The Pix of a CMYK picture is a plain view of its ink, without a profile:
// R = (1 − C)(1 − K), the conversion that CSS Color 4, 10.2 calls naive (and
// image/color uses). The other naive formula, 1 − min(1, C + K) of ISO
// 32000-1, 10.3.5, would turn all dark overprints into one black; here they
// stay apart.
type Pixels struct {
	Width, Height int
	Pix           []byte // R, G, B, A a pixel; colour is not multiplied by alpha
	Ink           []byte // CMYK only: C, M, Y, K a pixel, 0 no ink, 255 full; nil otherwise
	Opaque        bool   // every A is 255
}

func newPixels(width, height int, ink bool) *Pixels {
	p := &Pixels{Width: width, Height: height, Pix: make([]byte, 4*width*height)}
	if ink {
		p.Ink = make([]byte, 4*width*height)
	}
	return p
}

func (p *Pixels) opaque() bool {
	for i := 3; i < len(p.Pix); i += 4 {
		if p.Pix[i] != 255 {
			return false
		}
	}
	return true
}

// viewInk fills R, G and B from Ink.
func (p *Pixels) viewInk() {
	ink := p.Ink
	for i := 0; i+4 <= len(ink) && i+4 <= len(p.Pix); i += 4 {
		q, c := p.Pix[i:i+4:i+4], ink[i:i+4:i+4]
		light := 255 - uint32(c[3])
		q[0] = part(255-uint32(c[0]), light)
		q[1] = part(255-uint32(c[1]), light)
		q[2] = part(255-uint32(c[2]), light)
	}
}

// part is a·b/255, rounded, for a and b up to 255.
func part(a, b uint32) byte { return byte((a*b + 127) / 255) }

// spreadGray copies R, which a gray picture is decoded into, to G and B.
func (p *Pixels) spreadGray() {
	for i := 0; i+4 <= len(p.Pix); i += 4 {
		p.Pix[i+1], p.Pix[i+2] = p.Pix[i], p.Pix[i]
	}
}

// cover makes every pixel opaque.
func (p *Pixels) cover() {
	for i := 3; i < len(p.Pix); i += 4 {
		p.Pix[i] = 255
	}
}

// straighten undoes the multiplication of ink, or else of colour, by alpha.
func (p *Pixels) straighten() {
	colour, channels := p.Pix, 3
	if p.Ink != nil {
		colour, channels = p.Ink, 4
	}
	for i := 0; i+4 <= len(p.Pix); i += 4 {
		a := uint32(p.Pix[i+3])
		if a == 0 || a == 255 {
			continue
		}
		for c := range channels {
			colour[i+c] = byte(min((uint32(colour[i+c])*255+a/2)/a, 255))
		}
	}
}

// to8 reduces a sample of 16 bits to 8: v·255/65535, rounded (W3C PNG, 13.12).
func to8(v uint32) byte { return byte((v + 128) / 257) }
