package detail

import (
	"math"
	"math/bits"
	"math/cmplx"
)

// transform is the discrete Fourier transform of x, in place; its length is a power of
// two.
func transform(x []complex128) {
	n := len(x)
	shift := bits.UintSize - bits.Len(uint(n)) + 1
	for i := range x {
		if j := int(bits.Reverse(uint(i)) >> shift); j > i {
			x[i], x[j] = x[j], x[i]
		}
	}
	for size := 2; size <= n; size *= 2 {
		step := cmplx.Rect(1, -2*math.Pi/float64(size))
		for start := 0; start < n; start += size {
			w := complex(1, 0)
			for k := start; k < start+size/2; k++ {
				a, b := x[k], w*x[k+size/2]
				x[k], x[k+size/2] = a+b, a-b
				w *= step
			}
		}
	}
}
