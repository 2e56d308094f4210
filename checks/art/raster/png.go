package raster

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
)

// pngFacts is what a walk through a PNG's chunks collects (W3C PNG, third
// edition, section 11).
type pngFacts struct {
	width, height uint32
	depth, colour byte
	interlaced    bool
	transparent   bool // tRNS
	animated      bool // acTL
	density       Density
	exif          exif
	profile       []byte
	trouble       string
	profiled      bool // iCCP, readable or not
	claims        []Claim
	picture, end  bool // IDAT, IEND
}

// PNG colour types (W3C PNG, 11.2.1, Table 12).
const (
	pngGray      = 0
	pngRGB       = 2
	pngPalette   = 3
	pngGrayAlpha = 4
	pngRGBA      = 6
)

func openPNG(b []byte, lim Limits) (page, error) {
	f, err := walkPNG(b, lim)
	if err != nil {
		return page{}, err
	}
	if err := lim.admit(uint64(f.width), uint64(f.height), 0); err != nil {
		return page{}, err
	}
	return page{
		Header: f.header(),
		memory: f.memory(),
		decode: func() (*Pixels, error) { return decodePNG(b) },
	}, nil
}

// walkPNG goes through all chunks to IEND, with their checksums. Bytes after
// IEND are no part of the picture.
func walkPNG(b []byte, lim Limits) (pngFacts, error) {
	f := pngFacts{density: Density{Silence: "no pHYs chunk"}, exif: exif{orientation: 1}}
	for at := 8; !f.end; {
		if len(b)-at < 12 {
			return f, f.cutOff()
		}
		size := binary.BigEndian.Uint32(b[at:])
		if int64(size) > int64(len(b)-at-12) {
			return f, f.cutOff()
		}
		chunk := b[at+4 : at+8+int(size)]
		at += 12 + int(size)
		if crc32.ChecksumIEEE(chunk) != binary.BigEndian.Uint32(b[at-4:]) {
			return f, fmt.Errorf("%w: the checksum of the PNG's %q chunk does not fit", ErrDamaged, chunk[:4])
		}
		if err := f.take(string(chunk[:4]), chunk[4:], lim); err != nil {
			return f, err
		}
	}
	if !f.picture {
		return f, fmt.Errorf("%w: the PNG holds no picture data", ErrDamaged)
	}
	return f, nil
}

func (f *pngFacts) cutOff() error {
	if f.picture {
		return fmt.Errorf("%w: the PNG data end in the middle of the picture, or before the end chunk", ErrCutOff)
	}
	return fmt.Errorf("%w: the PNG data end before the picture begins", ErrCutOff)
}

func (f *pngFacts) take(name string, data []byte, lim Limits) error {
	if f.width == 0 {
		return f.takeHeader(name, data)
	}
	switch name {
	case "IDAT":
		f.picture = true
	case "IEND":
		f.end = true
	case "acTL":
		f.animated = true
	case "tRNS":
		f.transparent = true
	case "eXIf":
		f.exif = readExif(data, lim)
	case "pHYs":
		f.density = pngDensity(data)
	default:
		if !f.picture { // colour chunks count before the picture only (5.6, Table 7)
			f.takeColour(name, data, lim)
		}
	}
	return nil
}

func (f *pngFacts) takeHeader(name string, d []byte) error {
	if name != "IHDR" || len(d) != 13 {
		return fmt.Errorf("%w: the PNG does not begin with its header", ErrDamaged)
	}
	f.width, f.height = binary.BigEndian.Uint32(d), binary.BigEndian.Uint32(d[4:])
	f.depth, f.colour, f.interlaced = d[8], d[9], d[12] == 1
	if f.width == 0 || f.height == 0 {
		return fmt.Errorf("%w: the PNG is %d × %d pixels", ErrDamaged, f.width, f.height)
	}
	if !bytes.Contains(depths(f.colour), d[8:9]) {
		return fmt.Errorf("%w: PNG has no colour type %d with %d bits", ErrDamaged, f.colour, f.depth)
	}
	return nil
}

// depths are the bit depths that a colour type allows (W3C PNG, Table 12).
func depths(colour byte) []byte {
	switch colour {
	case pngGray:
		return []byte{1, 2, 4, 8, 16}
	case pngPalette:
		return []byte{1, 2, 4, 8}
	case pngRGB, pngGrayAlpha, pngRGBA:
		return []byte{8, 16}
	}
	return nil
}

// pngDensity reads pHYs (W3C PNG, 11.3.4.3): pixels per metre where the unit
// is 1, the shape of a pixel alone where it is 0.
func pngDensity(d []byte) Density {
	if len(d) != 9 {
		return Density{Source: "pHYs", Silence: "the pHYs chunk is not of its size"}
	}
	if d[8] != 1 {
		return Density{Source: "pHYs", Silence: "pHYs unit 0: no unit"}
	}
	const perInch = 0.0254
	x, y := binary.BigEndian.Uint32(d), binary.BigEndian.Uint32(d[4:])
	return stated(float64(x)*perInch, float64(y)*perInch, false, "pHYs")
}

func (f *pngFacts) space() Space {
	if f.colour == pngGray || f.colour == pngGrayAlpha {
		return Gray
	}
	return RGB
}

func (f *pngFacts) header() Header {
	h := Header{
		Width: int(f.width), Height: int(f.height), Orientation: f.exif.orientation,
		Space: f.space(), Bits: int(f.depth), Palette: f.colour == pngPalette,
		Alpha:   f.colour == pngGrayAlpha || f.colour == pngRGBA || f.transparent,
		Profile: f.profile, ProfileTrouble: f.trouble,
		Claims: append(f.claims, f.exif.colour...), Contradictions: f.contradictions(),
	}
	h.Density, h.Outranked = rank(f.density, f.exif.density)
	if f.animated {
		h.Notes = append(h.Notes, "animated: only the first picture is read")
	}
	return h
}
