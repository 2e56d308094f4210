package art

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"

	"stoneproof/checks/art/pdf"
	"stoneproof/checks/art/raster"
	"stoneproof/checks/art/render"
)

// Art is an opened artwork file.
type Art struct {
	Path   string
	Kind   string // pdf, jpeg, png, tiff, webp, gif, bmp
	SHA256 string // lower-case hex
	Sides  []*Side

	PDF    *pdf.Document // nil for a raster image
	Raster *raster.File  // nil for a PDF

	ceilings Ceilings
	pages    *pages // the renderer's hold on the document; nil for a raster
}

// Opener opens artwork within its ceilings. Renderer draws PDF pages.
type Opener struct {
	Ceilings Ceilings
	Renderer *render.Engine
}

// Open reads a file's facts, by its content. The Art is never nil: where the
// error, a *Fault, says why the file cannot be opened, Art still tells what
// could be learnt of it.
func (o Opener) Open(path string) (*Art, error) {
	b, err := readBounded(path, o.Ceilings.FileBytes)
	if err != nil {
		return &Art{Path: path, Kind: KindUnknown, ceilings: o.Ceilings}, err
	}
	return o.Read(path, b)
}

// Read reads the facts of a file that is held in memory, as Open does; name is what
// it is called. The bytes stay the Art's until it is closed.
func (o Opener) Read(name string, b []byte) (a *Art, err error) {
	a = &Art{Path: name, Kind: KindUnknown, ceilings: o.Ceilings}
	defer func() {
		if v := recover(); v != nil {
			a, err = &Art{Path: name, Kind: a.Kind, SHA256: a.SHA256}, Unbearable(v)
		}
	}()
	if size := int64(len(b)); size > o.Ceilings.FileBytes {
		return a, tooManyBytes(size, o.Ceilings.FileBytes)
	}
	sum := sha256.Sum256(b)
	a.SHA256 = hex.EncodeToString(sum[:])
	if pdf.Sniff(b) {
		a.Kind = KindPDF
		return a, a.openPDF(b, o.Renderer)
	}
	if format := raster.Sniff(b); format != "" {
		a.Kind = string(format)
		return a, a.openRaster(b)
	}
	return a, notArt(name, b)
}

// readBounded reads a regular file whole, if it is not larger than most.
func readBounded(path string, most int64) ([]byte, error) {
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return nil, faultOfFile(err)
	case info.IsDir():
		return nil, &Fault{"This is a folder with the name of a file", "Name the folder without a file's ending, or give the file inside it."}
	case !info.Mode().IsRegular():
		return nil, &Fault{"This is not a file but a device or a pipe", "Save the artwork as a file on disk."}
	case info.Size() > most:
		return nil, tooManyBytes(info.Size(), most)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, faultOfFile(err)
	}
	defer f.Close()
	b := make([]byte, 0, info.Size()+1)
	b, err = appendAll(b, io.LimitReader(f, most+1))
	if err != nil {
		return nil, faultOfFile(err)
	}
	if int64(len(b)) > most { // grown since we looked
		return nil, tooManyBytes(int64(len(b)), most)
	}
	return b, nil
}

// appendAll reads r to its end onto b.
func appendAll(b []byte, r io.Reader) ([]byte, error) {
	for {
		if len(b) == cap(b) {
			b = append(b, 0)[:len(b)]
		}
		n, err := r.Read(b[len(b):cap(b)])
		b = b[:len(b)+n]
		if err == io.EOF {
			return b, nil
		}
		if err != nil {
			return b, err
		}
	}
}

func tooManyBytes(size, most int64) *Fault {
	return &Fault{
		fmt.Sprintf("The file has %d MB; this tool reads up to %d MB", size>>20, most>>20),
		"Export it at the size of the card: 300 ppi at printed size is enough.",
	}
}

func (a *Art) openPDF(b []byte, renderer *render.Engine) error {
	doc, err := pdf.Open(b, a.ceilings.PDF)
	if err != nil {
		return faultOf(a.Kind, err)
	}
	a.PDF = doc
	a.pages = &pages{renderer: renderer, bytes: b}
	for n := 1; n <= doc.PageCount; n++ {
		page, err := doc.Page(n)
		if err != nil {
			return faultOf(a.Kind, err)
		}
		a.Sides = append(a.Sides, &Side{Number: n, Page: page, art: a})
	}
	return nil
}

func (a *Art) openRaster(b []byte) error {
	file, err := raster.Open(b, a.ceilings.Raster)
	if err != nil {
		return faultOf(a.Kind, err)
	}
	a.Raster = file
	for i := range file.Pages {
		a.Sides = append(a.Sides, &Side{Number: i + 1, Header: &file.Pages[i], art: a})
	}
	return nil
}

// Misnamed reports whether the file's name promises another kind than its
// content is, and which.
func (a *Art) Misnamed() (promised string, is bool) {
	promised = kindOfName(a.Path)
	return promised, promised != "" && promised != a.Kind
}

// Repairs tells what a reader had to mend to open the file.
func (a *Art) Repairs() []string {
	if a.PDF == nil {
		return nil
	}
	return a.PDF.Repairs
}

// Warm begins to start the renderer, if a side of the file will need it: it
// takes longer than all else, and can go on beside it.
func (a *Art) Warm() {
	for _, s := range a.Sides {
		if _, plain := s.PlainBrink(); s.Page != nil && s.Placed() && !plain {
			a.pages.renderer.Warm()
			return
		}
	}
}

// Close gives back what the renderer holds.
func (a *Art) Close() {
	if a.pages != nil {
		a.pages.close()
	}
}

// pages is the renderer's hold on a document, taken when the first page is
// asked for. One goroutine judges a file, so it needs no lock.
type pages struct {
	renderer *render.Engine
	bytes    []byte
	doc      *render.Doc
	err      error
}

// errNoRenderer is why a page has no pixels where its art was opened without a
// renderer.
var errNoRenderer = errors.New("there is no renderer to draw the page")

func (p *pages) open(ctx context.Context) (*render.Doc, error) {
	if p.renderer == nil {
		return nil, errNoRenderer
	}
	if p.doc == nil && p.err == nil {
		p.doc, p.err = p.renderer.Open(ctx, p.bytes)
	}
	return p.doc, p.err
}

func (p *pages) close() {
	if p.doc != nil {
		p.doc.Close()
		p.doc = nil
	}
}
