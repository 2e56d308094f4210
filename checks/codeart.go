package checks

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"stoneproof/checks/art"
	"stoneproof/checks/art/pdf"
	"stoneproof/checks/art/raster"
	"stoneproof/checks/codes"
	"stoneproof/rules"
)

// mayHoldCode reports whether there is anything on the side that a code could be
// drawn with: a picture, many small shapes, or type that draws blocks. A page without
// any is not drawn for this.
func (p *Pass) mayHoldCode() bool {
	if p.Side.Page == nil {
		return true
	}
	content, err := p.Side.Content()
	if err != nil || content.Truncated || len(content.Notes) > 0 {
		return true
	}
	if slices.ContainsFunc(content.Images, func(i pdf.Image) bool { return i.Seen() }) ||
		slices.ContainsFunc(content.Texts, drawsBlocks) {
		return true
	}
	pieces := 0.0
	for i := range content.Paths {
		if content.Paths[i].Seen() {
			pieces += piecesOf(&content.Paths[i])
		}
	}
	return pieces >= fewestPieces
}

// fewestPieces is what even the smallest code takes: of its 21 rows each has some five
// dark runs, and whoever joins runs of several rows still needs about sixty shapes.
const fewestPieces = 50

// piecesOf is how many dark runs of a code a path could be. A shape has at least
// three segments and a closing; each stroke is one run, and each dash.
func piecesOf(path *pdf.Path) float64 {
	n := float64(path.Segments)
	switch {
	case path.Dashed:
		return 8 * n
	case path.Stroked:
		return n
	}
	return n / 4
}

// drawsBlocks reports whether a text may draw the modules of a code: by the block
// elements and squares of Unicode (U+2580 to U+25FF), or by a font made for codes.
func drawsBlocks(t pdf.Text) bool {
	if !t.Seen() {
		return false
	}
	if strings.ContainsFunc(t.String, func(r rune) bool { return r >= 0x2580 && r <= 0x25ff }) {
		return true
	}
	name := ""
	if t.Font != nil {
		name = strings.ToLower(t.Font.Name)
	}
	return strings.Contains(name, "qr") || strings.Contains(name, "barcode") || strings.Contains(name, "matrix")
}

// mostSuspects bounds how many places are looked at closely; a side has room for few
// codes, and the likeliest come first.
const mostSuspects = 8

// suspect is a place on the side where a code may be.
type suspect struct {
	box    rules.Box
	module float64 // micrometres, about
}

// codesOn finds the codes on a side: places where they may be on the side's paint,
// and then each place closely, as printed.
func (p *Pass) codesOn(paint *art.Paint) ([]printedCode, error) {
	suspects := suspectsOn(paint)
	if part, many := p.fineShapes(); many {
		detail, err := p.Side.Detail(p.Ctx, part, finePPI)
		if err != nil {
			return nil, err
		}
		if detail != nil {
			suspects = append(suspects, suspectsOn(detail)...)
		}
	}
	var found []printedCode
	for _, s := range suspects[:min(len(suspects), mostSuspects)] {
		if slices.ContainsFunc(found, func(c printedCode) bool { return c.box.Within(s.box) }) {
			continue
		}
		plane, at, err := p.closely(s)
		if err != nil {
			return nil, err
		}
		for _, c := range codes.Read(plane, p.dot()) {
			placed := p.placedCode(c, at)
			if !slices.ContainsFunc(found, func(d printedCode) bool { return !d.box.Intersect(placed.box).Empty() }) {
				found = append(found, placed)
			}
		}
	}
	return found, nil
}

func suspectsOn(paint *art.Paint) []suspect {
	var out []suspect
	at := rules.Box{X: paint.X, Y: paint.Y}
	for _, s := range codes.Suspects(luma(paint)) {
		out = append(out, suspect{boxAt(at, s.X0, s.Y0, s.X1, s.Y1), s.Module})
	}
	return out
}

// finePPI is the resolution at which fine shapes are looked for a code.
const finePPI = 1200

// fineShapes is the box about what may be a code of modules too small for the paint's
// resolution: rectangles as fine as small modules drawn one by one, which the renderer
// grows to whole pixels each so that they may run together, or one square shape of as
// many pieces.
func (p *Pass) fineShapes() (around rules.Box, many bool) {
	if p.Side.Page == nil {
		return around, false
	}
	content, err := p.Side.Content()
	if err != nil {
		return around, false
	}
	n := 0.0
	for i := range content.Paths {
		path := &content.Paths[i]
		b := p.Side.Box(path.Full)
		pieces := finePieces(path, b)
		if pieces == 0 {
			continue
		}
		n += pieces
		around = around.Union(b)
	}
	return around.Inset(-rules.Millimetre), n >= fewestPieces
}

