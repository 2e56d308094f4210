package render

import (
	"encoding/binary"

	"github.com/klippa-app/go-pdfium/enums"
)

// A canvas is what a picture is drawn on in the sandbox, and where it goes.
type canvas struct {
	format enums.FPDF_BITMAP_FORMAT
	pixel  int    // bytes
	ground uint64 // colour before anything is drawn: alpha, red, green, blue
	pix    []byte // the picture: rows of pixels without padding
	take   func(dst, src []byte)
}

// colourOnGlass is for an [image.NRGBA]: nothing drawn is transparent.
func colourOnGlass(pix []byte) canvas {
	return canvas{format: enums.FPDF_BITMAP_FORMAT_BGRA, pixel: 4, ground: 0, pix: pix, take: swapRedBlue}
}

// grayOnPaper is for an [image.Gray]: nothing drawn is white.
func grayOnPaper(pix []byte) canvas {
	return canvas{
		format: enums.FPDF_BITMAP_FORMAT_GRAY, pixel: 1, ground: 0xffffffff, pix: pix,
		take: func(dst, src []byte) { copy(dst, src) },
	}
}

// leaveBare makes the picture the bare ground.
func (c canvas) leaveBare() {
	if c.ground == 0 {
		return // as it was made
	}
	for i := range c.pix {
		c.pix[i] = 0xff
	}
}

func swapRedBlue(dst, src []byte) {
	for i := 0; i < len(dst); i += 4 {
		bgra := binary.LittleEndian.Uint32(src[i:])
		rgba := bgra&0xff00ff00 | bgra>>16&0xff | bgra&0xff<<16
		binary.LittleEndian.PutUint32(dst[i:], rgba)
	}
}
