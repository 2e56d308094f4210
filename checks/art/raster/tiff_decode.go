package raster

import (
	"errors"
	"fmt"
	"io"
)

// pixels decodes a page. Samples go straight to where they end up: gray and
// palette indexes to R, Lab to R, G and B, ink to Ink, alpha to A; finish then
// works in place.
func (t *tiffPage) pixels() (*Pixels, error) {
	p := newPixels(t.width, t.height, t.photometric == photoCMYK)
	n := t.segments.across * t.segments.down * t.segments.planes
	var u unpacker
	for i := range n {
		switch err := t.segment(p, i, &u); {
		case errors.Is(err, ErrUnsupported):
			return nil, err
		case err != nil:
			return nil, fmt.Errorf("%w: piece %d of %d of the TIFF's picture does not hold together: %v", ErrDamaged, i+1, n, err)
		}
	}
	t.finish(p)
	return p, nil
}

// place is where the rows of a segment belong.
type place struct {
	x, y   int // of its top left corner
	w, h   int // what lies inside the page
	sample int // number of the first sample it holds
	each   int // samples it holds of a pixel
}

func (t *tiffPage) place(i int) place {
	s := t.segments
	plane, in := i/(s.across*s.down), i%(s.across*s.down)
	x, y := in%s.across*s.width, in/s.across*s.height
	return place{
		x: x, y: y,
		w: min(s.width, t.width-x), h: min(s.height, t.height-y),
		sample: plane, each: t.samples / s.planes,
	}
}

// segment decodes one segment row by row, so that what is held besides the
// picture is one row.
func (t *tiffPage) segment(p *Pixels, i int, u *unpacker) error {
	at := t.place(i)
	if t.compression == packJPEG {
		return t.jpegSegment(p, i, at)
	}
	r, err := u.open(t, i)
	if err != nil {
		return err
	}
	row := u.row(t.rowBytes(t.segments))
	for y := range at.h {
		if _, err := io.ReadFull(r, row); err != nil {
			return err
		}
		if t.predictor == 2 {
			t.integrate(row, at.each)
		}
		t.scatter(p, at, y, t.bytes(row, u), at.each)
	}
	return u.whole()
}

// scatter puts the 8-bit samples of one row into their slots. There are step
// bytes from pixel to pixel in row.
func (t *tiffPage) scatter(p *Pixels, at place, y int, row []byte, step int) {
	from := 4 * ((at.y+y)*t.width + at.x)
	for c := range at.each {
		dst, slot, ok := t.slot(p, at.sample+c)
		if !ok {
			continue
		}
		dst = dst[from+slot : from+4*at.w]
		for d, s := 0, c; d < len(dst) && s < len(row); d, s = d+4, s+step {
			dst[d] = row[s]
		}
	}
}

// slot tells where a sample belongs: a buffer, and the byte in each pixel. The
// first extra sample is the alpha, if there is one; others are passed over.
func (t *tiffPage) slot(p *Pixels, sample int) (dst []byte, slot int, ok bool) {
	colours := t.colours()
	switch {
	case sample < colours && p.Ink != nil:
		return p.Ink, sample, true
	case sample < colours:
		return p.Pix, sample, true
	case sample == colours && t.alpha != alphaNone:
		return p.Pix, 3, true
	}
	return nil, 0, false
}

// finish makes colours of the samples.
func (t *tiffPage) finish(p *Pixels) {
	if t.alpha == alphaAssociated {
		p.straighten()
	}
	switch t.photometric {
	case photoWhiteIsZero:
		for i := 0; i < len(p.Pix); i += 4 {
			p.Pix[i] ^= 255
		}
		p.spreadGray()
	case photoBlackIsZero:
		p.spreadGray()
	case photoPalette:
		t.lookUp(p)
	case photoCMYK:
		p.viewInk()
	case photoCIELab:
		p.viewLab(signed)
	case photoICCLab:
		p.viewLab(offset128)
	}
	if t.alpha == alphaNone {
		p.cover()
	}
}

// lookUp replaces palette indexes by colours: all reds, then all greens, then
// all blues, of 16 bits (TIFF 6.0, p. 23). Old writers stored 8.
func (t *tiffPage) lookUp(p *Pixels) {
	n := 1 << t.bits
	narrow := func(v uint64) byte { return byte(v) }
	for i := range 3 * n {
		if t.palette.uint(i) > 255 {
			narrow = func(v uint64) byte { return to8(uint32(v)) }
			break
		}
	}
	var table [256][3]byte
	for i := range n {
		for c := range 3 {
			table[i][c] = narrow(t.palette.uint(c*n + i))
		}
	}
	for i := 0; i < len(p.Pix); i += 4 {
		*(*[3]byte)(p.Pix[i:]) = table[p.Pix[i]]
	}
}
