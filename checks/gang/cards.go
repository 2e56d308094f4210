package gang

import (
	"fmt"

	"stoneproof/checks/art"
	"stoneproof/checks/art/pdf"
	"stoneproof/checks/art/pdf/write"
	"stoneproof/rules"
)

// Card is one design of a sheet, as a PDF of its own: the page of the sheet, cut to one
// cell with its bleed. Nothing of it is drawn anew.
type Card struct {
	Name   string // "card 1 and 7 more like it"
	Butted bool   // it shares cuts, so it has no bleed of its own on all edges
	PDF    []byte
}

// mostCard bounds a card's file.
const mostCard = 256 << 20

// cards gives every design of the sheet once.
func (j *judge) cards(a *art.Art) []Card {
	var list []Card
	for i, f := range j.faces {
		gap, any := f.leastGap()
		for _, g := range j.groups[i] {
			c := g.cells[0]
			name := lower(f.nth(c))
			if n := len(g.cells) - 1; n > 0 {
				name += fmt.Sprintf(" and %d more like it", n)
			}
			b, ok := cut(a.PDF, a.Sides[i].Page, c.trim, j.want.Ticket.Bleed)
			if ok {
				list = append(list, Card{Name: name, Butted: any && gap <= gapSlack, PDF: b})
			}
		}
	}
	return list
}

// cut writes a page with its boxes set around a cell.
func cut(doc *pdf.Document, page *pdf.Page, trim rules.Box, bleed rules.Length) ([]byte, bool) {
	back, ok := inverse(page.Display())
	if !ok {
		return nil, false
	}
	box := func(b rules.Box) string {
		p := back.At(b.X.Points(), b.Y.Points())
		q := back.At(b.Right().Points(), b.Bottom().Points())
		return write.Numbers(min(p.X, q.X), min(p.Y, q.Y), max(p.X, q.X), max(p.Y, q.Y))
	}
	f := write.NewFile(mostCard)
	src := f.From(doc)
	root, tree := f.Reserve(), f.Reserve()
	entries := ""
	for _, key := range []string{"Contents", "Group", "Annots", "UserUnit"} {
		if v, is := page.Dict()[key]; is {
			entries += "/" + key + " " + src.Value(v)
		}
	}
	media := box(trim.Inset(-bleed))
	kid := f.Add(fmt.Sprintf("<</Type/Page/Parent %s/MediaBox%s/BleedBox%[2]s/TrimBox%s/Rotate %d/Resources %s%s>>",
		write.Reference(tree), media, box(trim), page.Rotate, src.Value(page.Resources()), entries))
	f.Set(tree, "<</Type/Pages/Count 1/Kids["+kid+"]>>")
	catalog := "<</Type/Catalog/Pages " + write.Reference(tree)
	for _, key := range []string{"OCProperties", "OutputIntents"} {
		if v, is := doc.Catalog()[key]; is {
			catalog += "/" + key + " " + src.Value(v)
		}
	}
	f.Set(root, catalog+">>")
	b := f.Bytes("/Root " + write.Reference(root))
	return b, !f.Full()
}

// inverse undoes a matrix.
func inverse(m pdf.Matrix) (pdf.Matrix, bool) {
	det := m[0]*m[3] - m[1]*m[2]
	if det == 0 {
		return m, false
	}
	a, b, c, d := m[3]/det, -m[1]/det, -m[2]/det, m[0]/det
	return pdf.Matrix{a, b, c, d, -(m[4]*a + m[5]*c), -(m[4]*b + m[5]*d)}, true
}
