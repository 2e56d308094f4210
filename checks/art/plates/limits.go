package plates

import "errors"

// Limits holds every ceiling on what one page may make us do.
type Limits struct {
	Operators    int   // operators rewritten, and those the rewritten pages run, over all plates
	Operands     int   // operands of one operator
	Saves        int   // nesting of q … Q
	Depth        int   // nesting of forms, tiles, glyphs and masks
	DecodedBytes int64 // decoded bytes of all content, tables and shadings
	ImageBytes   int64 // samples of all pictures held at a time, decoded
	OutputBytes  int64 // size of the rewritten file
	Plates       int   // plates in all
	Tiles        int   // times that a tile may lie on the page
	Causes       int   // causes named in Approximate
}

// DefaultLimits suits card artwork with a wide margin.
func DefaultLimits() Limits {
	return Limits{
		Operators:    6_000_000,
		Operands:     200_000,
		Saves:        1_000,
		Depth:        20,
		DecodedBytes: 128 << 20,
		ImageBytes:   384 << 20,
		OutputBytes:  768 << 20,
		Plates:       20,
		Tiles:        100_000,
		Causes:       50,
	}
}

// ErrTooMuch is wrapped by errors of [Separate] when a page passes one of the
// limits that leave nothing to show.
var ErrTooMuch = errors.New("the page is too much to separate")
