package icc

import (
	"crypto/md5"
	"encoding/binary"
	"maps"
	"math"
	"slices"
	"unicode/utf16"
)

// A draft is a profile to be written byte by byte.
type draft struct {
	version    uint32 // of bytes 8 to 11
	class      string
	space, pcs string
	intent     uint32
	tags       map[string][]byte
	withID     bool
}

// bytes writes header, tag table and tags, in the order of their signatures,
// each on a boundary of four bytes (ICC.1:2010 7.2 to 7.4).
func (d draft) bytes() []byte {
	b := make([]byte, headerSize)
	binary.BigEndian.PutUint32(b[8:], d.version)
	copy(b[12:], d.class+d.space+d.pcs)
	copy(b[36:], "acsp")
	binary.BigEndian.PutUint32(b[64:], d.intent)
	for i, v := range []uint32{0x0000F6D6, 0x00010000, 0x0000D32D} { // 7.2.16
		binary.BigEndian.PutUint32(b[68+4*i:], v)
	}
	b = be32(b, uint32(len(d.tags)))
	at := len(b) + tagEntrySize*len(d.tags)
	var data []byte
	for _, sig := range slices.Sorted(maps.Keys(d.tags)) {
		b = be32(append(b, sig...), uint32(at+len(data)), uint32(len(d.tags[sig])))
		data = append(data, d.tags[sig]...)
		data = append(data, make([]byte, -len(data)&3)...)
	}
	b = append(b, data...)
	binary.BigEndian.PutUint32(b, uint32(len(b)))
	if d.withID {
		plain := slices.Clone(b)
		clear(plain[44:48])
		clear(plain[64:68])
		sum := md5.Sum(plain)
		copy(b[84:], sum[:])
	}
	return b
}

// without is the draft less some tags.
func (d draft) without(sigs ...string) draft {
	return d.with(nil, sigs...)
}

// with is the draft with other tags, and less some.
func (d draft) with(tags map[string][]byte, less ...string) draft {
	d.tags = maps.Clone(d.tags)
	maps.Copy(d.tags, tags)
	for _, sig := range less {
		delete(d.tags, sig)
	}
	return d
}

func be32(b []byte, vs ...uint32) []byte {
	for _, v := range vs {
		b = binary.BigEndian.AppendUint32(b, v)
	}
	return b
}

// element begins the data of a tag: its type and four reserved bytes (clause 10).
func element(kind string) []byte { return append([]byte(kind), 0, 0, 0, 0) }

func textTag(s string) []byte { return append(element("text"), s+"\x00"...) }

// descTag is a version 2 description: ASCII, then UTF-16 (ICC.1:2001-04 6.5.17).
func descTag(ascii, wide string) []byte {
	b := element("desc")
	if ascii != "" {
		ascii += "\x00"
	}
	b = append(be32(b, uint32(len(ascii))), ascii...)
	units := utf16.Encode([]rune(wide))
	b = be32(b, 0, uint32(len(units)))
	b = appendUTF16(b, units)
	return append(b, make([]byte, 2+1+67)...) // no text in a script code
}

func appendUTF16(b []byte, units []uint16) []byte {
	for _, u := range units {
		b = binary.BigEndian.AppendUint16(b, u)
	}
	return b
}

// mlucTag is a version 4 text; each of texts begins with language and country.
func mlucTag(texts ...string) []byte {
	b := be32(element("mluc"), uint32(len(texts)), 12)
	at := len(b) + 12*len(texts)
	var data []byte
	for _, s := range texts {
		units := utf16.Encode([]rune(s[4:]))
		b = be32(append(b, s[:4]...), uint32(2*len(units)), uint32(at+len(data)))
		data = appendUTF16(data, units)
	}
	return append(b, data...)
}

func xyzTag(xyz [3]float64) []byte {
	b := element("XYZ ")
	for _, v := range xyz {
		b = be32(b, fixed(v))
	}
	return b
}

func fixed(v float64) uint32 { return uint32(int32(math.Round(v * 65536))) }

func gammaTag(gamma float64) []byte {
	return binary.BigEndian.AppendUint16(be32(element("curv"), 1), uint16(math.Round(gamma*256)))
}

// sampledTag is a curve of n samples.
func sampledTag(n int, curve func(float64) float64) []byte {
	b := be32(element("curv"), uint32(n))
	for i := range n {
		b = binary.BigEndian.AppendUint16(b, uint16(math.Round(65535*curve(float64(i)/float64(n-1)))))
	}
	return b
}

func paraTag(kind uint16, params ...float64) []byte {
	b := binary.BigEndian.AppendUint16(element("para"), kind)
	b = append(b, 0, 0)
	for _, v := range params {
		b = be32(b, fixed(v))
	}
	return b
}

// tableTag is the head of a table with so many channels; what follows is not
// looked at.
func tableTag(kind string, in, out byte) []byte {
	b := append(element(kind), in, out, 2, 0)
	return append(b, make([]byte, 60)...)
}

// decodeSRGB is the decoding of IEC 61966-2-1, in the words of CSS Color 4.
func decodeSRGB(c float64) float64 {
	if c <= 0.04045 {
		return c / 12.92
	}
	return math.Pow((c+0.055)/1.055, 2.4)
}

// screen is sRGB as a version 2 display profile.
func screen() draft {
	curve := sampledTag(1024, decodeSRGB)
	return draft{version: 0x02100000, class: "mntr", space: "RGB ", pcs: "XYZ ", tags: map[string][]byte{
		"desc": descTag("Wendlebury screen", ""), "cprt": textTag("nobody's"), "wtpt": xyzTag([3]float64{0.9505, 1, 1.0891}),
		"rXYZ": xyzTag(srgbColorants[0]), "gXYZ": xyzTag(srgbColorants[1]), "bXYZ": xyzTag(srgbColorants[2]),
		"rTRC": curve, "gTRC": curve, "bTRC": curve,
	}}
}

// press is a version 4 printer profile in CMYK.
func press() draft {
	to, from := tableTag("mft2", 4, 3), tableTag("mft2", 3, 4)
	return draft{version: 0x04300000, class: "prtr", space: "CMYK", pcs: "Lab ", intent: 1, withID: true, tags: map[string][]byte{
		"desc": mlucTag("deDEBogenoffset", "enGBSheetfed", "enUSPress"), "cprt": mlucTag("enUSnobody's"),
		"wtpt": xyzTag([3]float64{0.84, 0.87, 0.74}),
		"A2B0": to, "A2B1": to, "A2B2": to, "B2A0": from, "B2A1": from, "B2A2": from, "gamt": tableTag("mft1", 3, 1),
	}}
}
