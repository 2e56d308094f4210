package icc

import (
	"encoding/binary"
	"math"
)

// ConnectionLab is CIE L*, a*, b* against D50, relative to the medium's white:
// the connection space itself, as one end of a [Transform].
func ConnectionLab() *Profile {
	return &Profile{
		Version: "4.3.0", Class: ColorSpace, Space: Lab, PCS: Lab, Intent: RelativeColorimetric,
		Illuminant: d50, Description: "CIE L*a*b*, D50",
	}
}

// StandardRGB is sRGB by its numbers (IEC 61966-2-1), as one end of a [Transform].
func StandardRGB() *Profile {
	// (x/1.055 + .055/1.055)^2.4 from .04045 on, x/12.92 below.
	curve := parametric(2.4, 1/1.055, 0.055/1.055, 1/12.92, 0.04045)
	return &Profile{
		Version: "4.3.0", Class: Display, Space: RGB, PCS: XYZ, Intent: Perceptual,
		Illuminant: d50, Description: "sRGB",
		tags: map[string][]byte{
			"rXYZ": xyzData(srgbColorants[0]), "gXYZ": xyzData(srgbColorants[1]), "bXYZ": xyzData(srgbColorants[2]),
			"rTRC": curve, "gTRC": curve, "bTRC": curve, "wtpt": xyzData(d50),
		},
	}
}

// parametric is a curve of function 3 (10.16), xyzData one X, Y, Z (10.27).
func parametric(k ...float64) []byte {
	return appendFixed([]byte("para\x00\x00\x00\x00\x00\x03\x00\x00"), k...)
}

func xyzData(xyz [3]float64) []byte { return appendFixed([]byte("XYZ \x00\x00\x00\x00"), xyz[:]...) }

func appendFixed(b []byte, vs ...float64) []byte {
	for _, v := range vs {
		b = binary.BigEndian.AppendUint32(b, uint32(int32(math.Round(65536*v))))
	}
	return b
}
