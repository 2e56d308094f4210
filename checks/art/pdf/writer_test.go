package pdf

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
)

// writer makes small PDFs for the tests: objects in order, a classic table.
type writer struct {
	objects []string
	root    int
	trailer string // further entries of the trailer
}

func (w *writer) add(body string) int {
	w.objects = append(w.objects, body)
	return len(w.objects)
}

func (w *writer) stream(dict, data string) int {
	return w.add(fmt.Sprintf("<< %s /Length %d >>\nstream\n%s\nendstream", dict, len(data), data))
}

// ref is a reference to an object.
func ref(id int) string { return fmt.Sprintf("%d 0 R", id) }

// document closes the file: pages is a list of page dictionaries' inner text, in
// which PARENT stands for the parent.
func (w *writer) document(catalog string, pages ...string) []byte {
	node := len(w.objects) + len(pages) + 1
	var kids []string
	for _, p := range pages {
		id := w.add("<< /Type /Page /Parent " + ref(node) + " " + p + " >>")
		kids = append(kids, ref(id))
	}
	w.add(fmt.Sprintf("<< /Type /Pages /Count %d /Kids [%s] >>", len(pages), strings.Join(kids, " ")))
	w.root = w.add("<< /Type /Catalog /Pages " + ref(node) + " " + catalog + " >>")
	return w.bytes()
}

func (w *writer) bytes() []byte {
	var b bytes.Buffer
	b.WriteString("%PDF-1.7\n%\xe2\xe3\xcf\xd3\n")
	var at []int
	for i, o := range w.objects {
		at = append(at, b.Len())
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", i+1, o)
	}
	start := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(at)+1)
	for _, a := range at {
		fmt.Fprintf(&b, "%010d 00000 n \n", a)
	}
	fmt.Fprintf(&b, "trailer\n<< /Size %d /Root %s %s >>\nstartxref\n%d\n%%%%EOF\n", len(at)+1, ref(w.root), w.trailer, start)
	return b.Bytes()
}

// onePage is a file of one page.
func onePage(page, resources, content string) []byte {
	w := &writer{}
	return w.page(page, resources, content)
}

// page closes the file with one page that uses objects added before.
func (w *writer) page(page, resources, content string) []byte {
	c := w.stream("", content)
	return w.document("", fmt.Sprintf("%s /Resources << %s >> /Contents %s", page, resources, ref(c)))
}

func open(t testing.TB, b []byte) *Document {
	t.Helper()
	d, err := Open(b, DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func first(t testing.TB, b []byte) *Page {
	t.Helper()
	p, err := open(t, b).Page(1)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func walk(t testing.TB, b []byte) *Content {
	t.Helper()
	c, err := first(t, b).Walk()
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// cardPage is a business card with bleed: 3.75 × 2.25 in, trim 3.5 × 2 in.
const cardPage = "/MediaBox [0 0 270 162] /TrimBox [9 9 261 153]"

// helvetica is a font resource that every reader has.
const helvetica = "/Font << /F1 << /Type /Font /Subtype /Type1 /BaseFont /Helvetica /Encoding /WinAnsiEncoding >> >>"
