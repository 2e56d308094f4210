package checks

import (
	"fmt"
	"strings"

	"stoneproof/checks/art"
	"stoneproof/checks/art/pdf"
	"stoneproof/rules"
)

// PageBoxes judges that a page's boxes are there, lie inside each other and
// agree (ISO 32000-1, 14.11.2), and that the file is what it claims to be.
var PageBoxes = &Check{
	Rule:  "page-boxes",
	Needs: Items,
	Side:  pageBoxes,
	File:  claimsKept,
}

// boxSlack is what boxes may disagree by without harm: writers round points to
// two decimals (0.01 pt is 0.0035 mm), some to whole tenths.
var boxSlack = rules.Points(0.2)

func pageBoxes(p *Pass) {
	page := p.Side.Page
	if p.nothingIn("page boxes") {
		return
	}
	before := len(*p.findings)
	p.boxTrouble(page)
	p.trimBoxThere(page)
	p.nested(page)
	p.cropped(page)
	if len(*p.findings) == before {
		p.Report(rules.Finding{Verdict: rules.Pass, Basis: rules.Read, Message: "Page boxes are there and nested: " + boxNames(page) + "."})
	}
}

func (p *Pass) boxTrouble(page *pdf.Page) {
	if len(page.BoxTrouble) == 0 {
		return
	}
	p.Report(rules.Finding{
		Verdict: rules.Fail, Basis: rules.Read,
		Message: sentence(strings.ToUpper(page.BoxTrouble[0][:1]) + strings.Join(page.BoxTrouble, "; ")[1:]),
		Fix:     "Export the PDF again; if the boxes were set by hand, set them inside the page.",
	})
}

// trimBoxThere warns where the page does not say where the knife goes.
func (p *Pass) trimBoxThere(page *pdf.Page) {
	if page.Trim != nil || page.Art != nil {
		return
	}
	f := rules.Finding{Verdict: rules.Warn, Basis: rules.Read, Message: "The page has no TrimBox, so it does not say where the knife goes."}
	if p.Side.Placed() {
		f.Message = fmt.Sprintf("The page has no TrimBox; the trim was placed %s.", p.Side.Placing)
	}
	f.Fix = fmt.Sprintf("Export with page size %s and a bleed of %s an edge, so that the program writes a TrimBox; crop marks are not needed.",
		p.Size(p.Ticket.TrimFor(p.Side.Stated)), p.Length(p.Ticket.Bleed))
	p.Report(f)
}

// nested fails boxes that do not hold what they must: the trim lies in the
// BleedBox, and no page has both a TrimBox and an ArtBox that differ (PDF/X
// allows but one of them).
func (p *Pass) nested(page *pdf.Page) {
	trim := page.Trim
	if trim == nil {
		trim = page.Art
	}
	if trim == nil || p.Side.Placing == art.Unplaced {
		return
	}
	if b := page.Bleed; b != nil && !contains(*b, *trim) {
		short, by := nearest(p.Side.Box(*trim), p.Side.Box(*b))
		p.Report(rules.Finding{
			Verdict: rules.Fail, Basis: rules.Read, Edge: short,
			Message: fmt.Sprintf("The BleedBox does not hold the TrimBox: it ends %s inside it at the %s edge.", p.About(-by), short),
			Fix:     fmt.Sprintf("Set the BleedBox %s outside the TrimBox on every edge.", p.Length(p.Ticket.Bleed)),
		})
	}
}

// cropped warns where the CropBox hides bleed: it has no meaning for the
// printed page, but some programs place a page by it.
func (p *Pass) cropped(page *pdf.Page) {
	if page.Crop == nil || !p.Side.Placed() {
		return
	}
	shown := p.Side.RoomTo(*page.Crop)
	for _, e := range rules.AllEdges {
		wanted := min(p.Ticket.Bleed, p.Side.Room.Of(e))
		if shown.Of(e) < wanted-boxSlack {
			p.Report(rules.Finding{
				Verdict: rules.Warn, Basis: rules.Read, Edge: e,
				Measured: rules.ValueMM(shown.Of(e)), Wanted: rules.AtLeastMM(wanted),
				Message: fmt.Sprintf("The CropBox hides the bleed: at the %s edge it shows %s beyond the trim of the %s there; some programs place by it.",
					e, p.About(max(0, shown.Of(e))), p.About(wanted)),
				Fix: "Remove the CropBox, or set it to the MediaBox.",
			})
			return
		}
	}
}

func contains(outer, inner pdf.Rect) bool { return outer.Contains(inner, boxSlack.Points()) }

func boxNames(page *pdf.Page) string {
	names := []string{"MediaBox"}
	for _, b := range []struct {
		name string
		box  *pdf.Rect
	}{{"CropBox", page.Crop}, {"BleedBox", page.Bleed}, {"TrimBox", page.Trim}, {"ArtBox", page.Art}} {
		if b.box != nil {
			names = append(names, b.name)
		}
	}
	return strings.Join(names, ", ")
}
