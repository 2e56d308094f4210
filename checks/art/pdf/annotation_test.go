package pdf

import (
	"fmt"
	"strings"
	"testing"
)

func TestAnnotations(t *testing.T) {
	w := &writer{}
	stamp := w.stream("/Subtype /Form /BBox [0 0 10 10] /Matrix [1 0 0 1 5 5]", "1 0 0 rg 0 0 10 10 re f")
	add := func(flags int, extra string) string {
		return fmt.Sprintf("<< /Type /Annot /Subtype /Stamp /Rect [60 70 20 30] /F %d %s >>", flags, extra)
	}
	ap := "/AP << /N " + ref(stamp) + " >>"
	states := "/AS /On /AP << /N << /On " + ref(stamp) + " /Off 99 0 R >> >>"
	content := w.stream("", "0 0 1 1 re f")
	b := w.document("", fmt.Sprintf("%s /Contents %s /Annots [%s %s %s %s << /Subtype /Link /Rect [0 0 5 5] >> 7]", square, ref(content), add(4, ap), add(4, states), add(0, ap), add(6, ap)))
	p := first(t, b)
	if len(p.Annotations) != 5 || !p.Annotations[0].Prints || p.Annotations[2].Prints || p.Annotations[3].Prints || !p.Annotations[3].Hidden || p.Annotations[4].Appearance {
		t.Errorf("%+v", p.Annotations)
	}
	if p.Annotations[0].Box != (Rect{20, 30, 60, 70}) || p.Annotations[4].Subtype != "Link" {
		t.Errorf("%+v", p.Annotations)
	}
	c, err := p.Walk()
	if err != nil || len(c.Paths) != 3 {
		t.Fatalf("%+v %v", c, err)
	}
	// 12.5.5: the appearance's box, after its matrix, is fitted to Rect.
	for _, x := range c.Paths[1:] {
		if !x.Annotation || !near(x.Box, Rect{20, 30, 60, 70}, 1e-9) {
			t.Errorf("%+v", x.Item)
		}
	}
}

// What an annotation brings beside its look: a border (Tables 164 and 166, 1 where
// none is told), a script, a layer.
func TestAnnotationsBring(t *testing.T) {
	for extra, want := range map[string]string{
		"":                               "prints border",
		"/F 0":                           "border",
		"/Border [0 0 0]":                "prints",
		"/Border [0 0 2]":                "prints border",
		"/BS << /W 0 >>":                 "prints",
		"/BS << /W 0 >> /Border [0 0 1]": "prints",
		"/BS << /S /D >>":                "prints border",
		"/OC 1 0 R /Border [0 0 0]":      "",
		"/OC 2 0 R /Border [0 0 0]":      "prints",
		"/Border [0 0 0] /A << /S /JavaScript /JS () >>":                       "prints script",
		"/Border [0 0 0] /A << /S /URI /Next [<< /S /JavaScript /JS () >>] >>": "prints script",
		"/Border [0 0 0] /AA << /E << /S /JavaScript /JS () >> >>":             "prints script",
		"/Border [0 0 0] /A << /S /URI /URI (https://potter.example) >>":       "prints",
	} {
		w := &writer{}
		w.add("<< /Type /OCG /Name (off) >>")
		w.add("<< /Type /OCG /Name (on) >>")
		flags := "/F 4"
		if strings.HasPrefix(extra, "/F") {
			flags = ""
		}
		b := w.document("/OCProperties << /OCGs [1 0 R 2 0 R] /D << /OFF [1 0 R] >> >>",
			square+" /Annots [<< /Type /Annot /Subtype /Link /Rect [0 0 5 5] "+flags+" "+extra+" >>]")
		a := first(t, b).Annotations[0]
		got := ""
		for _, part := range []struct {
			is   bool
			name string
		}{{a.Prints, "prints"}, {a.Border, "border"}, {a.Script, "script"}} {
			if part.is {
				got = strings.TrimSpace(got + " " + part.name)
			}
		}
		if got != want {
			t.Errorf("%q: %q, want %q", extra, got, want)
		}
	}
}
