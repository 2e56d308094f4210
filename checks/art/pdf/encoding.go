package pdf

import (
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

// latinNames are the glyph names that simple fonts and CFF fonts share, in the
// order of the CFF standard strings from 1 to 228 (Adobe Technical Note 5176,
// appendix A), and latinRunes what they mean (Adobe Glyph List).
const (
	latinNames = `space exclam quotedbl numbersign dollar percent ampersand quoteright parenleft parenright asterisk plus comma hyphen period slash zero one two three four five six seven eight nine colon semicolon less equal greater question at A B C D E F G H I J K L M N O P Q R S T U V W X Y Z bracketleft backslash bracketright asciicircum underscore quoteleft a b c d e f g h i j k l m n o p q r s t u v w x y z braceleft bar braceright asciitilde exclamdown cent sterling fraction yen florin section currency quotesingle quotedblleft guillemotleft guilsinglleft guilsinglright fi fl endash dagger daggerdbl periodcentered paragraph bullet quotesinglbase quotedblbase quotedblright guillemotright ellipsis perthousand questiondown grave acute circumflex tilde macron breve dotaccent dieresis ring cedilla hungarumlaut ogonek caron emdash AE ordfeminine Lslash Oslash OE ordmasculine ae dotlessi lslash oslash oe germandbls onesuperior logicalnot mu trademark Eth onehalf plusminus Thorn onequarter divide brokenbar degree thorn threequarters twosuperior registered minus eth multiply threesuperior copyright Aacute Acircumflex Adieresis Agrave Aring Atilde Ccedilla Eacute Ecircumflex Edieresis Egrave Iacute Icircumflex Idieresis Igrave Ntilde Oacute Ocircumflex Odieresis Ograve Otilde Scaron Uacute Ucircumflex Udieresis Ugrave Yacute Ydieresis Zcaron aacute acircumflex adieresis agrave aring atilde ccedilla eacute ecircumflex edieresis egrave iacute icircumflex idieresis igrave ntilde oacute ocircumflex odieresis ograve otilde scaron uacute ucircumflex udieresis ugrave yacute ydieresis zcaron`
	latinRunes = " !\"#$%&’()*+,-./0123456789:;<=>?@ABCDEFGHIJKLMNOPQRSTUVWXYZ[\\]^_‘abcdefghijklmnopqrstuvwxyz{|}~" +
		"¡¢£⁄¥ƒ§¤'“«‹›ﬁﬂ–†‡·¶•‚„”»…‰¿`´ˆ˜¯˘˙¨˚¸˝˛ˇ—ÆªŁØŒºæıłøœß" +
		"¹¬µ™Ð½±Þ¼÷¦°þ¾²®−ð×³©ÁÂÄÀÅÃÇÉÊËÈÍÎÏÌÑÓÔÖÒÕŠÚÛÜÙÝŸŽáâäàåãçéêëèíîïìñóôöòõšúûüùýÿž"
)

// latin is the table above, indexed; it never changes.
var latin = indexLatin()

type latinTable struct {
	sid  map[string]int
	char map[string]rune
	name map[rune]string
	list []string // by SID
}

func indexLatin() latinTable {
	t := latinTable{sid: map[string]int{}, char: map[string]rune{}, name: map[rune]string{}, list: []string{".notdef"}}
	runes := []rune(latinRunes)
	for i, n := range strings.Fields(latinNames) {
		t.sid[n], t.char[n], t.name[runes[i]] = i+1, runes[i], n
		t.list = append(t.list, n)
	}
	for n, c := range map[string]rune{"Euro": '€', "ff": 'ﬀ', "ffi": 'ﬃ', "ffl": 'ﬄ', "nbspace": ' ', "sfthyphen": '-'} {
		t.char[n] = c
	}
	t.name['€'] = "Euro"
	return t
}

// standardSID gives the standard string of a code of StandardEncoding (Annex D.2;
// Technical Note 5176, appendix B), 0 for none.
func standardSID(code int) int {
	for _, r := range [...][3]int{ // first code, last code, first string
		{32, 126, 1}, {161, 175, 96}, {177, 180, 111}, {182, 189, 115}, {191, 191, 123}, {193, 200, 124},
		{202, 203, 132}, {205, 208, 134}, {225, 225, 138}, {227, 227, 139}, {232, 235, 140}, {241, 241, 144},
		{245, 245, 145}, {248, 251, 146},
	} {
		if code >= r[0] && code <= r[1] {
			return r[2] + code - r[0]
		}
	}
	return 0
}

// codeNames gives the glyph names of a named encoding (Annex D.2); nil if the name
// is none of the three.
func codeNames(encoding string) *[256]string {
	var t [256]string
	switch encoding {
	case "StandardEncoding":
		for c := range t {
			if s := standardSID(c); s > 0 {
				t[c] = latin.list[s]
			}
		}
	case "WinAnsiEncoding":
		fillNames(&t, charmap.Windows1252)
		t[39], t[96], t[160], t[173] = "quotesingle", "grave", "space", "hyphen"
		for _, unused := range []int{127, 129, 141, 143, 144, 157} {
			t[unused] = "bullet"
		}
	case "MacRomanEncoding":
		fillNames(&t, charmap.Macintosh)
		t[39], t[96], t[202], t[219] = "quotesingle", "grave", "space", "currency"
	default:
		return nil
	}
	return &t
}

func fillNames(t *[256]string, m *charmap.Charmap) {
	for c := 32; c < 256; c++ {
		t[c] = latin.name[m.DecodeByte(byte(c))]
	}
}

func macCode(c rune) (int, bool) {
	b, ok := charmap.Macintosh.EncodeRune(c)
	return int(b), ok
}

// charOf tells what a glyph name means (Adobe Glyph List Specification, section 2,
// without the full list): 0 if it does not tell.
func charOf(name string) rune {
	if c, ok := latin.char[name]; ok {
		return c
	}
	if i := strings.IndexByte(name, '.'); i > 0 {
		return charOf(name[:i])
	}
	for _, prefix := range []string{"uni", "u"} {
		if hex, ok := strings.CutPrefix(name, prefix); ok && len(hex) >= 4 && len(hex) <= 6 {
			if v, err := strconv.ParseUint(hex, 16, 32); err == nil && v <= utf8.MaxRune {
				return rune(v)
			}
		}
	}
	return 0
}

// plainText reads a text string: UTF-16 or UTF-8 with its mark, else PDFDocEncoding,
// taken as Latin-1 (7.9.2.2; the two agree on letters).
func plainText(b []byte) string {
	switch {
	case len(b) >= 2 && b[0] == 0xfe && b[1] == 0xff:
		return utf16Text(b[2:])
	case len(b) >= 3 && b[0] == 0xef && b[1] == 0xbb && b[2] == 0xbf:
		return strings.ToValidUTF8(string(b[3:]), "\ufffd")
	}
	s, err := charmap.ISO8859_1.NewDecoder().Bytes(b)
	if err != nil {
		return ""
	}
	return string(s)
}

func utf16Text(b []byte) string {
	u := make([]uint16, len(b)/2)
	for i := range u {
		u[i] = uint16(b[2*i])<<8 | uint16(b[2*i+1])
	}
	return string(utf16.Decode(u))
}

// scientific reads "1.5E-3" forms; 0 if it is none.
func scientific(b []byte) float64 {
	v, err := strconv.ParseFloat(string(b), 64)
	if err != nil {
		return 0
	}
	return v
}
