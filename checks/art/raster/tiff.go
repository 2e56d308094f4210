package raster

import "fmt"

// Tags of TIFF 6.0 (section 8), of its extensions, and the ICC's (ICC.1:2010,
// B.5) that are read here, beside those shared with Exif.
const (
	tagNewSubfileType  = 254
	tagSubfileType     = 255
	tagWidth           = 256
	tagHeight          = 257
	tagBitsPerSample   = 258
	tagCompression     = 259
	tagPhotometric     = 262
	tagFillOrder       = 266
	tagStripOffsets    = 273
	tagSamplesPerPixel = 277
	tagRowsPerStrip    = 278
	tagStripByteCounts = 279
	tagPlanar          = 284
	tagPredictor       = 317
	tagColorMap        = 320
	tagTileWidth       = 322
	tagTileHeight      = 323
	tagTileOffsets     = 324
	tagTileByteCounts  = 325
	tagInkSet          = 332
	tagExtraSamples    = 338
	tagSampleFormat    = 339
	tagJPEGTables      = 347
	tagICC             = 34675
)

// openTIFF reads all full pages of a TIFF or BigTIFF file. Reduced pictures
// and masks are no pages.
func openTIFF(b []byte, lim Limits) ([]page, error) {
	d, err := readDirectories(b, lim.Entries)
	if err != nil {
		return nil, err
	}
	var pages []page
	var pixels int64
	for next, n := d.first, 0; next != 0; n++ {
		if n == lim.Pages {
			return nil, fmt.Errorf("%w: the TIFF has more than %d pages, or its directories run in a circle", ErrTooLarge, n)
		}
		var dir []entry
		if dir, next, err = d.at(next); err != nil {
			return nil, err
		}
		if !fullPage(dir) {
			continue
		}
		p, err := openTIFFPage(d, dir, lim, pixels)
		if err != nil {
			return nil, err
		}
		pixels += int64(p.Width) * int64(p.Height)
		pages = append(pages, p)
	}
	if len(pages) == 0 {
		return nil, fmt.Errorf("%w: the TIFF holds no full picture", ErrDamaged)
	}
	return pages, nil
}

// fullPage tells pages from reduced pictures (bit 0) and masks (bit 2) of
// NewSubfileType, and from the older SubfileType 2 (TIFF 6.0, pp. 36, 40).
func fullPage(dir []entry) bool {
	return number(dir, tagNewSubfileType, 0)&5 == 0 && number(dir, tagSubfileType, 1) != 2
}

func openTIFFPage(d directories, dir []entry, lim Limits, before int64) (page, error) {
	t, err := readTIFFPage(d.b, dir, lim, before)
	if err != nil {
		return page{}, err
	}
	x := d.exif(dir, "TIFF")
	h := Header{
		Width: t.width, Height: t.height, Orientation: x.orientation, Density: x.density,
		Space: t.space(), Bits: t.bits,
		Palette: t.photometric == photoPalette,
		Alpha:   t.alpha != alphaNone,
		Extra:   t.samples - t.colours() - t.alphas(),
		Claims:  x.colour, Contradictions: x.against(t.space()),
	}
	h.Profile, h.ProfileTrouble = tiffProfile(dir, lim)
	if h.Extra > 0 {
		h.Notes = append(h.Notes, fmt.Sprintf("%d more channels than its colours need, which are not read", h.Extra))
	}
	return page{Header: h, memory: t.memory(), decode: t.pixels}, nil
}

func tiffProfile(dir []entry, lim Limits) (profile []byte, trouble string) {
	e, ok := find(dir, tagICC)
	switch {
	case !ok:
		return nil, ""
	case e.value == nil:
		return nil, "it lies beyond the end of the file"
	case len(e.value) > lim.ProfileBytes:
		return nil, fmt.Sprintf("it has more than %d bytes", lim.ProfileBytes)
	}
	return e.value, ""
}
