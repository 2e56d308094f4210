package raster

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
)

// memory is what image/png and the conversion hold. An interlaced picture is
// held with its largest pass, which has half its pixels.
func (f *pngFacts) memory() int64 {
	stored, view := int64(4), int64(0)
	switch {
	case f.depth == 16:
		stored, view = 8, 4
	case f.colour == pngPalette, f.colour == pngGray && !f.transparent:
		stored, view = 1, 4
	}
	if f.interlaced {
		stored += (stored + 1) / 2
	}
	return (stored + view) * int64(f.width) * int64(f.height)
}

func decodePNG(b []byte) (*Pixels, error) {
	m, err := png.Decode(bytes.NewReader(b))
	if err != nil {
		return nil, fmt.Errorf("%w: the PNG picture data do not hold together: %v", ErrDamaged, err)
	}
	return imagePixels(m)
}

// imagePixels takes over a picture of the kinds that Go's decoders return for
// files without YCbCr. Its buffer is kept where it has the shape wanted.
func imagePixels(m image.Image) (*Pixels, error) {
	w, h := m.Bounds().Dx(), m.Bounds().Dy()
	switch m := m.(type) {
	case *image.NRGBA:
		return &Pixels{Width: w, Height: h, Pix: m.Pix}, nil
	case *image.RGBA: // opaque: what transparency there is comes as NRGBA
		return &Pixels{Width: w, Height: h, Pix: m.Pix}, nil
	}
	p := newPixels(w, h, false)
	switch m := m.(type) {
	case *image.Gray:
		grayRow(p.Pix, m.Pix)
	case *image.Paletted:
		p.paint(m)
	case *image.Gray16:
		for i, q := 0, p.Pix; i+1 < len(m.Pix); i, q = i+2, q[4:] {
			v := high(m.Pix[i:])
			q[0], q[1], q[2], q[3] = v, v, v, 255
		}
	case *image.RGBA64:
		reduce(p.Pix, m.Pix)
	case *image.NRGBA64:
		reduce(p.Pix, m.Pix)
	default:
		return nil, fmt.Errorf("%w: its pixels are of no kind known: %T", ErrUnsupported, m)
	}
	return p, nil
}

// reduce reduces big-endian samples of 16 bits.
func reduce(dst, src []byte) {
	for i := range dst {
		dst[i] = high(src[2*i:])
	}
}

func high(b []byte) byte { return to8(uint32(b[0])<<8 | uint32(b[1])) }

// paint looks up the colours of a palette, and puts the picture where its
// bounds are.
func (p *Pixels) paint(m *image.Paletted) {
	var table [256][4]byte
	for i, c := range m.Palette {
		table[i] = straight(c)
	}
	for y := m.Rect.Min.Y; y < m.Rect.Max.Y; y++ {
		dst := p.Pix[4*(y*p.Width+m.Rect.Min.X):]
		for x, v := range m.Pix[m.PixOffset(m.Rect.Min.X, y):][:m.Rect.Dx()] {
			*(*[4]byte)(dst[4*x:]) = table[v]
		}
	}
}

// straight is a palette's colour with alpha apart.
func straight(c color.Color) [4]byte {
	n := color.NRGBAModel.Convert(c).(color.NRGBA)
	return [4]byte{n.R, n.G, n.B, n.A}
}
