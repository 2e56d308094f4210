package raster

import "math"

// signed and offset128 read the a* and b* of TIFF's two Lab encodings, of 8
// bits: CIELab stores them as signed bytes (TIFF 6.0, section 23), ICCLab 128
// higher (TIFF Technical Note "ICC L*a*b*"). L* is 0 to 255 for 0 to 100.
func signed(v byte) float64    { return float64(int8(v)) }
func offset128(v byte) float64 { return float64(v) - 128 }

// viewLab turns L*a*b* in R, G and B into sRGB, for viewing.
func (p *Pixels) viewLab(ab func(byte) float64) {
	var light [4096]byte // linear light, encoded
	for i := range light {
		light[i] = encodeSRGB(float64(i) / 4095)
	}
	for i := 0; i+4 <= len(p.Pix); i += 4 {
		q := p.Pix[i : i+3 : i+3]
		rgb := labToLight(float64(q[0])*100/255, ab(q[1]), ab(q[2]))
		for c, v := range rgb {
			q[c] = light[int(min(max(v, 0), 1)*4095+.5)]
		}
	}
}

// labToLight turns L*a*b* under D50 into linear sRGB: ISO 13655's inverse of
// CIELAB, with the white of ICC.1:2010 (7.2.16), and the matrix of CSS Color 4
// (section 18) from XYZ under D50, Bradford-adapted, to sRGB.
func labToLight(l, a, b float64) [3]float64 {
	fy := (l + 16) / 116
	x := .9642 * labInverse(fy+a/500)
	y := labInverse(fy)
	z := .8249 * labInverse(fy-b/200)
	return [3]float64{
		3.1341359*x - 1.6173863*y - .4906624*z,
		-.9787955*x + 1.9162544*y + .0334429*z,
		.0719554*x - .2289768*y + 1.4053860*z,
	}
}

func labInverse(f float64) float64 {
	if f > 6./29 {
		return f * f * f
	}
	return (f - 4./29) * 108 / 841
}

// encodeSRGB is the transfer function of IEC 61966-2-1, for 0 to 1.
func encodeSRGB(v float64) byte {
	if v <= .0031308 {
		return byte(v*12.92*255 + .5)
	}
	return byte((1.055*math.Pow(v, 1/2.4)-.055)*255 + .5)
}
