package icc

import (
	"math"
	"testing"
)

// The colorants that SRGB compares with are those of sRGB's primaries and white
// (in the numbers of the PNG specification's cHRM for sRGB), adapted to D50 by
// the Bradford matrix (ICC.1:2010 Annex E).
func TestSRGBColorants(t *testing.T) {
	white := fromXY(0.31270, 0.32900)
	primaries := [3][3]float64{fromXY(0.64, 0.33), fromXY(0.30, 0.60), fromXY(0.15, 0.06)}
	adapt := bradford(white, [3]float64{0.9642, 1, 0.8249})
	share := solve(primaries, white)
	for i, p := range primaries {
		for k := range 3 {
			p[k] *= share[i]
		}
		got := multiply(adapt, p)
		for k := range 3 {
			if math.Abs(got[k]-srgbColorants[i][k]) > 0.00002 {
				t.Errorf("colorant %d is %.5f, not %.5f", i, got, srgbColorants[i])
				break
			}
		}
	}
}

func TestSRGB(t *testing.T) {
	all := func(curve []byte) map[string][]byte {
		return map[string][]byte{"rTRC": curve, "gTRC": curve, "bTRC": curve}
	}
	other := srgbColorants[1]
	other[0] += 0.003
	for name, c := range map[string]struct {
		profile draft
		want    bool
	}{
		"1024 samples":        {screen(), true},
		"4096 samples":        {screen().with(all(sampledTag(4096, decodeSRGB))), true},
		"16 samples":          {screen().with(all(sampledTag(16, decodeSRGB))), false},
		"parametric, type 3":  {screen().with(all(paraTag(3, 2.4, 1/1.055, 0.055/1.055, 1/12.92, 0.04045))), true},
		"parametric, type 4":  {screen().with(all(paraTag(4, 2.4, 1/1.055, 0.055/1.055, 1/12.92, 0.04045, 0, 0))), true},
		"offset":              {screen().with(all(paraTag(4, 2.4, 1/1.055, 0.055/1.055, 1/12.92, 0.04045, 0.1, 0.1))), false},
		"parametric, cut off": {screen().with(all(paraTag(3, 2.4, 1/1.055))), false},
		"parametric, type 0":  {screen().with(all(paraTag(0, 2.2))), false},
		"gamma 2.2":           {screen().with(all(gammaTag(2.2))), false},
		"no curve":            {screen().with(all(be32(element("curv"), 0))), false},
		"samples missing":     {screen().with(all(be32(element("curv"), 1024))), false},
		"one curve differs":   {screen().with(map[string][]byte{"bTRC": gammaTag(1.8)}), false},
		"another green":       {screen().with(map[string][]byte{"gXYZ": xyzTag(other)}), false},
		"colours swapped":     {screen().with(map[string][]byte{"rXYZ": screen().tags["gXYZ"], "gXYZ": screen().tags["rXYZ"]}), false},
		"tables come first":   {screen().with(map[string][]byte{"A2B0": tableTag("mft2", 3, 3)}), false},
		"a press":             {press(), false},
		"the name alone":      {press().with(map[string][]byte{"desc": descTag("sRGB IEC61966-2.1", "")}), false},
	} {
		if got := parse(t, c.profile.bytes()).SRGB(); got != c.want {
			t.Errorf("%s: %v", name, got)
		}
	}
}

// Decoding and encoding agree with the values of IEC 61966-2-1 as CSS Color 4
// gives the formula: 128 → .21586, 10 → .003035.
func TestSRGBEncoding(t *testing.T) {
	for level, linear := range map[float64]float64{0: 0, 10: 0.003035, 128: 0.21586, 255: 1} {
		if got := decodeSRGB(level / 255); math.Abs(got-linear) > 5e-6 {
			t.Errorf("%v decodes to %v", level, got)
		}
		if got := 255 * encodeSRGB(linear); math.Abs(got-level) > 0.01 {
			t.Errorf("%v encodes to %v", linear, got)
		}
	}
}

func fromXY(x, y float64) [3]float64 { return [3]float64{x / y, 1, (1 - x - y) / y} }

// bradford is the matrix that adapts colours seen under one white to another.
func bradford(from, to [3]float64) [3][3]float64 {
	cone := [3][3]float64{{0.8951, 0.2664, -0.1614}, {-0.7502, 1.7135, 0.0367}, {0.0389, -0.0685, 1.0296}}
	a, b := multiply(cone, from), multiply(cone, to)
	var columns [3][3]float64 // of the cone matrix
	for i := range 3 {
		for k := range 3 {
			columns[k][i] = cone[i][k]
		}
	}
	var out [3][3]float64
	for k := range 3 { // column k of cone⁻¹ · diag(b/a) · cone
		var scaled [3]float64
		for i := range 3 {
			scaled[i] = cone[i][k] * b[i] / a[i]
		}
		column := solve(columns, scaled)
		for i := range 3 {
			out[i][k] = column[i]
		}
	}
	return out
}

func multiply(m [3][3]float64, v [3]float64) (out [3]float64) {
	for i := range 3 {
		out[i] = m[i][0]*v[0] + m[i][1]*v[1] + m[i][2]*v[2]
	}
	return out
}

// solve finds how much of each column makes up v (Cramer's rule).
func solve(columns [3][3]float64, v [3]float64) (out [3]float64) {
	det := func(a, b, c [3]float64) float64 {
		return a[0]*(b[1]*c[2]-b[2]*c[1]) - b[0]*(a[1]*c[2]-a[2]*c[1]) + c[0]*(a[1]*b[2]-a[2]*b[1])
	}
	a, b, c := columns[0], columns[1], columns[2]
	whole := det(a, b, c)
	return [3]float64{det(v, b, c) / whole, det(a, v, c) / whole, det(a, b, v) / whole}
}
