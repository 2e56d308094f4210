package press

import (
	"bytes"
	"math"
	"math/bits"
)

// This file writes baseline JPEG (ITU-T T.81) of one, three or four channels,
// none subsampled, with Huffman tables made for the picture. The standard
// library's encoder cannot write CMYK, densities or profiles.

// jpegOptions are what a JPEG says beside its pixels.
type jpegOptions struct {
	quality int     // 1 to 100, scaled as is common practice
	ppi     float64 // 0: no density
	profile []byte  // nil: no profile
}

// jpegFile codes pixels of a space: RGB goes as YCbCr under a JFIF marker, CMYK
// inverted under an Adobe one, which is how programs expect it.
func jpegFile(space Space, w, h int, pix []byte, o jpegOptions) []byte {
	n := space.channels()
	e := &jpegEncoder{n: n, w: w, h: h}
	e.quant[0], e.quant[1] = scaledTable(lumaTable, o.quality), scaledTable(chromaTable, o.quality)
	e.marker(0xD8, nil)
	if space == CMYK {
		if o.ppi > 0 {
			e.marker(0xE1, exif(o.ppi))
		}
		e.marker(0xEE, []byte("Adobe\x00\x64\x00\x00\x00\x00\x00")) // transform 0
	} else {
		e.marker(0xE0, jfif(o.ppi))
	}
	e.profile(o.profile)
	e.code(planes(space, pix))
	e.marker(0xD9, nil)
	return e.out.Bytes()
}

// jfif is the APP0 segment: version 1.02, density per inch (JFIF 1.02, p. 5).
func jfif(ppi float64) []byte {
	b := []byte("JFIF\x00\x01\x02\x00\x00\x01\x00\x01\x00\x00")
	if ppi > 0 {
		b[7] = 1
		be.PutUint16(b[8:], uint16(math.Round(ppi)))
		be.PutUint16(b[10:], uint16(math.Round(ppi)))
	}
	return b
}

// exif tells the density where JFIF has no place: beside four inks.
func exif(ppi float64) []byte {
	return append([]byte("Exif\x00\x00"), tiffBytes([]field{
		ratioField(282, ppi), ratioField(283, ppi), shortField(296, 2),
	}, nil)...)
}

// jpegEncoder holds what is written so far.
type jpegEncoder struct {
	out   bytes.Buffer
	n     int
	w, h  int
	quant [2][64]int
	acc   uint32 // bits not yet written, and how many
	have  int
}

func (e *jpegEncoder) marker(m byte, body []byte) {
	e.out.Write([]byte{0xFF, m})
	if body != nil {
		e.out.Write(be.AppendUint16(nil, uint16(len(body)+2)))
		e.out.Write(body)
	}
}

// profile cuts a profile into APP2 chunks (ICC.1:2001-04, B.4).
func (e *jpegEncoder) profile(icc []byte) {
	const most = 65519
	count := (len(icc) + most - 1) / most
	for i := range count {
		part := icc[i*most : min(len(icc), (i+1)*most)]
		e.marker(0xE2, append([]byte("ICC_PROFILE\x00"+string([]byte{byte(i + 1), byte(count)})), part...))
	}
}

// planes are the channels as coded, each value less 128.
func planes(space Space, pix []byte) [][]float64 {
	n := space.channels()
	out := make([][]float64, n)
	for ch := range out {
		out[ch] = make([]float64, len(pix)/n)
	}
	for i := range out[0] {
		px := pix[n*i:][:n]
		switch space {
		case RGB: // JFIF 1.02, "Conversion to and from RGB"
			r, g, b := float64(px[0]), float64(px[1]), float64(px[2])
			out[0][i] = .299*r + .587*g + .114*b - 128
			out[1][i] = -.168736*r - .331264*g + .5*b
			out[2][i] = .5*r - .418688*g - .081312*b
		case CMYK:
			for ch, v := range px {
				out[ch][i] = 127 - float64(v)
			}
		case Grey:
			out[0][i] = float64(px[0]) - 128
		}
	}
	return out
}

// table is the quantization table of a channel: colour differences are coarser.
func (e *jpegEncoder) table(ch int) int {
	if e.n == 3 && ch > 0 {
		return 1
	}
	return 0
}

