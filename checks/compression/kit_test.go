package compression_test

import (
	"bytes"
	"flag"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"image/png"
	"math"
	"math/rand/v2"
	"testing"

	"stoneproof/checks/checktest/press"
	"stoneproof/checks/compression"
)

var thorough = flag.Bool("thorough", false, "measure many more pictures and print tables; takes minutes")

// cardOf is a US business card with its bleed at 300 ppi, 1125 × 675 pixels.
func cardOf(t testing.TB, maker string, style press.Style) *image.RGBA {
	t.Helper()
	img, err := png.Decode(bytes.NewReader(press.Card{Maker: maker, Style: style, Size: "us-business"}.PNG(300)))
	if err != nil {
		t.Fatal(err)
	}
	return rgba(img)
}

func rgba(img image.Image) *image.RGBA {
	out := image.NewRGBA(image.Rect(0, 0, img.Bounds().Dx(), img.Bounds().Dy()))
	draw.Draw(out, out.Rect, img, img.Bounds().Min, draw.Src)
	return out
}

// saved is what is left of a picture after a save as JPEG, with colour at half the
// resolution as Go's encoder has it; quality 0 saves nothing.
func saved(t testing.TB, img *image.RGBA, quality int) *image.RGBA {
	t.Helper()
	if quality == 0 {
		return img
	}
	out, err := jpeg.Decode(bytes.NewReader(jpegOf(t, img, quality)))
	if err != nil {
		t.Fatal(err)
	}
	return rgba(out)
}

func jpegOf(t testing.TB, img image.Image, quality int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: quality}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// cropped cuts columns off the left and rows off the top.
func cropped(img *image.RGBA, left, top int) *image.RGBA {
	r := img.Rect
	r.Min = image.Pt(left, top)
	return rgba(img.SubImage(r))
}

// plane is the luma of a picture (ITU-R BT.601, which JFIF has as well).
func plane(img *image.RGBA) compression.Plane {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	p := compression.Plane{Pix: make([]byte, w*h), W: w, H: h}
	for i := range p.Pix {
		q := img.Pix[4*i:]
		p.Pix[i] = byte((77*uint32(q[0]) + 150*uint32(q[1]) + 29*uint32(q[2]) + 128) / 256)
	}
	return p
}

// painted is a grey picture by the light at each pixel.
func painted(w, h int, light func(x, y int) float64) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			v := uint8(math.Round(max(0, min(255, light(x, y)))))
			img.SetRGBA(x, y, color.RGBA{v, v, v, 255})
		}
	}
	return img
}

// patterns are pictures that look like compression here or there and are none, by seed.
func patterns(seed uint64) map[string]*image.RGBA {
	r := rand.New(rand.NewPCG(seed, 8))
	var chance [1 << 16]float64
	for i := range chance {
		chance[i] = r.Float64()
	}
	at := func(x, y int) float64 { return chance[(x*7919+y*104729)&(len(chance)-1)] }
	low, high := 20+60*r.Float64(), 150+100*r.Float64()
	two := func(on bool) float64 {
		if on {
			return high
		}
		return low
	}
	dx, dy := r.IntN(8), r.IntN(8)
	tilt, waves := r.Float64(), 20+60*r.Float64()
	smooth := func(x, y int) float64 {
		return 128 + 70*math.Sin(float64(x)/waves) + 50*math.Cos(float64(y)/waves*1.3+float64(x)/200)
	}
	cells := func(n, levels int) func(x, y int) float64 {
		return func(x, y int) float64 {
			return low + (high-low)*math.Floor(at((x+dx)/n, (y+dy)/n)*float64(levels))/float64(levels-1)
		}
	}
	bayer := func(x, y int) float64 { // ordered dither of 8 × 8
		v := 0
		for k := range 3 {
			a, b := x>>k&1, y>>k&1
			v = v<<2 | (a^b)<<1 | b
		}
		return (float64(v) + 0.5) / 64
	}
	w, h := 560+r.IntN(80), 400+r.IntN(80)
	out := map[string]*image.RGBA{}
	for name, light := range map[string]func(x, y int) float64{
		"checkerboard of 8": func(x, y int) float64 { return two(((x+dx)/8+(y+dy)/8)%2 == 0) },
		"checkerboard of 4": func(x, y int) float64 { return two(((x+dx)/4+(y+dy)/4)%2 == 0) },
		"pale checkerboard": func(x, y int) float64 { return 240 + 6*float64(((x+dx)/8+(y+dy)/8)%2) },
		"stripes of 8":      func(x, y int) float64 { return two((x+dx)/4%2 == 0) },
		"stripes of 16":     func(x, y int) float64 { return two((y+dy)/8%2 == 0) },
		"weave of 8":        func(x, y int) float64 { return 110 + 9*float64((x^y)&7) + 6*at(x, y) },
		"weave, over and under": func(x, y int) float64 {
			return 120 + 30*math.Sin(float64((x+dx)%8)*math.Pi/8)*float64(((x+dx)/8+(y+dy)/8)%2) + 20*at(x, y)
		},
		"cells of 8":           cells(8, 256),
		"cells of 8, 3 tones":  cells(8, 3),
		"cells of 4":           cells(4, 256),
		"cells of 4, 4 tones":  cells(4, 4),
		"cells of 4, 2 tones":  cells(4, 2),
		"cells of 3":           cells(3, 64),
		"cells of 2, 4 tones":  cells(2, 4),
		"enlarged eight times": func(x, y int) float64 { return smooth((x+dx)/8*8, (y+dy)/8*8) },
		"enlarged four times":  func(x, y int) float64 { return smooth((x+dx)/4*4, (y+dy)/4*4) + 12*at(x/4, y/4) },
		"grain":                func(x, y int) float64 { return smooth(x, y) + 30*(at(x, y)-0.5) },
		"fine grain":           func(x, y int) float64 { return smooth(x, y) + 6*(at(x, y)-0.5) },
		"noise of one bit":     func(x, y int) float64 { return two(at(x, y) > 0.5) },
		"ordered dither":       func(x, y int) float64 { return two(smooth(x, y)/256 > bayer(x, y)) },
		"halftone": func(x, y int) float64 {
			u, v := float64(x)*0.55+float64(y)*tilt, float64(y)*0.55-float64(x)*tilt
			return two(math.Cos(u)+math.Cos(v) < smooth(x, y)/64-2)
		},
		"banded gradient": func(x, y int) float64 { return math.Floor((float64(x)+tilt*float64(y))/23) * 4 },
		"posterised":      func(x, y int) float64 { return math.Floor(smooth(x, y)/32) * 32 },
		"smooth":          smooth,
		"flat":            func(x, y int) float64 { return high },
		"ramp":            func(x, y int) float64 { return float64(x)*tilt/3 + float64(y)/9 },
		"soft washes": func(x, y int) float64 {
			return 225 + 25*math.Tanh(4*math.Sin(float64(x)/waves+2*math.Sin(float64(y)/waves))) + 5*at(x, y)
		},
		"hatching": func(x, y int) float64 { return two(math.Mod(float64(x)+2*tilt*float64(y), 8) < 3) },
	} {
		out[name] = painted(w, h, light)
	}
	return out
}
