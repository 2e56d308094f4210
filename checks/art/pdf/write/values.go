package write

import (
	"fmt"
	"strconv"
	"strings"
	"unicode/utf16"
)

// Reference refers to object n.
func Reference(n int) string { return strconv.Itoa(n) + " 0 R" }

// AppendName writes a name with everything but letters and digits as #xx (7.3.5).
func AppendName(b []byte, name string) []byte {
	const digits = "0123456789ABCDEF"
	b = append(b, '/')
	for i := range len(name) {
		switch c := name[i]; {
		case c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '-' || c == '_' || c == '.' || c == '+':
			b = append(b, c)
		default:
			b = append(b, '#', digits[c>>4], digits[c&15])
		}
	}
	return b
}

// AppendNumber writes a number to a millionth, without an exponent (7.3.3).
func AppendNumber(b []byte, v float64) []byte {
	if v == float64(int64(v)) {
		return strconv.AppendInt(b, int64(v), 10)
	}
	return strconv.AppendFloat(b, v, 'f', 6, 64)
}

// Numbers writes an array of numbers.
func Numbers(v ...float64) string {
	b := []byte{'['}
	for _, x := range v {
		b = append(AppendNumber(b, x), ' ')
	}
	return string(append(b, ']'))
}

// Text writes a text string in UTF-16, into which any text fits (7.9.2.2).
func Text(s string) string {
	var b strings.Builder
	b.WriteString("<FEFF")
	for _, u := range utf16.Encode([]rune(s)) {
		fmt.Fprintf(&b, "%04X", u)
	}
	return b.String() + ">"
}
