package compression_test

import (
	"testing"

	"stoneproof/checks/checktest/press"
	"stoneproof/checks/compression"
)

// Cards of 1125 × 675 pixels, sound and damaged.
func BenchmarkMeasure(b *testing.B) {
	for _, style := range []press.Style{press.White, press.Photographic} {
		img := cardOf(b, "baker", style)
		for name, p := range map[string]compression.Plane{"sound": plane(img), "damaged": plane(cropped(saved(b, img, 30), 3, 5))} {
			b.Run(string(style)+" "+name, func(b *testing.B) {
				for b.Loop() {
					compression.Measure(p, nil)
				}
			})
		}
	}
}
