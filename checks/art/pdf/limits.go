package pdf

import (
	"errors"
	"time"
)

// Limits holds every ceiling on what a file may make us do. All are counts of
// one document or one page; none is a setting for taste.
type Limits struct {
	FileBytes     int64         // size of the file itself
	Objects       int           // entries of the cross-reference table
	Pages         int           // leaves of the page tree
	Depth         int           // nesting of forms, tiles, glyphs and masks
	Saves         int           // nesting of q … Q
	DecodedBytes  int64         // decoded bytes of one stream, and of one page's content in all
	ProfileBytes  int64         // decoded bytes of one ICC profile
	FontBytes     int64         // decoded bytes of all font programs and maps
	FunctionBytes int           // decoded bytes of one calculator function, which is run for every pixel
	Operators     int           // operators run on one page, each time they are; a glyph counts one, drawing a form ten more and one for 100 bytes of it
	Operands      int           // operands (array members too) of one operator
	Segments      int           // segments of one path
	Tiles         int           // times that tiles of patterns are laid on one page
	Items         int           // texts, images, paths and shadings listed for one page
	Notes         int           // notes kept for one page
	ReadTime      time.Duration // time to read the structure
}

// DefaultLimits suits card artwork with a wide margin: a busy card page has some
// thousands of operators and a few megabytes of content.
func DefaultLimits() Limits {
	return Limits{
		FileBytes:     512 << 20,
		Objects:       500_000,
		Pages:         5_000,
		Depth:         28,
		Saves:         1_000,
		DecodedBytes:  256 << 20,
		ProfileBytes:  16 << 20,
		FontBytes:     64 << 20,
		FunctionBytes: 16 << 10,
		Operators:     3_000_000,
		Operands:      200_000,
		Segments:      1_000_000,
		Tiles:         500_000,
		Items:         200_000,
		Notes:         50,
		ReadTime:      20 * time.Second,
	}
}

// Why a file could not be opened. Errors of [Open] wrap exactly one of these.
var (
	ErrLocked   = errors.New("the file asks for a password")
	ErrCutOff   = errors.New("the file is cut off")
	ErrDamaged  = errors.New("the file is damaged")
	ErrTooLarge = errors.New("the file is too large")
	ErrNoPages  = errors.New("the file has no pages")
)
