package raster

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image"

	"golang.org/x/image/webp"
)

// memory is what decoding holds. A lossless picture may be held three times,
// while transforms are undone; a lossy one has 1.5 bytes a pixel, and alpha
// that is decoded like a lossless picture.
func (f *webpFacts) memory() int64 {
	need := int64(12)
	if !f.lossless {
		need = 6
		if f.alpha != nil {
			need += 9
		}
	}
	return need * int64(f.width) * int64(f.height)
}

// pixels decodes the picture from a file made of only the chunks that it
// needs: what the flags of the header promise besides cannot confuse the
// decoder then.
func (f *webpFacts) pixels() (*Pixels, error) {
	m, err := webp.Decode(bytes.NewReader(f.plain()))
	if err != nil {
		return nil, fmt.Errorf("%w: the WebP picture data do not hold together: %v", ErrDamaged, err)
	}
	switch m := m.(type) {
	case *image.YCbCr:
		return videoPixels(m, nil, 0), nil
	case *image.NYCbCrA:
		return videoPixels(&m.YCbCr, m.A, m.AStride), nil
	}
	p, err := imagePixels(m)
	if err == nil && !f.transparent() {
		p.cover() // the alpha of a picture that calls itself opaque is to be ignored
	}
	return p, err
}

func (f *webpFacts) plain() []byte {
	var body []byte
	chunk := func(name string, data []byte) {
		body = append(body, name...)
		body = binary.LittleEndian.AppendUint32(body, uint32(len(data)))
		body = append(body, data...)
		if len(data)%2 == 1 {
			body = append(body, 0)
		}
	}
	if f.lossless {
		chunk("VP8L", f.picture)
	} else {
		if f.alpha != nil {
			w, h := f.width-1, f.height-1
			chunk("VP8X", []byte{webpAlpha, 0, 0, 0, byte(w), byte(w >> 8), 0, byte(h), byte(h >> 8), 0})
			chunk("ALPH", f.alpha)
		}
		chunk("VP8 ", f.picture)
	}
	head := binary.LittleEndian.AppendUint32([]byte("RIFF"), uint32(len(body)+4))
	return append(append(head, "WEBP"...), body...)
}

// videoPixels converts the YCbCr of VP8. It has the range of video, 16 to 235
// and 16 to 240 (ITU-R BT.601, which RFC 6386, 9.2 names); image/color takes
// YCbCr for the full range of JPEG, which would turn white into light gray.
func videoPixels(m *image.YCbCr, alpha []byte, stride int) *Pixels {
	w, h := m.Rect.Dx(), m.Rect.Dy()
	p := newPixels(w, h, false)
	for y := range h {
		row := p.Pix[4*w*y : 4*w*(y+1)]
		luma := m.Y[y*m.YStride:]
		cb, cr := m.Cb[y/2*m.CStride:], m.Cr[y/2*m.CStride:]
		for x := range w {
			q := row[4*x : 4*x+4 : 4*x+4]
			q[0], q[1], q[2] = videoRGB(luma[x], cb[x/2], cr[x/2])
			q[3] = 255
		}
		if alpha != nil {
			for x, a := range alpha[y*stride : y*stride+w] {
				row[4*x+3] = a
			}
		}
	}
	return p
}

// videoRGB is BT.601 in fixed point of 16 bits: R = 1.164 (Y − 16) + 1.596
// (Cr − 128) and so on, with the coefficients 255/219 and 255/224 × 1.402,
// 0.344, 0.714 and 1.772.
func videoRGB(y, cb, cr byte) (r, g, b byte) {
	l := 76309*(int32(y)-16) + 1<<15
	u, v := int32(cb)-128, int32(cr)-128
	return clamp((l + 104597*v) >> 16), clamp((l - 25675*u - 53279*v) >> 16), clamp((l + 132201*u) >> 16)
}

func clamp(v int32) byte { return byte(min(max(v, 0), 255)) }
