package plates

import (
	"bytes"
	"fmt"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"stoneproof/checks/art/pdf/syntax"
)

// family is what a colour space comes down to on plates.
type family int

const (
	gray family = iota
	rgb
	cmyk
	lab
	inks    // Separation and DeviceN: each component is an ink of its own
	indexed // a table of colours of the base
	pattern
)

// space is a colour space, resolved.
type space struct {
	family   family
	n        int      // components
	device   bool     // a device space itself, not something taken as it
	names    []string // inks: the colorants
	all      bool     // inks: Separation All, every ink at once
	base     *space   // indexed, pattern: what is below; inks: the alternate
	tint     function // inks: to the alternate, nil if it cannot be read
	table    []byte   // indexed: base.n bytes an entry
	span     []float64
	estimate func(cmyk, rgb []byte)
	cause    string // why its plates are approximate, "" if they are not
}

// initial is the colour that a colour space operator sets (8.6.5 to 8.6.6).
func (s *space) initial() []float64 {
	v := make([]float64, s.n)
	switch s.family {
	case cmyk:
		v[3] = 1
	case inks:
		for i := range v {
			v[i] = 1
		}
	}
	return v
}

// paintsNothing is so for Separation None, and DeviceN of nothing but it (8.6.6.4).
func (s *space) paintsNothing() bool {
	if s.family != inks {
		return false
	}
	for _, n := range s.names {
		if n != "None" {
			return false
		}
	}
	return true
}

// lookup resolves colour spaces for one resource dictionary. Each stream has its
// own, because Default… spaces and names belong to its resources.
type lookup struct {
	separation *separation
	res        types.Dict
	named      map[string]*space
	device     map[family]*space
}

func newLookup(j *separation, res types.Dict) *lookup {
	return &lookup{separation: j, res: res, named: map[string]*space{}, device: map[family]*space{}}
}

const deepestSpace = 6

// space resolves a colour space object. It never gives nil.
func (l *lookup) space(o types.Object, depth int) *space {
	if depth > deepestSpace {
		return unreadable()
	}
	if id := syntax.ObjectNumber(o); id != 0 {
		if s, ok := l.separation.spaces[id]; ok {
			return s
		}
		s := l.resolve(o, depth)
		if _, plain := l.separation.doc.Get(o).(types.Name); !plain {
			l.separation.spaces[id] = s
		}
		return s
	}
	return l.resolve(o, depth)
}

func (l *lookup) resolve(o types.Object, depth int) *space {
	switch x := l.separation.doc.Get(o).(type) {
	case types.Name:
		return l.byName(string(x), depth)
	case types.Array:
		if len(x) > 0 {
			return l.array(x, depth)
		}
	}
	return unreadable()
}

func unreadable() *space { return &space{family: gray, n: 1, cause: causeSpace} }

func (l *lookup) byName(name string, depth int) *space {
	switch l.separation.doc.SpaceName(l.res, name) {
	case "DeviceGray":
		return l.ofDevice(gray, "DefaultGray", &space{family: gray, n: 1, device: true}, depth)
	case "DeviceRGB":
		return l.ofDevice(rgb, "DefaultRGB", &space{family: rgb, n: 3, estimate: l.separation.estimate, device: true, cause: causeRGB}, depth)
	case "DeviceCMYK":
		return l.ofDevice(cmyk, "DefaultCMYK", &space{family: cmyk, n: 4, device: true}, depth)
	case "Pattern":
		return &space{family: pattern}
	}
	if s, ok := l.named[name]; ok {
		return s
	}
	o, ok := l.separation.doc.Find(l.res, "ColorSpace", name)
	if !ok {
		return unreadable()
	}
	s := l.space(o, depth+1)
	l.named[name] = s
	return s
}

// ofDevice gives a device space, or the one that the resources put in its place
// (8.6.5.6).
func (l *lookup) ofDevice(f family, key string, plain *space, depth int) *space {
	if s := l.device[f]; s != nil {
		return s
	}
	l.device[f] = plain // a default that leads back here is the plain space
	if o, ok := l.separation.doc.Find(l.res, "ColorSpace", key); ok {
		if s := l.space(o, depth+2); s.n == plain.n && s.cause != causeSpace {
			l.device[f] = s
		}
	}
	return l.device[f]
}

