package pdf

import "encoding/binary"

// fontData is read through its methods: what is out of range reads as 0, which no
// table can be wrecked by.
type fontData []byte

func (f fontData) u8(i int) int {
	if i < 0 || i >= len(f) {
		return 0
	}
	return int(f[i])
}

func (f fontData) u16(i int) int {
	if i < 0 || i+2 > len(f) {
		return 0
	}
	return int(binary.BigEndian.Uint16(f[i:]))
}

func (f fontData) i16(i int) int { return int(int16(f.u16(i))) }

func (f fontData) u32(i int) int {
	if i < 0 || i+4 > len(f) {
		return 0
	}
	return int(binary.BigEndian.Uint32(f[i:]))
}

// cut gives f[from:from+n], or nil where that is not all there.
func (f fontData) cut(from, n int) fontData {
	if from < 0 || n < 0 || from > len(f) || n > len(f)-from {
		return nil
	}
	return f[from : from+n]
}
