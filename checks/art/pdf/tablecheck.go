package pdf

import (
	"bytes"
	"strconv"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"stoneproof/checks/art/pdf/syntax"
)

// tableCheck follows the chain of cross-reference sections (7.5.4, 7.5.8) and looks
// whether their entries point at objects.
type tableCheck struct {
	b            []byte
	shift        int // bytes before the header; offsets may count from either place
	seen         map[int]bool
	total, wrong int
	missing      bool // a section is not where it should be
}

// mostSections bounds the chain: a file that was updated more often is not judged
// to its end.
const mostSections = 256

func (t *tableCheck) section(at int) {
	for len(t.seen) < mostSections && !t.seen[at] {
		t.seen[at] = true
		l := t.lexerAt(at)
		if l == nil {
			t.missing = true
			return
		}
		first := l.Next()
		var trailer types.Dict
		switch {
		case string(first.Raw) == "xref":
			trailer = t.classic(l)
			if hybrid, ok := trailer["XRefStm"].(types.Float); ok {
				t.stream(t.lexerAt(int(hybrid)))
			}
		case first.Kind == syntax.Number:
			trailer = t.stream(t.lexerAt(at))
		}
		if trailer == nil {
			t.missing = true
			return
		}
		prev, ok := trailer["Prev"].(types.Float)
		if !ok {
			return
		}
		at = int(prev)
	}
}

// lexerAt starts reading at an offset of the file, nil if that is outside. Readers
// count from the start of the file or from the header.
func (t *tableCheck) lexerAt(at int) *syntax.Lexer {
	for _, at := range []int{at, at + t.shift} {
		if at < 0 || at >= len(t.b) {
			continue
		}
		l := &syntax.Lexer{B: t.b, P: at}
		first := l.Next()
		if string(first.Raw) == "xref" || first.Kind == syntax.Number && string(l.Next().Raw) != "" && string(l.Next().Raw) == "obj" {
			return &syntax.Lexer{B: t.b, P: at}
		}
	}
	return nil
}

// classic reads subsections and the trailer's dictionary; nil if it is not there.
func (t *tableCheck) classic(l *syntax.Lexer) types.Dict {
	for {
		first := l.Next()
		if string(first.Raw) == "trailer" {
			return readDict(l)
		}
		count := l.Next()
		if first.Kind != syntax.Number || count.Kind != syntax.Number {
			return nil
		}
		for i := range int(count.Num) {
			offset, generation, use := l.Next(), l.Next(), l.Next()
			if offset.Kind != syntax.Number || generation.Kind != syntax.Number || use.Kind != syntax.Word {
				return nil
			}
			if string(use.Raw) == "n" {
				t.entry(int(first.Num)+i, int(offset.Num))
			}
		}
	}
}

// stream reads a cross-reference stream and gives its dictionary, which is a
// trailer at the same time.
func (t *tableCheck) stream(l *syntax.Lexer) types.Dict {
	if l == nil {
		return nil
	}
	l.Next() // number, generation, obj
	l.Next()
	l.Next()
	d := readDict(l)
	if name, _ := d["Type"].(types.Name); name != "XRef" {
		return nil
	}
	t.streamEntries(d, rawAfter(l))
	return d
}

// rawAfter is the data after the word stream; its true end does not matter to the
// filters that writers use here.
func rawAfter(l *syntax.Lexer) []byte {
	if string(l.Next().Raw) != "stream" {
		return nil
	}
	b := bytes.TrimPrefix(l.B[l.P:], []byte("\r"))
	return bytes.TrimPrefix(b, []byte("\n"))
}

func (t *tableCheck) streamEntries(d types.Dict, raw []byte) {
	length, ok := d["Length"].(types.Float)
	if n := int(length); ok && n >= 0 && n <= len(raw) {
		raw = raw[:n]
	}
	sd := types.StreamDict{Dict: d, Raw: raw, FilterPipeline: new(syntax.Objects).Filters(d)}
	data, err := syntax.Decode(sd, 32<<20)
	if err != nil {
		return
	}
	widths := wholes(d["W"])
	if len(widths) != 3 {
		return
	}
	index := wholes(d["Index"])
	if index == nil {
		index = []int{0, 1 << 30}
	}
	size := widths[0] + widths[1] + widths[2]
	if size <= 0 || size > 24 || min(widths[0], widths[1], widths[2]) < 0 {
		return
	}
	for ; len(index) >= 2; index = index[2:] {
		for i := 0; i < index[1] && len(data) >= size; i++ {
			kind := 1 // the default where its width is 0 (Table 17)
			if widths[0] > 0 {
				kind = bigEndian(data[:widths[0]])
			}
			if kind == 1 {
				t.entry(index[0]+i, bigEndian(data[widths[0]:widths[0]+widths[1]]))
			}
			data = data[size:]
		}
	}
}

func wholes(o types.Object) []int {
	a, _ := o.(types.Array)
	var v []int
	for _, x := range a {
		f, _ := x.(types.Float)
		v = append(v, int(f))
	}
	return v
}

func bigEndian(b []byte) int {
	v := 0
	for _, c := range b {
		v = v<<8 | int(c)
	}
	return v
}

// entry looks whether object number lies at offset. Writers leave entries of
// offset 0 for objects that they never wrote.
func (t *tableCheck) entry(number, offset int) {
	if offset == 0 {
		return
	}
	t.total++
	want := strconv.Itoa(number)
	for _, at := range []int{offset, offset + t.shift} {
		if at < 0 || at >= len(t.b) {
			continue
		}
		l := syntax.Lexer{B: t.b[at:min(len(t.b), at+64)]}
		n, generation, obj := l.Next(), l.Next(), l.Next()
		if n.Kind == syntax.Number && string(bytes.TrimLeft(n.Raw, "0")) == want && generation.Kind == syntax.Number &&
			bytes.HasPrefix(obj.Raw, []byte("obj")) {
			return
		}
	}
	t.wrong++
}

// readDict reads a dictionary whose values are direct; references in it come out
// as their first number, which nobody here asks for.
func readDict(l *syntax.Lexer) types.Dict {
	const most = 4096
	args, depth := syntax.Operands{Most: most}, 0
	for {
		t := l.Next()
		switch t.Kind {
		case syntax.End:
			return nil
		case syntax.Open:
			depth++
		case syntax.Shut:
			depth--
		}
		args.Add(t)
		if depth <= 0 || args.Full {
			break
		}
	}
	args.Settle()
	if len(args.List) == 0 || string(args.List[0].Raw) != "<<" {
		return nil
	}
	d, _ := syntax.ObjectOf(args.List, 0).(types.Dict)
	return d
}
