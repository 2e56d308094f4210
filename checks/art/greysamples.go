package art

import (
	"fmt"
	"math"

	"stoneproof/checks/art/pdf"
)

// greySamples reads a picture of a page that is stored as samples (ISO 32000-1, 8.9.5).
func greySamples(im *pdf.Image) ([]byte, error) {
	if im.Codec != "" {
		return nil, fmt.Errorf("%s is coded by %s, which is not read here", im.Name, im.Codec)
	}
	light, err := lightOf(im)
	if err != nil {
		return nil, err
	}
	raw, err := im.Raw()
	if err != nil {
		return nil, err
	}
	n := len(light.codes)
	row := (im.W*n*im.Bits + 7) / 8
	if len(raw)/im.H < row {
		return nil, fmt.Errorf("%s is cut off: it has %d of %d bytes", im.Name, len(raw), row*im.H)
	}
	out, codes := make([]byte, 0, im.W*im.H), make([]byte, im.W*n)
	for y := range im.H {
		unpackRow(codes, raw[y*row:(y+1)*row], im.Bits)
		out = light.append(out, codes)
	}
	return out, nil
}

// unpackRow makes a byte of each sample of a row; of 16 bits the upper byte is enough.
func unpackRow(dst, row []byte, bits int) {
	switch bits {
	case 8:
		copy(dst, row)
	case 16:
		for i := range dst {
			dst[i] = row[2*i]
		}
	default: // 1, 2 or 4
		each, mask := 8/bits, byte(1<<bits-1)
		for i := range dst {
			dst[i] = row[i/each] >> (8 - bits - i%each*bits) & mask
		}
	}
}

// light turns codes of samples into lightness: for each component a table tells what a
// code is, from 0 to 255, and mix makes one number of them.
type light struct {
	codes [][256]byte
	mix   func(v []byte) byte
}

// append adds a row of pixels.
func (l light) append(out, codes []byte) []byte {
	n := len(l.codes)
	if n == 1 {
		for _, c := range codes {
			out = append(out, l.codes[0][c])
		}
		return out
	}
	v := make([]byte, n)
	for ; len(codes) >= n; codes = codes[n:] {
		for k := range v {
			v[k] = l.codes[k][codes[k]]
		}
		out = append(out, l.mix(v))
	}
	return out
}

// lightOf tells how a picture's samples are to be seen.
func lightOf(im *pdf.Image) (light, error) {
	switch im.Bits {
	case 1, 2, 4, 8, 16:
	default:
		return light{}, fmt.Errorf("%s has samples of %d bits, which no picture may have", im.Name, im.Bits)
	}
	if im.Mask == pdf.Stencil || im.Space == nil {
		return light{codes: tables(im, 1, false)}, nil
	}
	s := im.Space
	if s.Family == pdf.Indexed && s.Base != nil {
		return indexedLight(im), nil
	}
	mix, ink := mixOf(s)
	if mix == nil || s.N < 1 {
		return light{}, fmt.Errorf("%s is in a colour space that is not read here: %v", im.Name, s)
	}
	return light{tables(im, s.N, ink), mix}, nil
}

// mixOf is how components from 0 to 255 make lightness, and whether they are ink, so
// that it is what they leave of light that is mixed.
func mixOf(s *pdf.Space) (mix func(v []byte) byte, ink bool) {
	switch s.Family {
	case pdf.Lab:
		return func(v []byte) byte { return v[0] }, false
	case pdf.Separation, pdf.DeviceN:
		return product, true
	}
	switch s.N {
	case 1:
		return product, false
	case 3:
		return luma, false
	case 4:
		return func(v []byte) byte { return product([]byte{luma(v), v[3]}) }, true
	}
	return nil, false
}

// luma has the weights of raster.LumaOf.
func luma(v []byte) byte {
	return byte((77*uint32(v[0]) + 150*uint32(v[1]) + 29*uint32(v[2])) >> 8)
}

func product(v []byte) byte {
	p := uint32(v[0])
	for _, k := range v[1:] {
		p = (p*uint32(k) + 127) / 255
	}
	return byte(p)
}

// tables are those of n components by the Decode array (Table 90), of ink what it
// leaves. Without one, code 0 is the least and the highest code the most.
func tables(im *pdf.Image, n int, ink bool) [][256]byte {
	out := make([][256]byte, n)
	top := topCode(im)
	for k := range out {
		lo, hi := 0.0, 1.0
		if im.Space != nil && im.Space.Family == pdf.Lab {
			hi = 100
		}
		most := hi
		if 2*k+1 < len(im.Decode) {
			lo, hi = im.Decode[2*k], im.Decode[2*k+1]
		}
		for c := range out[k] {
			v := (lo + min(float64(c)/top, 1)*(hi-lo)) / most
			if ink {
				v = 1 - v
			}
			out[k][c] = eightBits(v)
		}
	}
	return out
}

func topCode(im *pdf.Image) float64 { return float64(int(1)<<min(im.Bits, 8) - 1) }

// eightBits is a share of full light as a byte; what is no number is nothing.
func eightBits(v float64) byte {
	if !(v > 0) {
		return 0
	}
	return byte(math.Round(255 * min(v, 1)))
}

// indexedLight looks each code up in the table of colours (8.6.6.3).
func indexedLight(im *pdf.Image) light {
	s, out := im.Space, make([][256]byte, 1)
	mix, ink := mixOf(s.Base)
	lo, hi := 0.0, topCode(im)
	if len(im.Decode) > 1 {
		lo, hi = im.Decode[0], im.Decode[1]
	}
	n := s.Base.N
	v := make([]byte, n)
	for c := range out[0] {
		i := lo + min(float64(c)/topCode(im), 1)*(hi-lo)
		if mix == nil || n < 1 || !(i >= 0) || i >= 256 || (int(i)+1)*n > len(s.Table) {
			continue
		}
		copy(v, s.Table[int(i)*n:])
		if ink {
			for k := range v {
				v[k] ^= 255
			}
		}
		out[0][c] = mix(v)
	}
	return light{codes: out}
}
