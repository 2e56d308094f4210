package embed

import (
	"errors"
	"fmt"
	"image"

	"stoneproof/checks/art"
	"stoneproof/checks/art/pdf"
	"stoneproof/checks/art/pdf/write"
	"stoneproof/checks/art/raster"
)

// Picture makes a raster an image (8.9.5): a JPEG as it is, any other as its samples,
// compressed without loss. It gives the image's reference, and what maps the unit square
// that the image is painted into to that of the picture as seen.
func Picture(f *write.File, s *art.Side) (ref string, turn pdf.Matrix, err error) {
	if j, ok := s.JPEG(); ok {
		return f.Stream(jpegEntries(f, s.Header, j), j.Bytes), upright(s.Header.Orientation), nil
	}
	px, err := s.Pixels()
	if err != nil {
		return "", turn, err
	}
	ref, err = Part(f, s, image.Rect(0, 0, px.Width, px.Height))
	return ref, upright(asSeen), err
}

// Part makes a part of a raster, told in its pixels as seen, an image without loss, and
// gives its reference.
func Part(f *write.File, s *art.Side, part image.Rectangle) (ref string, err error) {
	switch h := s.Header; {
	case h.Space == raster.Lab:
		return "", errors.New("a Lab picture cannot be placed without changing it: export it in RGB or CMYK")
	case h.Extra > 0:
		return "", errors.New("a picture with channels beside its colours cannot be placed whole: export it without them, or as PDF")
	}
	px, err := s.Pixels()
	if err != nil {
		return "", err
	}
	part = part.Intersect(image.Rect(0, 0, px.Width, px.Height))
	if part.Empty() {
		return "", errors.New("that part of the picture holds no pixel")
	}
	size := fmt.Sprintf("/Type/XObject/Subtype/Image/Width %d/Height %d/BitsPerComponent 8", part.Dx(), part.Dy())
	entries := size + "/ColorSpace " + space(f, s.Header)
	if !px.Opaque {
		entries += "/SMask " + f.Deflated(size+"/ColorSpace/DeviceGray", channels(px.Pix, px.Width, part, 3, 1))
	}
	return f.Deflated(entries, samples(px, s.Header.Space, part)), nil
}

func jpegEntries(f *write.File, h *raster.Header, j raster.JPEGStream) string {
	e := fmt.Sprintf("/Type/XObject/Subtype/Image/Width %d/Height %d/BitsPerComponent 8/ColorSpace %s/Filter/DCTDecode",
		j.Width, j.Height, space(f, h))
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
func space(f *write.File, h *raster.Header) string {
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
	return fmt.Sprintf("[/ICCBased %s]", f.Deflated(fmt.Sprintf("/N %d/Alternate%s", n, device), h.Profile))
}

func samples(px *raster.Pixels, space raster.Space, part image.Rectangle) []byte {
	switch space {
	case raster.Gray:
		return channels(px.Pix, px.Width, part, 0, 1)
	case raster.CMYK:
		return channels(px.Ink, px.Width, part, 0, 4)
	}
	return channels(px.Pix, px.Width, part, 0, 3)
}

// channels takes n of the four bytes of each pixel of a part, from the first one on.
func channels(pix []byte, width int, part image.Rectangle, first, n int) []byte {
	out := make([]byte, 0, part.Dx()*part.Dy()*n)
	for y := part.Min.Y; y < part.Max.Y; y++ {
		row := pix[4*(y*width+part.Min.X) : 4*(y*width+part.Max.X)]
		for i := first; i < len(row); i += 4 {
			out = append(out, row[i:i+n]...)
		}
	}
	return out
}

// asSeen is Exif's orientation of a picture that is stored as it is seen.
const asSeen = 1

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
