package impose

import (
	"stoneproof/checks/art/pdf"
	"stoneproof/report/sheet"
	"stoneproof/rules"
)

// Sizes of the line that names the sheet, in points.
const (
	slugSize  = 6.0
	leastSlug = 4.0
)

// strip is a stretch of the sheet outside all bleeds and between marks, in which type
// may stand: its length is along the type.
type strip struct {
	box     rules.Box
	upright bool // type runs upwards
}

// slug names the sheet in small type outside the cards, if there is room anywhere:
// below them, above them, at their left or right.
func (s Sheet) slug(c *canvas, face string, cells []sheet.Cell) bool {
	best, size := strip{}, 0.0
	for _, t := range s.strips(cells) {
		deep := min(t.box.W, t.box.H).Points()
		if fits := min(slugSize, deep/1.3); fits > size+0.5 {
			best, size = t, fits
		}
	}
	if size < leastSlug {
		return false
	}
	long := max(best.box.W, best.box.H).Points()
	line := face + " · " + s.Slug
	size = max(leastSlug, min(size, long/width(line)))
	if line = shorten(line, long/size); line == "" {
		return false
	}
	c.set(line, best.matrix(size).Mul(pdf.Matrix{1, 0, 0, -1, 0, s.Plan.Sheet.H.Points()}))
	return true
}

// matrix maps type of size 1 to points with y down: its base line lies a quarter of
// its size above the lower edge of the strip.
func (t strip) matrix(size float64) pdf.Matrix {
	b := t.box
	if t.upright {
		return pdf.Matrix{0, -size, -size, 0, b.Right().Points() - size/4, b.Bottom().Points()}
	}
	return pdf.Matrix{size, 0, 0, -size, b.X.Points(), b.Bottom().Points() - size/4}
}

// strips lists the stretches beside the first card in each direction: no mark stands
// there, for marks stand at the corners.
func (s Sheet) strips(cells []sheet.Cell) []strip {
	const clear = rules.Millimetre // of marks and bleeds
	reach, block := s.Plan.Printable(), rules.Box{}
	for _, c := range cells {
		block = block.Union(c.Painted())
	}
	card := cells[0].Trim
	across := func(y, bottom rules.Length) rules.Box {
		return rules.Box{X: card.X + clear, Y: y, W: card.W - 2*clear, H: bottom - y}
	}
	down := func(x, right rules.Length) rules.Box {
		return rules.Box{X: x, Y: card.Y + clear, W: right - x, H: card.H - 2*clear}
	}
	const off = sheet.MarkClear // of the bleed
	return []strip{
		{across(block.Bottom()+off, reach.Bottom()), false},
		{across(reach.Y, block.Y-off), false},
		{down(reach.X, block.X-off), true},
		{down(block.Right()+off, reach.Right()), true},
	}
}
