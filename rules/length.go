package rules

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Length is a distance in whole micrometres. One inch is 25.4 mm is 72 pt.
type Length int64

// The units that lengths are written in.
const (
	Micrometre Length = 1
	Millimetre Length = 1000
	Inch       Length = 25400
)

// Unit is a unit of length as a person writes it.
type Unit string

// Units that a ticket may be written in.
const (
	UnitMM Unit = "mm"
	UnitIn Unit = "in"
	UnitPt Unit = "pt"
)

// MM is a length of v millimetres, to the nearest micrometre.
func MM(v float64) Length { return Length(math.Round(v * float64(Millimetre))) }

// Inches is a length of v inches, to the nearest micrometre.
func Inches(v float64) Length { return Length(math.Round(v * float64(Inch))) }

// Points is a length of v points (1/72 in), to the nearest micrometre.
func Points(v float64) Length { return Length(math.Round(v * float64(Inch) / 72)) }

// MM tells the length in millimetres.
func (l Length) MM() float64 { return float64(l) / float64(Millimetre) }

// Inches tells the length in inches.
func (l Length) Inches() float64 { return float64(l) / float64(Inch) }

// Points tells the length in points of 1/72 in.
func (l Length) Points() float64 { return float64(l) * 72 / float64(Inch) }

// Pixels tells how many pixels the length takes at ppi pixels per inch.
func (l Length) Pixels(ppi float64) float64 { return l.Inches() * ppi }

// Abs is the length without its sign.
func (l Length) Abs() Length {
	if l < 0 {
		return -l
	}
	return l
}

// Number writes the length in unit u without the unit's name: millimetres to a
// hundredth, inches to a ten-thousandth, points to a hundredth, trailing zeros
// dropped.
func (l Length) Number(u Unit) string {
	switch u {
	case UnitIn:
		return trimZeros(l.Inches(), 4)
	case UnitPt:
		return trimZeros(l.Points(), 2)
	}
	// Half a hundredth goes away from nought: 3.175 mm, which is 1/8 in, is told
	// as 3.18 mm, though the nearest float64 lies below the half.
	return trimZeros(math.Round(float64(l)/10)/100, 2)
}

// About is the length as exactly as a measurement deserves in unit u: to a
// hundredth of a millimetre, a thousandth of an inch, a tenth of a point.
func (l Length) About(u Unit) Length {
	step := 10.0
	switch u {
	case UnitIn:
		step = float64(Inch) / 1000
	case UnitPt:
		step = float64(Inch) / 720
	}
	return Length(math.Round(math.Round(float64(l)/step) * step))
}

// In writes the length in unit u: "3 mm", "0.125 in".
func (l Length) In(u Unit) string {
	if u == "" {
		u = UnitMM
	}
	return l.Number(u) + " " + string(u)
}

func (l Length) String() string { return l.In(UnitMM) }

func trimZeros(v float64, places int) string {
	s := strconv.FormatFloat(v, 'f', places, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" || s == "" {
		return "0"
	}
	return s
}

// maxLength bounds what a person may ask for: ten metres.
const maxLength = 10000 * Millimetre

var unitLengths = map[string]float64{
	"mm": float64(Millimetre), "cm": 10 * float64(Millimetre),
	"in": float64(Inch), "inch": float64(Inch), `"`: float64(Inch),
	"pt": float64(Inch) / 72, "um": 1, "µm": 1,
}

// ParseLength reads a number with its unit: 3mm, 0.125in, 1/8in, 9pt, 0.3cm.
// A length without a unit is refused.
func ParseLength(s string) (Length, error) {
	number, unit := splitUnit(s)
	if unit == "" {
		return 0, fmt.Errorf("length %q has no unit: write 3mm, 0.125in or 9pt", s)
	}
	return lengthOf(s, number, unit)
}

func lengthOf(whole, number, unit string) (Length, error) {
	per, ok := unitLengths[strings.ToLower(unit)]
	if !ok {
		return 0, fmt.Errorf("length %q has an unknown unit %q: use mm, in or pt", whole, unit)
	}
	v, err := parseNumber(number)
	if err != nil {
		return 0, fmt.Errorf("length %q is not a number with a unit: write 3mm, 0.125in or 9pt", whole)
	}
	um := math.Round(v * per)
	if math.Abs(um) > float64(maxLength) {
		return 0, fmt.Errorf("length %q is over 10 m", whole)
	}
	return Length(um), nil
}

// splitUnit cuts "0.125 in" into "0.125" and "in".
func splitUnit(s string) (number, unit string) {
	s = strings.TrimSpace(s)
	i := strings.LastIndexAny(s, "0123456789.")
	return strings.TrimSpace(s[:i+1]), strings.TrimSpace(s[i+1:])
}

// parseNumber reads a plain decimal or a simple fraction such as 1/8; it
// refuses signs of exponents, infinities and anything else.
func parseNumber(s string) (float64, error) {
	if top, bottom, ok := strings.Cut(s, "/"); ok {
		a, err := parseDecimal(top)
		if err != nil {
			return 0, err
		}
		b, err := parseDecimal(bottom)
		if err != nil || b == 0 {
			return 0, fmt.Errorf("not a fraction: %q", s)
		}
		return a / b, nil
	}
	return parseDecimal(s)
}

