package impose

import (
	"errors"
	"fmt"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"stoneproof/checks/art"
	"stoneproof/checks/art/pdf/write"
)

// mostContent bounds the drawing instructions of a page.
const mostContent = 256 << 20

// form makes a page a form (8.10), and with it the annotations that print. Page
// attributes that are inherited come along: the form gets the page's resources, and
// its own matrix undoes Rotate and UserUnit.
func (b *builder) form(s *art.Side) (*drawn, error) {
	page, doc := s.Page, s.Document()
	content, notes := page.Content(mostContent)
	if len(notes) > 0 {
		return nil, fmt.Errorf("the page cannot be placed as it is: %s", notes[0])
	}
	src := b.source(doc)
	entries := "/Type/XObject/Subtype/Form/BBox" + write.Numbers(page.RawMedia[:]...)
	if r := page.Resources(); r != nil {
		entries += "/Resources" + src.Value(r)
	} else {
		entries += "/Resources<<>>"
	}
	if g := doc.Dict(page.Dict()["Group"]); g != nil {
		entries += "/Group" + src.Value(isolated(g))
	}
	d := &drawn{parts: []part{{b.file.Deflated(entries, content), s.Lie()}}}
	for _, a := range page.Annotations {
		form, m, ok := a.Printed(doc)
		if !ok || doc.LayerOff(a.Layer()) {
			continue
		}
		ref, ok := form.(types.IndirectRef)
		if !ok {
			return nil, errors.New("a note on the page is not written as the standard asks: flatten it")
		}
		d.parts = append(d.parts, part{src.Value(ref), m.Mul(s.Lie())})
	}
	return d, nil
}

// isolated is a page's transparency group as a form's: that of a page is isolated
// whatever it says (11.6.6), that of a form has to say so.
func isolated(group types.Dict) types.Dict {
	g := types.Dict{}
	for k, v := range group {
		g[k] = v
	}
	g["I"] = types.Boolean(true)
	return g
}
