package pdf

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"stoneproof/checks/art/pdf/syntax"
)

// walker walks one page. It owns the budgets and everything that is found.
type walker struct {
	doc   *Document
	page  *Page
	out   *Content
	table map[string]func(*interp)

	operators int     // left to run
	stopped   bool    // a budget is used up
	decoded   int64   // bytes left to decode
	order     int     // items seen so far
	images    int     // images named so far
	tiled     float64 // tiles laid so far

	spaces      map[string]*Space
	uses        map[*Space]int
	streams     map[int]*stream // forms, tiles and glyphs by object number
	active      map[int]bool    // those being drawn now
	tiles       map[tileKey]tiling
	glyphScopes map[*Font]*scope // resources of Type 3 fonts
	shown       map[*Font]bool
	noted       map[string]bool
	scratch     []byte
}

func newWalker(p *Page) *walker {
	lim := p.doc.lim
	return &walker{
		doc: p.doc, page: p, out: &Content{}, table: operatorTable(),
		operators: lim.Operators, decoded: lim.DecodedBytes,
		spaces: map[string]*Space{}, uses: map[*Space]int{},
		streams: map[int]*stream{}, active: map[int]bool{},
		tiles: map[tileKey]tiling{}, glyphScopes: map[*Font]*scope{}, shown: map[*Font]bool{}, noted: map[string]bool{},
	}
}

// longestNote keeps names of the file from making a note unreadable.
const longestNote = 200

// note keeps a remark once, and only so many in all.
func (w *walker) note(format string, a ...any) {
	if len(w.out.Notes) >= w.doc.lim.Notes {
		return
	}
	s := fmt.Sprintf(format, a...)
	if len(s) > longestNote {
		s = strings.ToValidUTF8(s[:longestNote], "") + "…"
	}
	if !w.noted[s] {
		w.noted[s] = true
		w.out.Notes = append(w.out.Notes, s)
	}
}

// truncate notes that a ceiling was hit.
func (w *walker) truncate(format string, a ...any) {
	w.out.Truncated = true
	w.note(format, a...)
}

// stream is a piece of content with its own resources: a page, a form, a tile, a
// glyph.
type stream struct {
	object  int
	dict    types.Dict
	content []byte
	scope   *scope
	matrix  Matrix
	box     Rect // BBox in the stream's own space; Empty if there is none
}

// scope looks names up in one resource dictionary and remembers what it found.
type scope struct {
	res    types.Dict
	spaces map[string]*Space // by name
	images map[int]*Space    // by object number of the image
	shades map[string]*Space // of shadings and shading patterns, by category and name
	fonts  map[string]*Font
	device [5]*Space // by number of components
}

func newScope(res types.Dict) *scope {
	return &scope{res: res, spaces: map[string]*Space{}, images: map[int]*Space{}, shades: map[string]*Space{}, fonts: map[string]*Font{}}
}

// pageContent joins the page's streams as if they were one, with white space
// between: a token never runs on from one to the next (7.8.2).
func (w *walker) pageContent() []byte {
	o := w.page.leaf.dict["Contents"]
	list, many := w.doc.Get(o).(types.Array)
	if !many {
		if o == nil {
			return nil
		}
		return w.content(o)
	}
	var all bytes.Buffer
	for i, o := range list {
		if i >= w.doc.lim.Operands {
			w.truncate("the page has too many content streams")
			break
		}
		all.Write(w.content(o))
		all.WriteByte('\n')
	}
	return all.Bytes()
}

// content decodes a content stream within the page's budget.
func (w *walker) content(o types.Object) []byte {
	b, err := w.doc.decodeFrom(&w.decoded, o)
	switch {
	case err == syntax.ErrBigger:
		w.truncate("the page's content decodes to more than %d bytes", w.doc.lim.DecodedBytes)
	case err != nil:
		w.note("content could not be decoded to its end: %v", err)
	}
	return b
}

// decodeFrom decodes a stream at the price of its work, which is more than what
// comes out of it: data may be long and mean little, and a filter that fails may have
// done anything before. Without that the same few streams, used over and over, would
// cost nothing.
func (d *Document) decodeFrom(budget *int64, o types.Object) ([]byte, error) {
	sd, ok := d.Get(o).(types.StreamDict)
	if !ok {
		return nil, syntax.ErrNoStream
	}
	if int64(len(sd.Raw)) > *budget {
		return nil, syntax.ErrBigger
	}
	b, err := syntax.Decode(sd, *budget)
	switch {
	case err == syntax.ErrBigger:
		*budget = 0
	case b == nil && err != nil:
		*budget -= *budget / 4
	default:
		*budget -= int64(max(len(b), len(sd.Raw)))
	}
	return b, err
}

// streamAt gives the form, tile or glyph that o refers to, nil if it is none. A
// stream without resources uses those of the content that draws it, as readers
// allow for old files (7.8.3).
func (w *walker) streamAt(o types.Object, parent *scope) *stream {
	id := syntax.ObjectNumber(o)
	if s, ok := w.streams[id]; ok && id != 0 {
		return s
	}
	sd, ok := w.doc.Get(o).(types.StreamDict)
	if !ok {
		return nil
	}
	s := &stream{object: id, dict: sd.Dict, scope: parent, matrix: w.doc.matrix(sd.Dict["Matrix"]), box: nowhere()}
	s.content = w.content(o)
	if res := w.doc.Dict(sd.Dict["Resources"]); res != nil {
		s.scope = newScope(res)
	}
	if v := w.doc.Numbers(sd.Dict["BBox"], 4); len(v) == 4 {
		s.box.add(Point{v[0], v[1]})
		s.box.add(Point{v[2], v[3]})
	}
	if id != 0 {
		w.streams[id] = s
	}
	return s
}
