package plates

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"io"

	"stoneproof/checks/art/pdf"
)

var errJPEG = errors.New("the JPEG does not fit the image")

// adobe is an application segment that says how the components are coded (Adobe
// Technical Note 5116, section 18). image/jpeg takes four components only with
// one; the JPEG's own, which comes later, wins.
func adobe(transform byte) []byte {
	return append([]byte("\xff\xee\x00\x0eAdobe\x00\x64\x00\x00\x00\x00"), transform)
}

// withAdobe is the JPEG with such a segment put first.
func withAdobe(b []byte, transform byte) io.Reader {
	if len(b) < 2 {
		return bytes.NewReader(b)
	}
	return io.MultiReader(bytes.NewReader(b[:2]), bytes.NewReader(adobe(transform)), bytes.NewReader(b[2:]))
}

// jpegComponents reads the header alone.
func (p *picture) jpegComponents(most int64) (int, error) {
	b, err := p.raw(most)
	if err != nil {
		return 0, err
	}
	c, err := jpeg.DecodeConfig(bytes.NewReader(b))
	if err != nil {
		c, err = jpeg.DecodeConfig(withAdobe(b, 0))
	}
	if err != nil {
		return 0, err
	}
	p.w, p.h = c.Width, c.Height // the JPEG knows better
	return map[color.Model]int{color.GrayModel: 1, color.YCbCrModel: 3, color.RGBAModel: 3, color.CMYKModel: 4}[c.ColorModel], nil
}

// readJPEG reads the samples of a JPEG as a PDF means them: not turned round, as
// image/jpeg turns CMYK on the way.
func (p *picture) readJPEG(doc *pdf.Document, most int64) error {
	n, err := p.jpegComponents(most)
	if err != nil {
		return err
	}
	const perSample = 6 // of a progressive JPEG: coefficients beside the samples
	if n != p.space.n || int64(p.w)*int64(p.h)*int64(n)*perSample > most {
		return errJPEG
	}
	b, err := p.raw(most)
	if err != nil {
		return err
	}
	r := io.Reader(bytes.NewReader(b))
	if transform := p.colorTransform(doc); n == 4 || transform == 0 {
		r = withAdobe(b, transform)
	}
	m, err := jpeg.Decode(r)
	if err != nil {
		return err
	}
	p.codes, p.top = samplesOf(m, n), 255
	return nil
}

// colorTransform is how components are coded where the JPEG does not tell (Table
// 13), by the codes of Adobe's segment.
func (p *picture) colorTransform(doc *pdf.Document) byte {
	parms := p.sd.FilterPipeline[len(p.sd.FilterPipeline)-1].DecodeParms
	on := doc.Integer(parms["ColorTransform"], map[bool]int{true: 0, false: 1}[p.space.n == 4]) != 0
	switch {
	case !on:
		return 0
	case p.space.n == 4:
		return 2
	}
	return 1
}

func samplesOf(m image.Image, n int) []byte {
	w, h := m.Bounds().Dx(), m.Bounds().Dy()
	out := make([]byte, 0, n*w*h)
	switch m := m.(type) {
	case *image.CMYK:
		for y := range h {
			for _, v := range m.Pix[y*m.Stride : y*m.Stride+4*w] {
				out = append(out, 255-v)
			}
		}
	case *image.Gray:
		for y := range h {
			out = append(out, m.Pix[y*m.Stride:y*m.Stride+w]...)
		}
	default:
		rgba := image.NewRGBA(image.Rect(0, 0, w, h))
		draw.Draw(rgba, rgba.Rect, m, m.Bounds().Min, draw.Src)
		for i := 0; i < len(rgba.Pix); i += 4 {
			out = append(out, rgba.Pix[i:i+3]...)
		}
	}
	return out
}