func parseDecimal(s string) (float64, error) {
	s = strings.TrimSpace(s)
	if strings.Trim(s, "-0123456789.") != "" {
		return 0, fmt.Errorf("not a number: %q", s)
	}
	return strconv.ParseFloat(s, 64)
}

// Size is a width and a height.
type Size struct{ W, H Length }

// Turned is the size turned by a right angle.
func (s Size) Turned() Size { return Size{W: s.H, H: s.W} }

// Landscape reports whether the size is wider than high.
func (s Size) Landscape() bool { return s.W > s.H }

// Grow is the size with e added on each edge.
func (s Size) Grow(e Length) Size { return Size{W: s.W + 2*e, H: s.H + 2*e} }

// In writes the size in unit u: "88.9 × 50.8 mm".
func (s Size) In(u Unit) string { return s.W.Number(u) + " × " + s.H.In(u) }

func (s Size) String() string { return s.In(UnitMM) }

// ParseSize reads WxH with one unit for both or one each: 3.5x2in, 85x55mm,
// 85mmx55mm, 85 × 55 mm.
func ParseSize(s string) (Size, error) {
	w, h, ok := cutSize(s)
	if !ok {
		return Size{}, fmt.Errorf("size %q is not WIDTHxHEIGHT: write 85x55mm or 3.5x2in", s)
	}
	hn, hu := splitUnit(h)
	wn, wu := splitUnit(w)
	if hu == "" {
		return Size{}, fmt.Errorf("size %q has no unit: write 85x55mm or 3.5x2in", s)
	}
	if wu == "" {
		wu = hu
	}
	width, err := lengthOf(s, wn, wu)
	if err != nil {
		return Size{}, err
	}
	height, err := lengthOf(s, hn, hu)
	if err != nil {
		return Size{}, err
	}
	if width <= 0 || height <= 0 {
		return Size{}, fmt.Errorf("size %q has an empty side", s)
	}
	return Size{W: width, H: height}, nil
}

func cutSize(s string) (w, h string, ok bool) {
	for _, by := range []string{"x", "X", "×", "*"} {
		if w, h, ok = strings.Cut(s, by); ok {
			return w, h, true
		}
	}
	return "", "", false
}

// Edge names an edge of the side as the reader sees it.
type Edge string

// The four edges, in the order in which they are told.
const (
	Top    Edge = "top"
	Right  Edge = "right"
	Bottom Edge = "bottom"
	Left   Edge = "left"
)

// AllEdges lists the edges in the order in which they are told.
var AllEdges = [4]Edge{Top, Right, Bottom, Left}

// Edges holds one length for each edge.
type Edges struct {
	Top, Right, Bottom, Left Length
}

// Even is the same length on every edge.
func Even(l Length) Edges { return Edges{l, l, l, l} }

// Of is the length at edge e.
func (s Edges) Of(e Edge) Length {
	switch e {
	case Top:
		return s.Top
	case Right:
		return s.Right
	case Bottom:
		return s.Bottom
	}
	return s.Left
}

// Least is the smallest of the four.
func (s Edges) Least() Length { return min(s.Top, s.Right, s.Bottom, s.Left) }

// Box is a rectangle in trim coordinates: x right, y down from the top left
// corner of the trim.
type Box struct{ X, Y, W, H Length }

// Right is the x of the right edge.
func (b Box) Right() Length { return b.X + b.W }

// Bottom is the y of the bottom edge.
func (b Box) Bottom() Length { return b.Y + b.H }

// Intersect is the part that b and c share; an empty box if they share none.
func (b Box) Intersect(c Box) Box {
	x, y := max(b.X, c.X), max(b.Y, c.Y)
	r, t := min(b.Right(), c.Right()), min(b.Bottom(), c.Bottom())
	if r <= x || t <= y {
		return Box{}
	}
	return Box{X: x, Y: y, W: r - x, H: t - y}
}

// Union is the smallest box around both. The zero box is around nothing: it adds
// nothing.
func (b Box) Union(c Box) Box {
	switch (Box{}) {
	case b:
		return c
	case c:
		return b
	}
	x, y := min(b.X, c.X), min(b.Y, c.Y)
	return Box{X: x, Y: y, W: max(b.Right(), c.Right()) - x, H: max(b.Bottom(), c.Bottom()) - y}
}

// Within reports whether all of the box lies in outer.
func (b Box) Within(outer Box) bool { return b.Intersect(outer) == b }

// Empty reports whether the box has no area.
func (b Box) Empty() bool { return b.W <= 0 || b.H <= 0 }

// Inset is the box with e taken off each edge.
func (b Box) Inset(e Length) Box {
	return Box{X: b.X + e, Y: b.Y + e, W: b.W - 2*e, H: b.H - 2*e}
}
