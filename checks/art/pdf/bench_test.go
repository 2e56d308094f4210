package pdf

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"stoneproof/checks/art/pdf/syntax"
)

// busyCard is a photo, 60 curves and 12 lines of text.
func busyCard() []byte {
	w := &writer{}
	var z bytes.Buffer
	deflate := zlib.NewWriter(&z)
	noise := rand.New(rand.NewPCG(1, 2))
	row := make([]byte, 3*1125)
	for range 675 {
		for i := range row {
			row[i] = byte(noise.Uint32())
		}
		deflate.Write(row)
	}
	deflate.Close()
	img := w.stream("/Type /XObject /Subtype /Image /Width 1125 /Height 675 /BitsPerComponent 8 /ColorSpace /DeviceRGB /Filter /FlateDecode", z.String())
	var c strings.Builder
	c.WriteString("q 270 0 0 162 0 0 cm /Im Do Q\n")
	for i := range 60 {
		fmt.Fprintf(&c, "0 %.2f 1 0 k %d %d m %d 90 %d 20 %d 100 c f\n", float64(i)/60, i, i*2, i*3, i*4, i)
	}
	for i := range 12 {
		fmt.Fprintf(&c, "BT /F1 8 Tf 1 0 0 1 20 %d Tm (Wheels mended while you wait, line %d) Tj ET\n", 20+i*10, i)
	}
	return w.page(cardPage, fmt.Sprintf("/XObject << /Im %s >> %s", ref(img), helvetica), c.String())
}

func BenchmarkOpenAndWalk(b *testing.B) {
	file := busyCard()
	b.SetBytes(int64(len(file)))
	b.ReportAllocs()
	for b.Loop() {
		p := first(b, file)
		if _, err := p.Walk(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkWalk(b *testing.B) {
	p := first(b, busyCard())
	b.ReportAllocs()
	for b.Loop() {
		if _, err := p.Walk(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLexer(b *testing.B) {
	content := []byte(strings.Repeat("12.5 -0.25 m 100 200 300.125 400 .5 6 c /Name gs (text) Tj\n", 1000))
	b.SetBytes(int64(len(content)))
	b.ReportAllocs()
	for b.Loop() {
		l := syntax.Lexer{B: content}
		for l.Next().Kind != syntax.End {
		}
	}
}
