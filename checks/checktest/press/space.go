package press

import "math"

// Space is what a file says its colours are.
type Space string

// Spaces.
const (
	CMYK Space = "cmyk"
	RGB  Space = "rgb"
	Grey Space = "grey"
)

// channels is how many numbers tell a colour.
func (s Space) channels() int { return len(s.values(paper)) }

// device is the PDF name of the space.
func (s Space) device() string {
	return map[Space]string{CMYK: "DeviceCMYK", RGB: "DeviceRGB", Grey: "DeviceGray"}[s]
}

// values tells an ink in the space: amounts of ink, or of light.
func (s Space) values(k ink) []float64 {
	switch s {
	case CMYK:
		return []float64{k.c, k.m, k.y, k.k}
	case RGB:
		v := k.rgb()
		return v[:]
	case Grey:
		return []float64{1 - k.grey()}
	}
	panic("press: no colour space " + string(s))
}

// bytes are the picture's pixels in a space, 0 to 255 a channel.
func (p pixels) bytes(s Space) []byte {
	n := s.channels()
	out := make([]byte, n*len(p.inks))
	eachRow(0, p.h, func(y int) {
		var last ink
		values := s.values(last)
		for x := range p.w {
			i := y*p.w + x
			// Flat areas are common and conversion is slow.
			if p.inks[i] != last {
				last = p.inks[i]
				values = s.values(last)
			}
			for ch, v := range values {
				out[n*i+ch] = byte(math.Round(clamp(v) * 255))
			}
		}
	})
	return out
}

// pixels is what the raster holds.
func (r *raster) pixels() pixels {
	p := pixels{w: r.w, h: r.h, inks: make([]ink, r.w*r.h)}
	for i := range p.inks {
		v := r.inks[4*i:][:4]
		p.inks[i] = ink{float64(v[0]), float64(v[1]), float64(v[2]), float64(v[3])}
	}
	return p
}
