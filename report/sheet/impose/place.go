package impose

import (
	"bytes"
	"fmt"
	"strconv"

	"stoneproof/checks/art"
	"stoneproof/checks/art/pdf"
	"stoneproof/report/sheet"
	"stoneproof/rules"
)

// canvas is the content of a page in the making, in points with y up.
type canvas struct {
	out   bytes.Buffer
	names map[string]string // of an XObject, by its reference
	order []string
}

// pointsPerUM is a micrometre in points of 1/72 in.
const pointsPerUM = 72.0 / 25400

// toPage maps sheet space, in micrometres with y down, to the page's points.
func toPage(size rules.Size) pdf.Matrix {
	return pdf.Matrix{pointsPerUM, 0, 0, -pointsPerUM, 0, size.H.Points()}
}

// put places a side into a cell: its trim in the middle of the cell's, turned as the
// cell says, at its own size, clipped to the bleed.
func (s Sheet) put(c *canvas, d *drawn, side *art.Side, cell sheet.Cell) {
	m := intoCell(side.Trim, cell).Mul(toPage(s.Plan.Sheet))
	clip := boxOf(m, reach(side)).Intersect(boxOf(toPage(s.Plan.Sheet), cell.Painted()))
	fmt.Fprintf(&c.out, "q %s re W n\n", numbers(clip.X0, clip.Y0, clip.W(), clip.H()))
	for _, p := range d.parts {
		at := p.matrix.Mul(m)
		fmt.Fprintf(&c.out, "q %s cm %s Do Q\n", numbers(at[:]...), c.name(p.ref))
	}
	c.out.WriteString("Q\n")
}

// reach is the card with what there is of paint beyond it: outside lie other things,
// such as a page's own cutting marks.
func reach(side *art.Side) rules.Box {
	b := side.Card()
	r := side.Room
	left, top := max(0, r.Left), max(0, r.Top)
	return rules.Box{X: -left, Y: -top, W: b.W + left + max(0, r.Right), H: b.H + top + max(0, r.Bottom)}
}

// intoCell maps trim coordinates to sheet space: a turn about the middle of the trim,
// which lands on the middle of the cell.
func intoCell(trim rules.Size, cell sheet.Cell) pdf.Matrix {
	middle := pdf.Matrix{1, 0, 0, 1, -float64(trim.W) / 2, -float64(trim.H) / 2}
	// Clockwise as seen, y down.
	turn := map[int]pdf.Matrix{
		0: {1, 0, 0, 1, 0, 0}, 90: {0, 1, -1, 0, 0, 0}, 180: {-1, 0, 0, -1, 0, 0}, 270: {0, -1, 1, 0, 0, 0},
	}[cell.Turn]
	t := cell.Trim
	return middle.Mul(turn).Mul(pdf.Matrix{1, 0, 0, 1, float64(t.X) + float64(t.W)/2, float64(t.Y) + float64(t.H)/2})
}

// boxOf is the image of a box under a matrix that keeps boxes upright.
func boxOf(m pdf.Matrix, b rules.Box) pdf.Rect {
	p, q := m.At(float64(b.X), float64(b.Y)), m.At(float64(b.Right()), float64(b.Bottom()))
	return pdf.Rect{X0: min(p.X, q.X), Y0: min(p.Y, q.Y), X1: max(p.X, q.X), Y1: max(p.Y, q.Y)}
}

// name is an object's name in the page's resources.
func (c *canvas) name(ref string) string {
	if c.names == nil {
		c.names = map[string]string{}
	}
	if c.names[ref] == "" {
		c.names[ref] = "/A" + strconv.Itoa(len(c.order)+1)
		c.order = append(c.order, ref)
	}
	return c.names[ref]
}

func (c *canvas) resources() string {
	var list string
	for _, ref := range c.order {
		list += c.names[ref] + " " + ref
	}
	return "<</XObject<<" + list + ">>>>"
}

// marks draws cutting marks: hairlines in plain black.
func (c *canvas) marks(marks []sheet.Mark, size rules.Size) {
	fmt.Fprintf(&c.out, "q 0 G 0 J %s w\n", numbers(sheet.MarkPoints))
	for _, m := range marks {
		c.line(m, size)
	}
	c.out.WriteString("S Q\n")
}

func (c *canvas) line(m sheet.Mark, size rules.Size) {
	p, q := pdf.Point{X: float64(m.From), Y: float64(m.At)}, pdf.Point{X: float64(m.To), Y: float64(m.At)}
	if m.Upright {
		p, q = pdf.Point{X: float64(m.At), Y: float64(m.From)}, pdf.Point{X: float64(m.At), Y: float64(m.To)}
	}
	to := toPage(size)
	p, q = to.At(p.X, p.Y), to.At(q.X, q.Y)
	fmt.Fprintf(&c.out, "%s m %s l\n", numbers(p.X, p.Y), numbers(q.X, q.Y))
}

// numbers writes numbers with spaces between, as short as they may be: a hundred
// millionth is finer than any place, and as fine as a scale by micrometres asks.
func numbers(v ...float64) string {
	var b []byte
	for i, x := range v {
		if i > 0 {
			b = append(b, ' ')
		}
		b = append(b, number(x)...)
	}
	return string(b)
}

func number(v float64) []byte {
	b := strconv.AppendFloat(nil, v, 'f', 8, 64)
	b = bytes.TrimRight(bytes.TrimRight(b, "0"), ".")
	if len(b) == 0 || string(b) == "-0" || string(b) == "-" {
		return []byte("0")
	}
	return b
}
