package press

import (
	"encoding/binary"
	"slices"
)

// This file cuts a TrueType font down to the glyphs in use. Glyph numbers stay,
// glyphs not wanted become empty: simple, and small once compressed.

var be = binary.BigEndian

// tables maps a font's table names to their bytes (OpenType spec, "Table Directory").
func tables(ttf []byte) map[string][]byte {
	out := map[string][]byte{}
	for i := range int(be.Uint16(ttf[4:])) {
		e := ttf[12+16*i:]
		at, n := be.Uint32(e[8:]), be.Uint32(e[12:])
		out[string(e[:4])] = ttf[at : at+n]
	}
	return out
}

// metrics are what a font descriptor tells, in thousandths of an em.
type metrics struct {
	box                               [4]int
	ascent, descent, capHeight, slant int
}

func readMetrics(ttf []byte) metrics {
	t := tables(ttf)
	em := int(be.Uint16(t["head"][18:]))
	read := func(table string, at int) int { return int(int16(be.Uint16(t[table][at:]))) * 1000 / em }
	m := metrics{ascent: read("hhea", 4), descent: read("hhea", 6), capHeight: read("OS/2", 88)}
	for i := range m.box {
		m.box[i] = read("head", 36+2*i)
	}
	m.slant = int(int16(be.Uint16(t["post"][4:])))
	return m
}

// subset is the font with empty outlines for all glyphs but those named and the
// parts that they are put together from.
func subset(ttf []byte, letters []glyph) []byte {
	t := tables(ttf)
	keep := map[int]bool{}
	for _, g := range letters {
		keepGlyph(t, int(g.index), keep)
	}
	keepGlyph(t, 0, keep)
	count := int(be.Uint16(t["maxp"][4:]))
	var glyf, loca []byte
	for i := range count {
		loca = be.AppendUint32(loca, uint32(len(glyf)))
		if keep[i] {
			glyf = append(glyf, outlineOf(t, i)...)
		}
		for len(glyf)%4 != 0 {
			glyf = append(glyf, 0)
		}
	}
	loca = be.AppendUint32(loca, uint32(len(glyf)))
	head := slices.Clone(t["head"])
	be.PutUint16(head[50:], 1) // indexToLocFormat: offsets of 32 bits
	be.PutUint32(head[8:], 0)  // checkSumAdjustment: set by assemble
	out := map[string][]byte{"glyf": glyf, "loca": loca, "head": head}
	for _, name := range []string{"cvt ", "fpgm", "hhea", "hmtx", "maxp", "prep"} {
		if b, ok := t[name]; ok {
			out[name] = b
		}
	}
	return assemble(out)
}

// outlineOf is the glyf entry of a glyph; both widths of loca are read.
func outlineOf(t map[string][]byte, i int) []byte {
	if be.Uint16(t["head"][50:]) == 0 {
		return t["glyf"][2*int(be.Uint16(t["loca"][2*i:])) : 2*int(be.Uint16(t["loca"][2*i+2:]))]
	}
	return t["glyf"][be.Uint32(t["loca"][4*i:]):be.Uint32(t["loca"][4*i+4:])]
}

// keepGlyph marks a glyph, and for a composite one its parts (OpenType spec,
// "Composite Glyph Description").
func keepGlyph(t map[string][]byte, i int, keep map[int]bool) {
	keep[i] = true
	g := outlineOf(t, i)
	if len(g) == 0 || int16(be.Uint16(g)) >= 0 {
		return
	}
	for at := 10; ; {
		flags, part := be.Uint16(g[at:]), int(be.Uint16(g[at+2:]))
		if !keep[part] {
			keepGlyph(t, part, keep)
		}
		if flags&0x20 == 0 { // no more parts
			return
		}
		at += partLength(flags)
	}
}

func partLength(flags uint16) int {
	n := 6
	if flags&0x01 != 0 { // arguments are words
		n += 2
	}
	switch {
	case flags&0x08 != 0: // one scale
		n += 2
	case flags&0x40 != 0: // x and y scale
		n += 4
	case flags&0x80 != 0: // two by two
		n += 8
	}
	return n
}

// assemble writes tables as a font file, with the checksums that the format
// asks for.
func assemble(t map[string][]byte) []byte {
	var names []string
	for name := range t {
		names = append(names, name)
	}
	slices.Sort(names)
	power, shift := 1, 0
	for power*2 <= len(names) {
		power, shift = power*2, shift+1
	}
	out := be.AppendUint32(nil, 0x00010000)
	for _, v := range []int{len(names), 16 * power, shift, 16 * (len(names) - power)} {
		out = be.AppendUint16(out, uint16(v))
	}
	at := 12 + 16*len(names)
	var body []byte
	headAt := 0
	for _, name := range names {
		if name == "head" {
			headAt = at + len(body)
		}
		out = append(out, name...)
		out = be.AppendUint32(out, checksum(t[name]))
		out = be.AppendUint32(out, uint32(at+len(body)))
		out = be.AppendUint32(out, uint32(len(t[name])))
		body = append(body, t[name]...)
		for len(body)%4 != 0 {
			body = append(body, 0)
		}
	}
	out = append(out, body...)
	be.PutUint32(out[headAt+8:], 0xB1B0AFBA-checksum(out))
	return out
}

func checksum(b []byte) uint32 {
	var sum uint32
	for len(b) >= 4 {
		sum += be.Uint32(b)
		b = b[4:]
	}
	var last [4]byte
	copy(last[:], b)
	return sum + be.Uint32(last[:])
}
