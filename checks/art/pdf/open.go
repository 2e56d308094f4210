package pdf

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"sync"

	"github.com/pdfcpu/pdfcpu/pkg/api"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/model"

	"stoneproof/checks/art/pdf/syntax"
)

// Document is an opened PDF. It is not safe for use by several goroutines at once.
type Document struct {
	Version   string // "1.4", from the catalog where that is newer than the header
	PageCount int    // leaves found in the page tree, whatever its /Count says
	Encrypted bool   // encrypted, yet readable without a password
	// Repairs tells in plain words what a reader has to mend before it can show
	// the file: it was cut off, damaged or edited. Empty for a file that is whole;
	// linearized, incrementally updated and hybrid files are whole.
	Repairs []string
	Intents []Intent // output intents of the catalog
	Claims  []string // standards that the file says it keeps, such as "PDF/X-4"
	Extras  Extras   // what is in the file beside paint: scripts, forms, attached files
	Layers  []Layer  // optional content groups, in the file's order

	// Objects are what the file is made of, for code that rewrites it.
	*syntax.Objects

	ctx    *model.Context
	lim    Limits
	leaves []leaf
	layers map[int]int // object number of an optional content group → its place in Layers from 1

	fonts     map[int]*Font
	programs  map[int]outlines // by object number of the font file
	fontBytes int64            // left to decode for fonts
}

// Sniff tells whether a file that begins so is meant as a PDF. Readers accept the
// header anywhere in the first 1024 bytes (PDF Reference, 6th edition, Appendix H,
// implementation note 13; number from memory).
func Sniff(head []byte) bool {
	return headerAt(head) >= 0
}

func headerAt(b []byte) int {
	return bytes.Index(b[:min(len(b), 1024)], []byte("%PDF-"))
}

// Open reads the structure of a PDF. It works on the bytes alone: no network, no
// files, no settings folder. The error wraps one of the Err… values. b must not
// change while the document is in use.
func Open(b []byte, lim Limits) (doc *Document, err error) {
	if int64(len(b)) > lim.FileBytes {
		return nil, fmt.Errorf("%w: %d bytes, at most %d are read", ErrTooLarge, len(b), lim.FileBytes)
	}
	if !Sniff(b) {
		return nil, fmt.Errorf("%w: it does not begin as a PDF", ErrDamaged)
	}
	defer func() {
		if r := recover(); r != nil {
			doc, err = nil, unreadable(b, fmt.Errorf("%v", r))
		}
	}()
	ctx, err := read(b, lim)
	if err != nil {
		return nil, unreadable(b, err)
	}
	d := &Document{Objects: syntax.ObjectsOf(ctx), ctx: ctx, lim: lim, fonts: map[int]*Font{}, programs: map[int]outlines{}, fontBytes: lim.FontBytes}
	d.Version = ctx.VersionString()
	d.Encrypted = ctx.Encrypt != nil
	if err := d.findPages(); err != nil {
		return nil, err
	}
	d.Repairs = mends(b, ctx)
	catalog := d.Dict(*ctx.Root)
	d.findIntents(catalog)
	d.findClaims(catalog)
	d.findLayers(catalog)
	d.findExtras(catalog)
	return d, nil
}

// noSettings keeps the parser from making a settings folder in the user's home. It
// is a switch of the parser for the whole program, and is thrown once.
var noSettings sync.Once

// read runs the parser on a diet: see [ration].
func read(b []byte, lim Limits) (*model.Context, error) {
	noSettings.Do(api.DisableConfigDir)
	conf := model.NewDefaultConfiguration()
	conf.Optimize = false
	conf.Offline = true
	conf.DecodeAllStreams = false
	conf.ValidationMode = model.ValidationRelaxed
	conf.Limits = model.ResourceLimits{
		MaxStreamBytes:       int64(len(b)),
		MaxDecodeBytes:       objectStreamLimit(b, lim),
		MaxObjectCount:       lim.Objects,
		MaxObjectStreamCount: lim.Objects,
		MaxObjectStreamFirst: int64(lim.Objects) * 20,
		MaxXRefEntries:       lim.Objects,
		MaxRecursionDepth:    100,
	}
	c, stop := context.WithTimeout(context.Background(), lim.ReadTime)
	defer stop()
	ctx, err := pdfcpu.ReadWithContext(c, newRation(b), conf)
	switch {
	case err != nil:
		return nil, err
	case len(ctx.Table) > lim.Objects:
		return nil, fmt.Errorf("%w: %d objects, at most %d are read", ErrTooLarge, len(ctx.Table), lim.Objects)
	case ctx.Root == nil:
		return nil, errors.New("it has no catalog")
	}
	return ctx, nil
}

// objectStreamLimit shares the ceiling out among the file's object streams, which
// are all decoded on opening, but leaves each a useful size: a writer puts some
// hundred objects, a few ten kilobytes, into one.
func objectStreamLimit(b []byte, lim Limits) int64 {
	const least = 1 << 20
	n := int64(bytes.Count(b, []byte("/ObjStm"))) + 1
	return max(least, lim.DecodedBytes/n)
}

// unreadable turns the parser's error into one of ours.
func unreadable(b []byte, err error) error {
	switch {
	case errors.Is(err, pdfcpu.ErrWrongPassword):
		return ErrLocked
	case errors.Is(err, ErrTooLarge):
		return err
	case errors.Is(err, context.DeadlineExceeded), errors.Is(err, errRation):
		return &unreadableError{ErrDamaged, "it costs too much to read", err}
	case !endsNormally(b):
		return &unreadableError{ErrCutOff, "the end-of-file mark is missing", err}
	}
	return &unreadableError{ErrDamaged, "its structure cannot be read", err}
}

// unreadableError says why a file cannot be read in words for the person who
// made it; the parser's own words are kept for errors.Is and errors.As alone.
type unreadableError struct {
	kind  error
	why   string
	cause error
}

func (e *unreadableError) Error() string   { return e.kind.Error() + ": " + e.why }
func (e *unreadableError) Unwrap() []error { return []error{e.kind, e.cause} }

// ration hands the file to the parser and counts what it asks for. The parser
// reads each object and each stream once, on the file's word for where they are
// and how long; a table with a thousand entries for one long stream would make a
// thousand copies of it.
type ration struct {
	*bytes.Reader
	left int64
}

var errRation = errors.New("the file makes its reader read the same bytes over and over")

func newRation(b []byte) *ration {
	const perObject = 16 << 10 // twice the parser's buffers for one object
	objects := int64(bytes.Count(b, []byte(" obj"))) + int64(bytes.Count(b, []byte("/ObjStm")))
	return &ration{bytes.NewReader(b), 8*int64(len(b)) + objects*perObject + 1<<20}
}

func (r *ration) Read(p []byte) (int, error) {
	if r.left -= int64(len(p)); r.left < 0 {
		return 0, errRation
	}
	return r.Reader.Read(p)
}

var _ io.ReadSeeker = (*ration)(nil)
