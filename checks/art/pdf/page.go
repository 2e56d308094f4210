package pdf

import (
	"fmt"
	"math"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// Page is one page: its boxes, and what it takes to walk its content.
type Page struct {
	Number   int     // from 1
	Rotate   int     // 0, 90, 180 or 270, clockwise
	UserUnit float64 // size of a unit of the file, in 1/72 inch; 1 in most files

	Media                  Rect  // display space: its top left corner is 0, 0
	Crop, Bleed, Trim, Art *Rect // display space; nil where the page has none

	// RawMedia is the MediaBox in the file's own user space: least x, least y,
	// greatest x, greatest y.
	RawMedia [4]float64
	// BoxTrouble tells in plain words which boxes could not be taken as written.
	BoxTrouble []string
	// Annotations lists what lies on the page beside its content: notes, links,
	// form fields.
	Annotations []Annotation
	Script      bool // the page runs JavaScript when it is opened or closed

	doc     *Document
	leaf    leaf
	display Matrix // user space → display space
}

// Page gives page n, counted from 1.
func (d *Document) Page(n int) (p *Page, err error) {
	if n < 1 || n > len(d.leaves) {
		return nil, fmt.Errorf("no page %d: the file has %d", n, len(d.leaves))
	}
	defer func() {
		if r := recover(); r != nil {
			p, err = nil, fmt.Errorf("%w: page %d: %v", ErrDamaged, n, r)
		}
	}()
	p = &Page{Number: n, doc: d, leaf: d.leaves[n-1]}
	p.readUnit()
	p.readRotate()
	p.readBoxes()
	p.readAnnotations()
	p.Script = d.hasScript(p.leaf.dict["AA"])
	return p, nil
}

func (p *Page) trouble(format string, a ...any) {
	p.BoxTrouble = append(p.BoxTrouble, fmt.Sprintf(format, a...))
}

// readUnit takes UserUnit from the page itself: it is not inherited (Table 30).
func (p *Page) readUnit() {
	p.UserUnit = 1
	o, ok := p.leaf.dict["UserUnit"]
	if !ok {
		return
	}
	u, ok := p.doc.Number(o)
	if !ok || u <= 0 || u > 1e6 {
		p.trouble("the UserUnit is not a positive number, so 1 is assumed")
		return
	}
	p.UserUnit = u
}

// readRotate folds any multiple of 90 into 0…270; anything else is no rotation,
// as readers take it.
func (p *Page) readRotate() {
	if p.leaf.rotate == nil {
		return
	}
	r, ok := p.doc.Number(p.leaf.rotate)
	if !ok || math.Mod(r, 90) != 0 {
		p.trouble("the page rotation is not a multiple of 90 degrees, so none is assumed")
		return
	}
	p.Rotate = int(math.Mod(math.Mod(r, 360)+360, 360))
}

func (p *Page) readBoxes() {
	media, ok := p.rawBox("MediaBox", p.leaf.media)
	if !ok {
		if p.leaf.media == nil {
			p.trouble("the page has no MediaBox, so Letter size is assumed as viewers do")
		}
		media = Rect{0, 0, 612, 792}
	}
	p.RawMedia = [4]float64{media.X0, media.Y0, media.X1, media.Y1}
	p.display = displayMatrix(media, p.Rotate, p.UserUnit)
	p.Media = p.display.quad(media).Bounds()
	p.Crop = p.box("CropBox", p.leaf.crop)
	p.Bleed = p.box("BleedBox", p.leaf.dict["BleedBox"])
	p.Trim = p.box("TrimBox", p.leaf.dict["TrimBox"])
	p.Art = p.box("ArtBox", p.leaf.dict["ArtBox"])
}

func (p *Page) box(name string, o types.Object) *Rect {
	if o == nil {
		return nil
	}
	raw, ok := p.rawBox(name, o)
	if !ok {
		return nil
	}
	r := p.display.quad(raw).Bounds()
	const slack = 0.1 // points, a thirtieth of a millimetre: what rounding leaves
	if !p.Media.Contains(r, slack) {
		p.trouble("the %s reaches past the MediaBox", name)
	}
	return &r
}

// rawBox reads a rectangle, of which any two opposite corners may be given (7.9.5).
func (p *Page) rawBox(name string, o types.Object) (Rect, bool) {
	if o == nil {
		return Rect{}, false
	}
	a := p.doc.Array(o)
	if len(a) != 4 {
		p.trouble("the %s has %d numbers in place of 4, so it is ignored", name, len(a))
		return Rect{}, false
	}
	var v [4]float64
	for i, x := range a {
		f, ok := p.doc.Number(x)
		if !ok || math.Abs(f) > 1e7 {
			p.trouble("the %s holds something that is not a usable number, so it is ignored", name)
			return Rect{}, false
		}
		v[i] = f
	}
	r := Rect{math.Min(v[0], v[2]), math.Min(v[1], v[3]), math.Max(v[0], v[2]), math.Max(v[1], v[3])}
	if r.W() == 0 || r.H() == 0 {
		p.trouble("the %s has no area, so it is ignored", name)
		return Rect{}, false
	}
	return r, true
}

// displayMatrix maps user space to display space: the page is turned clockwise by
// rotate, y is flipped, the MediaBox's top left corner becomes the origin.
func displayMatrix(m Rect, rotate int, unit float64) Matrix {
	u := unit
	switch rotate {
	case 90:
		return Matrix{0, u, u, 0, -m.Y0 * u, -m.X0 * u}
	case 180:
		return Matrix{-u, 0, 0, u, m.X1 * u, -m.Y0 * u}
	case 270:
		return Matrix{0, -u, -u, 0, m.Y1 * u, m.X1 * u}
	}
	return Matrix{u, 0, 0, -u, -m.X0 * u, m.Y1 * u}
}

// Content is the page's content with its streams joined, as far as it decodes in
// so many bytes. Notes tell what was amiss.
func (p *Page) Content(most int64) (content []byte, notes []string) {
	w := newWalker(p)
	w.decoded = min(w.decoded, most)
	return w.pageContent(), w.out.Notes
}

// Resources is the page's resource dictionary, its own or inherited.
func (p *Page) Resources() types.Dict { return p.doc.Dict(p.leaf.resources) }

// Dict is the page's dictionary, without what it inherits.
func (p *Page) Dict() types.Dict { return p.leaf.dict }

// Display maps the page's user space to display space.
func (p *Page) Display() Matrix { return p.display }
