package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"unicode/utf16"
	"unicode/utf8"

	"stoneproof/rules"
)

// schemaName names this form of the report; it changes when a reader of the
// old form would misread the new one.
const schemaName = "stoneproof/report/1"

// customSize stands for the name of a size whose trim was given by hand.
const customSize = "custom"

// JSON writes the report for programs, as Schema describes it: lengths in
// millimetres, numbers to a thousandth, files and findings in the order in
// which the report holds them. Equal reports give equal bytes. Text stands as
// the files have it, but in escapes where a terminal could stumble over it. An
// error is w's own.
func JSON(w io.Writer, r rules.Report) error {
	text, err := json.MarshalIndent(reportOf(r), "", "  ")
	if err != nil {
		return fmt.Errorf("report as json: %w", err)
	}
	_, err = w.Write(append(escaped(text), '\n'))
	return err
}

// escaped writes every rune that a terminal does not simply show as \uXXXX. In
// JSON such runes stand only inside strings, so the meaning stays the same.
func escaped(text []byte) []byte {
	var out bytes.Buffer
	for len(text) > 0 {
		r, n := utf8.DecodeRune(text)
		switch {
		case r == '\n' || shows(r):
			out.Write(text[:n])
		case r > 0xffff:
			high, low := utf16.EncodeRune(r)
			fmt.Fprintf(&out, `\u%04x\u%04x`, high, low)
		default:
			fmt.Fprintf(&out, `\u%04x`, r)
		}
		text = text[n:]
	}
	return out.Bytes()
}
