package raster

// Space is the colour space of a picture's samples, before any profile.
// A JPEG or TIFF in YCbCr counts as RGB, one in YCCK as CMYK, and a palette as
// the space of its entries.
type Space string

// Spaces.
const (
	Gray Space = "gray"
	RGB  Space = "rgb"
	CMYK Space = "cmyk"
	Lab  Space = "lab"
)

// Header is what a file states about one picture.
type Header struct {
	Width, Height int // pixels, as seen
	Orientation   int // 1 to 8 as Exif numbers them; 1 where nothing is stated
	Density       Density
	Outranked     Density // a second density in the same file that Density goes before; zero if none
	Space         Space
	Bits          int  // per sample as stored (of the index, for a palette); gray with 1 bit is bilevel
	Palette       bool // samples are indexes into a table of colours
	Alpha         bool // some pixels may be transparent
	Extra         int  // channels beyond colour and alpha, such as spot inks; they are not decoded

	Profile        []byte   // ICC profile, whole; may share memory with the file's bytes; nil if none
	ProfileTrouble string   // why a profile that is there could not be taken out; "" if nothing is wrong
	Claims         []Claim  // what else the file says about its colours, in the order met
	Contradictions []string // claims against each other or against the samples, in plain words

	Notes []string // what a reader should know besides: "animated: only the first picture is read"
}

// Density is the number of pixels per inch, as seen. X and Y are zero where
// the file does not state it, and Silence then tells how.
//
// A number of 72 is passed on as written, though Exif has it for "unknown" as
// well (Exif 2.3, 4.6.4 A, XResolution) and many programs follow.
type Density struct {
	X, Y    float64
	Source  string // "JFIF", "pHYs", "Exif", "TIFF" or "BMP"; "" if no field speaks of density
	Silence string // "JFIF units 0: no unit", "no pHYs chunk" …; "" where X and Y are stated
}

// Stated reports whether the file gives a density.
func (d Density) Stated() bool { return d.X > 0 && d.Y > 0 }

// ClaimKind says what a claim is about.
type ClaimKind string

// Kinds of claims.
const (
	ClaimSRGB         ClaimKind = "srgb"         // the colours are sRGB; Values is the rendering intent of a PNG sRGB chunk
	ClaimUncalibrated ClaimKind = "uncalibrated" // the colours are not sRGB (Exif ColorSpace 65535)
	ClaimGamma        ClaimKind = "gamma"        // Values: the encoding exponent, 0.45455 for sRGB
	ClaimPrimaries    ClaimKind = "primaries"    // Values: x, y of white, red, green and blue
	ClaimCodePoints   ClaimKind = "code-points"  // Values: ITU-T H.273 primaries, transfer, matrix, full range
	ClaimEncoding     ClaimKind = "encoding"     // Text: what the components are: "RGB", "YCbCr", "CMYK", "YCCK"
)

// Claim is one statement of a file about its colours, other than a profile.
type Claim struct {
	Source string // the field that says it: "PNG sRGB", "Exif", "Adobe", "JFIF", "BMP"
	Kind   ClaimKind
	Space  Space // the space the claim belongs to; "" where it fits any
	Values []float64
	Text   string
}
