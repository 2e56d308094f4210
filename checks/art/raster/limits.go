package raster

import "fmt"

// Limits are the ceilings that a file must keep. None may be zero.
type Limits struct {
	Pixels       int64 // pixels of all pages together, as headers state them
	Memory       int64 // bytes that decoding one page may hold at a time
	ScanPixels   int64 // pixels of a JPEG times its scans: what its decoding costs in time
	Pages        int   // pages of a TIFF
	Entries      int   // entries of one TIFF or Exif directory
	ProfileBytes int   // bytes of one ICC profile, inflated
}

// DefaultLimits suit cards and the sheets they are ganged on. The most pixels
// are those of black-and-white art: an A6 card at 2400 ppi has 140 million, of
// 4 bytes each when decoded. Colour needs 4 to 32 bytes a pixel (32 for a
// progressive CMYK JPEG that is to be turned), but 30 million pixels are an A6
// card at 1100 ppi.
func DefaultLimits() Limits {
	return Limits{
		Pixels:       200e6,
		Memory:       1 << 30,
		ScanPixels:   1e9,
		Pages:        256,
		Entries:      4096,
		ProfileBytes: 16 << 20,
	}
}

// admit refuses a picture of more pixels, with those of the pages before it,
// than the ceiling. The product of the sides cannot wrap once each is known to
// be below the ceiling.
func (l Limits) admit(width, height uint64, before int64) error {
	most := uint64(max(l.Pixels-before, 0))
	if width > most || height > most || width*height > most {
		return fmt.Errorf("%w: %d × %d pixels are more than the %d million that are read",
			ErrTooLarge, width, height, l.Pixels/1e6)
	}
	return nil
}

// afford refuses a page whose decoding, and turning, holds more bytes than the
// ceiling.
func (l Limits) afford(p page) error {
	need := p.memory
	if p.Orientation != 1 {
		need += 4 * int64(p.Width) * int64(p.Height) // one buffer at a time
	}
	if need > l.Memory {
		return fmt.Errorf("%w: decoding %d × %d pixels takes %d MB of memory, more than the %d MB that are spent",
			ErrTooLarge, p.Width, p.Height, need>>20, l.Memory>>20)
	}
	return nil
}
