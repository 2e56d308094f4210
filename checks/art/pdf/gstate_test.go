package pdf

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// Overprint (Table 58): OP alone is for both kinds of paint, op for filling alone;
// OPM stays until it is set; a second dictionary changes no more than it says.
func TestOverprintParameters(t *testing.T) {
	states := map[string]string{
		"Both": "/OP true", "None": "/OP false", "Stroke": "/OP true /op false", "Fill": "/op true", "NotFill": "/op false",
		"FillOnly": "/OP false /op true", "Mode": "/OPM 1", "Mode0": "/OPM 0", "Odd": "/OP 1 /op (x)",
	}
	var resources strings.Builder
	for name, s := range states {
		fmt.Fprintf(&resources, "/%s << %s >> ", name, s)
	}
	for content, want := range map[string]string{
		"":                               "fill false stroke false mode 0",
		"/Both gs":                       "fill true stroke true mode 0",
		"/Fill gs":                       "fill true stroke false mode 0",
		"/Stroke gs":                     "fill false stroke true mode 0",
		"/FillOnly gs":                   "fill true stroke false mode 0",
		"/Both gs /NotFill gs":           "fill false stroke true mode 0",
		"/Fill gs /None gs":              "fill false stroke false mode 0", // OP comes without op
		"/NotFill gs /Both gs":           "fill true stroke true mode 0",
		"/Both gs /Mode gs":              "fill true stroke true mode 1",
		"/Mode gs /None gs":              "fill false stroke false mode 1",
		"/Mode gs /Mode0 gs":             "fill false stroke false mode 0",
		"q /Both gs /Mode gs Q":          "fill false stroke false mode 0",
		"/Mode gs q /Both gs Q":          "fill false stroke false mode 1",
		"/Both gs q /None gs Q":          "fill true stroke true mode 0",
		"/Odd gs":                        "fill false stroke false mode 0",
		"/Both gs 0 0 0 1 k 1 0 0 RG":    "fill true stroke true mode 0",
		"/Both gs BT /F1 9 Tf (x) Tj ET": "fill true stroke true mode 0",
	} {
		c := walk(t, onePage(square, helvetica+" /ExtGState << "+resources.String()+">>", content+" 0 0 9 9 re B"))
		l := c.Paths[0].Look
		if got := fmt.Sprintf("fill %v stroke %v mode %d", l.FillOverprint, l.StrokeOverprint, l.OverprintMode); got != want {
			t.Errorf("%s: %s, want %s", content, got, want)
		}
	}
}

// What a form sets ends with it (8.10.1), even where it leaves states saved and marks
// open, and a form begins with what is set outside, but in no text object.
func TestNothingLeaksFromForms(t *testing.T) {
	w := &writer{}
	mask := w.form("/Group << /S /Transparency >>", "", "0 0 9 9 re f")
	states := "/ExtGState << /G << /ca 0.5 /CA 0.5 /BM /Multiply /OP true /OPM 1 /LW 7 /D [[1] 0] /SMask << /S /Alpha /G " + ref(mask) + " >> >> >>"
	off := w.add("<< /Type /OCG /Name (off) >>")
	form := w.form("", helvetica+states+" /Properties << /L "+ref(off)+" >> /ColorSpace << /Gold [/Separation /Gold /DeviceCMYK 99 0 R] >>",
		"/Gold cs 0.5 scn 1 0 0 RG /G gs q q 2 0 0 2 9 9 cm 1 1 1 1 re W n BT /F1 30 Tf 5 Tc 5 Tw 50 Tz 5 Ts 1 Tr 9 TL 20 20 Td (form) Tj ET BT 7 Tr (clip) Tj /OC /L BDC 8 8 m")
	reads := w.form("", helvetica, "0 0 3 3 re f BT (inherits) Tj ET")
	resources := helvetica + "/XObject << /F " + ref(form) + " /R " + ref(reads) + " >> /ColorSpace << /Blue [/Separation /Blue /DeviceCMYK 99 0 R] >>"
	page := func(before string) *Content {
		content := w.stream("", "/Blue cs 0.25 scn BT /F1 10 Tf 1 Tc 20 20 Td "+before+" (page) Tj ET 0 0 9 9 re B")
		b := (&writer{objects: append([]string{}, w.objects...)}).document("/OCProperties << /OCGs ["+ref(off)+"] /D << /OFF ["+ref(off)+"] >> >>",
			fmt.Sprintf("%s /Resources << %s >> /Contents %s", square, resources, ref(content)))
		return walk(t, b)
	}
	w.objects = slices.Clip(w.objects)
	plain, after := page(""), page("/F Do")
	last := func(c *Content) (Text, Path) { return c.Texts[len(c.Texts)-1], c.Paths[len(c.Paths)-1] }
	wantText, wantPath := last(plain)
	gotText, gotPath := last(after)
	if fmt.Sprint(gotText.Full, gotText.Box, gotText.Size, gotText.Mode) != fmt.Sprint(wantText.Full, wantText.Box, wantText.Size, wantText.Mode) {
		t.Errorf("text %+v, want %+v", gotText, wantText)
	}
	look := func(l Look) string {
		return fmt.Sprint(l.Fill.Space, l.Fill.Values, l.Stroke.Space, l.FillAlpha, l.StrokeAlpha, l.Blend, l.SoftMask, l.FillOverprint, l.OverprintMode)
	}
	if look(gotPath.Look) != look(wantPath.Look) || gotPath.Box != wantPath.Box || gotPath.Hidden || gotPath.WidthMax != 1 || gotPath.Dashed || gotPath.Segments != 4 {
		t.Errorf("path %+v, want %+v", gotPath, wantPath)
	}
	c := page("/R Do")
	if x := c.Texts[0]; x.String != "inherits" || x.Size != 10 || x.Full.X0 > 1 || c.Paths[0].Fill.Space.Names[0] != "Blue" {
		t.Errorf("the form shows %+v, paints %+v", x, c.Paths[0].Look)
	}
}

