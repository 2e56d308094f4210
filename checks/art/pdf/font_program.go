package pdf

import (
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"stoneproof/checks/art/pdf/syntax"
)

// outlines gives the ink of a font program's glyphs.
type outlines interface {
	// ink is the box of a glyph's outline in ems; Empty for a blank glyph. ok is
	// false where it cannot be told.
	ink(glyph int) (box Rect, ok bool)
}

// fontProgram reads a program once, whichever fonts use it.
func (d *Document) fontProgram(o types.Object) outlines {
	id := syntax.ObjectNumber(o)
	if p, ok := d.programs[id]; ok {
		return p
	}
	p := readProgram(d.fontStream(o))
	d.programs[id] = p
	return p
}

// fontStream decodes a program or a map of a font within the document's budget.
// Beyond it fonts are still known by name, but not measured.
func (d *Document) fontStream(o types.Object) []byte {
	b, err := d.decodeFrom(&d.fontBytes, o)
	if err != nil {
		return nil
	}
	return b
}

// readProgram tells the kinds of font program apart by their first bytes; the
// dictionaries' word for it is wrong too often. Nil if it cannot be read.
func readProgram(b []byte) (o outlines) {
	defer func() {
		if recover() != nil {
			o = nil
		}
	}()
	data := fontData(b)
	switch tag := data.u32(0); {
	case tag == 0x4f54544f: // OTTO
		if f := newCFF(sfntTables(data)["CFF "]); f != nil {
			return f
		}
	case tag == 0x00010000 || tag == 0x74727565: // 1.0, true
		if f := newTrueType(data); f != nil {
			return f
		}
	case data.u8(0) == 1 && data.u8(1) == 0:
		if f := newCFF(data); f != nil {
			return f
		}
	default:
		if f := newType1(b); f != nil {
			return f
		}
	}
	return nil
}
