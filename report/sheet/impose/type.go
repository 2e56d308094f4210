package impose

import (
	"fmt"
	"strings"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"stoneproof/checks/art/pdf"
)

// Type is drawn as outlines, so that no font has to travel with the sheet. The face
// is Go Regular (BSD licence).
var face = sync.OnceValue(func() *sfnt.Font {
	f, err := sfnt.Parse(goregular.TTF)
	if err != nil {
		panic("impose: the Go font no longer parses: " + err.Error())
	}
	return f
})

// perEm is the resolution at which outlines are read: the face's own units.
const perEm = 2048

// width is how wide a line of type is, in its own size.
func width(line string) float64 {
	var buf sfnt.Buffer
	sum := fixed.Int26_6(0)
	for _, r := range line {
		g, err := face().GlyphIndex(&buf, r)
		if err != nil {
			continue
		}
		if a, err := face().GlyphAdvance(&buf, g, fixed.I(perEm), font.HintingNone); err == nil {
			sum += a
		}
	}
	return float64(sum) / 64 / perEm
}

// shorten cuts a line so that it is no wider than most, in its own size.
func shorten(line string, most float64) string {
	if width(line) <= most {
		return line
	}
	letters := []rune(line)
	for n := len(letters) - 1; n > 0; n-- {
		if s := strings.TrimRight(string(letters[:n]), " ·,") + "…"; width(s) <= most {
			return s
		}
	}
	return ""
}

// set draws a line of type in plain black: m maps a space in which the type is 1
// high, its base line at y 0 beginning at x 0, y up, to the page.
func (c *canvas) set(line string, m pdf.Matrix) {
	var buf sfnt.Buffer
	c.out.WriteString("q 0 g\n")
	x := 0.0
	for _, r := range line {
		g, err := face().GlyphIndex(&buf, r)
		if err != nil {
			continue
		}
		if outline, err := face().LoadGlyph(&buf, g, fixed.I(perEm), nil); err == nil {
			c.glyph(outline, pdf.Matrix{1. / perEm, 0, 0, -1. / perEm, x, 0}.Mul(m))
		}
		if a, err := face().GlyphAdvance(&buf, g, fixed.I(perEm), font.HintingNone); err == nil {
			x += float64(a) / 64 / perEm
		}
	}
	c.out.WriteString("f Q\n")
}

// glyph adds an outline to the path; y of the face points down.
func (c *canvas) glyph(outline sfnt.Segments, m pdf.Matrix) {
	var at pdf.Point
	point := func(p fixed.Point26_6) pdf.Point { return m.At(float64(p.X)/64, float64(p.Y)/64) }
	for i, s := range outline {
		p := point(s.Args[0])
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			if i > 0 {
				c.out.WriteString("h\n")
			}
			fmt.Fprintf(&c.out, "%s m\n", short(p))
			at = p
		case sfnt.SegmentOpLineTo:
			fmt.Fprintf(&c.out, "%s l\n", short(p))
			at = p
		case sfnt.SegmentOpQuadTo: // raised to a cubic: controls two thirds of the way
			to := point(s.Args[1])
			c1 := pdf.Point{X: at.X + (p.X-at.X)*2/3, Y: at.Y + (p.Y-at.Y)*2/3}
			c2 := pdf.Point{X: to.X + (p.X-to.X)*2/3, Y: to.Y + (p.Y-to.Y)*2/3}
			fmt.Fprintf(&c.out, "%s %s %s c\n", short(c1), short(c2), short(to))
			at = to
		case sfnt.SegmentOpCubeTo:
			at = point(s.Args[2])
			fmt.Fprintf(&c.out, "%s %s %s c\n", short(p), short(point(s.Args[1])), short(at))
		}
	}
	if len(outline) > 0 {
		c.out.WriteString("h\n")
	}
}

// short writes a point to a thousandth of a point, which is a third of a micrometre.
func short(p pdf.Point) string { return fmt.Sprintf("%.3f %.3f", p.X, p.Y) }
