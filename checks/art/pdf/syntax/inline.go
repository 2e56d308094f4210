package syntax

import (
	"bytes"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// InlineImage reads an inline image, from after its BI to after its EI (8.9.7),
// as an ordinary image with all abbreviations undone. Components tells how many
// a colour space has. Whole is false where the end is missing. Args is only a
// place to work in.
func (o *Objects) InlineImage(l *Lexer, args *Operands, components func(types.Object) int) (sd types.StreamDict, whole bool) {
	dict := inlineDict(l, args)
	sd = types.StreamDict{Dict: dict, FilterPipeline: o.Filters(dict)}
	l.P = min(l.P+1, len(l.B)) // the one white space after ID
	rest := l.B[l.P:]
	n := endOfInline(rest, o.inlineLength(dict, len(sd.FilterPipeline) > 0, components))
	sd.Raw = bytes.TrimRight(rest[:n], "\r\n")
	if len(sd.FilterPipeline) == 0 {
		sd.Raw = rest[:n]
	}
	l.P += n
	return sd, string(l.Next().Raw) == "EI"
}

// inlineDict reads the keys up to ID into an ordinary image dictionary.
func inlineDict(l *Lexer, args *Operands) types.Dict {
	args.Reset()
	for {
		t := l.Next()
		if t.Kind == End || t.Kind == Word && string(t.Raw) == "ID" {
			break
		}
		args.Add(t)
	}
	args.Settle()
	d := types.Dict{}
	for key, i := range DictOf(args.List) {
		d[longKey(key)] = ObjectOf(args.List[i:], 0)
	}
	args.Reset()
	return d
}

// Filters makes the parser's filter list of a stream dictionary, abbreviations
// undone.
func (o *Objects) Filters(d types.Dict) []types.PDFFilter {
	names := o.Array(d["Filter"])
	if n := o.Name(d["Filter"]); n != "" {
		names = types.Array{types.Name(n)}
	}
	parms := o.Array(d["DecodeParms"])
	if p := o.Dict(d["DecodeParms"]); p != nil {
		parms = types.Array{p}
	}
	var fp []types.PDFFilter
	for i, name := range names {
		f := types.PDFFilter{Name: longFilter(o.Name(name))}
		if i < len(parms) {
			f.DecodeParms = wholeNumbers(o.Dict(parms[i]))
		}
		fp = append(fp, f)
	}
	return fp
}

// wholeNumbers is for the parser's filters, which take integers only as such.
func wholeNumbers(d types.Dict) types.Dict {
	if d == nil {
		return nil
	}
	out := types.Dict{}
	for k, v := range d {
		if f, ok := v.(types.Float); ok {
			v = types.Integer(int(f))
		}
		out[k] = v
	}
	return out
}

// inlineLength computes the data length of an unfiltered image, -1 if unknown.
func (o *Objects) inlineLength(d types.Dict, filtered bool, components func(types.Object) int) int {
	if filtered {
		return -1
	}
	width, height := o.Integer(d["Width"], 0), o.Integer(d["Height"], 0)
	bits, n := o.Integer(d["BitsPerComponent"], 8), 1
	if o.Flag(d["ImageMask"], false) {
		bits = 1
	} else if cs, ok := d["ColorSpace"]; ok {
		n = components(cs)
	}
	if width <= 0 || height <= 0 || bits <= 0 || bits > 16 || width > 1<<20 || height > 1<<20 {
		return -1
	}
	return (width*n*bits + 7) / 8 * height
}

// endOfInline finds where the data ends, before the EI: at the length if that is
// known and an EI follows it, else at the first EI that stands alone and is
// followed by what looks like content. Data may hold the letters by chance.
func endOfInline(b []byte, length int) int {
	if length >= 0 && length <= len(b) {
		l := Lexer{B: b, P: length}
		if t := l.Next(); string(t.Raw) == "EI" {
			return length
		}
	}
	for i := 0; i+1 < len(b); i++ {
		if b[i] != 'E' || b[i+1] != 'I' || i > 0 && class(b[i-1]) != white {
			continue
		}
		if i+2 < len(b) && class(b[i+2]) == regular {
			continue
		}
		if looksLikeContent(b[i+2:]) {
			return i
		}
	}
	return len(b)
}

func looksLikeContent(b []byte) bool {
	const glance = 16
	for _, c := range b[:min(len(b), glance)] {
		if c > 126 || c < 32 && class(c) != white {
			return false
		}
	}
	return true
}

// longKey undoes the abbreviations of inline images (8.9.7, Table 93).
func longKey(k string) string {
	switch k {
	case "W":
		return "Width"
	case "H":
		return "Height"
	case "BPC":
		return "BitsPerComponent"
	case "CS":
		return "ColorSpace"
	case "D":
		return "Decode"
	case "DP":
		return "DecodeParms"
	case "F":
		return "Filter"
	case "IM":
		return "ImageMask"
	case "I":
		return "Interpolate"
	}
	return k
}

// longFilter undoes the abbreviations of Table 94.
func longFilter(n string) string {
	switch n {
	case "AHx":
		return "ASCIIHexDecode"
	case "A85":
		return "ASCII85Decode"
	case "LZW":
		return "LZWDecode"
	case "Fl":
		return "FlateDecode"
	case "RL":
		return "RunLengthDecode"
	case "CCF":
		return "CCITTFaxDecode"
	case "DCT":
		return "DCTDecode"
	}
	return n
}
