package raster

import "fmt"

// Photometric interpretations (TIFF 6.0, sections 3 to 7, 16, 21 to 23).
const (
	photoWhiteIsZero = 0
	photoBlackIsZero = 1
	photoRGB         = 2
	photoPalette     = 3
	photoCMYK        = 5
	photoYCbCr       = 6
	photoCIELab      = 8
	photoICCLab      = 9 // TIFF Technical Note "ICC L*a*b*"
)

// Compressions.
const (
	packNone       = 1
	packGroup4     = 4
	packLZW        = 5
	packJPEG       = 7
	packDeflate    = 8
	packDeflateOld = 32946
	packBits       = 32773
)

// What an extra sample is (TIFF 6.0, p. 31). One of no stated meaning is not
// alpha: it may as well be a spot ink.
const (
	alphaNone       = 0
	alphaAssociated = 1 // colour is multiplied by it
	alphaStraight   = 2
)

// tiffPage is how the pixels of one page are stored.
type tiffPage struct {
	width, height int
	photometric   uint64
	compression   uint64
	predictor     uint64
	fill          uint64
	bits, samples int
	alpha         uint64
	palette       entry
	tables        []byte // JPEG tables that all segments share
	segments      segments
}

// readTIFFPage reads a directory's description of its pixels, and refuses what
// the decoder does not do.
func readTIFFPage(b []byte, dir []entry, lim Limits, before int64) (t tiffPage, err error) {
	if err := present(dir); err != nil {
		return t, err
	}
	w, h := number(dir, tagWidth, 0), number(dir, tagHeight, 0)
	if w == 0 || h == 0 {
		return t, fmt.Errorf("%w: the TIFF does not state its width and height", ErrDamaged)
	}
	if err := lim.admit(w, h, before); err != nil {
		return t, err
	}
	t = tiffPage{
		width: int(w), height: int(h),
		photometric: number(dir, tagPhotometric, photoBlackIsZero),
		compression: number(dir, tagCompression, packNone),
		predictor:   number(dir, tagPredictor, 1),
		fill:        number(dir, tagFillOrder, 1),
	}
	t.palette, _ = find(dir, tagColorMap)
	if e, ok := find(dir, tagJPEGTables); ok {
		t.tables = e.value
	}
	if err := t.readSamples(dir); err != nil {
		return t, err
	}
	if err := t.readable(dir); err != nil {
		return t, err
	}
	t.segments, err = t.readSegments(b, dir, lim)
	return t, err
}

// firstPrivateTag is where the tags begin that others than the standard define
// (TIFF 6.0, p. 8). What they point to, the picture does not hang on.
const firstPrivateTag = 32768

// present refuses a directory of whose values one lies beyond the end of the
// file.
func present(dir []entry) error {
	for _, e := range dir {
		if e.value == nil && e.count > 0 && sizeOf(e.kind) != 0 && e.tag < firstPrivateTag {
			return fmt.Errorf("%w: the value of TIFF tag %d lies beyond the end of the file", ErrCutOff, e.tag)
		}
	}
	return nil
}

// mostSamples bounds the channels of a pixel: four inks, alpha and more spot
// inks than any press has units.
const mostSamples = 32

func (t *tiffPage) readSamples(dir []entry) error {
	n := number(dir, tagSamplesPerPixel, 1)
	if n == 0 || n > mostSamples {
		return fmt.Errorf("%w: this TIFF has %d channels", ErrUnsupported, n)
	}
	t.samples = int(n)
	t.bits = int(min(number(dir, tagBitsPerSample, 1), 64))
	if e, ok := find(dir, tagBitsPerSample); ok {
		for i := range min(e.len(), t.samples) {
			if e.uint(i) != uint64(t.bits) {
				return fmt.Errorf("%w: the channels of this TIFF differ in bits", ErrUnsupported)
			}
		}
	}
	if e, ok := find(dir, tagExtraSamples); ok && e.len() > 0 && t.samples > t.colours() {
		if a := e.uint(0); a == alphaStraight || a == alphaAssociated && t.photometric != photoPalette {
			t.alpha = a
		}
	}
	return nil
}

// colours is the number of samples that make the colour of a pixel.
func (t *tiffPage) colours() int {
	switch t.photometric {
	case photoCMYK:
		return 4
	case photoRGB, photoYCbCr, photoCIELab, photoICCLab:
		return 3
	}
	return 1
}

func (t *tiffPage) alphas() int {
	if t.alpha == alphaNone {
		return 0
	}
	return 1
}

func (t *tiffPage) space() Space {
	switch t.photometric {
	case photoWhiteIsZero, photoBlackIsZero:
		return Gray
	case photoCMYK:
		return CMYK
	case photoCIELab, photoICCLab:
		return Lab
	}
	return RGB
}

// memory is what decoding holds: view and ink of the page, and of one segment
// a row with its samples, or all samples where they are a JPEG's.
func (t *tiffPage) memory() int64 {
	view := int64(4)
	if t.photometric == photoCMYK {
		view += 4
	}
	s := t.segments
	need := view*int64(t.width)*int64(t.height) + 2*int64(t.rowBytes(s))
	if t.compression == packJPEG {
		need += (4 + view) * int64(s.width) * int64(s.height)
	}
	return need
}
