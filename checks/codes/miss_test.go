package codes_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"stoneproof/checks/codes"
)

// painted is a picture of a card at 300 ppi by the light at each place, in mm.
func painted(light func(x, y float64) float64) codes.Plane {
	const px = 25.4 / 300
	p := codes.Plane{W: 1125, H: 675, PxW: 1000 * px, PxH: 1000 * px, Pix: make([]byte, 1125*675)}
	for y := range p.H {
		for x := range p.W {
			p.Pix[y*p.W+x] = byte(max(0, min(255, light((float64(x)+0.5)*px, (float64(y)+0.5)*px))))
		}
	}
	return p
}

// cells fills squares of so many mm by their column and row.
func cells(size float64, dark func(i, j int) bool) codes.Plane {
	return painted(func(x, y float64) float64 {
		if dark(int(x/size), int(y/size)) {
			return 10
		}
		return 250
	})
}

// target is the light of a finder pattern about a place, and whether the place is in it.
func target(x, y, module float64) (light float64, in bool) {
	r := max(math.Abs(x), math.Abs(y)) / module
	switch {
	case r < 1.5 || r >= 2.5 && r < 3.5:
		return 10, true
	case r < 2.5:
		return 250, true
	}
	return 0, false
}

// TestNearMisses: what looks a little like a code and is none.
func TestNearMisses(t *testing.T) {
	at := rand.New(rand.NewPCG(1, 2))
	random := make([]bool, 1<<20)
	for i := range random {
		random[i] = at.IntN(2) == 0
	}
	chance := func(i, j int) bool { return random[(j*1024+i)%len(random)] }
	corners := func(x, y, module float64, spots ...[2]float64) float64 {
		for _, s := range spots {
			if light, in := target(x-s[0], y-s[1], module); in {
				return light
			}
		}
		return 250
	}
	for name, p := range map[string]codes.Plane{
		"white":           painted(func(x, y float64) float64 { return 255 }),
		"checkerboard":    cells(1, func(i, j int) bool { return (i+j)%2 == 0 }),
		"fine checks":     cells(0.3, func(i, j int) bool { return (i+j)%2 == 0 }),
		"crossword":       cells(3, func(i, j int) bool { return i%2 == 1 && j%2 == 1 || chance(i, j) && chance(j, i) }),
		"pixel art":       cells(0.5, chance),
		"dither":          cells(0.17, func(i, j int) bool { return chance(i, j) && chance(i, j+500) }),
		"maze":            cells(0.6, func(i, j int) bool { return i%2 == 0 && (j%2 == 0 || chance(i, j)) }),
		"stripes":         cells(0.7, func(i, j int) bool { return i%7 == 0 || i%7 >= 2 && i%7 < 5 }),
		"tartan":          cells(0.4, func(i, j int) bool { return i%8 == 0 || i%8 >= 2 && i%8 < 5 || j%8 == 0 || j%8 >= 2 && j%8 < 5 }),
		"grid of targets": painted(func(x, y float64) float64 { return corners(math.Mod(x, 9), math.Mod(y, 9), 0.6, [2]float64{4.5, 4.5}) }),
		"three targets": painted(func(x, y float64) float64 {
			return corners(x, y, 0.5, [2]float64{20, 10}, [2]float64{40, 10}, [2]float64{20, 30})
		}),
		"four corner squares": painted(func(x, y float64) float64 {
			return corners(x, y, 0.8, [2]float64{20, 10}, [2]float64{60, 10}, [2]float64{20, 50}, [2]float64{60, 50})
		}),
		"targets in pixel art": painted(func(x, y float64) float64 {
			for _, s := range [3][2]float64{{20, 10}, {40, 10}, {20, 30}} {
				if light, in := target(x-s[0], y-s[1], 0.5); in {
					return light
				}
			}
			if chance(int(x/0.5), int(y/0.5)) {
				return 10
			}
			return 250
		}),
		"rings": painted(func(x, y float64) float64 { return 128 + 120*math.Cos(math.Hypot(x-47, y-28)*5) }),
		"halftone": painted(func(x, y float64) float64 {
			if math.Sin(x*9+y*9)+math.Sin(x*9-y*9) > 1.6*math.Sin(x/9) {
				return 20
			}
			return 240
		}),
		"dots": painted(func(x, y float64) float64 {
			return 128 + 110*math.Tanh(9*(math.Hypot(math.Mod(x, 1)-0.5, math.Mod(y, 1)-0.5)-0.3))
		}),
		"noise": painted(func(x, y float64) float64 { return 128 + 60*at.NormFloat64() }),
		"waves": busy().plane(t, 95.25, 57.15, 300),
	} {
		t.Run(name, func(t *testing.T) {
			if found := codes.Read(p, dot); len(found) > 0 {
				t.Errorf("%+v", found)
			}
			if n := len(codes.Suspects(p)); n > 0 { // each is drawn finely and read: that is dear
				t.Errorf("%d suspects", n)
			}
		})
	}
}
