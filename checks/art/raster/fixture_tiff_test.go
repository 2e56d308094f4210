package raster

import (
	"encoding/binary"
	"math"
	"slices"
)

// madeTIFF is a TIFF file built value by value.
type madeTIFF struct {
	order byteOrder
	big   bool
	pages []madePage
}

type byteOrder interface {
	binary.ByteOrder
	binary.AppendByteOrder
}

// madePage is one directory: tags, and the data of its strips or tiles.
type madePage struct {
	tags map[uint16]any // uint16, uint32, []uint16, []uint32, []byte (UNDEFINED) or ratio
	data [][]byte
	at   uint16 // tag of the places of data; 0 is StripOffsets
}

type ratio struct{ over, under uint32 }

// plainPage is a page of 8-bit samples in one strip.
func plainPage(w, h int, photometric uint16, samples []byte) madePage {
	n := len(samples) / (w * h)
	depths := make([]uint16, n)
	for i := range depths {
		depths[i] = 8
	}
	return madePage{
		tags: map[uint16]any{
			tagWidth: uint16(w), tagHeight: uint16(h), tagBitsPerSample: depths, tagCompression: uint16(packNone),
			tagPhotometric: photometric, tagSamplesPerPixel: uint16(n), tagRowsPerStrip: uint16(h),
		},
		data: [][]byte{samples},
	}
}

// with returns the page with more tags, or others.
func (p madePage) with(tags map[uint16]any) madePage {
	all := map[uint16]any{}
	for k, v := range p.tags {
		all[k] = v
	}
	for k, v := range tags {
		all[k] = v
	}
	p.tags = all
	return p
}

func littleTIFF(pages ...madePage) []byte {
	return madeTIFF{order: binary.LittleEndian, pages: pages}.encode()
}

func bigEndianTIFF(pages ...madePage) []byte {
	return madeTIFF{order: binary.BigEndian, pages: pages}.encode()
}

func bigTIFF(pages ...madePage) []byte {
	return madeTIFF{order: binary.LittleEndian, big: true, pages: pages}.encode()
}

// word is the size of counts and offsets.
func (m madeTIFF) word() int {
	if m.big {
		return 8
	}
	return 4
}

func (m madeTIFF) number(b []byte, v uint64) []byte {
	if m.big {
		return m.order.AppendUint64(b, v)
	}
	return m.order.AppendUint32(b, uint32(v))
}

// encode puts each page's data before its directory, as most writers do.
func (m madeTIFF) encode() []byte {
	b := []byte("II")
	if m.order == binary.BigEndian {
		b = []byte("MM")
	}
	if m.big {
		b = m.order.AppendUint16(m.order.AppendUint16(m.order.AppendUint16(b, 43), 8), 0)
	} else {
		b = m.order.AppendUint16(b, 42)
	}
	link := len(b)
	b = m.number(b, 0)
	for _, p := range m.pages {
		b = m.page(b, &link, p)
	}
	return b
}

// page appends a page and sets the link that leads to it.
func (m madeTIFF) page(b []byte, link *int, p madePage) []byte {
	tags := p.with(nil).tags
	var offsets, counts []uint32
	for _, d := range p.data {
		offsets, counts = append(offsets, uint32(len(b))), append(counts, uint32(len(d)))
		b = append(b, d...)
	}
	if p.at == 0 {
		p.at = tagStripOffsets
	}
	counted := uint16(tagStripByteCounts)
	if p.at == tagTileOffsets {
		counted = tagTileByteCounts
	}
	if _, ok := tags[p.at]; !ok {
		tags[p.at], tags[counted] = offsets, counts
	}
	var order []uint16
	for tag := range tags {
		order = append(order, tag)
	}
	slices.Sort(order)
	var dir []byte
	for _, tag := range order {
		kind, count, value := m.value(tags[tag])
		dir = m.order.AppendUint16(m.order.AppendUint16(dir, tag), kind)
		dir = m.number(dir, uint64(count))
		if len(value) > m.word() {
			dir = m.number(dir, uint64(len(b)))
			b = append(b, value...)
		} else {
			dir = append(dir, append(value, make([]byte, m.word()-len(value))...)...)
		}
	}
	copy(b[*link:], m.number(nil, uint64(len(b))))
	if m.big {
		b = m.order.AppendUint64(b, uint64(len(order)))
	} else {
		b = m.order.AppendUint16(b, uint16(len(order)))
	}
	b = append(b, dir...)
	*link = len(b)
	return m.number(b, 0)
}

func (m madeTIFF) value(v any) (kind uint16, count int, value []byte) {
	switch v := v.(type) {
	case uint16:
		return m.value([]uint16{v})
	case uint32:
		return m.value([]uint32{v})
	case []uint16:
		for _, n := range v {
			value = m.order.AppendUint16(value, n)
		}
		return kindShort, len(v), value
	case []uint32:
		for _, n := range v {
			value = m.order.AppendUint32(value, n)
		}
		return kindLong, len(v), value
	case ratio:
		return kindRational, 1, m.order.AppendUint32(m.order.AppendUint32(nil, v.over), v.under)
	case []byte:
		return 7, len(v), v
	}
	panic("no such value")
}

// lzwLiterals packs bytes into valid LZW of literals alone: a clear code often
// enough that codes stay 9 bits wide.
func lzwLiterals(data []byte) []byte {
	const clear, end = 256, 257
	var out []byte
	held, n := uint32(0), 0
	put := func(code uint32) {
		for held, n = held<<9|code, n+9; n >= 8; n -= 8 {
			out = append(out, byte(held>>(n-8)))
		}
	}
	for i, v := range data {
		if i%200 == 0 {
			put(clear)
		}
		put(uint32(v))
	}
	put(end)
	return append(out, byte(held<<(8-n)&math.MaxUint8))
}

// exifOf is an Exif block. Its one directory is the Exif directory as well, so
// that tags of either find their place.
func exifOf(tags map[uint16]any) []byte {
	page := madePage{tags: tags}
	b := littleTIFF(page.with(map[uint16]any{tagExifDirectory: uint32(0)}))
	return littleTIFF(page.with(map[uint16]any{tagExifDirectory: binary.LittleEndian.Uint32(b[4:])}))
}
