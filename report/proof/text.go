package proof

import (
	"fmt"
	"image"
	"image/color"
	"strings"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"stoneproof/report"
)

// style is a kind of type.
type style int

const (
	plain style = iota
	bold
	small
	title
)

// lineHeight is from one line of plain type to the next.
const lineHeight = 32

// fonts are the two that are used, parsed once.
var fonts = sync.OnceValue(func() [2]*sfnt.Font {
	return [2]*sfnt.Font{parsed(goregular.TTF), parsed(gobold.TTF)}
})

func parsed(ttf []byte) *sfnt.Font {
	f, err := sfnt.Parse(ttf)
	if err != nil {
		panic("proof: " + err.Error() + " (bug)") // the bytes are the module's
	}
	return f
}

// typeface has a face for each style. It may be used by one goroutine at a time.
type typeface [4]font.Face

func newTypeface() typeface {
	f := fonts()
	return typeface{plain: sized(f[0], 22), bold: sized(f[1], 22), small: sized(f[0], 18), title: sized(f[1], 27)}
}

func sized(f *sfnt.Font, px float64) font.Face {
	// At 72 dots an inch a point is a pixel.
	face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: px, DPI: 72, Hinting: font.HintingNone})
	if err != nil {
		panic("proof: " + err.Error() + " (bug)")
	}
	return face
}

func (t typeface) width(text string, s style) float64 {
	return float64(font.MeasureString(t[s], text)) / 64
}

// wrapped cuts text into lines of at most the width; a word that is longer is cut.
func (t typeface) wrapped(text string, width float64, s style) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(plainly(text)) {
		if line != "" && t.width(line+" "+word, s) > width {
			lines, line = append(lines, line), ""
		}
		if line != "" {
			word = line + " " + word
		}
		line = t.shortened(word, width, s)
	}
	return append(lines, line)
}

// shortened cuts text in the middle until it takes at most the width.
func (t typeface) shortened(text string, width float64, s style) string {
	if len(text) > mostLetters {
		text = text[:mostLetters/2] + text[len(text)-mostLetters/2:]
		text = strings.ToValidUTF8(text, "")
		width = min(width, t.width(text, s)-1) // so that the cut is seen
	}
	if t.width(text, s) <= width {
		return text
	}
	rs := []rune(text)
	for keep := len(rs) - 1; keep > 0; keep-- {
		short := string(rs[:(keep+1)/2]) + "…" + string(rs[len(rs)-keep/2:])
		if t.width(short, s) <= width {
			return short
		}
	}
	return "…"
}

// mostLetters bounds the bytes of a name that are looked at.
const mostLetters = 400

// plainly makes a text that a file controls harmless: what cannot be seen, turns the
// writing round or has no letter in the fonts is written as an escape.
func plainly(text string) string {
	var b strings.Builder
	var buf sfnt.Buffer
	for _, r := range report.Visible(text) {
		if i, err := fonts()[0].GlyphIndex(&buf, r); err != nil || i == 0 {
			fmt.Fprintf(&b, `\u%04x`, r)
			continue
		}
		b.WriteRune(r)
	}
	return b.String()
}

// write draws a line of text from its left end on the base line.
func (d *drawing) write(text string, at pt, c color.Color, s style) {
	w := font.Drawer{Dst: d.on.img, Src: image.NewUniform(c), Face: d.type_[s], Dot: fixed.Point26_6{
		X: fixed.Int26_6(at.x * 64), Y: fixed.Int26_6(at.y * 64),
	}}
	w.DrawString(text)
}
