package plates

import (
	"runtime/debug"
	"strings"
	"testing"

	"stoneproof/checks/art/pdf"
)

// FuzzSeparate rewrites any bytes whatever. Apart from the parser of the file, whose
// panics are caught, nothing may panic; and what is made has to be a PDF with a page
// for each plate.
func FuzzSeparate(f *testing.F) {
	for _, s := range allSamples() {
		w := &writer{}
		if c := w.card(s.build(f, w)); len(c) < 64<<10 {
			f.Add(c)
		}
	}
	lim := DefaultLimits()
	lim.Operators, lim.DecodedBytes, lim.ImageBytes, lim.OutputBytes = 20_000, 4<<20, 8<<20, 32<<20
	f.Fuzz(func(t *testing.T, b []byte) {
		fuzzOne(t, b, lim)
	})
}

// FuzzContent rewrites any content whatever, with resources to draw on.
func FuzzContent(f *testing.F) {
	resources := ""
	for _, s := range allSamples() {
		w := &writer{}
		c := s.build(f, w)
		if len(w.objects) == 0 {
			resources = c.resources
		}
		if len(c.content) < 16<<10 {
			f.Add([]byte(c.content))
		}
	}
	lim := DefaultLimits()
	lim.Operators, lim.DecodedBytes, lim.ImageBytes, lim.OutputBytes = 20_000, 4<<20, 8<<20, 32<<20
	f.Fuzz(func(t *testing.T, content []byte) {
		w := &writer{}
		fuzzOne(t, w.card(card{resources: resources + "/Font<</F<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>>>", content: string(content)}), lim)
	})
}

func fuzzOne(t *testing.T, b []byte, lim Limits) {
	doc, err := pdf.Open(b, pdf.DefaultLimits())
	if err != nil {
		return
	}
	defer func() {
		if r := recover(); r != nil && !strings.Contains(string(debug.Stack()), "/pdfcpu/pkg/") {
			panic(r)
		}
	}()
	job, err := rewrite(doc, 1, Options{Limits: lim})
	if err != nil {
		return
	}
	made, err := pdf.Open(job.PDF, pdf.DefaultLimits())
	if err != nil {
		t.Fatalf("what was made is no PDF: %v", err)
	}
	if made.PageCount != len(job.Names) {
		t.Fatalf("%d pages for %q", made.PageCount, job.Names)
	}
}
