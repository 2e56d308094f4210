package press

import (
	"bytes"
	"image"
	"image/jpeg"
)

// stored is a picture's pixels as a file is to hold them.
func (s settings) stored(p pixels) []byte {
	pix := p.bytes(s.space)
	if s.onceJPEG == 0 {
		return pix
	}
	file := jpegFile(s.space, p.w, p.h, pix, jpegOptions{quality: s.onceJPEG})
	img, err := jpeg.Decode(bytes.NewReader(file))
	if err != nil {
		panic("press: " + err.Error())
	}
	switch img := img.(type) {
	case *image.CMYK:
		return rows(img.Pix, img.Stride, 4*p.w, p.h)
	case *image.Gray:
		return rows(img.Pix, img.Stride, p.w, p.h)
	}
	out := make([]byte, 0, 3*p.w*p.h)
	for y := range p.h {
		for x := range p.w {
			r, g, b, _ := img.At(x, y).RGBA()
			out = append(out, byte(r>>8), byte(g>>8), byte(b>>8))
		}
	}
	return out
}

// rows are w bytes of each of h lines.
func rows(pix []byte, stride, w, h int) []byte {
	out := make([]byte, 0, w*h)
	for y := range h {
		out = append(out, pix[y*stride:y*stride+w]...)
	}
	return out
}
