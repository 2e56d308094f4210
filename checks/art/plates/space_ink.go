package plates

import "math"

// ink gives how much of the plate's ink a colour takes, 0 to 1, and whether its
// space names the ink at all. A process space names all process inks (Table 149).
// For the mask plate it is what the colour lacks of full brightness.
func (s *space) ink(v []float64, p plate) (amount float64, named bool) {
	if len(v) < s.n {
		v = append(append([]float64(nil), v...), make([]float64, s.n-len(v))...)
	}
	switch {
	case p.mask:
		return 1 - s.brightness(v), true
	case s.family == inks:
		return s.ofNames(v, p)
	case s.family == indexed:
		return s.base.ink(s.entry(v[0]), p)
	case p.process == notProcess:
		return 0, false
	}
	return s.cmyk(v)[p.process], true
}

func (s *space) ofNames(v []float64, p plate) (amount float64, named bool) {
	if s.all {
		return unit(v[0]), true
	}
	for i, n := range s.names {
		if n == p.name {
			return unit(v[i]), true
		}
	}
	return 0, false
}

// cmyk gives the process inks of a colour of a process space. Gray is black ink
// (10.3.3); RGB goes by the standard's formula with all the gray in the black
// (10.3.4), unless a better way was given.
func (s *space) cmyk(v []float64) [4]float64 {
	switch s.family {
	case gray:
		return [4]float64{black: 1 - unit(v[0])}
	case cmyk:
		return [4]float64{unit(v[0]), unit(v[1]), unit(v[2]), unit(v[3])}
	case rgb:
		return s.estimated(unit(v[0]), unit(v[1]), unit(v[2]))
	case lab:
		r, g, b := labToRGB(v[0], v[1], v[2])
		return s.estimated(r, g, b)
	}
	return [4]float64{}
}

// solid is what all of an ink by itself looks like in process inks: by the space's own
// tint transformation, and a middling grey where that cannot be read.
func (s *space) solid(ink int) [4]float64 {
	v := make([]float64, s.n)
	v[ink] = 1
	if s.tint == nil || s.base == nil {
		return [4]float64{black: 0.6}
	}
	w := s.tint(v)
	if len(w) < s.base.n || s.base.family == pattern || s.base.family == indexed || s.base.family == inks {
		return [4]float64{black: 0.6}
	}
	return s.base.cmyk(w)
}

func (s *space) estimated(r, g, b float64) [4]float64 {
	if s.estimate == nil {
		return naive(r, g, b)
	}
	in := [3]byte{eight(r), eight(g), eight(b)}
	var out [4]byte
	s.estimate(out[:], in[:])
	return [4]float64{float64(out[0]) / 255, float64(out[1]) / 255, float64(out[2]) / 255, float64(out[3]) / 255}
}

func naive(r, g, b float64) [4]float64 {
	k := 1 - max(r, g, b)
	return [4]float64{1 - r - k, 1 - g - k, 1 - b - k, k}
}

// brightness is the luminosity that a soft mask is made of (11.5.3): that of gray
// is itself, of RGB by weight, of CMYK by the same weights less the black
// (10.3.2, 10.3.3), of inks that of what they stand for.
func (s *space) brightness(v []float64) float64 {
	const r, g, b = 0.3, 0.59, 0.11
	switch s.family {
	case gray:
		return unit(v[0])
	case rgb:
		return r*unit(v[0]) + g*unit(v[1]) + b*unit(v[2])
	case cmyk:
		return 1 - min(1, r*unit(v[0])+g*unit(v[1])+b*unit(v[2])+unit(v[3]))
	case lab:
		red, green, blue := labToRGB(v[0], v[1], v[2])
		return r*red + g*green + b*blue
	case indexed:
		return s.base.brightness(s.entry(v[0]))
	case inks:
		if s.tint != nil {
			if w := s.tint(v); len(w) >= s.base.n {
				return s.base.brightness(w)
			}
		}
		return 1 - unit(v[0])
	}
	return 1
}

// entry gives the colour of an index, in the base's own range.
func (s *space) entry(index float64) []float64 {
	entries := len(s.table) / s.base.n
	i := max(0, min(entries-1, int(index)))
	v := make([]float64, s.base.n)
	for k := range v {
		lo, hi := s.base.component(k)
		v[k] = between(float64(s.table[i*s.base.n+k]), 0, 255, lo, hi)
	}
	return v
}

// component gives the range of a component, to which samples are stretched where
// there is no Decode array (Table 90).
func (s *space) component(k int) (lo, hi float64) {
	if s.family != lab {
		return 0, 1
	}
	if k == 0 {
		return 0, 100
	}
	return s.span[2*k-2], s.span[2*k-1]
}

func unit(v float64) float64 {
	if !(v > 0) { // a NaN is not
		return 0
	}
	return min(v, 1)
}

func eight(v float64) byte { return byte(math.Round(255 * unit(v))) }

// labToRGB goes from CIE L*a*b* with white point D50 to sRGB (IEC 61966-2-1), with
// the matrix adapted to D50 by Bradford's method (values from memory).
func labToRGB(l, a, b float64) (red, green, blue float64) {
	fy := (l + 16) / 116
	x, y, z := 0.9642*labCurve(fy+a/500), labCurve(fy), 0.8249*labCurve(fy-b/200)
	return companded(3.1339*x - 1.6169*y - 0.4906*z),
		companded(-0.9788*x + 1.9161*y + 0.0335*z),
		companded(0.0719*x - 0.2290*y + 1.4052*z)
}

func labCurve(t float64) float64 {
	if t > 6.0/29 {
		return t * t * t
	}
	return 3 * (6.0 / 29) * (6.0 / 29) * (t - 4.0/29)
}

func companded(v float64) float64 {
	if v = unit(v); v > 0.0031308 {
		return 1.055*math.Pow(v, 1/2.4) - 0.055
	}
	return 12.92 * v
}
