package icc

import (
	"bytes"
	"encoding/binary"
	"strings"
	"unicode"
	"unicode/utf16"
)

// texts reads what people call the profile, and whose it is.
func (p *Profile) texts(l Limits) {
	p.Description = l.text(p.tags["desc"])
	p.Copyright = l.text(p.tags["cprt"])
	if p.Description == "" && p.tags["desc"] != nil {
		p.troubled("its description is empty or cannot be read")
	}
}

// text reads a text of any of the three types that the standard has had for
// descriptions and copyrights, whichever version the profile claims. What
// cannot be read is empty.
func (l Limits) text(tag []byte) string {
	if len(tag) < 12 {
		return ""
	}
	switch body := tag[8:]; string(tag[:4]) {
	case "text": // 10.22
		return l.plain(body)
	case "desc": // ICC.1:2001-04 6.5.17
		return l.textDescription(body)
	case "mluc": // 10.13
		return l.multiLocalized(tag)
	}
	return ""
}

// textDescription reads version 2's description: an ASCII text with its length,
// then the language and length of the same in UTF-16.
func (l Limits) textDescription(b []byte) string {
	ascii, rest := counted(b, 1)
	if s := l.plain(ascii); s != "" || len(rest) < 8 {
		return s
	}
	wide, _ := counted(rest[4:], 2)
	return l.wide(wide)
}

// counted splits off what a 32-bit count of units announces, or all there is.
func counted(b []byte, unit int64) (text, rest []byte) {
	n := int64(binary.BigEndian.Uint32(b)) * unit
	b = b[4:]
	n = min(n, int64(len(b)))
	return b[:n], b[n:]
}

// multiLocalized reads the text for English, or else the first there is. A
// record is language, country, length and offset from the start of the tag.
func (l Limits) multiLocalized(tag []byte) string {
	if len(tag) < 16 {
		return ""
	}
	count, step := int64(binary.BigEndian.Uint32(tag[8:])), int64(binary.BigEndian.Uint32(tag[12:]))
	if step < 12 {
		return ""
	}
	first := ""
	for i := range min(count, int64(l.Locales)) {
		at := 16 + i*step
		if at+12 > int64(len(tag)) {
			break
		}
		s := l.localized(tag, tag[at:])
		if s != "" && string(tag[at:at+2]) == "en" {
			return s
		}
		if first == "" {
			first = s
		}
	}
	return first
}

func (l Limits) localized(tag, record []byte) string {
	size, from := int64(binary.BigEndian.Uint32(record[4:])), int64(binary.BigEndian.Uint32(record[8:]))
	if from+size > int64(len(tag)) {
		return ""
	}
	return l.wide(tag[from : from+size])
}

// plain reads ASCII up to a NUL; a UTF-8 text passes too.
func (l Limits) plain(b []byte) string {
	b = b[:min(len(b), 4*l.TextRunes)]
	b, _, _ = bytes.Cut(b, []byte{0})
	return l.clean(string(b))
}

// wide reads UTF-16BE up to a NUL.
func (l Limits) wide(b []byte) string {
	b = b[:min(len(b), 4*l.TextRunes)]
	units := make([]uint16, 0, len(b)/2)
	for ; len(b) >= 2; b = b[2:] {
		u := binary.BigEndian.Uint16(b)
		if u == 0 {
			break
		}
		units = append(units, u)
	}
	return l.clean(string(utf16.Decode(units)))
}

// clean makes a text from a file fit to be shown on one line: no control or
// direction characters, and no more than TextRunes of them.
func (l Limits) clean(s string) string {
	out := []rune(strings.Map(func(r rune) rune {
		if unicode.IsGraphic(r) {
			return r
		}
		return -1
	}, strings.Join(strings.Fields(s), " ")))
	return strings.TrimSpace(string(out[:min(len(out), l.TextRunes)]))
}
