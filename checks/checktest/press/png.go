package press

import (
	"bytes"
	"hash/crc32"
	"image"
	"image/png"
	"math"
)

// pngFile codes pixels by the standard library, and says density and profile in
// chunks before the pixels (PNG, 11.3.2.3 iCCP, 11.3.4.3 pHYs).
func pngFile(space Space, w, h int, pix []byte, ppi float64, profile []byte) []byte {
	var b bytes.Buffer
	z := png.Encoder{CompressionLevel: png.BestCompression}
	if err := z.Encode(&b, pngImage(space, w, h, pix)); err != nil {
		panic("press: " + err.Error())
	}
	const head = 8 + 8 + 13 + 4 // signature, IHDR
	out := bytes.Clone(b.Bytes()[:head])
	if profile != nil {
		out = append(out, chunk("iCCP", append([]byte("press\x00\x00"), deflated(profile)...))...)
	}
	if ppi > 0 {
		metre := uint32(math.Round(ppi / .0254))
		out = append(out, chunk("pHYs", append(be.AppendUint32(be.AppendUint32(nil, metre), metre), 1))...)
	}
	return append(out, b.Bytes()[head:]...)
}

func pngImage(space Space, w, h int, pix []byte) image.Image {
	box := image.Rect(0, 0, w, h)
	switch space {
	case Grey:
		return &image.Gray{Pix: pix, Stride: w, Rect: box}
	case RGB:
		img := image.NewNRGBA(box)
		for i := range w * h {
			copy(img.Pix[4*i:], pix[3*i:3*i+3])
			img.Pix[4*i+3] = 255
		}
		return img
	}
	panic("press: PNG cannot hold " + string(space))
}

func chunk(kind string, data []byte) []byte {
	out := be.AppendUint32(nil, uint32(len(data)))
	body := append([]byte(kind), data...)
	return be.AppendUint32(append(out, body...), crc32.ChecksumIEEE(body))
}
