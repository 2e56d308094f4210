package icc

import "math"

// SRGB tells whether the profile means sRGB (IEC 61966-2-1), by its numbers and
// not by its name: a matrix profile in RGB whose three colorants and three tone
// curves are those of sRGB, near enough that no 8-bit value moves by more than
// one step. A profile that defines its colours by tables is never taken for it.
func (p *Profile) SRGB() bool {
	if p.Space != RGB || p.PCS != XYZ || p.tags["A2B0"] != nil || p.tags["D2B0"] != nil {
		return false
	}
	for i, c := range [...]string{"r", "g", "b"} {
		if !p.isColorant(c+"XYZ", srgbColorants[i]) || !isSRGBCurve(p.tags[c+"TRC"]) {
			return false
		}
	}
	return true
}

// srgbColorants are the X, Y, Z of the primaries of IEC 61966-2-1, adapted from
// its D65 white to D50 by the Bradford method (Annex E). A test computes them.
var srgbColorants = [3][3]float64{
	{0.43604, 0.22248, 0.01392},
	{0.38511, 0.71691, 0.09707},
	{0.14305, 0.06061, 0.71391},
}

// Colorants in circulation differ in the fourth decimal, by the digits kept of
// the white; a step of 8 bits is 0.004.
const colorantSlack = 0.002

func (p *Profile) isColorant(sig string, want [3]float64) bool {
	xyz, ok := p.xyz(sig)
	for i, w := range want {
		ok = ok && math.Abs(xyz[i]-w) <= colorantSlack
	}
	return ok
}

// isSRGBCurve compares a tone curve with that of sRGB at each 8-bit value, and
// in 8-bit steps of the encoded value: half a step may be lost.
func isSRGBCurve(tag []byte) bool {
	c, _, err := readCurve(tag)
	if err != nil {
		return false
	}
	for v := range 256 {
		got := encodeSRGB(c.at(float64(v) / 255))
		if math.Abs(255*got-float64(v)) > 0.5 {
			return false
		}
	}
	return true
}

// encodeSRGB is the encoding of IEC 61966-2-1.
func encodeSRGB(y float64) float64 {
	if y <= 0.0031308 {
		return 12.92 * y
	}
	return 1.055*math.Pow(y, 1/2.4) - 0.055
}
