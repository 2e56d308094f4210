package pdf

import (
	"strconv"
	"strings"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"stoneproof/checks/art/pdf/syntax"
)

// Family is the kind of a colour space, by its name in the standard (Table 62).
type Family string

// The colour space families.
const (
	DeviceGray Family = "DeviceGray"
	DeviceRGB  Family = "DeviceRGB"
	DeviceCMYK Family = "DeviceCMYK"
	CalGray    Family = "CalGray"
	CalRGB     Family = "CalRGB"
	Lab        Family = "Lab"
	ICCBased   Family = "ICCBased"
	Indexed    Family = "Indexed"
	Separation Family = "Separation"
	DeviceN    Family = "DeviceN"
	PatternCS  Family = "Pattern"
)

// Space is a colour space as the page uses it.
type Space struct {
	Family Family
	N      int      // components; for Pattern those of the underlying space
	Names  []string // colorants of Separation and DeviceN
	// Base is the space below: that of an Indexed table, the alternate of
	// Separation, DeviceN and ICCBased (nil if none is given), the underlying
	// space of an uncoloured Pattern.
	Base *Space
	// Default is the space that DefaultGray, DefaultRGB or DefaultCMYK of the
	// resources puts in the place of a device space (8.6.5.6).
	Default *Space
	Table   []byte // Indexed: Base.N bytes for each index
	Object  int    // ICCBased: object number of the profile stream

	key     string
	profile types.Object
	doc     *Document
}

// Profile gives the bytes of the ICC profile of an ICCBased space.
func (s *Space) Profile() ([]byte, error) {
	if s.Family != ICCBased {
		return nil, ErrNoProfile
	}
	return s.doc.StreamBytes(s.profile, s.doc.lim.ProfileBytes)
}

// String names the space for people: "DeviceCMYK", "Indexed over DeviceRGB",
// "Separation Gold".
func (s *Space) String() string {
	switch {
	case s == nil:
		return "none"
	case s.Default != nil:
		return string(s.Family) + " remapped to " + s.Default.String()
	case s.Family == Indexed && s.Base != nil:
		return "Indexed over " + s.Base.String()
	case s.Family == ICCBased:
		return "ICCBased with " + strconv.Itoa(s.N) + " components"
	case len(s.Names) > 0:
		return string(s.Family) + " " + strings.Join(s.Names, ", ")
	}
	return string(s.Family)
}

// initial is the colour that a colour space operator sets (8.6.5 to 8.6.6).
func (s *Space) initial() []float64 {
	v := make([]float64, s.N)
	switch s.Family {
	case DeviceCMYK:
		v[3] = 1
	case Separation, DeviceN:
		for i := range v {
			v[i] = 1
		}
	}
	return v
}

// UseKind is a set of the kinds of paint that a colour space is used for.
type UseKind uint8

// Kinds of paint.
const (
	UseText UseKind = 1 << iota
	UsePath
	UseImage
	UseShading
)

// Inked reports whether colours of the space are amounts of ink, rather than of light
// or grey: CMYK of any kind, Separation and DeviceN.
func (s *Space) Inked() bool {
	switch {
	case s == nil:
		return false
	case s.Default != nil:
		return s.Default.Inked()
	case s.Family == Separation, s.Family == DeviceN:
		return true
	case s.Family == Indexed, s.Family == PatternCS:
		return s.Base.Inked()
	}
	return s.N == 4
}

// SpaceUse tells how a colour space is used on the page. Only paint that is seen
// counts, and what is clear as glass is not.
type SpaceUse struct {
	Space *Space
	Count int
	Kinds UseKind
	First Rect // box of the first thing painted with it
	Order int  // and its place in the paint order
}

// spaceIn resolves a colour space object. Names may be device spaces or entries
// of the resources. It never returns nil: what cannot be read counts as DeviceGray,
// as readers take it, with a note.
func (w *walker) spaceIn(sc *scope, o types.Object, depth int) *Space {
	if depth > 6 {
		w.note("a colour space nests too deep")
		return w.deviceIn(sc, DeviceGray, depth)
	}
	switch x := w.doc.Get(o).(type) {
	case types.Name:
		return w.namedSpace(sc, string(x), depth)
	case types.Array:
		if len(x) > 0 {
			return w.arraySpace(sc, x, depth)
		}
	}
	w.note("a colour space is missing or malformed")
	return w.deviceIn(sc, DeviceGray, depth)
}

func (w *walker) namedSpace(sc *scope, name string, depth int) *Space {
	switch w.doc.SpaceName(sc.res, name) {
	case "DeviceGray":
		return w.deviceIn(sc, DeviceGray, depth)
	case "DeviceRGB":
		return w.deviceIn(sc, DeviceRGB, depth)
	case "DeviceCMYK":
		return w.deviceIn(sc, DeviceCMYK, depth)
	case "Pattern":
		return w.keep(&Space{Family: PatternCS, key: "Pattern"})
	}
	if s, ok := sc.spaces[name]; ok {
		return s
	}
	o, ok := w.doc.Find(sc.res, "ColorSpace", name)
	if !ok {
		w.note("the colour space %q is not among the resources", name)
		return w.deviceIn(sc, DeviceGray, depth)
	}
	s := w.spaceIn(sc, o, depth+1)
	sc.spaces[name] = s
	return s
}

