package raster

import (
	"encoding/binary"
	"math/bits"
)

// flatJPEG is a baseline JPEG of one colour, of w × h pixels. It is coded by
// hand, from ITU-T T.81, so that files that no encoder here writes can be made.
type flatJPEG struct {
	w, h    int
	ids     string
	values  []byte   // of each component, as stored
	apps    [][]byte // application segments, whole
	process byte     // SOF marker; 0 is baseline
	bits    byte     // 0 is 8
	scan    string   // the components of the only scan; "" is all
}

// app makes an application segment.
func app(n byte, data string) []byte {
	return append(segmentHead(markerAPP0+n, len(data)), data...)
}

func segmentHead(marker byte, size int) []byte {
	return binary.BigEndian.AppendUint16([]byte{0xff, marker}, uint16(size+2))
}

func jfif(unit byte, x, y uint16) []byte {
	d := append([]byte("JFIF\x00\x01\x02"), unit)
	d = binary.BigEndian.AppendUint16(d, x)
	d = binary.BigEndian.AppendUint16(d, y)
	return app(0, string(append(d, 0, 0)))
}

func adobe(transform byte) []byte {
	return app(14, "Adobe\x00\x64\x00\x00\x00\x00"+string([]byte{transform}))
}

func iccChunk(number, count byte, data string) []byte {
	return app(2, "ICC_PROFILE\x00"+string([]byte{number, count})+data)
}

func (j flatJPEG) encode() []byte {
	b := []byte{0xff, markerSOI}
	for _, a := range j.apps {
		b = append(b, a...)
	}
	b = append(b, j.tables()...)
	b = append(b, j.frame()...)
	scan := j.scan
	if scan == "" {
		scan = j.ids
	}
	b = append(b, segmentHead(markerSOS, 4+2*len(scan))...)
	b = append(b, byte(len(scan)))
	for i := range len(scan) {
		b = append(b, scan[i], 0)
	}
	b = append(b, 0, 63, 0)
	b = append(b, j.entropy(scan)...)
	return append(b, 0xff, markerEOI)
}

// tables are a quantisation table of ones, the DC table of T.81, K.3.3.1, and
// an AC table of one code, 0, for the end of a block.
func (j flatJPEG) tables() []byte {
	b := append(segmentHead(markerDQT, 65), 0)
	for range 64 {
		b = append(b, 1)
	}
	b = append(b, segmentHead(markerDHT, 29)...)
	b = append(b, "\x00"+"\x00\x01\x05\x01\x01\x01\x01\x01\x01\x00\x00\x00\x00\x00\x00\x00"+"\x00\x01\x02\x03\x04\x05\x06\x07\x08\x09\x0a\x0b"...)
	b = append(b, segmentHead(markerDHT, 18)...)
	return append(b, "\x10"+"\x01\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00"+"\x00"...)
}

func (j flatJPEG) frame() []byte {
	process, depth := j.process, j.bits
	if process == 0 {
		process = markerSOF0
	}
	if depth == 0 {
		depth = 8
	}
	b := append(segmentHead(process, 6+3*len(j.ids)), depth)
	b = binary.BigEndian.AppendUint16(b, uint16(j.h))
	b = binary.BigEndian.AppendUint16(b, uint16(j.w))
	b = append(b, byte(len(j.ids)))
	for i := range len(j.ids) {
		b = append(b, j.ids[i], 0x11, 0)
	}
	return b
}

// entropy codes, for each block, the difference of the DC coefficient, 8 times
// the level, and the end of the block.
func (j flatJPEG) entropy(scan string) []byte {
	lengths := []int{2, 3, 3, 3, 3, 3, 4, 5, 6, 7, 8, 9}
	codes := []uint{0, 2, 3, 4, 5, 6, 14, 30, 62, 126, 254, 510}
	var w bitWriter
	for block := range ((j.w + 7) / 8) * ((j.h + 7) / 8) {
		for i := range len(j.ids) {
			if !contains(scan, j.ids[i]) {
				continue
			}
			diff := 0
			if block == 0 {
				diff = 8 * (int(j.values[i]) - 128)
			}
			size := bits.Len(uint(max(diff, -diff)))
			w.put(codes[size], lengths[size])
			if diff < 0 {
				diff += 1<<size - 1
			}
			w.put(uint(diff), size)
			w.put(0, 1)
		}
	}
	return w.end()
}

func contains(s string, b byte) bool {
	for i := range len(s) {
		if s[i] == b {
			return true
		}
	}
	return false
}

// bitWriter writes bits from the highest on, and stuffs zeros after 0xff.
type bitWriter struct {
	b    []byte
	held uint
	n    int
}

func (w *bitWriter) put(v uint, n int) {
	for n--; n >= 0; n-- {
		w.held = w.held<<1 | v>>n&1
		if w.n++; w.n == 8 {
			w.b = append(w.b, byte(w.held))
			if byte(w.held) == 0xff {
				w.b = append(w.b, 0)
			}
			w.held, w.n = 0, 0
		}
	}
}

func (w *bitWriter) end() []byte {
	for w.n != 0 {
		w.put(1, 1)
	}
	return w.b
}
