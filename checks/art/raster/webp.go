package raster

import (
	"encoding/binary"
	"fmt"
)

// webpFacts are the chunks of a WebP file (RFC 9649, section 2).
type webpFacts struct {
	width, height int
	extended      bool // VP8X
	canvasW       int
	canvasH       int
	flags         byte
	picture       []byte // the VP8 or VP8L chunk's contents
	lossless      bool
	glassy        bool   // the VP8L header says that its alpha is used
	alpha         []byte // ALPH, for VP8
	profile       []byte
	exif          exif
}

// Flags of VP8X (RFC 9649, 2.7.1).
const (
	webpAnimated = 1 << 1
	webpAlpha    = 1 << 4
)

func openWebP(b []byte, lim Limits) (page, error) {
	f, err := walkWebP(b, lim)
	if err != nil {
		return page{}, err
	}
	if err := f.check(); err != nil {
		return page{}, err
	}
	if err := lim.admit(uint64(f.width), uint64(f.height), 0); err != nil {
		return page{}, err
	}
	h := Header{
		Width: f.width, Height: f.height, Orientation: f.exif.orientation,
		Space: RGB, Bits: 8, Alpha: f.transparent(),
		Claims: f.exif.colour,
	}
	h.Density, h.Outranked = rank(Density{Silence: "WebP has no density field"}, f.exif.density)
	if len(f.profile) > lim.ProfileBytes {
		h.ProfileTrouble = fmt.Sprintf("it has more than %d bytes", lim.ProfileBytes)
	} else {
		h.Profile = f.profile
	}
	return page{Header: h, memory: f.memory(), decode: f.pixels}, nil
}

// walkWebP goes through the chunks of the RIFF form. Its stated size is what
// shows a file that is cut off; bytes after it are no part of the picture.
func walkWebP(b []byte, lim Limits) (webpFacts, error) {
	f := webpFacts{exif: exif{orientation: 1}}
	size := int64(binary.LittleEndian.Uint32(b[4:])) + 8
	if size > int64(len(b)) {
		return f, fmt.Errorf("%w: the WebP file should have %d bytes, but has %d", ErrCutOff, size, len(b))
	}
	for b = b[12:max(size, 12)]; len(b) >= 8; {
		n := int64(binary.LittleEndian.Uint32(b[4:]))
		if n > int64(len(b)-8) {
			return f, fmt.Errorf("%w: the WebP chunk %q is longer than the file", ErrDamaged, b[:4])
		}
		if err := f.take(string(b[:4]), b[8:8+n], lim); err != nil {
			return f, err
		}
		b = b[min(8+n+n&1, int64(len(b))):]
	}
	return f, nil
}

func (f *webpFacts) take(name string, d []byte, lim Limits) error {
	switch {
	case name == "VP8X":
		if len(d) < 10 {
			return fmt.Errorf("%w: the WebP header is too short", ErrDamaged)
		}
		f.extended, f.flags = true, d[0]
		f.canvasW, f.canvasH = 1+uint24(d[4:]), 1+uint24(d[7:])
	case (name == "VP8 " || name == "VP8L") && f.picture == nil:
		f.picture, f.lossless = d, name == "VP8L"
		return f.readFrame()
	case name == "ALPH":
		f.alpha = d
	case name == "ICCP":
		f.profile = d
	case name == "EXIF":
		f.exif = readExif(exifBlock(d), lim)
	}
	return nil
}

// exifBlock passes over the name that JPEG puts before an Exif block and some
// writers of WebP leave there.
func exifBlock(d []byte) []byte {
	if len(d) > 6 && string(d[:6]) == "Exif\x00\x00" {
		return d[6:]
	}
	return d
}

func uint24(b []byte) int { return int(b[0]) | int(b[1])<<8 | int(b[2])<<16 }

// readFrame reads the size from a VP8 key frame (RFC 6386, 9.1) or a VP8L
// header (RFC 9649, 3.4).
func (f *webpFacts) readFrame() error {
	d := f.picture
	if f.lossless {
		if len(d) < 5 || d[0] != 0x2f {
			return fmt.Errorf("%w: the WebP picture does not begin as it must", ErrDamaged)
		}
		v := binary.LittleEndian.Uint32(d[1:])
		f.width, f.height = 1+int(v&0x3fff), 1+int(v>>14&0x3fff)
		f.glassy = v>>28&1 == 1
		return nil
	}
	if len(d) < 10 || d[0]&1 != 0 || string(d[3:6]) != "\x9d\x01\x2a" {
		return fmt.Errorf("%w: the WebP picture does not begin as it must", ErrDamaged)
	}
	f.width = int(binary.LittleEndian.Uint16(d[6:]) & 0x3fff)
	f.height = int(binary.LittleEndian.Uint16(d[8:]) & 0x3fff)
	return nil
}

func (f *webpFacts) check() error {
	switch {
	case f.flags&webpAnimated != 0:
		return fmt.Errorf("%w: this WebP is animated: export one picture of it", ErrUnsupported)
	case f.picture == nil:
		return fmt.Errorf("%w: the WebP holds no picture data", ErrDamaged)
	case f.width == 0 || f.height == 0:
		return fmt.Errorf("%w: the WebP is %d × %d pixels", ErrDamaged, f.width, f.height)
	case f.extended && (f.canvasW != f.width || f.canvasH != f.height):
		return fmt.Errorf("%w: the WebP header and its picture differ in size", ErrDamaged)
	}
	return nil
}

func (f *webpFacts) transparent() bool {
	return f.lossless && f.glassy || !f.lossless && f.alpha != nil
}
