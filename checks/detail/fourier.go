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
	turn := make([]complex128, n/2)
	for i := range turn {
		turn[i] = cmplx.Rect(1, -2*math.Pi*float64(i)/float64(n))
	}
	for size := 2; size <= n; size *= 2 {
		half, every := size/2, n/size
		for start := 0; start < n; start += size {
			lo, hi := x[start:start+half], x[start+half:start+size]
			for k, a := range lo {
				w, h := turn[k*every], hi[k]
				b := complex(real(w)*real(h)-imag(w)*imag(h), real(w)*imag(h)+imag(w)*real(h))
				lo[k], hi[k] = a+b, a-b
			}
		}
	}
}
