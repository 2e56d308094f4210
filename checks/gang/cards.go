package gang

import (
	"fmt"
	"image"
	"math"
	"slices"

	"stoneproof/checks/art"
	"stoneproof/checks/art/embed"
	"stoneproof/checks/art/pdf"
	"stoneproof/checks/art/pdf/write"
	"stoneproof/rules"
)

// Card is one design of a sheet, as a PDF of its own: the page of the sheet, or the
// picture, cut to one cell with its bleed. Nothing of it is drawn anew.
type Card struct {
	Name    string   // "card 1 and 7 more like it"
	Without []string // rules that say nothing of a card on a sheet
	PDF     []byte
}

// mostCard bounds a card's file.
const mostCard = 256 << 20

// coarse pixels blur where the bleed of a card ends by more than its rules forgive.
const coarseUm = 100

// cards gives every design of the sheet once.
func (j *judge) cards(a *art.Art) []Card {
	var list []Card
	for i, f := range j.faces {
		for _, g := range j.groups[i] {
			c := slices.MinFunc(g.cells, func(a, b *cell) int { return a.number - b.number })
			name := lower(f.nth(c))
			if n := len(g.cells) - 1; n > 0 {
				name += fmt.Sprintf(" and %d more like it", n)
			}
			cut := cutPage
			if a.PDF == nil {
				cut = f.cutPicture
			}
			if b, ok := cut(a.Sides[i], c.trim, j.want.Ticket.Bleed); ok {
				list = append(list, Card{Name: name, Without: f.beyondCards(), PDF: b})
			}
		}
	}
	return list
}

// beyondCards are the rules that say nothing of a card on this side of the sheet. A
// sheet's page holds one side of each card, which sheet-turn compares with the other;
// cards that share cuts have no bleed of their own on all edges.
func (f *face) beyondCards() []string {
	without := []string{"side-count", "pair-size", "pair-turn"}
	gap, any := f.leastGap()
	if any && gap <= gapSlack || f.picture != nil && f.picture.um > coarseUm {
		without = append(without, "bleed-extent", "bleed-fill")
	}
	return without
}

// cutPicture writes a page that shows the part of a raster around a cell.
func (f *face) cutPicture(s *art.Side, trim rules.Box, bleed rules.Length) ([]byte, bool) {
	um := f.picture.um
	px := func(l rules.Length) int { return int(math.Round(float64(l) / um)) }
	zone := trim.Inset(-bleed)
	part := image.Rect(px(zone.X), px(zone.Y), px(zone.Right()), px(zone.Bottom())).Intersect(image.Rect(0, 0, f.picture.w, f.picture.h))
	points := func(n float64) float64 { return n * um / float64(rules.Inch) * 72 }
	file := write.NewFile(mostCard)
	picture, err := embed.Part(file, s, part)
	if err != nil {
		return nil, false
	}
	w, h := points(float64(part.Dx())), points(float64(part.Dy()))
	x, y := trim.X.Points()-points(float64(part.Min.X)), trim.Y.Points()-points(float64(part.Min.Y))
	root, tree := file.Reserve(), file.Reserve()
	paint := file.Deflated("", fmt.Appendf(nil, "%f 0 0 %f 0 0 cm /P Do", w, h))
	kid := file.Add(fmt.Sprintf("<</Type/Page/Parent %s/MediaBox%s/TrimBox%s/Resources<</XObject<</P %s>>>>/Contents %s>>",
		write.Reference(tree), write.Numbers(0, 0, w, h), write.Numbers(x, h-y-trim.H.Points(), x+trim.W.Points(), h-y), picture, paint))
	file.Set(tree, "<</Type/Pages/Count 1/Kids["+kid+"]>>")
	file.Set(root, "<</Type/Catalog/Pages "+write.Reference(tree)+">>")
	b := file.Bytes("/Root " + write.Reference(root))
	return b, !file.Full()
}

// cutPage writes a page with its boxes set around a cell.
func cutPage(s *art.Side, trim rules.Box, bleed rules.Length) ([]byte, bool) {
	doc, page := s.Document(), s.Page
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
