package raster

import (
	"bytes"
	"errors"
	"fmt"
	"image"
)

// What can be wrong with a file. Errors of this package wrap exactly one of
// them, and speak to the person who made the file.
var (
	ErrCutOff      = errors.New("the file is cut off")
	ErrDamaged     = errors.New("the file is damaged")
	ErrUnsupported = errors.New("this kind of file cannot be read")
	ErrTooLarge    = errors.New("the picture is too large")
)

// Format names a file format.
type Format string

// Formats that are read.
const (
	JPEG Format = "jpeg"
	PNG  Format = "png"
	TIFF Format = "tiff"
	WebP Format = "webp"
	GIF  Format = "gif"
	BMP  Format = "bmp"
)

// signature is how a format's files begin; a dot stands for any byte.
type signature struct {
	format Format
	magic  string
}

// signatures lists every format that is read; formats that are only named,
// because people do send them, are in foreign.
func signatures() []signature {
	return []signature{
		{JPEG, "\xff\xd8\xff"},
		{PNG, "\x89PNG\r\n\x1a\n"},
		{TIFF, "II*\x00"}, {TIFF, "MM\x00*"},
		{TIFF, "II+\x00"}, {TIFF, "MM\x00+"}, // BigTIFF
		{WebP, "RIFF....WEBP"},
		{GIF, "GIF87a"}, {GIF, "GIF89a"},
		{BMP, "BM"},
	}
}

func (s signature) match(head []byte) bool {
	return len(head) >= len(s.magic) && s.begins(head)
}

// begins reports whether head agrees with the signature as far as both go.
func (s signature) begins(head []byte) bool {
	for i := range min(len(head), len(s.magic)) {
		if s.magic[i] != '.' && s.magic[i] != head[i] {
			return false
		}
	}
	return true
}

// Sniff tells a file's format by its first bytes (12 are enough), "" if it is
// none that this package reads.
func Sniff(head []byte) Format {
	for _, s := range signatures() {
		if s.match(head) {
			return s.format
		}
	}
	return ""
}

// File is an opened picture file.
type File struct {
	Format Format
	Pages  []Header // one, but for a TIFF of several pages

	pages []page
}

// page is a picture that can be decoded. Its Header is as stored until seen
// has turned it.
type page struct {
	Header
	memory int64                       // bytes that decode holds at a time, its result included
	decode func() (*Pixels, error)     // as stored: orientation is not applied yet
	image  func() (image.Image, error) // of a JPEG file: what its decoder gives
	jpeg   *JPEGStream                 // of a JPEG file
}

// Open reads the headers of a picture file and checks, without decoding, that
// the file is whole. It keeps b, which must not change while the File is used.
// Errors wrap ErrCutOff, ErrDamaged, ErrUnsupported or ErrTooLarge.
func Open(b []byte, lim Limits) (f *File, err error) {
	defer rescue(&err)
	pages, err := openPages(b, lim)
	if err != nil {
		return nil, err
	}
	f = &File{Format: Sniff(b), pages: pages}
	for _, p := range pages {
		if err := lim.afford(p); err != nil {
			return nil, err
		}
		f.Pages = append(f.Pages, p.seen())
	}
	return f, nil
}

func openPages(b []byte, lim Limits) ([]page, error) {
	switch Sniff(b) {
	case JPEG:
		return one(openJPEG(b, lim))
	case PNG:
		return one(openPNG(b, lim))
	case TIFF:
		return openTIFF(b, lim)
	case WebP:
		return one(openWebP(b, lim))
	case GIF:
		return one(openGIF(b, lim))
	case BMP:
		return one(openBMP(b, lim))
	}
	return nil, stranger(b)
}

func one(p page, err error) ([]page, error) { return []page{p}, err }

// stranger says what a file of no known format is.
func stranger(b []byte) error {
	if len(b) == 0 {
		return fmt.Errorf("%w: it is empty", ErrCutOff)
	}
	for _, s := range signatures() {
		if len(b) < len(s.magic) && s.begins(b) {
			return fmt.Errorf("%w: it ends after %d bytes", ErrCutOff, len(b))
		}
	}
	if name := foreign(b); name != "" {
		return fmt.Errorf("%w: this is a %s picture, which few programs read: export it as PNG, TIFF or JPEG", ErrUnsupported, name)
	}
	return fmt.Errorf("%w: it is not a JPEG, PNG, TIFF, WebP, GIF or BMP picture", ErrUnsupported)
}

// foreign names picture formats that are not read.
func foreign(b []byte) string {
	for _, s := range []struct{ name, magic string }{
		{"JPEG 2000", "\x00\x00\x00\x0cjP  "},
		{"JPEG 2000", "\xff\x4f\xff\x51"},
		{"JPEG XL", "\xff\x0a"},
		{"JPEG XL", "\x00\x00\x00\x0cJXL "},
		{"JPEG XR", "II\xbc"},
	} {
		if bytes.HasPrefix(b, []byte(s.magic)) {
			return s.name
		}
	}
	if len(b) >= 12 && string(b[4:8]) == "ftyp" {
		switch string(b[8:12]) {
		case "avif", "avis":
			return "AVIF"
		case "heic", "heix", "mif1", "msf1":
			return "HEIF"
		}
	}
	return ""
}

// Decode decodes a page, counted from 0, as seen. Errors wrap ErrDamaged, or
// ErrUnsupported where only the picture data show what they are.
func (f *File) Decode(n int) (px *Pixels, err error) {
	defer rescue(&err)
	if n < 0 || n >= len(f.pages) {
		return nil, fmt.Errorf("%w: there is no page %d", ErrDamaged, n+1)
	}
	p := f.pages[n]
	px, err = p.decode()
	if err != nil {
		return nil, err
	}
	px.turn(p.Orientation)
	px.Opaque = !p.Alpha || px.opaque()
	return px, nil
}

// rescue turns a panic, in a decoder that this package stands on, into an
// error: bytes must never stop the program.
func rescue(err *error) {
	if r := recover(); r != nil {
		*err = fmt.Errorf("%w: its decoder broke down: %v", ErrDamaged, r)
	}
}
