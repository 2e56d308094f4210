package checks_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stoneproof/checks"
	"stoneproof/checks/checktest"
	"stoneproof/checks/checktest/press"
	"stoneproof/rules"
)

// annotated is a card with one annotation of entries, whose appearance, a grey box,
// is 6 0 R.
func annotated(entries string) sheet {
	s := card(ground, "<< /Type /Annot "+entries+" >>", stream("/Type /XObject /Subtype /Form /BBox [0 0 40 20]", "0.5 g 0 0 40 20 re f"))
	s.page += " /Annots [5 0 R]"
	return s
}

// Of the flags of an annotation bit 2, 2, hides it, bit 3, 4, has it printed, and
// bit 6, 32, keeps it off a screen (ISO 32000-1, Table 165).
func TestLiveExtrasAnnotations(t *testing.T) {
	const inside, look = "/Rect [60 60 100 80] ", "/AP << /N 6 0 R >> "
	const link = "/Subtype /Link /A << /S /URI /URI (https://potter.example) >> "
	off := annotated(inside + look + "/F 4 /Subtype /Stamp /OC 7 0 R")
	off.objects = append(off.objects, "<< /Type /OCG /Name (Proof) >>")
	two := annotated(inside + look + "/F 4 /Subtype /Stamp")
	two.page = strings.Replace(two.page, "[5 0 R]", "[5 0 R << /Type /Annot /Subtype /Highlight /Rect [100 20 130 30] /F 4 >>]", 1)
	slug := annotated("/Rect [20 200 100 220] /F 4 /Subtype /PrinterMark " + look)
	slug.page = strings.Replace(slug.page, "/MediaBox [0 0 270 162]", "/MediaBox [0 0 270 260]", 1)
	try(t, checks.LiveExtras, []trial{
		{"a stamp that prints", annotated(inside + look + "/F 4 /Subtype /Stamp").file(), rules.Order{}, "warn", "A stamp (0.99 in across, 1.15 in down) lies on top of the page and prints"},
		{"one with other flags beside", annotated(inside + look + "/F 196 /Subtype /Stamp").file(), rules.Order{}, "warn", ""},
		{"one that is kept off the screen alone", annotated(inside + look + "/F 36 /Subtype /Stamp").file(), rules.Order{}, "warn", ""},
		{"one that does not print", annotated(inside + look + "/Subtype /Stamp").file(), rules.Order{}, "pass", "not printed: 1 annotation"},
		{"one that is hidden", annotated(inside + look + "/F 6 /Subtype /Stamp").file(), rules.Order{}, "pass", ""},
		{"one on a layer that is off", off.off(7), rules.Order{}, "pass", ""},
		{"one on a layer that is on", off.file(), rules.Order{}, "warn", ""},
		{"one beside the card", slug.file(), rules.Order{}, "pass", ""},
		{"one in the bleed", annotated("/Rect [1 1 8 8] /F 4 /Subtype /Stamp " + look).file(), rules.Order{}, "warn", ""},
		{"one of no size, as signatures have", annotated("/Rect [60 60 60 60] /F 4 /Subtype /Stamp " + look).file(), rules.Order{}, "pass", ""},
		{"two things", two.file(), rules.Order{}, "warn", "It is the first of 2 such things. → Flatten them"},
		{"a note with a look of its reader's", annotated(inside + "/F 4 /Subtype /FreeText").file(), rules.Order{}, "warn", "A note"},
		{"a drawn mark", annotated(inside + "/F 4 /Subtype /Ink").file(), rules.Order{}, "warn", "A mark drawn over the page"},
		{"of a kind of the file's own", annotated(inside + look + "/F 4 /Subtype /Sundial").file(), rules.Order{}, "warn", "An annotation"},
		{"a popup", annotated(inside + look + "/F 4 /Subtype /Popup").file(), rules.Order{}, "pass", ""},
		{"a form field that stands alone", annotated(inside + look + "/F 4 /Subtype /Widget").file(), rules.Order{}, "warn", "A form field"},
		{"a link", annotated(inside + link).file(), rules.Order{}, "pass", "not printed: 1 link."},
		{"a link that prints and has no frame", annotated(inside + link + "/F 4 /Border [0 0 0]").file(), rules.Order{}, "pass", "not printed: 1 link."},
		{"a link that prints with its frame", annotated(inside + link + "/F 4 /Border [0 0 1]").file(), rules.Order{}, "warn", "The frame of a link"},
		{"a link that prints with the frame that is the default", annotated(inside + link + "/F 4").file(), rules.Order{}, "warn", ""},
		{"none", card(ground).file(), rules.Order{}, "pass", "Nothing prints otherwise than it looks."},
		{"a picture", densePNG(t, 1125, 675), rules.Order{}, "pass", "has no annotations, form fields or layers"},
	})
}

