package raster

import "fmt"

// segments is the cutting of a page into strips or tiles. A strip is a tile
// as wide as the page.
type segments struct {
	b               []byte
	width, height   int // of one segment, in pixels; the last strip may be lower
	across, down    int
	planes          int // 1, or one for each sample
	tiled           bool
	offsets, counts entry
}

// sharedData is how often the bytes of a file may be used by segments. Some
// writers store equal tiles once; but small data that thousands of segments
// share could keep a decoder busy for hours.
const sharedData = 4

func (t *tiffPage) readSegments(b []byte, dir []entry, lim Limits) (segments, error) {
	s := segments{b: b, width: t.width, height: t.height, planes: 1}
	offsets, counts := uint16(tagStripOffsets), uint16(tagStripByteCounts)
	if _, s.tiled = find(dir, tagTileWidth); s.tiled {
		offsets, counts = tagTileOffsets, tagTileByteCounts
		w, h := number(dir, tagTileWidth, 0), number(dir, tagTileHeight, 0)
		if w == 0 || h == 0 {
			return s, fmt.Errorf("%w: the TIFF's tiles have no size", ErrDamaged)
		}
		// Tiles are padded to their full size (TIFF 6.0, p. 66).
		if err := lim.admit(upTo(uint64(t.width), w), upTo(uint64(t.height), h), 0); err != nil {
			return s, err
		}
		s.width, s.height = int(w), int(h)
	} else if rows := number(dir, tagRowsPerStrip, 0); rows != 0 && rows < uint64(t.height) {
		s.height = int(rows)
	}
	s.across, s.down = (t.width-1)/s.width+1, (t.height-1)/s.height+1
	switch planar := number(dir, tagPlanar, 1); {
	case planar == 2:
		s.planes = t.samples
	case planar != 1:
		return s, fmt.Errorf("%w: the TIFF's samples lie in no order known", ErrDamaged)
	}
	s.offsets, _ = find(dir, offsets)
	s.counts, _ = find(dir, counts)
	return s, t.checkSegments(s)
}

// upTo rounds n up to a multiple of step. A step of more than 2^32 can only
// be a lie that the pixel ceiling will meet.
func upTo(n, step uint64) uint64 {
	step = min(step, 1<<32)
	return (n + step - 1) / step * step
}

// checkSegments checks that all segments are in the file.
func (t *tiffPage) checkSegments(s segments) error {
	n := s.across * s.down * s.planes
	if s.offsets.len() < n || s.counts.len() < n {
		return fmt.Errorf("%w: the TIFF has %d pieces of picture, but places for %d", ErrDamaged, n, min(s.offsets.len(), s.counts.len()))
	}
	var total uint64
	for i := range n {
		offset, count := s.offsets.uint(i), s.counts.uint(i)
		size := uint64(len(s.b))
		switch {
		case offset > size || count > size-offset:
			return fmt.Errorf("%w: piece %d of %d of the TIFF's picture lies beyond the end of the file", ErrCutOff, i+1, n)
		case count == 0 || offset == 0:
			return fmt.Errorf("%w: piece %d of %d of the TIFF's picture is missing", ErrDamaged, i+1, n)
		case t.compression == packNone && count < uint64(t.rowBytes(s))*uint64(s.rows(i, t.height)):
			return fmt.Errorf("%w: piece %d of %d of the TIFF's picture is too short", ErrDamaged, i+1, n)
		}
		if total += count; total > sharedData*size {
			return fmt.Errorf("%w: the pieces of the TIFF's picture overlap", ErrDamaged)
		}
	}
	return nil
}

// rowBytes is the size of one decoded row of a segment; rows begin at bytes.
func (t *tiffPage) rowBytes(s segments) int {
	return (s.width*(t.samples/s.planes)*t.bits + 7) / 8
}

// rows is the number of rows that are stored of segment i. All tiles are
// whole; the last strip ends with the picture.
func (s segments) rows(i, height int) int {
	if s.tiled {
		return s.height
	}
	return min(s.height, height-i%s.down*s.height)
}

func (s segments) data(i int) []byte {
	offset := s.offsets.uint(i)
	return s.b[offset : offset+s.counts.uint(i)]
}
