package press

import (
	"bytes"
	"encoding/binary"
	"math"
)

var le = binary.LittleEndian

// field is one entry of a TIFF directory (TIFF 6.0, p. 14): count values of a
// kind, their bytes.
type field struct {
	tag, kind uint16
	count     int
	data      []byte
}

// Field kinds (TIFF 6.0, p. 15).
const (
	kindShort     = 3
	kindLong      = 4
	kindRatio     = 5
	kindUndefined = 7
)

func shortField(tag uint16, vs ...uint16) field {
	var b []byte
	for _, v := range vs {
		b = le.AppendUint16(b, v)
	}
	return field{tag, kindShort, len(vs), b}
}

func longField(tag uint16, v int) field {
	return field{tag, kindLong, 1, le.AppendUint32(nil, uint32(v))}
}

// ratioField tells a number to a ten-thousandth.
func ratioField(tag uint16, v float64) field {
	b := le.AppendUint32(nil, uint32(math.Round(v*10000)))
	return field{tag, kindRatio, 1, le.AppendUint32(b, 10000)}
}

// tiffBytes writes one directory of fields in rising order of tags, then their long
// values, then strip. Field 273 (StripOffsets) is set to where strip begins.
func tiffBytes(fields []field, strip []byte) []byte {
	start := 8 + 2 + 12*len(fields) + 4
	spare := start
	for _, f := range fields {
		if len(f.data) > 4 {
			spare += len(f.data) + len(f.data)%2
		}
	}
	out := append([]byte("II"), le.AppendUint16(nil, 42)...)
	out = le.AppendUint32(out, 8)
	out = le.AppendUint16(out, uint16(len(fields)))
	var long []byte
	for _, f := range fields {
		if f.tag == 273 {
			f = longField(273, spare)
		}
		out = le.AppendUint16(le.AppendUint16(out, f.tag), f.kind)
		out = le.AppendUint32(out, uint32(f.count))
		if len(f.data) > 4 {
			out = le.AppendUint32(out, uint32(start+len(long)))
			long = append(long, f.data...)
			long = append(long, make([]byte, len(f.data)%2)...)
			continue
		}
		out = append(out, append(bytes.Clone(f.data), 0, 0, 0, 0)[:4]...)
	}
	out = le.AppendUint32(out, 0)
	return append(append(out, long...), strip...)
}

// tiffFile codes pixels as one Deflate strip with differences along rows
// (compression 8, predictor 2: TIFF 6.0 p. 64 and its Adobe supplement 2).
func tiffFile(space Space, w, h int, pix []byte, ppi float64, profile []byte) []byte {
	n := space.channels()
	bits := make([]uint16, n)
	for i := range bits {
		bits[i] = 8
	}
	photometric := map[Space]uint16{Grey: 1, RGB: 2, CMYK: 5}[space]
	strip := deflated(differences(pix, w*n, n))
	fields := []field{
		longField(256, w), longField(257, h), shortField(258, bits...), shortField(259, 8), shortField(262, photometric),
		longField(273, 0), shortField(277, uint16(n)), longField(278, h), longField(279, len(strip)),
	}
	if ppi > 0 {
		fields = append(fields, ratioField(282, ppi), ratioField(283, ppi))
	}
	fields = append(fields, shortField(284, 1))
	if ppi > 0 {
		fields = append(fields, shortField(296, 2))
	}
	fields = append(fields, shortField(317, 2))
	if space == CMYK {
		fields = append(fields, shortField(332, 1)) // InkSet: CMYK
	}
	if profile != nil {
		fields = append(fields, field{34675, kindUndefined, len(profile), profile})
	}
	return tiffBytes(fields, strip)
}

// differences replaces each value by its step from the pixel to its left.
func differences(pix []byte, row, n int) []byte {
	out := bytes.Clone(pix)
	for at := 0; at < len(out); at += row {
		for i := row - 1; i >= n; i-- {
			out[at+i] -= out[at+i-n]
		}
	}
	return out
}
