package page

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"html/template"
	"io"

	"stoneproof/rules"
)

// Options says what a page shows beside the findings.
type Options struct {
	Strict bool // the run counts warnings as failures

	// Proof is the proof of a side of the report's n-th file, by the side's number;
	// nil where there are no proofs.
	Proof func(file, side int) *Proof
}

//go:embed page.css
var style string

//go:embed page.html
var markup string

// forms are the page and its parts, read once. They hold no state.
var forms = template.Must(template.New("page").Parse(markup))

// Style is the page's style sheet, for those who show its Body.
func Style() string { return style }

// Write writes the report as a page of its own. Equal reports give equal bytes. The
// only errors are w's own.
func Write(w io.Writer, r rules.Report, o Options) error { return write(w, "page", r, o) }

// Body writes what a page shows of the report, without head and style, to be shown
// in another page.
func Body(w io.Writer, r rules.Report, o Options) error { return write(w, "report", r, o) }

func write(w io.Writer, form string, r rules.Report, o Options) error {
	v, err := viewOf(r, o)
	if err != nil {
		return err
	}
	var out bytes.Buffer
	if err := forms.ExecuteTemplate(&out, form, v); err != nil {
		return err
	}
	_, err = w.Write(out.Bytes())
	return err
}

// policy lets the page show its own pictures and style, and do nothing else, even
// if something in it had got past the escaping.
func policy() string {
	sum := sha256.Sum256([]byte(style))
	return "default-src 'none'; img-src data:; style-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'; base-uri 'none'; form-action 'none'"
}
