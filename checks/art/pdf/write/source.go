package write

import (
	"maps"
	"slices"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"stoneproof/checks/art/pdf"
)

// Source is a PDF that a file takes objects over from. Each is copied once, however
// often it is used.
type Source struct {
	file   *File
	doc    *pdf.Document
	copied map[int]int // object number there → here
}

// From makes a PDF a source of the file.
func (f *File) From(doc *pdf.Document) *Source {
	return &Source{file: f, doc: doc, copied: map[int]int{}}
}

// Value writes an object of the source, and sees to what it refers to.
func (s *Source) Value(o types.Object) string { return string(s.append(nil, o, 0)) }

const deepestValue = 100

func (s *Source) append(b []byte, o types.Object, depth int) []byte {
	if depth > deepestValue {
		return append(b, "null"...)
	}
	switch x := o.(type) {
	case types.IndirectRef:
		return append(b, s.copyOf(x)...)
	case types.Dict:
		b = append(b, "<<"...)
		b = s.entries(b, x, depth)
		return append(b, ">>"...)
	case types.Array:
		b = append(b, '[')
		for _, e := range x {
			b = append(s.append(b, e, depth+1), ' ')
		}
		return append(b, ']')
	case types.Name:
		return AppendName(b, string(x))
	case types.Float:
		return AppendNumber(b, float64(x))
	case types.Integer, types.Boolean, types.StringLiteral, types.HexLiteral:
		return append(b, x.PDFString()...)
	}
	return append(b, "null"...)
}

func (s *Source) entries(b []byte, d types.Dict, depth int) []byte {
	for _, k := range slices.Sorted(maps.Keys(d)) {
		b = append(AppendName(b, k), ' ')
		b = s.append(b, d[k], depth+1)
	}
	return b
}

func (s *Source) copyOf(ref types.IndirectRef) string {
	id := ref.ObjectNumber.Value()
	n, ok := s.copied[id]
	if !ok {
		n = s.file.Reserve()
		s.copied[id] = n
		s.file.waiting = append(s.file.waiting, waiting{s, ref, n})
	}
	return Reference(n)
}

// settle writes what was referred to. It ends: sources have so many objects.
func (f *File) settle() {
	for len(f.waiting) > 0 && !f.Full() {
		w := f.waiting[len(f.waiting)-1]
		f.waiting = f.waiting[:len(f.waiting)-1]
		w.from.copyTo(w.to, w.ref)
	}
}

func (s *Source) copyTo(n int, ref types.IndirectRef) {
	sd, ok := s.doc.Get(ref).(types.StreamDict)
	if !ok {
		s.file.Set(n, s.Value(s.doc.Get(ref)))
		return
	}
	s.file.objects[n-1] = object{s.dictOf(sd), append([]byte{}, sd.Raw...)}
	s.file.size += int64(len(sd.Raw))
}

// dictOf writes the entries of a stream's dictionary but for its length.
func (s *Source) dictOf(sd types.StreamDict) string {
	d := maps.Clone(sd.Dict)
	delete(d, "Length")
	return string(s.entries(nil, d, 0))
}