// layered is a card with content on a layer, /L, of entries, and a configuration.
func layered(entries, config, content string) sheet {
	s := card(ground+content, "<< /Type /OCG /Name (Guides) "+entries+" >>").with("/Properties << /L 5 0 R >>")
	s.catalog = "/OCProperties << /OCGs [5 0 R] /D << " + config + " >> >>"
	return s
}

func TestLiveExtrasLayers(t *testing.T) {
	const on = "/OC /L BDC 1 0 0 0 k 60 60 40 20 re f EMC"
	const never, always = "/Usage << /Print << /PrintState /OFF >> >>", "/Usage << /Print << /PrintState /ON >> >>"
	const asked = "/AS [<< /Event /Print /Category [/Print] /OCGs [5 0 R] >>]"
	const viewed = "/AS [<< /Event /View /Category [/View] /OCGs [5 0 R] >>]"
	slug := layered(never, asked, "/OC /L BDC 20 200 40 20 re f EMC")
	slug.page = strings.Replace(slug.page, "/MediaBox [0 0 270 162]", "/MediaBox [0 0 270 260]", 1)
	member := layered("", "/OFF [5 0 R]", on)
	member.objects = append(member.objects, "<< /Type /OCMD /OCGs [5 0 R] >>")
	member.resources = "/Properties << /L 6 0 R >>"
	form := layered(never, "", "/X Do")
	form.objects = append(form.objects, stream("/Type /XObject /Subtype /Form /BBox [0 0 270 162] /OC 5 0 R", "60 60 40 20 re f"))
	form.resources += " /XObject << /X 6 0 R >>"
	two := layered("", "/OFF [5 0 R 6 0 R]", on+" /OC /M BDC 20 20 40 20 re f EMC")
	two.objects = append(two.objects, "<< /Type /OCG /Name (Draft) >>")
	two.resources = "/Properties << /L 5 0 R /M 6 0 R >>"
	two.catalog = strings.Replace(two.catalog, "/OCGs [5 0 R]", "/OCGs [5 0 R 6 0 R]", 1)
	try(t, checks.LiveExtras, []trial{
		{"shown and printed", layered("", "", on).file(), rules.Order{}, "pass", ""},
		{"shown and printed, as it says", layered(always, asked, on).file(), rules.Order{}, "pass", ""},
		{"shown, not printed", layered(never, asked, on).file(), rules.Order{}, "fail", `The layer "Guides" shows on a screen but is not to be printed`},
		{"shown, not printed by readers that heed it unasked", layered(never, "", on).file(), rules.Order{}, "fail", ""},
		{"printed, not shown", layered(always, "/OFF [5 0 R] "+asked, on).file(), rules.Order{}, "fail", `The layer "Guides" is off on a screen but prints`},
		{"printed, its view state off", layered("/Usage << /View << /ViewState /OFF >> >>", viewed, on).file(), rules.Order{}, "fail", "is off on a screen"},
		{"its view state off, that nobody asks for", layered("/Usage << /View << /ViewState /OFF >> >>", "", on).file(), rules.Order{}, "pass", ""},
		{"off", layered("", "/OFF [5 0 R]", on).file(), rules.Order{}, "warn", "can switch it on"},
		{"off by the base state", layered("", "/BaseState /OFF", on).file(), rules.Order{}, "warn", ""},
		{"off by the base state, and on", layered("", "/BaseState /OFF /ON [5 0 R]", on).file(), rules.Order{}, "pass", ""},
		{"off, by membership", member.file(), rules.Order{}, "warn", `"Guides"`},
		{"not printed, in a form", form.file(), rules.Order{}, "fail", ""},
		{"off, and nothing on it", layered("", "/OFF [5 0 R]", "/OC /L BDC EMC").file(), rules.Order{}, "pass", ""},
		{"off, and not used", layered("", "/OFF [5 0 R]", "").file(), rules.Order{}, "pass", ""},
		{"not printed, off the card", slug.file(), rules.Order{}, "pass", ""},
		{"not printed, clipped away", layered(never, asked, "q 200 100 5 5 re W n "+on+" Q").file(), rules.Order{}, "pass", ""},
		{"two that are off", two.file(), rules.Order{}, "warn", `So it is with "Draft".`},
		{"for designers alone", layered("/Intent /Design", "/OFF [5 0 R]", on).file(), rules.Order{}, "pass", ""},
	})
}

