package press

import (
	"bytes"
	"compress/zlib"
	"crypto/md5"
	"fmt"
	"strconv"
	"strings"
)

// pdfDoc collects numbered objects and writes them as a classic PDF file:
// header, objects, cross-reference table, trailer (ISO 32000-1 7.5).
type pdfDoc struct{ objs []string }

// ref is an object's number; written out it reads "7 0 R".
type ref int

func (r ref) String() string { return strconv.Itoa(int(r)) + " 0 R" }

// reserve takes a number for an object that is written later.
func (d *pdfDoc) reserve() ref {
	d.objs = append(d.objs, "null")
	return ref(len(d.objs))
}

func (d *pdfDoc) set(r ref, body string) { d.objs[r-1] = body }

func (d *pdfDoc) add(body string) ref {
	r := d.reserve()
	d.set(r, body)
	return r
}

// stream adds data, Flate-compressed, with the entries dict.
func (d *pdfDoc) stream(dict string, data []byte) ref {
	r := d.reserve()
	d.setStream(r, dict, data)
	return r
}

func (d *pdfDoc) setStream(r ref, dict string, data []byte) {
	d.setRaw(r, dict+" /Filter /FlateDecode", deflated(data))
}

// setRaw keeps data as it is: whatever coded it is named in dict.
func (d *pdfDoc) setRaw(r ref, dict string, data []byte) {
	d.set(r, fmt.Sprintf("<< %s /Length %d >>\nstream\n%s\nendstream", strings.TrimSpace(dict), len(data), data))
}

func deflated(data []byte) []byte {
	var b bytes.Buffer
	z, err := zlib.NewWriterLevel(&b, zlib.BestCompression)
	if err != nil {
		panic("press: " + err.Error())
	}
	// Writes to a buffer do not fail.
	_, _ = z.Write(data)
	_ = z.Close()
	return b.Bytes()
}

// file writes the document. Its ID is the sum of what it holds, so that the
// same art gives the same bytes.
func (d *pdfDoc) file(root, info ref) []byte {
	var b bytes.Buffer
	// The second line's high bytes tell transfer programs that this is binary.
	b.WriteString("%PDF-1.6\n%\xe2\xe3\xcf\xd3\n")
	at := make([]int, len(d.objs))
	for i, body := range d.objs {
		at[i] = b.Len()
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", i+1, body)
	}
	id := md5.Sum(b.Bytes())
	table := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(d.objs)+1)
	for _, o := range at {
		fmt.Fprintf(&b, "%010d 00000 n \n", o)
	}
	fmt.Fprintf(&b, "trailer\n<< /Size %d /Root %v /Info %v /ID [<%x> <%x>] >>\nstartxref\n%d\n%%%%EOF\n",
		len(d.objs)+1, root, info, id, id, table)
	return b.Bytes()
}

// num writes numbers as PDF wants them: no exponent, no needless zeros.
func num(vs ...float64) string {
	words := make([]string, len(vs))
	for i, v := range vs {
		s := strconv.FormatFloat(v, 'f', 4, 64)
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
		if s == "-0" || s == "" {
			s = "0"
		}
		words[i] = s
	}
	return strings.Join(words, " ")
}

// literal writes a string of plain letters (ISO 32000-1 7.3.4.2).
func literal(s string) string {
	return "(" + strings.NewReplacer(`\`, `\\`, "(", `\(`, ")", `\)`).Replace(s) + ")"
}
