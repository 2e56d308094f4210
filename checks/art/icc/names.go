package icc

import (
	"strconv"
	"strings"
)

// Class is a profile class, by its four-letter signature (7.2.5, Table 18).
type Class string

// The seven classes of ICC.1.
const (
	Input      Class = "scnr"
	Display    Class = "mntr"
	Output     Class = "prtr"
	Link       Class = "link"
	Abstract   Class = "abst"
	ColorSpace Class = "spac"
	NamedColor Class = "nmcl"
)

var classNames = map[Class]string{
	Input:      "input device",
	Display:    "display",
	Output:     "printer",
	Link:       "device link",
	Abstract:   "abstract",
	ColorSpace: "colour space conversion",
	NamedColor: "named colours",
}

// String is the plain name: "printer" for prtr.
func (c Class) String() string {
	if n, ok := classNames[c]; ok {
		return n
	}
	return "unknown class " + strconv.QuoteToASCII(string(c))
}

// Known tells whether ICC.1 has the class.
func (c Class) Known() bool { return classNames[c] != "" }

// Space is a colour space, by its four-letter signature with its trailing
// spaces (7.2.6, Table 19).
type Space string

// The spaces met in artwork. Table 19 has more; all of them have [Space.Components].
const (
	Gray Space = "GRAY"
	RGB  Space = "RGB "
	CMYK Space = "CMYK"
	Lab  Space = "Lab "
	XYZ  Space = "XYZ "
)

var spaceComponents = map[Space]int{
	Gray: 1, RGB: 3, CMYK: 4, Lab: 3, XYZ: 3,
	"Luv ": 3, "YCbr": 3, "Yxy ": 3, "HSV ": 3, "HLS ": 3, "CMY ": 3,
	"2CLR": 2, "3CLR": 3, "4CLR": 4, "5CLR": 5, "6CLR": 6, "7CLR": 7, "8CLR": 8,
	"9CLR": 9, "ACLR": 10, "BCLR": 11, "CCLR": 12, "DCLR": 13, "ECLR": 14, "FCLR": 15,
}

// Components is the number of components of a colour in the space, or 0 for a
// space that ICC.1 does not have.
func (s Space) Components() int { return spaceComponents[s] }

// String is the name in the trade's spelling: "RGB", "grey", "7 inks".
func (s Space) String() string {
	switch n := s.Components(); {
	case n == 0:
		return "unknown space " + strconv.QuoteToASCII(string(s))
	case s == Gray:
		return "grey"
	case s == "YCbr":
		return "YCbCr"
	case strings.HasSuffix(string(s), "CLR"):
		return strconv.Itoa(n) + " inks"
	}
	return strings.TrimRight(string(s), " ")
}

// Intent is a rendering intent as the header numbers it (7.2.15, Table 23).
type Intent uint32

// The four intents of ICC.1.
const (
	Perceptual Intent = iota
	RelativeColorimetric
	Saturation
	AbsoluteColorimetric
)

// String is the name of the intent.
func (i Intent) String() string {
	names := [...]string{"perceptual", "relative colorimetric", "saturation", "absolute colorimetric"}
	if int64(i) < int64(len(names)) {
		return names[i]
	}
	return "unknown intent " + strconv.FormatUint(uint64(i), 10)
}
