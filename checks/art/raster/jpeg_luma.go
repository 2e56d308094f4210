package raster

import "image"

// Luma is the lightness of a picture, a byte a pixel from black to white, rows from
// the top.
type Luma struct {
	Width, Height int
	Pix           []byte
}

// JPEGLuma decodes the lightness of a JPEG as it is stored, for formats that hold JPEG
// whole and have an orientation of their own. Of YCbCr it is the first component, with
// nothing lost on the way. Plain tells that four components are ink as it is, which a
// JPEG file of its own holds inverted.
func JPEGLuma(b []byte, plain bool, lim Limits) (l *Luma, err error) {
	defer rescue(&err)
	p, err := openJPEG(b, lim)
	if err != nil {
		return nil, err
	}
	if err := lim.afford(p); err != nil {
		return nil, err
	}
	m, err := p.image()
	if err != nil {
		return nil, err
	}
	switch m := m.(type) {
	case *image.YCbCr:
		return lumaRows(m.Rect, m.Y, m.YStride), nil
	case *image.Gray:
		return lumaRows(m.Rect, m.Pix, m.Stride), nil
	}
	px := jpegPixels(m)
	if px.Ink != nil && plain {
		for i := range px.Ink {
			px.Ink[i] ^= 255
		}
		px.viewInk()
	}
	return &Luma{px.Width, px.Height, LumaOf(px.Pix)}, nil
}

func lumaRows(r image.Rectangle, pix []byte, stride int) *Luma {
	l := &Luma{r.Dx(), r.Dy(), make([]byte, 0, r.Dx()*r.Dy())}
	for y := range l.Height {
		l.Pix = append(l.Pix, pix[y*stride:y*stride+l.Width]...)
	}
	return l
}

// LumaOf is the lightness on white paper of pixels of R, G, B and A, colour not
// multiplied by alpha, with the weights of ITU-R BT.601, which JPEG has too.
func LumaOf(rgba []byte) []byte {
	out := make([]byte, len(rgba)/4)
	for i := range out {
		q := rgba[4*i : 4*i+4 : 4*i+4]
		dark := 255<<8 - (77*uint32(q[0]) + 150*uint32(q[1]) + 29*uint32(q[2]))
		if q[3] != 255 {
			dark = dark * uint32(q[3]) / 255
		}
		out[i] = byte(255 - dark>>8)
	}
	return out
}
