package codes_test

import (
	"fmt"
	"math"
	"testing"

	"stoneproof/checks/codes"
)

// Cards of 1125 × 675 pixels, a US business card with its bleed at 300 ppi: a bare one,
// one full of grain and waves, and one with a code.
func BenchmarkSuspects(b *testing.B) {
	for name, s := range map[string]symbol{"bare": bare(), "busy": busy(), "code": plain(long(3), 0.5)} {
		p := s.plane(b, 95.25, 57.15, 300)
		b.Run(fmt.Sprint(name), func(b *testing.B) {
			for b.Loop() {
				codes.Suspects(p)
			}
		})
	}
}

func BenchmarkRead(b *testing.B) {
	for _, version := range []int{2, 10} {
		s := plain(long(version), 0.4)
		size := 0.4 * float64(codes.Modules(version)+12)
		p := s.plane(b, size, size, 600)
		b.Run(fmt.Sprintf("version%d", version), func(b *testing.B) {
			for b.Loop() {
				codes.Read(p, 42.3)
			}
		})
	}
}

// bare is a picture without a code: the symbol is as light as its ground.
func bare() symbol {
	s := plain(long(1), 0.4)
	s.dark = 255
	return s
}

// busy is a picture of waves and grain without a code.
func busy() symbol {
	s := bare()
	s.dark, s.light, s.ground = 128, 128, 128
	s.texture = func(x, y float64) float64 {
		return 50*math.Sin(x*9+2*math.Sin(y*3)) + 40*math.Sin(y*7+x) + 35*math.Sin(x*37.3)*math.Sin(y*33.1)
	}
	return s
}
