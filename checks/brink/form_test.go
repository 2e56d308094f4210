package brink_test

import (
	"bytes"
	"image"
	"image/draw"
	"image/jpeg"
	"slices"

	"stoneproof/checks/brink"
	"stoneproof/rules"
)

// form is how a picture comes to be judged.
type form struct {
	name        string
	transparent bool
	quality     int // of JPEG; 0 is lossless
}

var (
	rendered = form{"rendered", true, 0}
	png      = form{"png", false, 0}
	q90      = form{"q90", false, 90}
	q75      = form{"q75", false, 75}
)

// canvas is the sheet as one of the forms.
func (s *sheet) canvas(f form) brink.Canvas {
	b := s.img.Bounds()
	pix := straight(s.img.Pix)
	if !f.transparent {
		pix = onPaper(s.img.Pix)
	}
	if f.quality > 0 {
		pix = recoded(pix, b, f.quality)
	}
	return brink.Canvas{
		Pix: pix, W: b.Dx(), H: b.Dy(),
		X: rules.MM(-s.bleed), Y: rules.MM(-s.bleed),
		PxW:  (s.w + 2*s.bleed) * 1000 / float64(b.Dx()),
		PxH:  (s.h + 2*s.bleed) * 1000 / float64(b.Dy()),
		Trim: rules.Size{W: rules.MM(s.w), H: rules.MM(s.h)}, Transparent: f.transparent,
	}
}

// straight turns premultiplied pixels into straight ones.
func straight(pix []byte) []byte {
	out := slices.Clone(pix)
	for i := 0; i < len(out); i += 4 {
		if a := int(out[i+3]); a > 0 && a < 255 {
			for ch := range 3 {
				out[i+ch] = byte(min(255, int(out[i+ch])*255/a))
			}
		}
	}
	return out
}

// onPaper lays premultiplied pixels over white.
func onPaper(pix []byte) []byte {
	out := slices.Clone(pix)
	for i := 0; i < len(out); i += 4 {
		rest := 255 - out[i+3]
		out[i], out[i+1], out[i+2], out[i+3] = out[i]+rest, out[i+1]+rest, out[i+2]+rest, 255
	}
	return out
}

// recoded is opaque pixels after lossy coding.
func recoded(pix []byte, b image.Rectangle, quality int) []byte {
	var buf bytes.Buffer
	if err := jpeg.Encode(&buf, &image.RGBA{Pix: pix, Stride: 4 * b.Dx(), Rect: b}, &jpeg.Options{Quality: quality}); err != nil {
		panic(err)
	}
	back, err := jpeg.Decode(&buf)
	if err != nil {
		panic(err)
	}
	out := image.NewRGBA(b)
	draw.Draw(out, b, back, image.Point{}, draw.Src)
	return out.Pix
}
