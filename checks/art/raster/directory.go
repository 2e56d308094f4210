package raster

import (
	"encoding/binary"
	"fmt"
)

// directories reads the structure that TIFF and Exif share: a header, and
// directories of tagged values (TIFF 6.0, section 2; BigTIFF as libtiff
// defines it).
type directories struct {
	b     []byte
	order binary.ByteOrder
	big   bool // BigTIFF: counts and offsets of 8 bytes
	first uint64
	limit int // entries of one directory
}

// entry is one tagged value. Its bytes are a part of the file.
type entry struct {
	tag   uint16
	kind  uint16
	count uint64
	value []byte // nil if it lies beyond the end of the file
	order binary.ByteOrder
}

// Value types (TIFF 6.0, p. 15) that the tags read here may have.
const (
	kindShort    = 3
	kindLong     = 4
	kindRational = 5
	kindLong8    = 16
)

// sizeOf is the size of one value of a type, 0 for an unknown type.
func sizeOf(kind uint16) uint64 {
	switch kind {
	case 1, 2, 6, 7:
		return 1
	case kindShort, 8:
		return 2
	case kindLong, 9, 11, 13:
		return 4
	case kindRational, 10, 12, kindLong8, 17, 18:
		return 8
	}
	return 0
}

// readDirectories reads the header that starts a TIFF file or Exif block.
func readDirectories(b []byte, limit int) (directories, error) {
	d := directories{b: b, order: binary.LittleEndian, limit: limit}
	if len(b) < 8 {
		return d, fmt.Errorf("%w: the TIFF header is not complete", ErrCutOff)
	}
	if b[0] == 'M' {
		d.order = binary.BigEndian
	}
	if d.order.Uint16(b[2:]) == 43 {
		if len(b) < 16 {
			return d, fmt.Errorf("%w: the TIFF header is not complete", ErrCutOff)
		}
		d.big, d.first = true, d.order.Uint64(b[8:])
		return d, nil
	}
	d.first = uint64(d.order.Uint32(b[4:]))
	return d, nil
}

// at reads the directory at an offset, and the offset of the next one (0 at
// the last).
func (d directories) at(offset uint64) (dir []entry, next uint64, err error) {
	head, size, word := uint64(2), uint64(12), uint64(4)
	if d.big {
		head, size, word = 8, 20, 8
	}
	raw, ok := d.slice(offset, head)
	if !ok {
		return nil, 0, fmt.Errorf("%w: a TIFF directory lies beyond the end of the file", ErrCutOff)
	}
	n := d.word(raw, head)
	if n > uint64(d.limit) {
		return nil, 0, fmt.Errorf("%w: a TIFF directory has %d entries", ErrDamaged, n)
	}
	raw, ok = d.slice(offset+head, n*size+word)
	if !ok {
		return nil, 0, fmt.Errorf("%w: a TIFF directory runs beyond the end of the file", ErrCutOff)
	}
	dir = make([]entry, 0, n)
	for i := range n {
		dir = append(dir, d.entry(raw[i*size:(i+1)*size], word))
	}
	return dir, d.word(raw[n*size:], word), nil
}

func (d directories) entry(raw []byte, word uint64) entry {
	e := entry{
		tag: d.order.Uint16(raw), kind: d.order.Uint16(raw[2:]),
		count: d.word(raw[4:], word), order: d.order,
	}
	inline := raw[4+word:]
	size := sizeOf(e.kind)
	switch {
	case size == 0 || e.count > uint64(len(d.b)): // not a value that could be in this file
	case size*e.count <= word:
		e.value = inline[:size*e.count]
	default:
		e.value, _ = d.slice(d.word(inline, word), size*e.count)
	}
	return e
}

// word reads an unsigned number of 2, 4 or 8 bytes.
func (d directories) word(b []byte, size uint64) uint64 {
	switch size {
	case 2:
		return uint64(d.order.Uint16(b))
	case 4:
		return uint64(d.order.Uint32(b))
	}
	return d.order.Uint64(b)
}

func (d directories) slice(offset, size uint64) ([]byte, bool) {
	n := uint64(len(d.b))
	if offset > n || size > n-offset {
		return nil, false
	}
	return d.b[offset : offset+size : offset+size], true
}

// find returns the first entry of a tag.
func find(dir []entry, tag uint16) (entry, bool) {
	for _, e := range dir {
		if e.tag == tag {
			return e, true
		}
	}
	return entry{}, false
}

// len is the number of values that are in the file.
func (e entry) len() int {
	if size := sizeOf(e.kind); size != 0 {
		return len(e.value) / int(size)
	}
	return 0
}

// uint is value i of an integer type.
func (e entry) uint(i int) uint64 {
	switch e.kind {
	case 1, 2, 6, 7:
		return uint64(e.value[i])
	case kindShort, 8:
		return uint64(e.order.Uint16(e.value[2*i:]))
	case kindLong, 9, 13:
		return uint64(e.order.Uint32(e.value[4*i:]))
	case kindLong8, 17, 18:
		return e.order.Uint64(e.value[8*i:])
	}
	return 0
}

// rational is the first value of type RATIONAL, 0 if it is none.
func (e entry) rational() float64 {
	if e.kind != kindRational || e.len() == 0 {
		return 0
	}
	over, under := e.order.Uint32(e.value), e.order.Uint32(e.value[4:])
	if under == 0 {
		return 0
	}
	return float64(over) / float64(under)
}

// number is the first value of a tag, or what the standard assumes without it.
func number(dir []entry, tag uint16, otherwise uint64) uint64 {
	if e, ok := find(dir, tag); ok && e.len() > 0 {
		return e.uint(0)
	}
	return otherwise
}