func TestLiveExtrasOfTheFile(t *testing.T) {
	with := func(catalog string) []byte { s := card(ground); s.catalog = catalog; return s.file() }
	const script = "<< /S /JavaScript /JS (app.alert\\(1\\)) >>"
	opened := card(ground)
	opened.page += " /AA << /O " + script + " >>"
	try(t, checks.LiveExtras, []trial{
		{"a form", with("/AcroForm << /Fields [<< /FT /Tx /T (name) >> << /FT /Tx /T (town) >>] >>"), rules.Order{}, "warn", "a form of 2 fields"},
		{"a form of one field", with("/AcroForm << /Fields [<< /FT /Tx /T (name) >>] >>"), rules.Order{}, "warn", "a form field"},
		{"a form without fields", with("/AcroForm << /Fields [] >>"), rules.Order{}, "pass", ""},
		{"a form in XML", with("/AcroForm << /Fields [<< /T (name) >>] /XFA (x) >>"), rules.Order{}, "warn", "XFA"},
		{"a script on opening", with("/OpenAction " + script), rules.Order{}, "warn", "JavaScript"},
		{"a script before printing", with("/AA << /WP " + script + " >>"), rules.Order{}, "warn", ""},
		{"a script by name", with("/Names << /JavaScript << /Names [(a) " + script + "] >> >>"), rules.Order{}, "warn", ""},
		{"a script of the page", opened.file(), rules.Order{}, "warn", ""},
		{"a script of a link", annotated("/Rect [60 60 100 80] /Subtype /Link /A " + script).file(), rules.Order{}, "warn", ""},
		{"a jump on opening", with("/OpenAction << /S /GoTo /D [3 0 R /Fit] >>"), rules.Order{}, "pass", ""},
		{"an attached file", with("/Names << /EmbeddedFiles << /Names [(notes) << /Type /Filespec /F (notes.txt) >>] >> >>"), rules.Order{}, "pass", "not printed: attached files."},
		{"a folder of files", with("/Collection << >> /Names << /EmbeddedFiles << /Names [] >> >>"), rules.Order{}, "warn", "a folder of files"},
		{"a form and a script", with("/AcroForm << /Fields [<< /T (a) >>] >> /OpenAction " + script), rules.Order{}, "warn; warn", ""},
	})
}

// A form field is told with its form, not once more where it stands.
func TestLiveExtrasTellsAFieldOnce(t *testing.T) {
	s := annotated("/Rect [60 60 100 80] /AP << /N 6 0 R >> /F 4 /Subtype /Widget /FT /Tx /T (name)")
	s.catalog = "/AcroForm << /Fields [5 0 R] >>"
	try(t, checks.LiveExtras, []trial{{"a field", s.file(), rules.Order{}, "warn", "a form field, which each program draws"}})
}

