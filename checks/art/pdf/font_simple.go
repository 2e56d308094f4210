package pdf

import (
	"strings"

	corefont "github.com/pdfcpu/pdfcpu/pkg/font"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
	"golang.org/x/text/encoding/charmap"
)

// loadNames works out the glyph names of the codes (9.6.6): a base, changed by
// Differences. Where the font has its own encoding the names stay empty.
func (f *Font) loadNames(o types.Object) {
	d := f.doc
	enc := d.Dict(o)
	base := codeNames(d.Name(o))
	if enc != nil {
		base = codeNames(d.Name(enc["BaseEncoding"]))
	}
	f.encoded = base != nil
	if base == nil && f.startsStandard() {
		base = codeNames("StandardEncoding")
	}
	if base != nil {
		f.names = *base
	}
	at := 0
	for _, o := range d.fontArray(enc["Differences"]) {
		switch x := d.Get(o).(type) {
		case types.Name:
			if at >= 0 && at < 256 {
				f.names[at] = string(x)
			}
			at++
		default:
			at = d.Integer(x, at)
		}
	}
}

// startsStandard tells whether codes mean what StandardEncoding says as long as
// nothing else is said (Table 114).
func (f *Font) startsStandard() bool {
	if f.program == nil {
		std := standardName(f.Name)
		return !f.symbolic || std != "" && std != "Symbol" && std != "ZapfDingbats"
	}
	return f.Subtype == "TrueType" && !f.symbolic
}

// standardName gives the name of the standard font that a name means, with the
// other names that readers take for them; "" if none.
func standardName(name string) string {
	if corefont.IsCoreFont(name) {
		return name
	}
	family, style, _ := strings.Cut(strings.ReplaceAll(name, ",", "-"), "-")
	bold := strings.Contains(style, "Bold")
	slant := strings.Contains(style, "Italic") || strings.Contains(style, "Oblique")
	pick := func(plain, b, i, bi string) string {
		switch {
		case bold && slant:
			return bi
		case bold:
			return b
		case slant:
			return i
		}
		return plain
	}
	switch family {
	case "Arial", "ArialMT", "Helvetica":
		return pick("Helvetica", "Helvetica-Bold", "Helvetica-Oblique", "Helvetica-BoldOblique")
	case "TimesNewRoman", "TimesNewRomanPS", "TimesNewRomanPSMT", "Times":
		return pick("Times-Roman", "Times-Bold", "Times-Italic", "Times-BoldItalic")
	case "CourierNew", "CourierNewPS", "CourierNewPSMT", "Courier":
		return pick("Courier", "Courier-Bold", "Courier-Oblique", "Courier-BoldOblique")
	}
	return ""
}

// standardWidths fills in what a file may leave out for the standard fonts.
func (f *Font) standardWidths(std string) {
	for code, name := range f.names {
		at := code
		if std != "Symbol" && std != "ZapfDingbats" {
			b, ok := charmap.Windows1252.EncodeRune(charOf(name))
			if !ok {
				continue
			}
			at = int(b)
		}
		if w, err := corefont.CharWidth(std, rune(at)); err == nil {
			f.widths = append(f.widths, widthRange{code, code, float64(w) / 1000})
		}
	}
}

func (f *Font) simpleGlyph(code int) glyph {
	name := f.names[code&255]
	char := charOf(name)
	g := glyph{width: f.width(code)}
	if char != 0 {
		g.text = string(char)
	}
	switch p := f.program.(type) {
	case *trueType:
		lookup := char
		if f.symbolic && !f.encoded && p.charMap(3, 0) != nil {
			lookup = 0
		}
		g.ink, g.exact = p.ink(p.glyphFor(code, lookup))
	case *cff:
		id := p.named(name)
		if name == "" || id == 0 && name != ".notdef" {
			id = p.encoding[code&255]
			if char = charOf(p.name(id)); char != 0 {
				g.text = string(char)
			}
		}
		g.ink, g.exact = p.ink(id)
	case *type1:
		if name == "" {
			name = p.encoding[code&255]
			if char = charOf(name); char != 0 {
				g.text = string(char)
			}
		}
		g.ink, g.exact = p.inkOf(name)
	}
	if !g.exact {
		g.ink = f.estimate(char, g.width)
	}
	return g
}

// estimate guesses the ink of a glyph from what it means, rather too much of it
// than too little.
func (f *Font) estimate(char rune, width float64) Rect {
	m := f.metrics
	if m == (verticals{}) {
		m = verticals{0.95, -0.25, 0.74, 0.55}
	}
	top, bottom := max(m.ascent, m.caps), m.descent
	const overshoot = 0.02 // round letters pass their lines by about so much
	switch {
	case char == ' ' || char == '\u00a0':
		return nowhere()
	case char == 0:
	case strings.ContainsRune("acemnorsuvwxz", char):
		top, bottom = m.x, -overshoot
	case strings.ContainsRune("gpqy", char):
		top = m.x
	case strings.ContainsRune("bdfhkl", char): // often taller than capitals
		top, bottom = max(m.caps, 0.74)+0.05, -overshoot
	case strings.ContainsRune("it0123456789", char) || char >= 'A' && char <= 'Z' && char != 'J' && char != 'Q':
		top, bottom = max(m.caps, 0.74), -overshoot
	}
	return Rect{0, bottom, width, top + overshoot}
}