// finePieces is how many modules of a fine code a filled path in its box may be. A code
// turned by any angle has a square box, too.
func finePieces(path *pdf.Path, b rules.Box) float64 {
	const fine, long, code = 300 * rules.Micrometre, 2500 * rules.Micrometre, 8 * rules.Millimetre
	longer, shorter := max(b.W, b.H), min(b.W, b.H)
	switch {
	case !path.Seen() || !path.Filled || path.InPattern:
		return 0
	case path.Rectangle && shorter <= fine && longer <= long:
		return 1
	case longer <= code && 20*longer <= 21*shorter && piecesOf(path) >= fewestPieces:
		return piecesOf(path)
	}
	return 0
}

// dot is the size of the printer's dot, micrometres: the least module is four.
func (p *Pass) dot() float64 { return float64(p.Ticket.Limits.CodeModuleLeast) / 4 }

// closely is a part of the side as press and paper show it, fine enough for modules of
// so many micrometres, and the trim coordinates of its top left corner.
func (p *Pass) closely(s suspect) (codes.Plane, rules.Box, error) {
	const fine, dots = 6, 600 // pixels a module; ppi
	detail, err := p.Side.Detail(p.Ctx, s.box, max(dots, min(4*dots, fine*25400/s.module)))
	if err != nil || detail == nil {
		return codes.Plane{}, s.box, err
	}
	at := rules.Box{X: detail.X, Y: detail.Y}
	if h := p.Side.Header; h != nil && h.Space == raster.CMYK {
		plates, err := p.Side.Plates(p.Ctx, art.PartWhole, 0)
		if err != nil {
			return codes.Plane{}, s.box, err
		}
		return screened(plates, detail), at, nil
	}
	return printedLight(detail), at, nil
}

// placedCode puts a code into trim coordinates.
func (p *Pass) placedCode(c codes.Code, at rules.Box) printedCode {
	placed := printedCode{Code: c, module: rules.Length(math.Round(c.Module))}
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, q := range c.Corners {
		x0, y0, x1, y1 = min(x0, q.X), min(y0, q.Y), max(x1, q.X), max(y1, q.Y)
	}
	placed.box = boxAt(at, x0, y0, x1, y1)
	placed.quiet, placed.edge = leastQuiet(c)
	edge, far := nearest(placed.box, p.Side.Card())
	if room := float64(far) / c.Module; room < placed.quiet {
		placed.quiet, placed.edge, placed.atTrim = room, edge, true
	}
	placed.wording = fmt.Sprintf("The QR code%s %s", saying(c.Text), p.place(placed.box))
	return placed
}

// boxAt is a box in micrometres from a place in trim coordinates.
func boxAt(at rules.Box, x0, y0, x1, y1 float64) rules.Box {
	whole := func(v float64) rules.Length { return rules.Length(math.Round(v)) }
	return rules.Box{X: at.X + whole(x0), Y: at.Y + whole(y0), W: whole(x1) - whole(x0), H: whole(y1) - whole(y0)}
}

// leastQuiet is the side of a code with the least bare ground, told by where it lies
// on the card.
func leastQuiet(c codes.Code) (modules float64, e rules.Edge) {
	modules = math.Inf(1)
	middle := codes.Point{X: (c.Corners[0].X + c.Corners[2].X) / 2, Y: (c.Corners[0].Y + c.Corners[2].Y) / 2}
	for k, free := range c.Quiet {
		if free >= modules {
			continue
		}
		a, b := c.Corners[k], c.Corners[(k+1)%4]
		x, y := (a.X+b.X)/2-middle.X, (a.Y+b.Y)/2-middle.Y
		modules = free
		switch {
		case math.Abs(x) > math.Abs(y) && x > 0:
			e = rules.Right
		case math.Abs(x) > math.Abs(y):
			e = rules.Left
		case y > 0:
			e = rules.Bottom
		default:
			e = rules.Top
		}
	}
	return modules, e
}

// saying tells what a code holds, shortened and with nothing in it that acts on a
// terminal. What lets a guest in is not told.
func saying(text string) string {
	upper := strings.ToUpper(text)
	for start, what := range map[string]string{
		"BEGIN:VCARD": "a contact card", "MECARD:": "a contact card", "WIFI:": "a Wi-Fi login", "BEGIN:VEVENT": "a date",
	} {
		if strings.HasPrefix(upper, start) {
			return fmt.Sprintf(" with %s of %d characters", what, utf8.RuneCountInString(text))
		}
	}
	if text == "" {
		return ""
	}
	return fmt.Sprintf(" %q", shorten(text))
}
