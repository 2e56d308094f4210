package raster

import (
	"bytes"
	"fmt"
	"image"
	"image/draw"
	"image/jpeg"
	"io"
	"slices"
)

// image reads the stream with image/jpeg. The decoder is given a stream of its
// own: what the components are was decided already, and no application
// segment but ours may speak to that. It also wants an Adobe segment before
// it takes four components at all.
func (d jpegData) image(coding jpegCoding) (image.Image, error) {
	head := slices.Concat([]byte{0xff, markerSOI}, coding.segment(), d.tables)
	m, err := jpeg.Decode(io.MultiReader(bytes.NewReader(head), bytes.NewReader(d.body)))
	if err != nil {
		return nil, fmt.Errorf("%w: the JPEG picture data do not hold together: %v", ErrDamaged, err)
	}
	return m, nil
}

// segment is the application segment that makes image/jpeg read a coding:
// JFIF for gray and YCbCr, else Adobe's with its transform.
func (c jpegCoding) segment() []byte {
	transform := byte(transformNone)
	switch c {
	case codedGray, codedYCbCr:
		return []byte("\xff\xe0\x00\x10JFIF\x00\x01\x02\x00\x00\x01\x00\x01\x00\x00")
	case codedYCCK:
		transform = transformYCCK
	}
	return append([]byte("\xff\xee\x00\x0eAdobe\x00\x64\x00\x00\x00\x00"), transform)
}

// memory is what decoding holds: samples, the coefficients of a progressive
// JPEG (4 bytes a sample), ink and view.
func (d jpegData) memory() int64 {
	n := len(d.frame.ids)
	need := n + 4
	if n == 4 {
		need += 4
	}
	if d.frame.process == 0xc2 {
		need += 4 * n
	}
	return int64(need) * int64(d.frame.width) * int64(d.frame.height)
}

// pixels decodes the stream of a JPEG file.
func (d jpegData) pixels(coding jpegCoding) (*Pixels, error) {
	m, err := d.image(coding)
	if err != nil {
		return nil, err
	}
	return jpegPixels(m), nil
}

// jpegPixels takes over what image/jpeg returns. Its CMYK is ink already: 255
// is full.
func jpegPixels(m image.Image) *Pixels {
	w, h := m.Bounds().Dx(), m.Bounds().Dy()
	switch m := m.(type) {
	case *image.CMYK:
		p := newPixels(w, h, false)
		p.Ink = m.Pix
		p.viewInk()
		p.cover()
		return p
	case *image.Gray:
		p := newPixels(w, h, false)
		for y := range h {
			grayRow(p.Pix[4*w*y:], m.Pix[m.Stride*y:m.Stride*y+w])
		}
		return p
	case *image.RGBA:
		return &Pixels{Width: w, Height: h, Pix: m.Pix}
	}
	p := newPixels(w, h, false)
	dst := &image.RGBA{Pix: p.Pix, Stride: 4 * w, Rect: image.Rect(0, 0, w, h)}
	draw.Draw(dst, dst.Rect, m, m.Bounds().Min, draw.Src)
	return p
}

func grayRow(dst, src []byte) {
	for x, v := range src {
		q := dst[4*x : 4*x+4 : 4*x+4]
		q[0], q[1], q[2], q[3] = v, v, v, 255
	}
}