func (l *lookup) array(a types.Array, depth int) *space {
	at := func(i int) types.Object {
		if i < len(a) {
			return a[i]
		}
		return nil
	}
	doc := l.separation.doc
	switch name := doc.Name(a[0]); name {
	case "CalGray":
		return &space{family: gray, n: 1, cause: causeGrayICC}
	case "CalRGB":
		return &space{family: rgb, n: 3, estimate: l.separation.estimate, cause: causeRGB}
	case "Lab":
		span := doc.Numbers(doc.Dict(at(1))["Range"], 4)
		if len(span) != 4 {
			span = []float64{-100, 100, -100, 100}
		}
		return &space{family: lab, n: 3, span: span, estimate: l.separation.estimate, cause: causeLab}
	case "ICCBased":
		return l.ofProfile(at(1))
	case "Indexed", "I":
		return l.ofTable(l.space(at(1), depth+1), at(2), at(3))
	case "Separation":
		return l.ofInks([]string{doc.Name(at(1))}, at(2), at(3), depth)
	case "DeviceN":
		return l.deviceN(a, depth)
	case "Pattern":
		s := &space{family: pattern}
		if len(a) > 1 {
			s.base = l.space(a[1], depth+1)
			s.n = s.base.n
		}
		return s
	default:
		return l.byName(name, depth+1)
	}
}

// ofProfile takes an ICC space for the device space of as many components. That is
// right for CMYK made for the print condition the file is made for.
func (l *lookup) ofProfile(o types.Object) *space {
	n := l.separation.doc.Integer(l.separation.doc.Dict(o)["N"], 0)
	switch n {
	case 1:
		return &space{family: gray, n: 1, cause: causeGrayICC}
	case 3:
		return &space{family: rgb, n: 3, estimate: l.separation.estimate, cause: causeRGB}
	case 4:
		s := &space{family: cmyk, n: 4}
		if !l.separation.isIntent(o) {
			s.cause = causeCMYKICC
		}
		return s
	}
	return unreadable()
}

// isIntent tells whether the profile is that of the file's output intent.
func (j *separation) isIntent(profile types.Object) bool {
	b, err := j.doc.StreamBytes(profile, min(j.limits.DecodedBytes, 16<<20))
	if err != nil || len(b) == 0 {
		return false
	}
	for _, i := range j.doc.Intents {
		if p, err := i.Profile(); err == nil && bytes.Equal(p, b) {
			return true
		}
	}
	return false
}

func (l *lookup) ofTable(base *space, high, table types.Object) *space {
	s := &space{family: indexed, n: 1, base: base, cause: base.cause}
	if base.n == 0 {
		return unreadable()
	}
	if _, ok := l.separation.doc.Get(table).(types.StreamDict); ok {
		s.table = l.separation.content(table)
	} else {
		s.table = l.separation.doc.Text(table)
	}
	entries := max(0, min(l.separation.doc.Integer(high, 0), 255)) + 1
	full := make([]byte, entries*base.n) // what the table lacks is 0
	copy(full, s.table)
	s.table = full
	return s
}

func (l *lookup) ofInks(names []string, alternate, tint types.Object, depth int) *space {
	s := &space{family: inks, n: len(names), names: names, base: l.space(alternate, depth+1)}
	s.all = len(names) == 1 && names[0] == "All"
	s.tint = l.separation.functionAt(tint, 0)
	if s.n == 0 {
		return unreadable()
	}
	return s
}

// deviceN has its process components under names of the file's own where its
// attributes say so (8.6.6.5, Table 72).
func (l *lookup) deviceN(a types.Array, depth int) *space {
	if len(a) < 4 {
		return unreadable()
	}
	doc := l.separation.doc
	var names []string
	for _, o := range doc.Array(a[1]) {
		if len(names) == syntax.MaxColorants {
			return unreadable()
		}
		names = append(names, doc.Name(o))
	}
	s := l.ofInks(names, a[2], a[3], depth)
	if len(a) < 5 || s.family != inks {
		return s
	}
	process := doc.Dict(doc.Dict(a[4])["Process"])
	of := l.space(process["ColorSpace"], depth+1)
	for i, o := range doc.Array(process["Components"]) {
		for k, n := range names {
			switch {
			case n != doc.Name(o):
			case of.family == cmyk && i < 4:
				s.names[k] = processNames[i]
			case of.family == gray:
				s.names[k] = processNames[black]
			default:
				s.cause = causeRGB
			}
		}
	}
	return s
}

// key tells spaces apart for caches of what is painted with them.
func (s *space) key() string {
	if s == nil {
		return ""
	}
	return fmt.Sprintf("%d%v%s%q%x", s.family, s.device, s.cause, s.names, s.table) + s.base.key()
}
