package icc

// An affine is a matrix of three rows, and what is added afterwards.
type affine struct {
	m     [3][3]float64
	shift [3]float64
}

func (a *affine) apply(c *colour) {
	x, y, z := c[0], c[1], c[2]
	for i, r := range &a.m {
		c[i] = r[0]*x + r[1]*y + r[2]*z + a.shift[i]
	}
}

// readMatrix reads nine numbers, row by row, and three to add where there are any.
func readMatrix(b, shift []byte) *affine {
	a := &affine{}
	for i := range 9 {
		a.m[i/3][i%3] = s15Fixed16(b[4*i:])
	}
	if shift != nil {
		for i := range a.shift {
			a.shift[i] = s15Fixed16(shift[4*i:])
		}
	}
	return a
}

// inverse is the matrix back, without shift; false when there is none.
func (a *affine) inverse() (*affine, bool) {
	m := &a.m
	minor := func(r, c int) float64 {
		r1, r2, c1, c2 := (r+1)%3, (r+2)%3, (c+1)%3, (c+2)%3
		return m[r1][c1]*m[r2][c2] - m[r1][c2]*m[r2][c1]
	}
	det := m[0][0]*minor(0, 0) + m[0][1]*minor(0, 1) + m[0][2]*minor(0, 2)
	if det > -singular && det < singular {
		return nil, false
	}
	inv := &affine{}
	for r := range 3 {
		for c := range 3 {
			inv.m[c][r] = minor(r, c) / det
		}
	}
	return inv, true
}

// singular is below the determinant of any three primaries in use (sRGB's is
// 0.2), and above what the steps of 1/65536 can make of linear dependence.
const singular = 1e-6

// rgbCurves and rgbColorants read a three-component matrix profile (F.3): light
// by a curve for each channel, then X, Y, Z by a matrix of the colorants.
func (p *Profile) rgbCurves() (curves, error) {
	cs := make(curves, 3)
	for i, sig := range [...]string{"rTRC", "gTRC", "bTRC"} {
		c, _, err := readCurve(p.tags[sig])
		if err != nil {
			return nil, err
		}
		cs[i] = c
	}
	return cs, nil
}

func (p *Profile) rgbColorants() (*affine, error) {
	a := &affine{}
	for i, sig := range [...]string{"rXYZ", "gXYZ", "bXYZ"} {
		xyz, ok := p.xyz(sig)
		if !ok {
			return nil, formatError("its tag %q holds no data of its type", sig)
		}
		for k := range 3 {
			a.m[k][i] = xyz[k]
		}
	}
	return a, nil
}

// xyz reads a tag of one X, Y, Z (10.27).
func (p *Profile) xyz(sig string) (xyz [3]float64, ok bool) {
	b := p.tags[sig]
	if len(b) < 20 || string(b[:4]) != "XYZ " {
		return xyz, false
	}
	for i := range xyz {
		xyz[i] = s15Fixed16(b[8+4*i:])
	}
	return xyz, true
}

// grayTo and grayFrom are the monochrome model (F.2): the curve gives the share
// of the white, or L* where the connection space is Lab.
func grayTo(pcs Space) []stage {
	if pcs == Lab {
		return []stage{step(func(c *colour) { c[0], c[1], c[2] = 100*c[0], 0, 0 }), step(labToXYZ)}
	}
	return []stage{step(func(c *colour) { c[0], c[1], c[2] = c[0]*d50[0], c[0]*d50[1], c[0]*d50[2] })}
}

func grayFrom(pcs Space) []stage {
	if pcs == Lab {
		return []stage{step(xyzToLab), step(func(c *colour) { c[0] /= 100 })}
	}
	return []stage{step(func(c *colour) { c[0] = c[1] })}
}
