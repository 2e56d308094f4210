package pdf

import (
	"slices"
	"strings"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// loadComposite reads a Type 0 font and its one descendant (9.7).
func (f *Font) loadComposite(dict types.Dict) {
	d := f.doc
	f.composite = true
	var child types.Dict
	if a := d.Array(dict["DescendantFonts"]); len(a) > 0 {
		child = d.Dict(a[0])
	}
	f.describe(d.Dict(child["FontDescriptor"]))
	f.loadCodes(dict["Encoding"])
	f.missing = d.NumberOr(child["DW"], 1000) / 1000
	f.loadCIDWidths(d.fontArray(child["W"]))
	if _, ok := d.Get(child["CIDToGIDMap"]).(types.StreamDict); ok {
		f.cidToGID = d.fontStream(child["CIDToGIDMap"])
	}
}

// loadCodes reads the encoding: a CMap in the file or the name of one. Of the named
// ones only the Identity maps are known in full; those with "UCS2" or "UTF16" in
// their names still tell the text.
func (f *Font) loadCodes(o types.Object) {
	d := f.doc
	if sd, ok := d.Get(o).(types.StreamDict); ok {
		if b := d.fontStream(o); b != nil {
			f.codes = parseCMap(b, d.lim.Operands)
			f.vertical = f.codes.vertical || d.Integer(sd.Dict["WMode"], 0) == 1
		}
		return
	}
	name := d.Name(o)
	f.vertical = strings.HasSuffix(name, "-V")
	f.ucs = strings.Contains(name, "UCS2") || strings.Contains(name, "UTF16")
	if !strings.HasPrefix(name, "Identity") {
		f.program = nil // which glyph a code means is in a map that we do not have
		f.Measured = false
	}
}

// loadCIDWidths reads W: "c [w …]" and "first last w" (9.7.4.3).
func (f *Font) loadCIDWidths(a types.Array) {
	d := f.doc
	for i := 0; i+1 < len(a); {
		first := d.Integer(a[i], 0)
		if _, ok := d.Get(a[i+1]).(types.Array); ok {
			for k, w := range d.fontArray(a[i+1]) {
				if len(f.widths) < d.lim.Operands {
					f.widths = append(f.widths, widthRange{first + k, first + k, d.NumberOr(w, 0) / 1000})
				}
			}
			i += 2
			continue
		}
		if i+2 < len(a) && len(f.widths) < d.lim.Operands {
			f.widths = append(f.widths, widthRange{first, d.Integer(a[i+1], 0), d.NumberOr(a[i+2], 0) / 1000})
		}
		i += 3
	}
	slices.SortStableFunc(f.widths, func(a, b widthRange) int { return a.lo - b.lo })
}

func (f *Font) compositeGlyph(code, n int) glyph {
	cid := code
	if f.codes != nil {
		cid = f.codes.cid(code, n)
	}
	g := glyph{width: f.width(cid)}
	if f.ucs {
		g.text = string(rune(code))
	}
	switch p := f.program.(type) {
	case *trueType:
		id := cid
		if f.cidToGID != nil {
			id = fontData(f.cidToGID).u16(2 * cid)
		}
		g.ink, g.exact = p.ink(id)
	case *cff:
		id := cid
		if p.cid {
			id = p.glyphs[cid]
		}
		g.ink, g.exact = p.ink(id)
	}
	if !g.exact {
		g.ink = f.estimate(firstRune(f.toUnicode.textOf(code)), g.width)
	}
	if f.vertical { // 9.7.4.3: the default origin is above the middle, the step one em
		const above, step = 0.88, -1
		g.ink = moved(g.ink, -g.width/2, -above)
		g.width = step
	}
	return g
}

func moved(r Rect, dx, dy float64) Rect { return Rect{r.X0 + dx, r.Y0 + dy, r.X1 + dx, r.Y1 + dy} }

func firstRune(s string) rune {
	for _, c := range s {
		return c
	}
	return 0
}
