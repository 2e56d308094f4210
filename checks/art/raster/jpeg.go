package raster

import (
	"encoding/binary"
	"fmt"
	"image"
)

// openJPEG reads a JPEG file (ITU-T T.81, with the application segments of
// JFIF 1.02, Exif 2.3, ICC.1 Annex B and Adobe's APP14).
func openJPEG(b []byte, lim Limits) (page, error) {
	data, err := walkJPEG(b)
	if err != nil {
		return page{}, err
	}
	f := data.frame
	if err := f.readable(); err != nil {
		return page{}, err
	}
	if err := lim.admit(uint64(f.width), uint64(f.height), 0); err != nil {
		return page{}, err
	}
	if int64(data.scans)*int64(f.width)*int64(f.height) > lim.ScanPixels {
		return page{}, fmt.Errorf("%w: %d scans of %d × %d pixels take too long to decode", ErrTooLarge, data.scans, f.width, f.height)
	}
	app := readApps(data.app, lim)
	coding := app.coding(f)
	return page{
		Header: app.header(f, coding),
		memory: data.memory(),
		decode: func() (*Pixels, error) { return data.pixels(coding) },
		image:  func() (image.Image, error) { return data.image(coding) },
		jpeg:   coding.stream(b, f),
	}, nil
}

// readable refuses what image/jpeg does not decode, in words. Go's decoder
// does baseline, extended and progressive Huffman coding of 8 bits.
func (f jpegFrame) readable() error {
	unsupported := func(what string) error {
		return fmt.Errorf("%w: this JPEG uses %s, which few programs read: export it as baseline JPEG", ErrUnsupported, what)
	}
	switch f.process {
	case 0xc0, 0xc1, 0xc2:
	case 0xc9, 0xca, 0xcb, 0xcd, 0xce, 0xcf:
		return unsupported("arithmetic coding")
	case 0xc3:
		return unsupported("lossless coding")
	case markerLS:
		return unsupported("the JPEG-LS coding")
	default:
		return unsupported("hierarchical coding")
	}
	n := len(f.ids)
	switch {
	case f.precision != 8:
		return unsupported(fmt.Sprintf("%d bits a sample", f.precision))
	case f.height == 0:
		return fmt.Errorf("%w: this JPEG states its height at its end (DNL): export it again", ErrUnsupported)
	case f.width == 0:
		return fmt.Errorf("%w: the JPEG is 0 pixels wide", ErrDamaged)
	case n != 1 && n != 3 && n != 4:
		return unsupported(fmt.Sprintf("%d colour channels", n))
	case !f.sampled():
		return unsupported("an unusual sampling of its colour channels")
	}
	return nil
}

// sampled reports whether image/jpeg takes the frame's sampling factors: of
// three components the last two alike, and dividing the first's 1, 2 or 4; of
// four the first and last 1×1 or 2×2, the others 1×1.
func (f jpegFrame) sampled() bool {
	s := f.sampling
	for _, hv := range s {
		if h, v := hv>>4, hv&15; !(h == 1 || h == 2 || h == 4) || !(v == 1 || v == 2 || v == 4) {
			return false
		}
	}
	switch len(s) {
	case 3:
		h, v := s[0]>>4, s[0]&15
		return v != 4 && s[1] == s[2] && h%(s[1]>>4) == 0 && v%(s[1]&15) == 0
	case 4:
		return (s[0] == 0x11 || s[0] == 0x22) && s[1] == 0x11 && s[2] == 0x11 && s[3] == s[0]
	}
	return true
}

// jpegApps is what application segments say.
type jpegApps struct {
	jfif, adobe bool
	transform   byte // of the Adobe segment
	density     Density
	exif        exif
	profile     []byte
	trouble     string
}

func readApps(segments []jpegSegment, lim Limits) jpegApps {
	a := jpegApps{
		exif:    exif{orientation: 1},
		density: Density{Silence: "no JFIF density"},
	}
	var chunks [][]byte
	for _, s := range segments {
		switch s.kind() {
		case "JFIF\x00":
			a.jfif, a.density = true, jfifDensity(s.data)
		case "Exif\x00":
			a.exif = readExif(s.data[6:], lim) // a pad byte follows the name
		case "ICC_PROFILE\x00":
			chunks = append(chunks, s.data[12:])
		case "Adobe":
			a.adobe, a.transform = true, s.data[11]
		}
	}
	a.profile, a.trouble = joinProfile(chunks, lim.ProfileBytes)
	return a
}

// jfifDensity reads units, X and Y density (JFIF 1.02, p. 5): 0 gives the
// shape of a pixel alone, 1 counts per inch, 2 per centimetre.
func jfifDensity(app0 []byte) Density {
	x := float64(binary.BigEndian.Uint16(app0[8:]))
	y := float64(binary.BigEndian.Uint16(app0[10:]))
	switch app0[7] {
	case 1, 2:
		return stated(x, y, app0[7] == 2, "JFIF")
	}
	return Density{Source: "JFIF", Silence: fmt.Sprintf("JFIF units %d: no unit", app0[7])}
}

// joinProfile joins the chunks of an ICC profile (ICC.1:2010, B.4). Each begins
// with its number, from 1, and their count; the number tells the order, not
// the place in the file.
func joinProfile(chunks [][]byte, most int) (profile []byte, trouble string) {
	if len(chunks) == 0 {
		return nil, ""
	}
	var parts [256][]byte
	total, count := 0, chunks[0][1]
	for _, c := range chunks {
		switch number := c[0]; {
		case c[1] != count:
			return nil, fmt.Sprintf("its chunks disagree on how many they are: %d or %d", count, c[1])
		case number == 0 || number > count:
			return nil, fmt.Sprintf("a chunk has number %d of %d", number, count)
		case parts[number] != nil:
			return nil, fmt.Sprintf("chunk %d of %d is there twice", number, count)
		default:
			parts[number] = c[2:]
			total += len(c) - 2
		}
	}
	if total > most {
		return nil, fmt.Sprintf("it has more than %d bytes", most)
	}
	for i, part := range parts[1 : int(count)+1] {
		if part == nil {
			return nil, fmt.Sprintf("chunk %d of %d is missing", i+1, count)
		}
		profile = append(profile, part...)
	}
	return profile, ""
}
