package syntax

import (
	"math"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/model"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// Objects are the file's objects, looked up through references without ever
// failing: what is absent, of the wrong kind or unreadable is the zero value, as
// 7.3.10 asks for a reference to an undefined object. Callers guard against panics
// of the parser.
type Objects struct{ ctx *model.Context }

// ObjectsOf gives the objects of a file that the parser has read.
func ObjectsOf(ctx *model.Context) *Objects { return &Objects{ctx} }

// Get follows references. A chain of references longer than a few is a loop.
func (d *Objects) Get(o types.Object) types.Object {
	for range 4 {
		r, ok := o.(types.IndirectRef)
		if !ok {
			return o
		}
		var err error
		if o, err = d.ctx.Dereference(r); err != nil {
			return nil
		}
	}
	return nil
}

// Dict gives the dictionary itself, or that of a stream.
func (d *Objects) Dict(o types.Object) types.Dict {
	switch x := d.Get(o).(type) {
	case types.Dict:
		return x
	case types.StreamDict:
		return x.Dict
	}
	return nil
}

// Array gives an array.
func (d *Objects) Array(o types.Object) types.Array {
	a, _ := d.Get(o).(types.Array)
	return a
}

// Name gives a name, without its slash.
func (d *Objects) Name(o types.Object) string {
	n, _ := d.Get(o).(types.Name)
	return string(n) // the parser has undone the #xx already
}

// Number gives a finite number.
func (d *Objects) Number(o types.Object) (float64, bool) {
	switch x := d.Get(o).(type) {
	case types.Integer:
		return float64(x), true
	case types.Float:
		f := float64(x)
		return f, !math.IsNaN(f) && !math.IsInf(f, 0)
	}
	return 0, false
}

// NumberOr gives a finite number, or def.
func (d *Objects) NumberOr(o types.Object, def float64) float64 {
	if f, ok := d.Number(o); ok {
		return f
	}
	return def
}

// Integer gives whole numbers held between ±2^31, so that sums stay safe.
func (d *Objects) Integer(o types.Object, def int) int {
	f, ok := d.Number(o)
	if !ok {
		return def
	}
	return int(math.Max(-1<<31, math.Min(1<<31-1, f)))
}

// Flag gives a truth value, or def.
func (d *Objects) Flag(o types.Object, def bool) bool {
	if b, ok := d.Get(o).(types.Boolean); ok {
		return bool(b)
	}
	return def
}

// Few is more than any array of numbers holds that is read for each use of
// a thing: the Decode array of an image with as many colorants as may be.
const Few = 2 * MaxColorants

// MaxColorants is what DeviceN may have at most (Annex C, Table C.1).
const MaxColorants = 32

// Numbers gives the numbers of an array of at most so many; a member that is none
// counts as 0.
func (d *Objects) Numbers(o types.Object, most int) []float64 {
	a := d.Array(o)
	if len(a) == 0 || len(a) > most {
		return nil
	}
	v := make([]float64, len(a))
	for i, x := range a {
		v[i] = d.NumberOr(x, 0)
	}
	return v
}

// longestText is how much of a string object is read, as it stands in the file: enough
// for the longest colour table of an Indexed space, all of it octal numbers.
const longestText = 4 * 256 * MaxColorants

// Text gives the bytes of a string object.
func (d *Objects) Text(o types.Object) []byte {
	switch s := d.Get(o).(type) {
	case types.HexLiteral:
		return Unhex(nil, []byte(s[:min(len(s), longestText)]))
	case types.StringLiteral:
		return Token{Kind: Text, Raw: []byte("(" + s[:min(len(s), longestText)] + ")")}.AppendString(nil)
	}
	return nil
}

// ObjectNumber is 0 for an object written in place.
func ObjectNumber(o types.Object) int {
	if r, ok := o.(types.IndirectRef); ok {
		return r.ObjectNumber.Value()
	}
	return 0
}

// Find looks a name up in one category of a resource dictionary.
func (d *Objects) Find(res types.Dict, category, name string) (types.Object, bool) {
	o, ok := d.Dict(res[category])[name]
	return o, ok
}

// ObjectOf makes the parser's kind of object from the tokens that list begins with; nesting is bounded.
func ObjectOf(list []Token, depth int) types.Object {
	const deepest = 8
	t := list[0]
	switch t.Kind {
	case Number:
		return types.Float(t.Num)
	case Name:
		return types.Name(t.NameString())
	case Text, Hex:
		return types.HexLiteral(hexOf(t.AppendString(nil)))
	case Word:
		if string(t.Raw) == "null" {
			return nil
		}
		return types.Boolean(string(t.Raw) == "true")
	case Open:
		if depth == deepest {
			return nil
		}
		inside := list[1 : 1+t.Span]
		if string(t.Raw) == "<<" {
			d := types.Dict{}
			for key, i := range DictOf(inside) {
				d[key] = ObjectOf(inside[i:], depth+1)
			}
			return d
		}
		a := types.Array{}
		for i := 0; i < len(inside); i += 1 + inside[i].Span {
			a = append(a, ObjectOf(inside[i:], depth+1))
		}
		return a
	}
	return nil
}

func hexOf(b []byte) string {
	const digits = "0123456789ABCDEF"
	out := make([]byte, 0, 2*len(b))
	for _, c := range b {
		out = append(out, digits[c>>4], digits[c&15])
	}
	return string(out)
}