// What other programs write.
func TestLiveExtrasByOthers(t *testing.T) {
	mark := func(pdfmark string) string {
		program := postscript("0 0 270 162", "30 40", "150 60 translate 36 21.6 scale")
		return ghostscript(t, strings.Replace(program, "0 0 0 1 setcmykcolor", pdfmark+"\n0 0 0 1 setcmykcolor", 1))
	}
	linked := func() string {
		return cairo(t, svg(95.25, 57.15, `<rect width="95.25" height="57.15" fill="#355"/><a href="https://potter.example"><text x="20" y="30" font-size="5">The potter</text></a>`))
	}
	for _, tt := range []struct {
		name, path string
		want       []string
	}{
		{"ghostscript, nothing", mark(""), nil},
		{"ghostscript, a link", mark("[ /Rect [30 30 120 50] /Border [0 0 0] /Action << /Subtype /URI /URI (https://potter.example) >> /Subtype /Link /ANN pdfmark"), nil},
		{"ghostscript, a note that prints", mark("[ /Rect [30 30 120 50] /Contents (move this) /F 4 /Subtype /FreeText /DA (/Helv 9 Tf) /ANN pdfmark"), []string{"live-extras warn"}},
		{"ghostscript, a note that does not", mark("[ /Rect [30 30 120 50] /Contents (move this) /F 0 /Subtype /Text /ANN pdfmark"), nil},
		{"cairo, a link", linked(), nil},
		{"pdfTeX", "../testdata/foreign/scrivener.pdf", nil},
		{"qpdf, an attached file", attached(t), nil},
		{"our own", kept(t, "card.pdf", plainCard().PDF()), nil},
		{"our own, stamped", kept(t, "stamped.pdf", plainCard().PDF(press.Stamped())), []string{"live-extras warn"}},
		{"our own, stamped and turned", kept(t, "turned.pdf", plainCard().PDF(press.Stamped(), press.Rotated(90))), []string{"live-extras warn"}},
		{"our own, with guides", kept(t, "guides.pdf", plainCard().PDF(press.Guides())), []string{"live-extras fail"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			checktest.Expect(t, checktest.JudgeBy(t, tt.path, rules.Order{}, checks.LiveExtras), tt.want...)
		})
	}
}

// attached is a card to which qpdf attached a file.
func attached(t *testing.T) string {
	dir := t.TempDir()
	for name, b := range map[string][]byte{"in.pdf": plainCard().PDF(), "notes.txt": []byte("thank you")} {
		if err := os.WriteFile(filepath.Join(dir, name), b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	ran(t, dir, "qpdf", "in.pdf", "--add-attachment", "notes.txt", "--", "card.pdf")
	return filepath.Join(dir, "card.pdf")
}

// The printed state of a layer is that of the pixels too: what is judged is what the
// renderer draws.
func TestLayersAgreeWithPixels(t *testing.T) {
	for _, usage := range []string{"", "/Usage << /Print << /PrintState /OFF >> >>", "/Usage << /Print << /PrintState /ON >> >>"} {
		for _, config := range []string{"", "/OFF [5 0 R]", "/AS [<< /Event /Print /Category [/Print] /OCGs [5 0 R] >>]"} {
			s := layered(usage, config, "/OC /L BDC 0 0 0 1 k 10 60 40 20 re f EMC")
			r := checktest.JudgeBy(t, kept(t, "card.pdf", s.file()), rules.Order{}, checks.SafeZone, checks.LiveExtras)
			printed := verdicts(r, "safe-zone") != "pass"
			state := verdicts(r, "live-extras")
			want := map[string]bool{"pass": true, "warn": false}
			if strings.Contains(words(r), "is off on a screen but prints") {
				want["fail"] = true
			}
			if printed != want[state] {
				t.Errorf("%s %s: pixels show it: %v, but said is %s", usage, config, printed, fmt.Sprint(state, words(r)))
			}
		}
	}
}
