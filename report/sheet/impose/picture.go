package impose

import (
	"errors"
	"fmt"

	"stoneproof/checks/art"
	"stoneproof/checks/art/pdf"
	"stoneproof/checks/art/raster"
)

// picture makes a raster an image (8.9.5): a JPEG as it is, any other as its samples,
// compressed without loss.
func (b *builder) picture(s *art.Side) (*drawn, error) {
	if j, ok := s.JPEG(); ok {
		ref := b.file.Stream(b.jpegEntries(s.Header, j), j.Bytes)
		return &drawn{parts: []part{{ref, upright(s.Header.Orientation).Mul(s.Lie())}}}, nil
	}
	switch h := s.Header; {
	case h.Space == raster.Lab:
		return nil, errors.New("a Lab picture cannot be placed without changing it: export it in RGB or CMYK")
	case h.Extra > 0:
		return nil, errors.New("a picture with channels beside its colours cannot be placed whole: export it without them, or as PDF")
	case h.Bits > 8:
		b.notes = append(b.notes, fmt.Sprintf("a picture of %d bits a sample is placed with 8: no printer shows more", h.Bits))
	}
	px, err := s.Pixels()
	if err != nil {
		return nil, err
	}
	entries := fmt.Sprintf("/Type/XObject/Subtype/Image/Width %d/Height %d/BitsPerComponent 8/ColorSpace %s",
		px.Width, px.Height, b.space(s.Header))
	if !px.Opaque {
		entries += "/SMask " + b.file.Deflated(fmt.Sprintf("/Type/XObject/Subtype/Image/Width %d/Height %d/BitsPerComponent 8/ColorSpace/DeviceGray",
			px.Width, px.Height), channels(px.Pix, 3, 1))
	}
	ref := b.file.Deflated(entries, samples(px, s.Header.Space))
	return &drawn{parts: []part{{ref, s.Lie()}}}, nil
}

func (b *builder) jpegEntries(h *raster.Header, j raster.JPEGStream) string {
	e := fmt.Sprintf("/Type/XObject/Subtype/Image/Width %d/Height %d/BitsPerComponent 8/ColorSpace %s/Filter/DCTDecode",
		j.Width, j.Height, b.space(h))
	if j.Channels == 4 { // JPEG files hold ink inverted; readers of PDF take samples as they stand
		e += "/Decode[1 0 1 0 1 0 1 0]"
	}
	if j.Channels == 3 && !j.Transformed { // three channels count as YCbCr unless told otherwise (Table 13)
		e += "/DecodeParms<</ColorTransform 0>>"
	}
	return e
}

// space is a picture's colour space: by its profile where that fits its samples, else
// the device's own, which is what readers of the file itself fall back on.
func (b *builder) space(h *raster.Header) string {
	n, device, icc := 3, "/DeviceRGB", "RGB "
	switch h.Space {
	case raster.Gray:
		n, device, icc = 1, "/DeviceGray", "GRAY"
	case raster.CMYK:
		n, device, icc = 4, "/DeviceCMYK", "CMYK"
	}
	// The colour space stands in bytes 16 to 19 of a profile (ICC.1:2010, 7.2).
	if len(h.Profile) < 128 || string(h.Profile[16:20]) != icc {
		return device
	}
	return fmt.Sprintf("[/ICCBased %s]", b.file.Deflated(fmt.Sprintf("/N %d/Alternate%s", n, device), h.Profile))
}

func samples(px *raster.Pixels, space raster.Space) []byte {
	switch space {
	case raster.Gray:
		return channels(px.Pix, 0, 1)
	case raster.CMYK:
		return px.Ink
	}
	return channels(px.Pix, 0, 3)
}

// channels takes n of the four bytes of each pixel, from the first one on.
func channels(pix []byte, first, n int) []byte {
	out := make([]byte, 0, len(pix)/4*n)
	for i := first; i < len(pix); i += 4 {
		out = append(out, pix[i:i+n]...)
	}
	return out
}

// upright maps the unit square of a picture as it is stored to that of the picture as
// seen, by Exif's orientation (Exif 2.3, 4.6.4 A, tag 274). y points up.
func upright(orientation int) pdf.Matrix {
	switch orientation {
	case 2:
		return pdf.Matrix{-1, 0, 0, 1, 1, 0}
	case 3:
		return pdf.Matrix{-1, 0, 0, -1, 1, 1}
	case 4:
		return pdf.Matrix{1, 0, 0, -1, 0, 1}
	case 5:
		return pdf.Matrix{0, -1, -1, 0, 1, 1}
	case 6:
		return pdf.Matrix{0, -1, 1, 0, 0, 1}
	case 7:
		return pdf.Matrix{0, 1, 1, 0, 0, 0}
	case 8:
		return pdf.Matrix{0, 1, -1, 0, 1, 0}
	}
	return pdf.Matrix{1, 0, 0, 1, 0, 0}
}
