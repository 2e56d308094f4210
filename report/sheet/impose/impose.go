package impose

import (
	"bytes"
	"errors"
	"fmt"
	"time"

	"stoneproof/checks/art"
	"stoneproof/checks/art/embed"
	"stoneproof/checks/art/pdf"
	"stoneproof/checks/art/pdf/write"
	"stoneproof/report/sheet"
	"stoneproof/rules"
)

// Design is one card, to be placed so many times. Its sides must be placed: see
// art.Art.Place.
type Design struct {
	Name  string
	Front *art.Side
	Back  *art.Side // nil: the card has none
	Count int
}

// Sheet is what is drawn. Designs fill the plan's cells in order, row by row; cells
// beyond their counts stay empty.
type Sheet struct {
	Plan    sheet.Plan
	Designs []Design
	Slug    string // line of small type outside the cards; "" for none
	Made    time.Time
	Program string // that made it, by name and version
}

// Most is how large a sheet's PDF may grow.
const Most = 1 << 30

// ErrTooLarge is the error of a sheet whose art takes more than Most bytes.
var ErrTooLarge = errors.New("the sheet would take more than a gigabyte")

// Made is a drawn sheet.
type Made struct {
	PDF   []byte
	Notes []string // what could not be done as wished, in plain words
}

// Draw makes the PDF: the fronts, and a second page with the backs if any design has
// one. The same sheet gives the same bytes.
func (s Sheet) Draw() (m Made, err error) {
	defer func() { // the reader of the art's objects may panic over what they hold
		if v := recover(); v != nil {
			m, err = Made{}, fmt.Errorf("the art is damaged in a way that its reader could not bear: %v", v)
		}
	}()
	b := &builder{file: write.NewFile(Most), sources: map[*pdf.Document]*write.Source{}, drawn: map[*art.Side]*drawn{}}
	b.root, b.tree = b.file.Reserve(), b.file.Reserve()
	if err := s.face(b, "front", s.Plan.Front, s.Plan.FrontMarks, func(d Design) *art.Side { return d.Front }); err != nil {
		return Made{}, err
	}
	if s.hasBacks() {
		if err := s.face(b, "back", s.Plan.Back, s.Plan.BackMarks, func(d Design) *art.Side { return d.Back }); err != nil {
			return Made{}, err
		}
	}
	made := b.close(s)
	if b.file.Full() {
		return Made{}, ErrTooLarge
	}
	return Made{made, b.notes}, nil
}

func (s Sheet) hasBacks() bool {
	for _, d := range s.Designs {
		if d.Back != nil {
			return true
		}
	}
	return false
}

// face draws one side of the sheet as a page.
func (s Sheet) face(b *builder, name string, cells []sheet.Cell, marks []sheet.Mark, side func(Design) *art.Side) error {
	var page canvas
	i := 0
	for _, d := range s.Designs {
		for range d.Count {
			if side(d) != nil {
				art, err := b.side(side(d))
				if err != nil {
					return fmt.Errorf("%s: %w", d.Name, err)
				}
				s.put(&page, art, side(d), s.turned(cells[i], d, name == "back"))
			}
			i++
		}
	}
	page.marks(marks, s.Plan.Sheet)
	if s.Slug != "" && !s.slug(&page, name, cells) {
		b.notes = append(b.notes, "there is no room outside the cards for the line that names the sheet ("+name+")")
	}
	b.page(&page, s.Plan.Sheet)
	return nil
}

// turned is a cell for a design that lies the other way than the plan's cards: its
// art is turned by a further quarter, and its back so that it still stands upright.
func (s Sheet) turned(c sheet.Cell, d Design, back bool) sheet.Cell {
	if d.Front.Trim.Landscape() == s.Plan.Trim.Landscape() || s.Plan.Trim.W == s.Plan.Trim.H {
		return c
	}
	front := 90
	if s.Plan.Turned {
		front = 0
	}
	c.Turn = front
	if back {
		c.Turn = s.Plan.TurnBehind(front)
	}
	return c
}