// deviceIn gives a device space, with the Default… space that the resources put in
// its place.
func (w *walker) deviceIn(sc *scope, f Family, depth int) *Space {
	at := map[Family]int{DeviceGray: 1, DeviceRGB: 3, DeviceCMYK: 4}
	n := at[f]
	if s := sc.device[n]; s != nil {
		return s
	}
	s := &Space{Family: f, N: n, key: string(f)}
	if o, ok := w.doc.Find(sc.res, "ColorSpace", "Default"+strings.TrimPrefix(string(f), "Device")); ok && depth < 4 {
		sc.device[n] = w.keep(s) // a default that leads back here is the plain space
		if def := w.spaceIn(sc, o, depth+2); def.N == n && def.Family != f {
			s = &Space{Family: f, N: n, Default: def, key: s.key + ">" + def.key}
		}
	}
	sc.device[n] = w.keep(s)
	return sc.device[n]
}

func (w *walker) arraySpace(sc *scope, a types.Array, depth int) *Space {
	at := func(i int) types.Object {
		if i < len(a) {
			return a[i]
		}
		return nil
	}
	switch family := w.doc.Name(a[0]); family {
	case "CalGray":
		return w.keep(&Space{Family: CalGray, N: 1, key: family})
	case "CalRGB":
		return w.keep(&Space{Family: CalRGB, N: 3, key: family})
	case "Lab":
		return w.keep(&Space{Family: Lab, N: 3, key: family})
	case "ICCBased":
		return w.iccSpace(sc, at(1), depth)
	case "Indexed", "I":
		return w.indexedSpace(sc, at(1), at(2), at(3), depth)
	case "Separation":
		w.meter(at(3), 0)
		names := []string{w.doc.Name(at(1))}
		return w.inkSpace(Separation, names, w.spaceIn(sc, at(2), depth+1))
	case "DeviceN":
		w.meter(at(3), 0)
		var names []string
		colorants := w.doc.Array(at(1))
		for _, o := range colorants[:min(len(colorants), syntax.MaxColorants)] {
			names = append(names, w.doc.Name(o))
		}
		return w.inkSpace(DeviceN, names, w.spaceIn(sc, at(2), depth+1))
	case "Pattern":
		s := &Space{Family: PatternCS, key: "Pattern"}
		if len(a) > 1 {
			s.Base = w.spaceIn(sc, a[1], depth+1)
			s.N, s.key = s.Base.N, s.key+" "+s.Base.key
		}
		return w.keep(s)
	default:
		return w.namedSpace(sc, family, depth+1)
	}
}

func (w *walker) iccSpace(sc *scope, o types.Object, depth int) *Space {
	sd, ok := w.doc.Get(o).(types.StreamDict)
	n := 0
	if ok {
		n = w.doc.Integer(sd.Dict["N"], 0)
	}
	if n != 1 && n != 3 && n != 4 {
		w.note("an ICCBased colour space has no usable profile")
		return w.deviceIn(sc, DeviceGray, depth)
	}
	s := &Space{Family: ICCBased, N: n, Object: syntax.ObjectNumber(o), profile: o, doc: w.doc}
	s.key = "ICCBased " + strconv.Itoa(s.Object) + " " + strconv.Itoa(n)
	if alt, ok := sd.Dict["Alternate"]; ok {
		s.Base = w.spaceIn(sc, alt, depth+1)
	}
	return w.keep(s)
}

func (w *walker) indexedSpace(sc *scope, base, high, table types.Object, depth int) *Space {
	s := &Space{Family: Indexed, N: 1, Base: w.spaceIn(sc, base, depth+1)}
	const tableCost = 200 // reading it takes as long as so many operators
	w.afford(tableCost)
	entries := max(0, min(w.doc.Integer(high, 0), 255)) + 1
	if _, ok := w.doc.Get(table).(types.StreamDict); ok {
		const most = 256 * syntax.MaxColorants
		s.Table, _ = w.doc.StreamBytes(table, min(w.decoded, most))
		w.decoded -= int64(len(s.Table))
	} else {
		s.Table = w.doc.Text(table)
	}
	s.Table = s.Table[:min(len(s.Table), entries*s.Base.N)]
	s.key = "Indexed " + s.Base.key + " " + string(s.Table)
	return w.keep(s)
}

func (w *walker) inkSpace(f Family, names []string, alternate *Space) *Space {
	key := string(f) + " " + strings.Join(names, "\x00") + " " + alternate.key
	return w.keep(&Space{Family: f, N: len(names), Names: names, Base: alternate, key: key})
}

// keep makes equal spaces one, so that uses can be counted by pointer. Comparing long
// tables and names is work.
func (w *walker) keep(s *Space) *Space {
	w.afford(len(s.key) / 16)
	if had, ok := w.spaces[s.key]; ok {
		return had
	}
	w.spaces[s.key] = s
	return s
}

// use counts a colour space for something painted.
func (w *walker) use(s *Space, k UseKind, it Item) {
	if s == nil || !it.Seen() {
		return
	}
	i, ok := w.uses[s]
	if !ok {
		i = len(w.out.Spaces)
		w.uses[s] = i
		w.out.Spaces = append(w.out.Spaces, SpaceUse{Space: s, First: it.Box, Order: it.Order})
	}
	w.out.Spaces[i].Count++
	w.out.Spaces[i].Kinds |= k
}

// useColour counts the space of a colour; a pattern's own paint is counted where
// it is walked, an uncoloured one's colour here. Alpha is that of the fill or the
// stroke, whichever paints.
func (w *walker) useColour(c Colour, alpha float64, k UseKind, it Item) {
	switch {
	case c.Space == nil || alpha == 0:
	case c.Space.Family != PatternCS:
		w.use(c.Space, k, it)
	case c.Pattern == nil:
	case c.Pattern.Shading != nil:
		w.use(c.Pattern.Shading, k|UseShading, it)
	case c.Pattern.Tiling && !c.Pattern.Colored:
		w.use(c.Space.Base, k, it)
	}
}
