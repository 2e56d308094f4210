package pdf

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// memberships are dictionaries over a group that is on, 1 0 R, one that is off,
// 2 0 R, and one that the catalog does not list, 3 0 R, with what they show: by P and
// OCGs (Table 99) and by visibility expressions, which go first.
var memberships = []struct {
	dict  string
	shown bool
}{
	{"/OCGs 1 0 R", true},
	{"/OCGs 2 0 R", false},
	{"/OCGs [1 0 R 2 0 R]", true},
	{"/OCGs [1 0 R 2 0 R] /P /AllOn", false},
	{"/OCGs [1 0 R 2 0 R] /P /AnyOff", true},
	{"/OCGs [1 0 R 2 0 R] /P /AllOff", false},
	{"/OCGs [null 2 0 R]", false},
	{"/OCGs [] /P /AllOn", true},
	{"", true},
	{"/VE [/Not 2 0 R]", true},
	{"/VE [/Not 1 0 R]", false},
	{"/VE [/And 1 0 R 2 0 R]", false},
	{"/VE [/Or 1 0 R 2 0 R]", true},
	{"/VE [/Or 2 0 R [/Not 1 0 R]]", false},
	{"/VE [/And 1 0 R [/Not 2 0 R]]", true},
	{"/VE [/And [/Or 1 0 R 2 0 R] [/Not [/And 1 0 R 2 0 R]]]", true},
	{"/VE [/Not [/Or [/Not 1 0 R] 2 0 R]]", true},
	{"/OCGs [1 0 R] /VE [/Not 1 0 R]", false},
	{"/OCGs [2 0 R] /P /AllOn /VE [/And 1 0 R]", true},
}

func memberPage() []byte {
	w := &writer{}
	for _, name := range []string{"on", "off", "unlisted"} {
		w.add("<< /Type /OCG /Name (" + name + ") >>")
	}
	var properties, content strings.Builder
	for i, m := range memberships {
		fmt.Fprintf(&properties, "/M%d %s ", i, ref(w.add("<< /Type /OCMD "+m.dict+" >>")))
		fmt.Fprintf(&content, "/OC /M%d BDC BT /F1 9 Tf 9 %d Td (word%02d) Tj ET EMC\n", i, 10+20*i, i)
	}
	c := w.stream("", content.String())
	return w.document("/OCProperties << /OCGs [1 0 R 2 0 R] /D << /OFF [2 0 R] >> >>",
		fmt.Sprintf("/MediaBox [0 0 200 500] %s /Resources << %s /Properties << %s >> >>", "/Contents "+ref(c), helvetica, properties.String()))
}

func TestMemberships(t *testing.T) {
	c := walk(t, memberPage())
	if len(c.Texts) != len(memberships) {
		t.Fatalf("%d texts", len(c.Texts))
	}
	for i, m := range memberships {
		if c.Texts[i].Hidden == m.shown {
			t.Errorf("%q: hidden %v", m.dict, c.Texts[i].Hidden)
		}
	}
}

// pdftotext leaves out what layers hide on a screen, which for groups without a
// usage is what they hide in print.
func TestMembershipsAgainstPdftotext(t *testing.T) {
	var got, want []string
	for i, m := range memberships {
		if m.shown {
			want = append(want, fmt.Sprintf("word%02d", i))
		}
	}
	for _, w := range pdftotext(t, memberPage()) {
		got = append(got, w.text)
	}
	slices.Sort(got)
	if !slices.Equal(got, want) {
		t.Errorf("pdftotext shows %q, we %q", got, want)
	}
}

// Expressions that make no sense hide nothing, and a group that is for designers
// alone or unknown hides nothing by itself.
func TestExpressionsThatSlip(t *testing.T) {
	for _, expression := range []string{
		"[]", "[/And]", "[/Xor 2 0 R 2 0 R]", "[2 0 R]", "[/Or 9 9]", "[/And 3 0 R]", "[/And [/And [/Or 3 0 R]] 1 0 R]", "(x)", "[/Not [/Not 1 0 R]]",
		"[/And " + strings.Repeat("1 0 R ", 500) + "2 0 R]", // past the ceiling
	} {
		w := &writer{}
		for _, name := range []string{"on", "off", "unlisted"} {
			w.add("<< /Type /OCG /Name (" + name + ") >>")
		}
		member := w.add("<< /Type /OCMD /VE " + expression + " >>")
		content := w.stream("", "/OC /M BDC 0 0 9 9 re f EMC")
		b := w.document("/OCProperties << /OCGs [1 0 R 2 0 R] /D << /OFF [2 0 R] >> >>",
			fmt.Sprintf("%s /Contents %s /Resources << /Properties << /M %s >> >>", square, ref(content), ref(member)))
		if p := onlyPath(t, b); p.Hidden {
			t.Errorf("%.40s hides", expression)
		}
	}
}