// builder gathers the objects of the PDF.
type builder struct {
	file       *write.File
	root, tree int
	kids       []string
	sources    map[*pdf.Document]*write.Source
	order      []*pdf.Document // of sources, as met
	drawn      map[*art.Side]*drawn
	notes      []string
}

// drawn is a side's art as objects of the file: each is painted after its matrix,
// which maps what it draws to trim coordinates in micrometres.
type drawn struct{ parts []part }

type part struct {
	ref    string
	matrix pdf.Matrix
}

// side gives a side's objects, made once however often it is placed.
func (b *builder) side(s *art.Side) (*drawn, error) {
	if d := b.drawn[s]; d != nil {
		return d, nil
	}
	make := b.picture
	if s.Page != nil {
		make = b.form
	}
	d, err := make(s)
	if err != nil {
		return nil, err
	}
	b.drawn[s] = d
	return d, nil
}

// picture gives a raster's image.
func (b *builder) picture(s *art.Side) (*drawn, error) {
	ref, turn, err := embed.Picture(b.file, s)
	if err != nil {
		return nil, err
	}
	if bits := s.Header.Bits; bits > 8 {
		b.notes = append(b.notes, fmt.Sprintf("a picture of %d bits a sample is placed with 8: no printer shows more", bits))
	}
	return &drawn{parts: []part{{ref, turn.Mul(s.Lie())}}}, nil
}

func (b *builder) source(doc *pdf.Document) *write.Source {
	if b.sources[doc] == nil {
		b.sources[doc] = b.file.From(doc)
		b.order = append(b.order, doc)
	}
	return b.sources[doc]
}

// page adds a page of the sheet's size. The sheet is the finished thing here: its
// boxes are one and the same (14.11.2).
func (b *builder) page(c *canvas, size rules.Size) {
	box := write.Numbers(0, 0, size.W.Points(), size.H.Points())
	b.kids = append(b.kids, b.file.Add(fmt.Sprintf("<</Type/Page/Parent %s/MediaBox%s/CropBox%[2]s/BleedBox%[2]s/TrimBox%[2]s/Resources%s/Contents %s>>",
		write.Reference(b.tree), box, c.resources(), b.file.Deflated("", c.out.Bytes()))))
}

// close writes what holds the pages together. The preferences keep print dialogs from
// scaling the sheet and offer the right turn (12.2, Table 150).
func (b *builder) close(s Sheet) []byte {
	var tree bytes.Buffer
	for _, kid := range b.kids {
		tree.WriteString(kid + " ")
	}
	b.file.Set(b.tree, fmt.Sprintf("<</Type/Pages/Count %d/Kids[%s]>>", len(b.kids), tree.String()))
	duplex := "/Simplex"
	if len(b.kids) > 1 {
		duplex = "/DuplexFlipLongEdge"
		if s.Plan.Turn == sheet.ShortEdge {
			duplex = "/DuplexFlipShortEdge"
		}
	}
	b.file.Set(b.root, fmt.Sprintf("<</Type/Catalog/Pages %s/ViewerPreferences<</PrintScaling/None/Duplex%s/PickTrayByPDFSize true>>%s%s>>",
		write.Reference(b.tree), duplex, b.layers(), b.intents()))
	info := b.file.Add(fmt.Sprintf("<</Title%s/Producer%s/CreationDate%s>>",
		write.Text("Sheet of "+s.names()), write.Text(s.Program), s.Made.UTC().Format("(D:20060102150405Z)")))
	return b.file.Bytes("/Root " + write.Reference(b.root) + "/Info " + info)
}

func (s Sheet) names() string {
	all := ""
	for i, d := range s.Designs {
		if i > 0 {
			all += ", "
		}
		all += d.Name
	}
	return all
}
