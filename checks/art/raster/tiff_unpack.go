package raster

import (
	"bytes"
	"compress/zlib"
	"errors"
	"io"
	"math/bits"

	"golang.org/x/image/ccitt"
	"golang.org/x/image/tiff/lzw"
)

// unpacker undoes the compression of one segment after the other, and keeps
// what can be used again.
type unpacker struct {
	zlib         io.ReadCloser
	checked      bool // the compression has a checksum to be read at the end
	rowBuf, wide []byte
}

// open begins reading segment i.
func (u *unpacker) open(t *tiffPage, i int) (io.Reader, error) {
	data := t.segments.data(i)
	if t.fill == 2 {
		data = reversed(data)
	}
	r := bytes.NewReader(data)
	u.checked = false
	switch t.compression {
	case packLZW:
		return lzw.NewReader(r, lzw.MSB, 8), nil
	case packDeflate, packDeflateOld:
		return u.inflate(r)
	case packBits:
		return &packBitsReader{src: data}, nil
	case packGroup4:
		// White runs are 0 whatever the photometric interpretation calls them
		// (T.6; libtiff): "inverted" in the words of the ccitt package.
		return ccitt.NewReader(r, ccitt.MSB, ccitt.Group4, t.segments.width, t.segments.rows(i, t.height), &ccitt.Options{Invert: true}), nil
	}
	return r, nil
}

func (u *unpacker) inflate(r io.Reader) (io.Reader, error) {
	u.checked = true
	if u.zlib != nil {
		return u.zlib, u.zlib.(zlib.Resetter).Reset(r, nil)
	}
	var err error
	u.zlib, err = zlib.NewReader(r)
	return u.zlib, err
}

// whole verifies the checksum, if there is one, after the last row that was
// wanted. More data than wanted are none of our business.
func (u *unpacker) whole() error {
	if !u.checked {
		return nil
	}
	var more [1]byte
	if _, err := u.zlib.Read(more[:]); errors.Is(err, zlib.ErrChecksum) {
		return err
	}
	return nil
}

// row is a buffer for one stored row.
func (u *unpacker) row(n int) []byte {
	if len(u.rowBuf) != n {
		u.rowBuf = make([]byte, n)
	}
	return u.rowBuf
}

// out is a buffer for the samples of one row.
func (u *unpacker) out(n int) []byte {
	if len(u.wide) != n {
		u.wide = make([]byte, n)
	}
	return u.wide
}

// reversed turns the bits of each byte: FillOrder 2 (TIFF 6.0, p. 32).
func reversed(data []byte) []byte {
	out := make([]byte, len(data))
	for i, v := range data {
		out[i] = bits.Reverse8(v)
	}
	return out
}

// packBitsReader undoes PackBits (TIFF 6.0, section 9): a byte n of 0 to 127
// is followed by n+1 bytes as they are, one of −127 to −1 by a byte to repeat
// 1−n times, −128 by nothing.
type packBitsReader struct {
	src    []byte
	copies int  // bytes still to be taken as they are
	runs   int  // repeats still to be given
	value  byte // what is repeated
}

func (p *packBitsReader) Read(dst []byte) (n int, err error) {
	for n < len(dst) {
		switch {
		case p.copies > 0:
			k := copy(dst[n:], p.src[:min(p.copies, len(p.src))])
			if k == 0 {
				return n, io.ErrUnexpectedEOF
			}
			p.src, p.copies, n = p.src[k:], p.copies-k, n+k
		case p.runs > 0:
			k := min(p.runs, len(dst)-n)
			for i := range k {
				dst[n+i] = p.value
			}
			p.runs, n = p.runs-k, n+k
		default:
			if err := p.next(); err != nil {
				return n, err
			}
		}
	}
	return n, nil
}

func (p *packBitsReader) next() error {
	if len(p.src) == 0 {
		return io.ErrUnexpectedEOF
	}
	n := int(int8(p.src[0]))
	p.src = p.src[1:]
	switch {
	case n >= 0:
		p.copies = n + 1
	case n == -128:
	case len(p.src) == 0:
		return io.ErrUnexpectedEOF
	default:
		p.runs, p.value, p.src = 1-n, p.src[0], p.src[1:]
	}
	return nil
}