// A soft mask, alpha and blend mode are part of the state that Q brings back.
func TestTransparencyIsRestored(t *testing.T) {
	w := &writer{}
	a, b := w.form("/Group << /S /Transparency >>", "", "0 0 1 1 re f"), w.form("/Group << /S /Transparency >>", "", "0 0 2 2 re f")
	states := fmt.Sprintf("/ExtGState << /A << /SMask << /S /Alpha /G %s >> /ca 0.5 >> /B << /SMask << /S /Luminosity /G %s >> /BM /Screen >> /N << /SMask /None /ca 1 >> >>", ref(a), ref(b))
	c := walk(t, w.page(square, states, "q /A gs 0 0 5 5 re f q /B gs 0 0 5 5 re f Q 0 0 5 5 re f q /N gs 0 0 5 5 re f Q 0 0 5 5 re f Q 0 0 5 5 re f"))
	want := []string{"true 0.5 Normal", "true 0.5 Screen", "true 0.5 Normal", "false 1 Normal", "true 0.5 Normal", "false 1 Normal"}
	var got []string
	masks := 0
	for _, p := range c.Paths {
		if p.InMask {
			masks++
			if p.SoftMask || p.FillAlpha != 1 || p.Blend != "Normal" {
				t.Errorf("a mask begins with %+v", p.Look)
			}
			continue
		}
		got = append(got, fmt.Sprintf("%v %v %s", p.SoftMask, p.FillAlpha, p.Blend))
	}
	if !slices.Equal(got, want) || masks != 2 {
		t.Errorf("%q, %d masks", got, masks)
	}
}

