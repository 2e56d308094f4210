package icc

import (
	"crypto/md5"
	"encoding/binary"
	"fmt"
	"math"
)

const (
	headerSize   = 128 // 7.2
	tagEntrySize = 12  // 7.3.1: signature, offset, size
)

// Parse reads a profile within [DefaultLimits].
//
// The error is a [FormatError], or an [UnsupportedError] for a profile beyond
// version 4 or beyond the limits. The profile returned keeps views of b.
func Parse(b []byte) (*Profile, error) { return DefaultLimits().Parse(b) }

// Parse reads a profile within the limits; see the function [Parse].
func (l Limits) Parse(b []byte) (*Profile, error) {
	p := &Profile{}
	data, err := p.frame(b, l)
	if err != nil {
		return nil, err
	}
	if err := p.header(data); err != nil {
		return nil, err
	}
	if err := p.tagTable(data, l); err != nil {
		return nil, err
	}
	if err := p.checkRequired(); err != nil {
		return nil, err
	}
	p.texts(l)
	p.checkID(data)
	return p, nil
}

// frame finds the profile's own bytes: the declared size (7.2.2) rules.
func (p *Profile) frame(b []byte, l Limits) ([]byte, error) {
	if len(b) < headerSize+4 {
		return nil, formatError("%d bytes are too few for a header and a tag count (%d)", len(b), headerSize+4)
	}
	// The signature comes first: without it no other field means anything (7.2.9).
	if got := string(b[36:40]); got != "acsp" {
		return nil, formatError("the signature is %q, not \"acsp\"", got)
	}
	size := int64(binary.BigEndian.Uint32(b))
	switch {
	case size < headerSize+4:
		return nil, formatError("it declares a size of %d bytes, less than a header and a tag count (%d)", size, headerSize+4)
	case size > int64(len(b)):
		return nil, formatError("it declares %d bytes and has %d: cut off", size, len(b))
	case size > int64(l.Bytes):
		return nil, UnsupportedError(fmt.Sprintf("%d bytes, more than %d", size, l.Bytes))
	case size < int64(len(b)):
		p.troubled("it declares %d bytes and is followed by %d more", size, int64(len(b))-size)
	}
	p.Size = int(size)
	return b[:size], nil
}

// header reads the fields of 7.2 that say what the profile is.
func (p *Profile) header(b []byte) error {
	major, minor := b[8], b[9] // 7.2.4: major, then minor and bug fix in a nibble each
	p.Version = fmt.Sprintf("%d.%d.%d", major, minor>>4, minor&15)
	p.Class, p.Space, p.PCS = Class(b[12:16]), Space(b[16:20]), Space(b[20:24])
	p.Intent = Intent(binary.BigEndian.Uint32(b[64:]))
	for i := range p.Illuminant {
		p.Illuminant[i] = s15Fixed16(b[68+4*i:])
	}
	switch {
	case major > 4: // ICC.2 gives other meanings to the same fields
		return UnsupportedError("version " + p.Version)
	case !p.Class.Known():
		return formatError("its class %q is not one of ICC.1", string(p.Class))
	case p.Space.Components() == 0:
		return formatError("its colour space %q is not one of ICC.1", string(p.Space))
	case p.PCS.Components() == 0 || p.Class != Link && p.PCS != XYZ && p.PCS != Lab:
		return formatError("its connection space %q is not XYZ or Lab", string(p.PCS)) // 7.2.7
	}
	if major != 2 && major != 4 {
		p.troubled("its version is %s, neither 2 nor 4", p.Version)
	}
	if p.Intent > AbsoluteColorimetric {
		p.troubled("its rendering intent is %d, not 0 to 3", uint32(p.Intent))
	}
	if !isD50(p.Illuminant) {
		p.troubled("its illuminant is %.4f %.4f %.4f, not D50 (0.9642 1 0.8249)", p.Illuminant[0], p.Illuminant[1], p.Illuminant[2])
	}
	return nil
}

// isD50 compares with the value of 7.2.16 to its four decimals.
func isD50(xyz [3]float64) bool {
	for i, want := range [3]float64{0.9642, 1, 0.8249} {
		if math.Abs(xyz[i]-want) > 0.00005 {
			return false
		}
	}
	return true
}

// tagTable takes in the tags (7.3). Two tags may share their data (7.3.1).
func (p *Profile) tagTable(b []byte, l Limits) error {
	count := int64(binary.BigEndian.Uint32(b[headerSize:]))
	end := headerSize + 4 + count*tagEntrySize
	if end > int64(len(b)) {
		return formatError("its table of %d tags reaches beyond its end", count)
	}
	if count > int64(l.Tags) {
		return UnsupportedError(fmt.Sprintf("%d tags, more than %d", count, l.Tags))
	}
	p.tags = make(map[string][]byte, count)
	for e := b[headerSize+4 : end]; len(e) > 0; e = e[tagEntrySize:] {
		sig := string(e[:4])
		from, size := int64(binary.BigEndian.Uint32(e[4:])), int64(binary.BigEndian.Uint32(e[8:]))
		if from < end || from+size > int64(len(b)) {
			return formatError("its tag %q lies at %d, %d bytes long, outside the tag data", sig, from, size)
		}
		if _, twice := p.tags[sig]; twice {
			p.troubled("its tag %q is there twice; the first one counts", sig)
			continue
		}
		p.tags[sig] = b[from : from+size : from+size]
	}
	return nil
}

// checkID recomputes the profile ID: the MD5 of the profile with flags, intent
// and ID set to zero (7.2.18). Before version 4 the field was reserved, and what
// stands there is not looked at.
func (p *Profile) checkID(b []byte) {
	p.ID = [16]byte(b[84:100])
	p.IDStated = b[8] >= 4 && p.ID != [16]byte{}
	if !p.IDStated {
		return
	}
	head := [headerSize]byte(b[:headerSize])
	clear(head[44:48])
	clear(head[64:68])
	clear(head[84:100])
	sum := md5.New()
	sum.Write(head[:])
	sum.Write(b[headerSize:])
	p.IDMatches = [16]byte(sum.Sum(nil)) == p.ID
	if !p.IDMatches {
		p.troubled("the checksum it states (profile ID) is not that of its bytes: it was changed after it was made")
	}
}

// s15Fixed16 reads a signed number with 16 bits behind the point (4.6).
func s15Fixed16(b []byte) float64 {
	return float64(int32(binary.BigEndian.Uint32(b))) / 65536
}
