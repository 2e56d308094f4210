package icc

import "fmt"

// Profile is what a profile says about itself.
type Profile struct {
	Size        int        // bytes, as its header declares and its data holds
	Version     string     // "4.3.0", "2.1.0"
	Class       Class      // what kind of device or conversion it describes
	Space       Space      // the space of the colours it is for (a link's first side)
	PCS         Space      // the space it connects to: XYZ or Lab (a link's second side)
	Intent      Intent     // the intent it prefers
	Illuminant  [3]float64 // X, Y, Z of the connection space's white, Y = 1 scale
	Description string     // what people call it, in English where it is offered; may be empty
	Copyright   string     // may be empty
	ID          [16]byte   // MD5 that the header states; zero when it states none
	IDStated    bool       // an ID is stated
	IDMatches   bool       // and the profile's bytes have it
	Trouble     []string   // what is against the standard, yet does no harm to reading

	tags map[string][]byte // views of the bytes given to Parse
}

// Limits are the ceilings on what a profile may make its reader do.
type Limits struct {
	Bytes     int // longest profile that is looked at
	Tags      int // most entries of the tag table
	TextRunes int // most characters kept of a description or copyright
	Locales   int // most languages looked through for an English text
}

// DefaultLimits are the ceilings that [Parse] keeps. The largest profiles of
// the trade (seven inks and more, fine grids) take some tens of megabytes and
// a few dozen tags.
func DefaultLimits() Limits {
	return Limits{Bytes: 64 << 20, Tags: 512, TextRunes: 256, Locales: 256}
}

// A FormatError says why bytes are not a profile that can be used.
type FormatError string

func (e FormatError) Error() string { return "not a usable ICC profile: " + string(e) }

// An UnsupportedError says that the profile may be right, but is of a kind that
// is not read here.
type UnsupportedError string

func (e UnsupportedError) Error() string { return "ICC profile of a kind not read here: " + string(e) }

func formatError(format string, args ...any) error {
	return FormatError(fmt.Sprintf(format, args...))
}

func (p *Profile) troubled(format string, args ...any) {
	p.Trouble = append(p.Trouble, fmt.Sprintf(format, args...))
}
