package press

import (
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/gomedium"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/gofont/gosmallcaps"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// face is a typeface: one of the Go fonts (BSD licence), as TrueType.
type face struct {
	name string
	ttf  []byte
	font func() *sfnt.Font
}

func newFace(name string, ttf []byte) *face {
	return &face{name, ttf, sync.OnceValue(func() *sfnt.Font {
		f, err := sfnt.Parse(ttf)
		if err != nil {
			panic("press: the Go fonts no longer parse: " + err.Error())
		}
		return f
	})}
}

// The faces in use.
var (
	roman  = newFace("GoRegular", goregular.TTF)
	bold   = newFace("Go-Bold", gobold.TTF)
	italic = newFace("Go-Italic", goitalic.TTF)
	medium = newFace("GoMedium", gomedium.TTF)
	caps   = newFace("GoSmallcaps", gosmallcaps.TTF)
)

// unitsPerEm is that of all Go fonts; advances and outlines are asked for at
// this size, so they come back in font units.
const unitsPerEm = 2048

// text is a line of type.
type text struct {
	s     string
	face  *face
	size  float64 // pt
	track float64 // pt added after each letter
	ink   ink
}

// mmPerPt: one inch is 25.4 mm is 72 pt.
const mmPerPt = 25.4 / 72

// unit is a font unit at the text's size, in millimetres.
func (t text) unit() float64 { return t.size * mmPerPt / unitsPerEm }

// glyph is a letter of the face: its index, its advance in font units.
type glyph struct {
	r       rune
	index   sfnt.GlyphIndex
	advance int
}

func (t text) glyphs() []glyph {
	var b sfnt.Buffer
	var out []glyph
	f := t.face.font()
	for _, r := range t.s {
		i, err := f.GlyphIndex(&b, r)
		if err != nil || i == 0 {
			panic("press: no letter " + string(r) + " in " + t.face.name)
		}
		adv, err := f.GlyphAdvance(&b, i, fixed.I(unitsPerEm), font.HintingNone)
		if err != nil {
			panic("press: " + err.Error())
		}
		out = append(out, glyph{r, i, adv.Round()})
	}
	return out
}

// width is how far the line runs, in millimetres, the last letter's tracking
// not counted.
func (t text) width() float64 {
	sum := 0
	gs := t.glyphs()
	for _, g := range gs {
		sum += g.advance
	}
	return float64(sum)*t.unit() + float64(len(gs)-1)*t.track*mmPerPt
}

// outline is the shape of the letters, from the baseline start at.
func (t text) outline(at pt) path {
	var b sfnt.Buffer
	var out path
	x := at.x
	for _, g := range t.glyphs() {
		segs, err := t.face.font().LoadGlyph(&b, g.index, fixed.I(unitsPerEm), nil)
		if err != nil {
			panic("press: " + err.Error())
		}
		out = append(out, letter(segs, affine{t.unit(), 0, 0, t.unit(), x, at.y})...)
		x += float64(g.advance)*t.unit() + t.track*mmPerPt
	}
	return out
}

// letter turns an outline in font units, y down, into a path.
func letter(segs sfnt.Segments, m affine) path {
	var out path
	var last pt
	open := false
	for _, s := range segs {
		a, b, c := unfix(m, s.Args[0]), unfix(m, s.Args[1]), unfix(m, s.Args[2])
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			if open {
				out = out.close()
			}
			open, out, last = true, out.to(a.x, a.y), a
		case sfnt.SegmentOpLineTo:
			out, last = out.line(a.x, a.y), a
		case sfnt.SegmentOpQuadTo:
			out = out.curve(last.x+(a.x-last.x)*2/3, last.y+(a.y-last.y)*2/3, b.x+(a.x-b.x)*2/3, b.y+(a.y-b.y)*2/3, b.x, b.y)
			last = b
		case sfnt.SegmentOpCubeTo:
			out, last = out.curve(a.x, a.y, b.x, b.y, c.x, c.y), c
		}
	}
	if open {
		out = out.close()
	}
	return out
}

func unfix(m affine, p fixed.Point26_6) pt {
	return m.at(pt{float64(p.X) / 64, float64(p.Y) / 64})
}

// reach is the box that the letters' ink fills, baseline starting at the origin.
func (t text) reach() rect {
	lo, hi := pt{1e9, 1e9}, pt{-1e9, -1e9}
	for _, run := range t.outline(pt{}).flat(.01) {
		for _, p := range run.at {
			lo = pt{min(lo.x, p.x), min(lo.y, p.y)}
			hi = pt{max(hi.x, p.x), max(hi.y, p.y)}
		}
	}
	return rect{lo.x, lo.y, hi.x - lo.x, hi.y - lo.y}
}