// What 9.3 sets stays from one text object to the next and is saved by q; where the
// next glyph goes does not stay (9.4.1).
func TestTextStateStays(t *testing.T) {
	w := &writer{}
	fonts := w.embedded()
	show := func(content string) Text {
		c := walk(t, (&writer{objects: append([]string{}, w.objects...)}).page("/MediaBox [0 0 200 200]", fonts, content))
		if len(c.Texts) == 0 || len(c.Notes) > 0 {
			t.Fatalf("%s: %d texts, %q", content, len(c.Texts), c.Notes)
		}
		return c.Texts[len(c.Texts)-1]
	}
	const set = "/F1 20 Tf 2 Tc 3 Tw 80 Tz 4 Ts 9 TL 1 Tr"
	want := show("BT " + set + " 30 50 Td (H H) Tj ET")
	for _, content := range []string{
		set + " BT 30 50 Td (H H) Tj ET",
		"BT " + set + " ET BT 30 50 Td (H H) Tj ET",
		"BT " + set + " 99 99 Td (x) Tj ET BT 30 50 Td (H H) Tj ET",
		"BT " + set + " ET q BT /F1 5 Tf 0 Tc 0 Tw 100 Tz 0 Ts 0 Tr (x) Tj ET Q BT 30 50 Td (H H) Tj ET",
		"BT " + set + " 30 59 Td T* (H H) Tj ET",
		"BT " + set + " 30 59 Td (H H) ' ET",
		"BT " + set + " 30 59 Td 3 2 (H H) \" ET",
		"BT " + set + " 30 59 Td 0 -9 TD (H H) Tj ET",
		"BT " + set + " 30 68 Td 0 -9 TD T* (H H) Tj ET",
		"BT " + set + " 1 0 0 1 30 50 Tm (H H) Tj ET",
	} {
		if got := show(content); !near(got.Full, want.Full, 1e-9) || got.Size != want.Size || got.Mode != 1 {
			t.Errorf("%s: %v size %v, want %v size %v", content, got.Full, got.Size, want.Full, want.Size)
		}
	}
	// Text outside a text object is a slip that readers forgive (seen in Ghostscript
	// and poppler): it starts at the origin.
	if got, want := show("/F1 20 Tf (H) Tj"), show("BT /F1 20 Tf (H) Tj ET"); got.Full != want.Full {
		t.Errorf("outside a text object in %v, inside in %v", got.Full, want.Full)
	}
	// Tz does not make type higher, nor does Ts; the box shows both.
	if x := show("BT /F1 20 Tf 30 50 Td (H) Tj ET"); want.Size != 20 || x.Full.Y0 <= want.Full.Y0 {
		t.Errorf("size %v in %v, plain in %v", want.Size, want.Full, x.Full)
	}
}

// Modes 4 to 7 clip what follows the text object, all its runs together; the other
// modes do not, nor does type without ink, Type 3 type, or type before Q (9.3.6).
func TestTextThatClips(t *testing.T) {
	w := &writer{}
	fonts := strings.TrimSuffix(w.embedded(), ">>")
	glyph := w.stream("", "500 0 d0 0 0 500 500 re f")
	fonts += "/F3 << /Subtype /Type3 /FontMatrix [0.002 0 0 0.002 0 0] /FirstChar 97 /Widths [500] /CharProcs << /a " + ref(glyph) + " >> /Encoding << /Differences [97 /a] >> >> >>"
	page := func(content string) *Content {
		return walk(t, (&writer{objects: append([]string{}, w.objects...)}).page(square, fonts, content))
	}
	all := Rect{0, 0, 100, 100}
	for mode := range 8 {
		c := page(fmt.Sprintf("q BT /F1 20 Tf %d Tr 10 20 Td (H) Tj 40 30 Td (I) Tj 0 0 100 100 re f ET 0 0 100 100 re f Q 0 0 100 100 re f", mode))
		letters, want := c.Texts[0].Full.Union(c.Texts[1].Full), all
		if mode >= 4 {
			want = letters
		}
		if c.Paths[0].Box != all || !near(c.Paths[1].Box, want, 1e-9) || c.Paths[1].Shaped != (mode >= 4) || c.Paths[2].Box != all {
			t.Errorf("mode %d: %v, %v, %v", mode, c.Paths[0].Box, c.Paths[1].Box, c.Paths[2].Box)
		}
		if seen := c.Texts[0].Seen(); seen != (mode != 3 && mode != 7) {
			t.Errorf("mode %d: seen %v", mode, seen)
		}
	}
	for _, content := range []string{
		"BT /F1 20 Tf 7 Tr 10 20 Td (   ) Tj ET",
		"BT /F3 20 Tf 7 Tr 10 20 Td (a) Tj ET",
		"q BT /F1 20 Tf 7 Tr 10 20 Td (H) Tj ET Q",
		"BT /F1 20 Tf 7 Tr ET",
	} {
		c := page(content + " 0 0 100 100 re f")
		if p := c.Paths[len(c.Paths)-1]; p.Box != all {
			t.Errorf("%s: clipped to %v", content, p.Box)
		}
	}
	// A second text object clips what the first one left.
	if c := page("BT /F1 20 Tf 7 Tr 10 20 Td (H) Tj ET BT 60 60 Td (H) Tj ET 0 0 100 100 re f"); !c.Paths[0].Clipped {
		t.Errorf("two texts that do not meet let through %v", c.Paths[0].Box)
	}
}