// code writes the frame: tables, then one scan of all channels.
func (e *jpegEncoder) code(planes [][]float64) {
	across, down := (e.w+7)/8, (e.h+7)/8
	blocks := make([][][64]int, e.n)
	for ch := range blocks {
		blocks[ch] = make([][64]int, across*down)
		eachRow(0, down, func(y int) {
			for x := range across {
				blocks[ch][y*across+x] = e.block(planes[ch], x*8, y*8, e.quant[e.table(ch)])
			}
		})
	}
	var dc, ac [2][256]int // how often each symbol comes
	e.walk(blocks, func(t int, isDC bool, symbol byte, _ uint32, _ int) {
		if isDC {
			dc[t][symbol]++
		} else {
			ac[t][symbol]++
		}
	})
	tables := 1 + e.table(e.n-1)
	var codes [2][2]huffman
	e.frame(tables)
	for t := range tables {
		codes[t] = [2]huffman{newHuffman(dc[t]), newHuffman(ac[t])}
		e.marker(0xC4, append([]byte{byte(t)}, codes[t][0].segment()...))
		e.marker(0xC4, append([]byte{byte(0x10 | t)}, codes[t][1].segment()...))
	}
	e.scan()
	e.walk(blocks, func(t int, isDC bool, symbol byte, extra uint32, n int) {
		c := codes[t][1]
		if isDC {
			c = codes[t][0]
		}
		e.bits(c.code[symbol], c.length[symbol])
		e.bits(extra, n)
	})
	if e.have > 0 {
		e.bits(0x7F, 8-e.have) // fill with ones (T.81 F.1.2.3)
	}
}

// frame writes DQT and SOF0 (T.81 B.2.2, B.2.4.1).
func (e *jpegEncoder) frame(tables int) {
	for t := range tables {
		body := []byte{byte(t)}
		for _, at := range zigzag {
			body = append(body, byte(e.quant[t][at]))
		}
		e.marker(0xDB, body)
	}
	head := []byte{8, byte(e.h >> 8), byte(e.h), byte(e.w >> 8), byte(e.w), byte(e.n)}
	for ch := range e.n {
		head = append(head, byte(ch+1), 0x11, byte(e.table(ch)))
	}
	e.marker(0xC0, head)
}

// scan writes SOS (T.81 B.2.3).
func (e *jpegEncoder) scan() {
	head := []byte{byte(e.n)}
	for ch := range e.n {
		head = append(head, byte(ch+1), byte(e.table(ch)*0x11))
	}
	e.marker(0xDA, append(head, 0, 63, 0))
}

// walk tells each symbol of the scan with the bits that follow it
// (T.81 F.1.2.1, F.1.2.2).
func (e *jpegEncoder) walk(blocks [][][64]int, tell func(table int, isDC bool, symbol byte, extra uint32, n int)) {
	last := make([]int, e.n)
	for i := range blocks[0] {
		for ch := range e.n {
			b, t := &blocks[ch][i], e.table(ch)
			extra, n := magnitude(b[0] - last[ch])
			last[ch] = b[0]
			tell(t, true, byte(n), extra, n)
			run := 0
			for _, at := range zigzag[1:] {
				if b[at] == 0 {
					run++
					continue
				}
				for ; run > 15; run -= 16 {
					tell(t, false, 0xF0, 0, 0)
				}
				extra, n := magnitude(b[at])
				tell(t, false, byte(run<<4|n), extra, n)
				run = 0
			}
			if run > 0 {
				tell(t, false, 0, 0, 0)
			}
		}
	}
}

// magnitude is a value's category and the bits that tell it within.
func magnitude(v int) (extra uint32, n int) {
	if v >= 0 {
		return uint32(v), bits.Len(uint(v))
	}
	n = bits.Len(uint(-v))
	return uint32(v + 1<<n - 1), n
}

// bits writes the n low bits of v; a byte of ones is followed by a zero byte.
func (e *jpegEncoder) bits(v uint32, n int) {
	e.acc = e.acc<<n | v&(1<<n-1)
	e.have += n
	for e.have >= 8 {
		b := byte(e.acc >> (e.have - 8))
		e.out.WriteByte(b)
		if b == 0xFF {
			e.out.WriteByte(0)
		}
		e.have -= 8
	}
}
