package compression

// block is 8 × 8 light values, or their coefficients (ITU-T T.81, A.3.3), row by row.
type block [64]float32

// The cosines of the transform of eight values, halved: c(k) = cos(kπ/16) / 2.
const (
	c1 = 0.49039264
	c2 = 0.46193977
	c3 = 0.41573481
	c4 = 0.35355339
	c5 = 0.27778512
	c6 = 0.19134172
	c7 = 0.09754516
)

// transform turns light into coefficients, in place: rows, then columns.
func (b *block) transform() {
	for i := 0; i < 64; i += 8 {
		v := b[i : i+8 : i+8]
		v[0], v[1], v[2], v[3], v[4], v[5], v[6], v[7] = cosines(v[0], v[1], v[2], v[3], v[4], v[5], v[6], v[7])
	}
	for i := range 8 {
		v := b[i : i+57 : i+57]
		v[0], v[8], v[16], v[24], v[32], v[40], v[48], v[56] = cosines(v[0], v[8], v[16], v[24], v[32], v[40], v[48], v[56])
	}
}

// cosines is the transform of eight values; even and odd ones come from their sums
// and differences about the middle.
func cosines(a, b, c, d, e, f, g, h float32) (_, _, _, _, _, _, _, _ float32) {
	s0, s1, s2, s3 := a+h, b+g, c+f, d+e
	d0, d1, d2, d3 := a-h, b-g, c-f, d-e
	t0, t1, t2, t3 := s0+s3, s1+s2, s0-s3, s1-s2
	return c4 * (t0 + t1),
		c1*d0 + c3*d1 + c5*d2 + c7*d3,
		c2*t2 + c6*t3,
		c3*d0 - c7*d1 - c1*d2 - c5*d3,
		c4 * (t0 - t1),
		c5*d0 - c1*d1 + c7*d2 + c3*d3,
		c6*t2 - c2*t3,
		c7*d0 - c5*d1 + c3*d2 - c1*d3
}
