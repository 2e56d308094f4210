package raster

import "fmt"

// readable refuses, in words, what the decoder does not do.
func (t *tiffPage) readable(dir []entry) error {
	if what := t.strange(dir); what != "" {
		return fmt.Errorf("%w: this TIFF %s: export it with 8 bits a channel and LZW compression", ErrUnsupported, what)
	}
	switch {
	case t.samples < t.colours():
		return fmt.Errorf("%w: the TIFF has %d channels, its colours need %d", ErrDamaged, t.samples, t.colours())
	case t.photometric == photoPalette && t.palette.len() < 3<<t.bits:
		return fmt.Errorf("%w: the TIFF's colour table has too few entries", ErrDamaged)
	}
	return nil
}

// strange says what about a page is not supported, "" if nothing is.
func (t *tiffPage) strange(dir []entry) string {
	if name := t.strangeCompression(); name != "" {
		return "uses " + name
	}
	if name := t.strangeColour(dir); name != "" {
		return "is in " + name
	}
	switch bits := t.bits; {
	case !t.wholeNumbers(dir):
		return "has samples that are no plain whole numbers"
	case bits != 1 && bits != 2 && bits != 4 && bits != 8 && bits != 16,
		bits < 8 && t.colours() > 1,
		bits == 16 && t.photometric == photoPalette,
		bits != 8 && t.compression == packJPEG:
		return fmt.Sprintf("has %d bits a sample", bits)
	case t.predictor != 1 && (t.predictor != 2 || bits < 8):
		return fmt.Sprintf("uses predictor %d with %d bits", t.predictor, bits)
	}
	return ""
}

// wholeNumbers reports whether samples are unsigned whole numbers, or those of
// Lab signed ones (SampleFormat, TIFF 6.0, section 19).
func (t *tiffPage) wholeNumbers(dir []entry) bool {
	format := number(dir, tagSampleFormat, 1)
	return format == 1 || format == 2 && t.space() == Lab
}

// strangeCompression names a compression that is not read.
func (t *tiffPage) strangeCompression() string {
	switch t.compression {
	case packNone, packLZW, packDeflate, packDeflateOld, packBits, packJPEG:
		return ""
	case packGroup4:
		if t.bits == 1 && t.samples == 1 {
			return ""
		}
		return "fax compression for more than black and white"
	case 2:
		return "the fax compression CCITT RLE"
	case 3:
		return "the fax compression Group 3"
	case 6:
		return "the old form of JPEG compression"
	case 34712:
		return "JPEG 2000 compression"
	case 34925:
		return "LZMA compression"
	case 50000:
		return "Zstandard compression"
	case 50001:
		return "WebP compression"
	}
	return fmt.Sprintf("compression %d", t.compression)
}

// strangeColour names a colour space that is not read.
func (t *tiffPage) strangeColour(dir []entry) string {
	switch t.photometric {
	case photoWhiteIsZero, photoBlackIsZero, photoRGB, photoPalette:
		return ""
	case photoCMYK:
		if number(dir, tagInkSet, 1) != 1 {
			return "inks that are not CMYK"
		}
		return ""
	case photoYCbCr:
		if t.compression != packJPEG || number(dir, tagPlanar, 1) != 1 {
			return "YCbCr without JPEG compression of all channels together"
		}
		return ""
	case photoCIELab, photoICCLab:
		if t.compression == packJPEG {
			return "Lab with JPEG compression"
		}
		return ""
	}
	return fmt.Sprintf("colour space %d", t.photometric)
}
