package raster

import (
	"errors"
	"fmt"
	"image"
	"slices"
)

// jpegSegment decodes a segment that is a JPEG stream of its own, whose tables
// may be shared (TIFF Technical Note 2).
func (t *tiffPage) jpegSegment(p *Pixels, i int, at place) error {
	data, err := walkJPEG(t.segments.data(i))
	if err != nil {
		return err
	}
	f := data.frame
	if err := f.readable(); err != nil {
		return err
	}
	switch s := t.segments; {
	case len(f.ids) != at.each:
		return fmt.Errorf("it has %d channels, not %d", len(f.ids), at.each)
	case f.width < at.w || f.height < at.h || f.width > s.width || f.height > s.height:
		return fmt.Errorf("it is %d × %d pixels, not %d × %d", f.width, f.height, s.width, s.height)
	case data.scans > len(f.ids):
		return errors.New("it has more scans than channels")
	}
	if err := data.share(t.tables); err != nil {
		return err
	}
	m, err := data.image(t.jpegCoding(at.each))
	if err != nil {
		return err
	}
	t.scatterImage(p, at, m)
	return nil
}

// share puts shared tables before those of the stream itself. They are a
// stream too, of SOI, tables and EOI.
func (d *jpegData) share(tables []byte) error {
	if len(tables) < 2 {
		return nil
	}
	w := jpegWalker{b: tables, at: 2}
	for {
		start, marker, ok := w.marker()
		if !ok || marker == markerEOI {
			break
		}
		data, ok := w.segment()
		if !ok {
			return errors.New("the shared JPEG tables are not complete")
		}
		if marker == markerDHT || marker == markerDQT {
			if err := w.take(marker, tables[start:w.at], data); err != nil {
				return err
			}
		}
	}
	d.tables = slices.Concat(w.tables, d.tables)
	return nil
}

// jpegCoding is what the photometric interpretation says of the components;
// a plane of its own is like gray.
func (t *tiffPage) jpegCoding(each int) jpegCoding {
	switch {
	case each == 1:
		return codedGray
	case t.photometric == photoYCbCr:
		return codedYCbCr
	case t.photometric == photoCMYK:
		return codedCMYK
	}
	return codedRGB
}

// scatterImage puts a decoded stream into its place. TIFF stores ink as ink,
// not inverted as Adobe's JPEG files do, so that the inversion which
// image/jpeg undid is put back.
func (t *tiffPage) scatterImage(p *Pixels, at place, m image.Image) {
	px := jpegPixels(m)
	pix := px.Pix
	if px.Ink != nil {
		pix = px.Ink
		for i := range pix {
			pix[i] ^= 255
		}
	}
	for y := range at.h {
		t.scatter(p, at, y, pix[4*px.Width*y:4*px.Width*(y+1)], 4)
	}
}
