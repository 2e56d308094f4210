package checks

import (
	"math"

	"stoneproof/checks/art"
	"stoneproof/checks/art/icc/press"
	"stoneproof/checks/codes"
)

// luma is a side's paint in grey as it is, on white paper: good enough to find codes.
func luma(paint *art.Paint) codes.Plane {
	return codes.Plane{Pix: paint.Luma(), W: paint.W, H: paint.H, PxW: paint.PxW, PxH: paint.PxH}
}

// printedLight is a detail as a camera sees it in print: through the inks that a
// conversion gives its colours, as they look on paper.
func printedLight(paint *art.Paint) codes.Plane {
	out := codes.Plane{Pix: make([]byte, 0, paint.W*paint.H), W: paint.W, H: paint.H, PxW: paint.PxW, PxH: paint.PxH}
	rgb, inks := make([]byte, 3*paint.W), make([]byte, 4*paint.W)
	for y := range paint.H {
		for x := range paint.W {
			q := paint.Pix[4*(y*paint.W+x):]
			for k := range 3 {
				rgb[3*x+k] = byte(255 - (255-int(q[k]))*int(q[3])/255)
			}
		}
		press.Inks(inks, rgb)
		out.Pix = appendSeen(out.Pix, rgb, inks)
	}
	return out
}

// screened is the same of a part of a picture that is made of inks.
func screened(plates *art.Plates, part *art.Paint) codes.Plane {
	out := codes.Plane{Pix: make([]byte, 0, part.W*part.H), W: part.W, H: part.H, PxW: part.PxW, PxH: part.PxH}
	left := int(math.Round(float64(part.X-plates.X) / plates.PxW))
	top := int(math.Round(float64(part.Y-plates.Y) / plates.PxH))
	rgb, inks := make([]byte, 3*part.W), make([]byte, 4*part.W)
	for y := range part.H {
		for x := range part.W {
			for k := range 4 {
				inks[4*x+k] = plates.Ink[k][(top+y)*plates.W+left+x]
			}
		}
		out.Pix = appendSeen(out.Pix, rgb, inks)
	}
	return out
}

// appendSeen adds a row of inks as a camera sees them; rgb is room to work in. Luma is
// that of ITU-R BT.601, which telephones' cameras deliver.
func appendSeen(pix, rgb, inks []byte) []byte {
	press.Screen(rgb, inks)
	for ; len(rgb) >= 3; rgb = rgb[3:] {
		pix = append(pix, byte((77*int(rgb[0])+150*int(rgb[1])+29*int(rgb[2])+128)/256))
	}
	return pix
}
