package raster

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"io"

	"golang.org/x/image/bmp"
)

// bmpFacts is the header of a Windows bitmap: a file header of 14 bytes, then
// a BITMAPINFOHEADER, BITMAPV4HEADER or BITMAPV5HEADER.
type bmpFacts struct {
	b             []byte
	info          []byte // the second header
	width, height int
	topDown       bool
	bits          int
	palette       []byte
	pixelsAt      uint32
}

const (
	bmpFileHeader = 14
	bmpInfo       = 40
	bmpV4         = 108
	bmpV5         = 124
)

func openBMP(b []byte, lim Limits) (page, error) {
	f, err := readBMP(b)
	if err != nil {
		return page{}, err
	}
	if err := lim.admit(uint64(f.width), uint64(f.height), 0); err != nil {
		return page{}, err
	}
	if err := f.whole(); err != nil {
		return page{}, err
	}
	h := Header{
		Width: f.width, Height: f.height, Orientation: 1,
		Density: f.density(),
		Space:   RGB, Bits: f.sampleBits(), Palette: f.bits <= 8, Alpha: f.alpha(),
	}
	f.colour(&h, lim)
	return page{Header: h, memory: 6 * int64(f.width) * int64(f.height), decode: f.pixels}, nil
}

func readBMP(b []byte) (bmpFacts, error) {
	f := bmpFacts{b: b}
	if len(b) < bmpFileHeader+4 {
		return f, fmt.Errorf("%w: the BMP header is not complete", ErrCutOff)
	}
	size := binary.LittleEndian.Uint32(b[bmpFileHeader:])
	if size != bmpInfo && size != bmpV4 && size != bmpV5 {
		return f, fmt.Errorf("%w: a BMP header of %d bytes is none of the usual: export it as PNG", ErrUnsupported, size)
	}
	if len(b) < bmpFileHeader+int(size) {
		return f, fmt.Errorf("%w: the BMP header is not complete", ErrCutOff)
	}
	f.info = b[bmpFileHeader : bmpFileHeader+size]
	f.pixelsAt = binary.LittleEndian.Uint32(b[10:])
	f.width, f.height = int(int32(f.field(4))), int(int32(f.field(8)))
	if f.height < 0 {
		f.height, f.topDown = -f.height, true
	}
	if f.width <= 0 || f.height == 0 {
		return f, fmt.Errorf("%w: the BMP is %d × %d pixels", ErrDamaged, f.width, f.height)
	}
	f.bits = int(binary.LittleEndian.Uint16(f.info[14:]))
	return f, f.readable()
}

// field is the 32-bit number at an offset of the second header.
func (f *bmpFacts) field(at int) uint32 { return binary.LittleEndian.Uint32(f.info[at:]) }

func (f *bmpFacts) readable() error {
	const (
		plain     = 0
		rle8      = 1
		rle4      = 2
		bitFields = 3
	)
	unsupported := func(what string) error {
		return fmt.Errorf("%w: this BMP has %s: export it as PNG", ErrUnsupported, what)
	}
	switch packing := f.field(16); {
	case packing == rle8 || packing == rle4:
		return unsupported("run-length compression")
	case packing == bitFields && f.usualMasks():
	case packing != plain:
		return unsupported("an unusual storage of its pixels")
	}
	switch f.bits {
	case 1, 2, 4, 8, 24, 32:
		return nil
	}
	return unsupported(fmt.Sprintf("%d bits a pixel", f.bits))
}

// usualMasks reports whether the channels lie as they do without masks.
func (f *bmpFacts) usualMasks() bool {
	return f.bits == 32 && len(f.info) > bmpInfo &&
		f.field(40) == 0xff0000 && f.field(44) == 0xff00 && f.field(48) == 0xff
}

// whole checks that the colour table and all rows, each padded to 4 bytes, are
// in the file.
func (f *bmpFacts) whole() error {
	start := bmpFileHeader + len(f.info)
	if f.bits <= 8 {
		n := f.field(32)
		if n == 0 {
			n = 1 << f.bits
		}
		if n > 1<<f.bits {
			return fmt.Errorf("%w: the BMP's colour table has %d entries", ErrDamaged, n)
		}
		if len(f.b)-start < 4*int(n) {
			return fmt.Errorf("%w: the BMP data end before the picture begins", ErrCutOff)
		}
		f.palette = f.b[start : start+4*int(n)]
	}
	row := (int64(f.width)*int64(f.bits) + 31) / 32 * 4
	if int64(f.pixelsAt)+row*int64(f.height) > int64(len(f.b)) {
		return fmt.Errorf("%w: the BMP data end in the middle of the picture", ErrCutOff)
	}
	return nil
}

func (f *bmpFacts) sampleBits() int {
	return min(f.bits, 8)
}

// alpha reports whether the fourth byte of a pixel is alpha: only the newer
// headers can say so, by a mask.
func (f *bmpFacts) alpha() bool {
	return f.bits == 32 && len(f.info) > bmpInfo && f.field(52) == 0xff000000
}

// density reads pixels per metre.
func (f *bmpFacts) density() Density {
	const perInch = 0.0254
	x, y := int32(f.field(24)), int32(f.field(28))
	return stated(float64(x)*perInch, float64(y)*perInch, false, "BMP")
}

// colour reads the colour space of the newer headers: a profile, the name of
// one, or sRGB.
func (f *bmpFacts) colour(h *Header, lim Limits) {
	if len(f.info) < bmpV4 {
		return
	}
	switch string(f.info[56:60]) {
	case "BGRs", " niW": // 'sRGB', 'Win ': the system's own, which is sRGB
		h.Claims = append(h.Claims, Claim{Source: "BMP", Kind: ClaimSRGB, Space: RGB})
	case "KNIL": // 'LINK'
		h.ProfileTrouble = "it is not in the file, which only names another file"
	case "DEBM": // 'MBED'
		h.Profile, h.ProfileTrouble = f.profile(lim)
	}
}

// profile takes the profile of a BITMAPV5HEADER, whose place is counted from
// the second header.
func (f *bmpFacts) profile(lim Limits) (profile []byte, trouble string) {
	if len(f.info) < bmpV5 {
		return nil, "the BMP header is too short to say where it is"
	}
	at, size := bmpFileHeader+int64(f.field(112)), int64(f.field(116))
	switch {
	case size > int64(lim.ProfileBytes):
		return nil, fmt.Sprintf("it has more than %d bytes", lim.ProfileBytes)
	case at+size > int64(len(f.b)):
		return nil, "it lies beyond the end of the file"
	}
	return f.b[at : at+size], ""
}

// pixels decodes from a header without gaps or masks, which is all that the
// decoder takes.
func (f *bmpFacts) pixels() (*Pixels, error) {
	head := append([]byte(nil), f.b[:bmpFileHeader+len(f.info)]...)
	binary.LittleEndian.PutUint32(head[10:], uint32(len(head)+len(f.palette)))
	binary.LittleEndian.PutUint32(head[bmpFileHeader+16:], 0)
	m, err := bmp.Decode(io.MultiReader(
		bytes.NewReader(head), bytes.NewReader(f.palette), bytes.NewReader(f.b[f.pixelsAt:])))
	if err != nil {
		return nil, fmt.Errorf("%w: the BMP picture data do not hold together: %v", ErrDamaged, err)
	}
	p, err := imagePixels(m)
	if err == nil && !f.alpha() {
		p.cover()
	}
	return p, err
}
