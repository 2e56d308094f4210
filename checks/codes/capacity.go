package codes

import (
	"errors"

	"github.com/makiuchi-d/gozxing/qrcode/decoder"
)

// Versions of the symbol: version v has 17 + 4·v modules a side (ISO/IEC 18004, 5.1).
const versions = 40

// Modules is how many modules a symbol of a version has on a side.
func Modules(version int) int { return 17 + step*version }

// Version is the version of a symbol of so many modules a side, 0 if there is none.
func Version(modules int) int {
	v := (modules - 17) / step
	if v < 1 || v > versions || Modules(v) != modules {
		return 0
	}
	return v
}

// Capacity is how many characters of a text's kind a symbol of a version holds at a
// level of error correction: digits, digits with capital letters and a few signs, or
// else bytes (ISO/IEC 18004, 6.4 and Table 7).
func Capacity(version int, level, text string) (int, error) {
	if version < 1 || version > versions {
		return 0, errors.New("no such version of a QR code")
	}
	ec, err := decoder.ErrorCorrectionLevel_ValueOf(level)
	if err != nil {
		return 0, errors.New("no such level of error correction")
	}
	v := decoder.VERSIONS[version-1]
	blocks := v.GetECBlocksForLevel(ec)
	bits := 8 * (v.GetTotalCodewords() - blocks.GetTotalECCodewords())
	mode := kindOf(text)
	bits -= 4 + mode.GetCharacterCountBits(v) // the mode's mark and the count
	switch mode {
	case decoder.Mode_NUMERIC: // three digits in ten bits, two in seven, one in four
		return bits/10*3 + min(2, max(0, bits%10-1)/3), nil
	case decoder.Mode_ALPHANUMERIC: // two in eleven bits, one in six
		return bits/11*2 + bits%11/6, nil
	}
	return bits / 8, nil
}

// kindOf is the closest mode that holds all of a text.
func kindOf(text string) *decoder.Mode {
	digits, capitals := true, true
	for i := range len(text) {
		c := text[i]
		digit := c >= '0' && c <= '9'
		digits = digits && digit
		capitals = capitals && (digit || isCapital(c))
	}
	switch {
	case text == "":
		return decoder.Mode_BYTE
	case digits:
		return decoder.Mode_NUMERIC
	case capitals:
		return decoder.Mode_ALPHANUMERIC
	}
	return decoder.Mode_BYTE
}

// isCapital reports whether a byte is of the 35 that the alphanumeric mode has beside
// the digits (ISO/IEC 18004, Table 5).
func isCapital(c byte) bool {
	if c >= 'A' && c <= 'Z' {
		return true
	}
	for _, s := range []byte(" $%*+-./:") {
		if c == s {
			return true
		}
	}
	return false
}
