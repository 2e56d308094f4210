package icc

import "math"

// A colour is up to four numbers, in the space that a stage works in.
type colour [4]float64

// A stage is one step on a colour's way from device to device.
type stage interface{ apply(*colour) }

// A step is a stage that is a function alone.
type step func(*colour)

func (s step) apply(c *colour) { s(c) }

// d50 is the white of the connection space, X, Y, Z (7.2.16).
var d50 = [3]float64{0.9642, 1, 0.8249}

// labToXYZ and xyzToLab are CIE 15's formulae against D50 (6.3.2.2 and Annex A).
func labToXYZ(c *colour) {
	y := (c[0] + 16) / 116
	for i, f := range [3]float64{y + c[1]/500, y, y - c[2]/200} {
		if f > 6.0/29 {
			c[i] = f * f * f * d50[i]
		} else {
			c[i] = (f - 4.0/29) * 108 / 841 * d50[i]
		}
	}
}

func xyzToLab(c *colour) {
	var f [3]float64
	for i := range f {
		if t := c[i] / d50[i]; t > 216.0/24389 {
			f[i] = math.Cbrt(t)
		} else {
			f[i] = t*841/108 + 4.0/29
		}
	}
	c[0], c[1], c[2] = 116*f[1]-16, 500*(f[0]-f[1]), 200*(f[1]-f[2])
}

// unpackLab makes L*, a*, b* of numbers from 0 to 1, packLab the contrary: the
// encoding in 8 bits, and that of version 4 in 16 (6.3.4.2, Tables 11 and 12).
func unpackLab(c *colour) {
	c[0], c[1], c[2] = 100*c[0], 255*c[1]-128, 255*c[2]-128
}

func packLab(c *colour) {
	c[0], c[1], c[2] = c[0]/100, (c[1]+128)/255, (c[2]+128)/255
}

// legacyLab is the part of the 16-bit range that version 2 uses for the same:
// FF00h is where version 4 has FFFFh. The type mft2 has kept to it (10.10).
const legacyLab = 65280.0 / 65535

// rangeXYZ is what a full number stands for in XYZ: 1 + 32767/32768 (6.3.4.2, Table 10).
const rangeXYZ = 1 + 32767.0/32768

func scale(by float64) step {
	return func(c *colour) { c[0], c[1], c[2] = by*c[0], by*c[1], by*c[2] }
}

// unpackTo gives the stages from a table's numbers for the connection space to X, Y, Z.
func unpackTo(pcs Space, legacy bool) []stage {
	switch {
	case pcs == XYZ:
		return []stage{scale(rangeXYZ)}
	case legacy:
		return []stage{scale(1 / legacyLab), step(unpackLab), step(labToXYZ)}
	}
	return []stage{step(unpackLab), step(labToXYZ)}
}

// packFrom gives the stages from X, Y, Z to a table's numbers.
func packFrom(pcs Space, legacy bool) []stage {
	switch {
	case pcs == XYZ:
		return []stage{scale(1 / rangeXYZ)}
	case legacy:
		return []stage{step(xyzToLab), step(packLab), scale(legacyLab)}
	}
	return []stage{step(xyzToLab), step(packLab)}
}
