package raster

import "fmt"

// jpegCoding is what a JPEG's components are.
type jpegCoding string

const (
	codedGray  jpegCoding = "gray"
	codedRGB   jpegCoding = "RGB"
	codedYCbCr jpegCoding = "YCbCr"
	codedCMYK  jpegCoding = "CMYK"
	codedYCCK  jpegCoding = "YCCK"
)

func (c jpegCoding) space() Space {
	switch c {
	case codedGray:
		return Gray
	case codedCMYK, codedYCCK:
		return CMYK
	}
	return RGB
}

// Transform codes of the Adobe APP14 segment (Adobe Technical Note 5116,
// section 18).
const (
	transformNone  = 0
	transformYCbCr = 1
	transformYCCK  = 2
)

// coding decides what the components are, by the order of the reference
// implementation (libjpeg, jdapimin.c): JFIF says YCbCr, else the Adobe
// segment, else the component names.
func (a jpegApps) coding(f jpegFrame) jpegCoding {
	switch len(f.ids) {
	case 1:
		return codedGray
	case 4:
		if a.adobe && a.transform != transformNone {
			return codedYCCK
		}
		return codedCMYK
	}
	switch {
	case a.jfif:
		return codedYCbCr
	case a.adobe && a.transform == transformNone:
		return codedRGB
	case !a.adobe && string(f.ids) == "RGB":
		return codedRGB
	}
	return codedYCbCr
}

func (a jpegApps) header(f jpegFrame, coding jpegCoding) Header {
	h := Header{
		Width: f.width, Height: f.height, Orientation: a.exif.orientation,
		Space: coding.space(), Bits: f.precision,
		Profile: a.profile, ProfileTrouble: a.trouble,
	}
	h.Density, h.Outranked = rank(a.density, a.exif.density)
	h.Claims = append(a.encodings(), a.exif.colour...)
	h.Contradictions = a.contradictions(len(f.ids), coding)
	if coding == codedCMYK && !a.adobe {
		h.Notes = append(h.Notes, "a CMYK JPEG without an Adobe marker: its ink is read inverted, as is usual, but it may not be")
	}
	return h
}

// encodings are the claims of the JFIF and Adobe segments.
func (a jpegApps) encodings() []Claim {
	var claims []Claim
	if a.jfif {
		claims = append(claims, Claim{Source: "JFIF", Kind: ClaimEncoding, Text: "gray or YCbCr"})
	}
	if !a.adobe {
		return claims
	}
	c := Claim{Source: "Adobe", Kind: ClaimEncoding, Values: []float64{float64(a.transform)}}
	switch a.transform {
	case transformNone:
		c.Text = "RGB or CMYK"
	case transformYCbCr:
		c.Space, c.Text = RGB, "YCbCr"
	case transformYCCK:
		c.Space, c.Text = CMYK, "YCCK"
	default:
		c.Text = "unknown"
	}
	return append(claims, c)
}

// contradictions leave out a JFIF marker in a file of 4 channels: JFIF knows 1
// and 3, but image editors write it into CMYK files (from memory), and every
// reader goes by the Adobe marker there.
func (a jpegApps) contradictions(channels int, coding jpegCoding) []string {
	var said []string
	if a.jfif && a.adobe && channels == 3 && a.transform == transformNone {
		said = append(said, "JFIF says YCbCr, the Adobe marker says RGB; it is read as YCbCr")
	}
	if a.adobe && (a.transform > transformYCCK ||
		a.transform == transformYCbCr && channels == 4 ||
		a.transform == transformYCCK && channels == 3) {
		said = append(said, fmt.Sprintf("the Adobe marker gives colour transform %d, which does not fit %d channels; they are read as %s", a.transform, channels, coding))
	}
	return append(said, a.exif.against(coding.space())...)
}
