package checks_test

import (
	"fmt"
	"strings"
	"testing"

	"stoneproof/checks"
	"stoneproof/checks/checktest"
	"stoneproof/checks/checktest/press"
	"stoneproof/rules"
)

// blocks is a Type 3 font (ISO 32000-1, 9.6.5) whose one letter, A, is a square
// of 0.7 em at the origin: text whose ink is known to the point.
const blocks = "<< /Type /Font /Subtype /Type3 /FontBBox [0 0 1000 1000] /FontMatrix [.001 0 0 .001 0 0] " +
	"/CharProcs << /A 6 0 R >> /Encoding << /Differences [32 /space 65 /A] >> /FirstChar 32 /LastChar 65 " +
	"/Widths [1000 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 1000] /Resources << >> >>"

// ground is a pale ground out to the bleed.
const ground = "0.1 0 0 0 k 0 0 270 162 re f 0 0 0 1 k "

// lettered is a US business card with a ground and what is written on it in
// blocks, as /F.
func lettered(content string, objects ...string) sheet {
	return card(ground+content, append([]string{blocks, stream("", "1000 0 0 0 700 700 d1 0 0 700 700 re f")}, objects...)...).
		with("/Font << /F 5 0 R >>")
}

// write is AAA at 10 pt, its ink 27 × 7 pt, with the lower left corner at (x, y).
func write(x, y float64) string {
	return fmt.Sprintf("BT /F 10 Tf 1 0 0 1 %v %v Tm (AAA) Tj ET ", x, y)
}

// inside is the text with its ink mm inside the trim at an edge; negative is
// beyond it.
func inside(e rules.Edge, mm float64) string {
	d := mm * ptPerMM
	switch e {
	case rules.Left:
		return write(9+d, 80)
	case rules.Right:
		return write(261-27-d, 80)
	case rules.Bottom:
		return write(120, 9+d)
	}
	return write(120, 153-7-d)
}

// The safe margin is 0.125 in, 3.175 mm, with 0.1 mm of slack.
func TestSafeZoneDistance(t *testing.T) {
	var trials []trial
	for _, e := range rules.AllEdges {
		for mm, want := range map[float64]string{
			5: "pass", 3.2: "pass", 3.1: "pass", 3.0: "fail", 1: "fail", 0.2: "fail", -0.2: "fail", -1: "fail",
		} {
			says := ""
			if want == "fail" {
				want, says = "fail "+string(e), `The text "AAA"`
			}
			if mm < 0 {
				says = "is cut by the knife"
			}
			trials = append(trials, trial{fmt.Sprintf("%v mm inside the %s edge", mm, e), lettered(inside(e, mm)).file(), rules.Order{}, want, says})
		}
	}
	try(t, checks.SafeZone, trials)
}

// The same in an embedded TrueType font, whose outlines are measured.
func TestSafeZoneOfSetType(t *testing.T) {
	c := press.Card{Maker: press.Makers()[1], Style: press.Dark, Size: "us-business"}
	var trials []trial
	for _, e := range rules.AllEdges {
		for mm, want := range map[float64]string{3.4: "pass", 3.15: "pass", 2.9: "fail " + string(e), -0.5: "fail " + string(e)} {
			trials = append(trials, trial{fmt.Sprintf("%v mm inside the %s edge", mm, e), c.PDF(press.PhoneAt(e, mm)), rules.Order{}, want, ""})
		}
	}
	try(t, checks.SafeZone, trials)
}

// However text is set, it is its ink that counts.
func TestSafeZoneHoweverItIsSet(t *testing.T) {
	near := inside(rules.Left, 1)
	form := func(entries, content string) string {
		return stream("/Type /XObject /Subtype /Form /BBox [0 0 270 162] /Resources << /Font << /F 5 0 R >> >> "+entries, content)
	}
	inForm := func(entries, content, use string) sheet {
		return lettered(use, form(entries, content)).with("/XObject << /X 7 0 R >>")
	}
	mm := func(l float64) rules.Order { s := rules.MM(l); return rules.Order{Safe: &s} }
	try(t, checks.SafeZone, []trial{
		{"plainly", lettered(near).file(), rules.Order{}, "fail left", "Move it"},
		{"turned by 90°, off the right edge", lettered("BT /F 10 Tf 0 1 -1 0 258 60 Tm (AAA) Tj ET").file(), rules.Order{}, "fail right", ""},
		{"turned by 90°, safe", lettered("BT /F 10 Tf 0 1 -1 0 250 60 Tm (AAA) Tj ET").file(), rules.Order{}, "pass", ""},
		// The lower left corner of a block turned by 30° is the lowest ink; its
		// leftmost is 3.5 pt further out than the origin.
		{"turned by 30°, just safe", lettered("BT /F 10 Tf .866 .5 -.5 .866 21.6 60 Tm (AAA) Tj ET").file(), rules.Order{}, "pass", ""},
		{"turned by 30°, just unsafe", lettered("BT /F 10 Tf .866 .5 -.5 .866 20.6 60 Tm (AAA) Tj ET").file(), rules.Order{}, "fail left", ""},
		{"mirrored", lettered("BT /F 10 Tf -1 0 0 1 38 80 Tm (AAA) Tj ET").file(), rules.Order{}, "fail left", ""},
		{"by a font size under nothing", lettered("BT /F -10 Tf 1 0 0 1 60 17 Tm (AAA) Tj ET").file(), rules.Order{}, "fail bottom", ""},
		{"raised", lettered("BT /F 10 Tf 12 Ts 1 0 0 1 60 132 Tm (AAA) Tj ET").file(), rules.Order{}, "fail top", ""},
		{"drawn out", lettered("BT /F 10 Tf 200 Tz 1 0 0 1 210 80 Tm (AAA) Tj ET").file(), rules.Order{}, "fail right", ""},
		{"letterspaced", lettered("BT /F 10 Tf 8 Tc 1 0 0 1 210 80 Tm (AAA) Tj ET").file(), rules.Order{}, "fail right", ""},
		{"with kerning", lettered("BT /F 10 Tf 1 0 0 1 211 80 Tm [(A) -1000 (A) -1000 (A)] TJ ET").file(), rules.Order{}, "fail right", ""},
		{"by the quote operators", lettered("BT /F 10 Tf 14 TL 1 0 0 1 11 90 Tm (AAA) ' 0 0 (AAA) \" ET").file(), rules.Order{}, "fail left; fail left", ""},
		{"in a form", inForm("", near, "/X Do").file(), rules.Order{}, "fail left", ""},
		{"in a form that is moved to safety", inForm("/Matrix [1 0 0 1 20 0]", near, "/X Do").file(), rules.Order{}, "pass", ""},
		{"in a form that is moved out of it", inForm("", write(100, 80), "q 1 0 0 1 -88 0 cm /X Do Q").file(), rules.Order{}, "fail left", ""},
		{"in a form half as large", inForm("/Matrix [.5 0 0 .5 0 0]", write(24, 80), "/X Do").file(), rules.Order{}, "fail left", ""},
		{"UserUnit 2", sheet{page: "/MediaBox [0 0 135 81] /TrimBox [4.5 4.5 130.5 76.5] /UserUnit 2", content: "BT /F 5 Tf 6 40 Td (AAA) Tj ET",
			objects: lettered("").objects, resources: "/Font << /F 5 0 R >>"}.file(), rules.Order{}, "fail left", ""},
		{"turned page", sheet{page: "/MediaBox [0 0 162 270] /TrimBox [9 9 153 261] /Rotate 90", content: "BT /F 10 Tf 10 100 Td (AAA) Tj ET",
			objects: lettered("").objects, resources: "/Font << /F 5 0 R >>"}.file(), rules.Order{}, "fail top", ""},
		{"stroked", lettered("BT 1 Tr /F 10 Tf 11 80 Td (AAA) Tj ET").file(), rules.Order{}, "fail left", ""},
		{"in a standard font", card(ground + "BT /F 10 Tf 11 80 Td (Wendlebury) Tj ET").with(helvetica).file(), rules.Order{}, "fail left", `"Wendlebury"`},
		{"in a standard font, safe", card(ground + "BT /F 10 Tf 19 80 Td (Wendlebury) Tj ET").with(helvetica).file(), rules.Order{}, "pass", ""},
		{"white on a dark ground", lettered("0 0 0 1 k 0 0 270 162 re f 0 0 0 0 k " + near).file(), rules.Order{}, "fail left", ""},
		{"stroked thickly", card(ground + "8 w 0 0 0 1 K BT 2 Tr /F 20 Tf 20 80 Td (HH) Tj ET").with(helvetica).file(), rules.Order{}, "fail left", ""},
		{"stroked thinly", card(ground + "0.2 w 0 0 0 1 K BT 2 Tr /F 20 Tf 20 80 Td (HH) Tj ET").with(helvetica).file(), rules.Order{}, "pass", ""},
		{"in white, out of a dark box at the edge", lettered("0 60 60 30 re f 0 0 0 0 k " + near).file(), rules.Order{}, "fail left", ""},
		{"in a pattern", card(ground+"/Pattern cs /P scn 12 60 30 20 re f", stream("/Type /Pattern /PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 30 20] /XStep 30 /YStep 20 /Matrix [1 0 0 1 12 60] /Resources << "+helvetica+" >>",
			"BT /F 10 Tf 0 5 Td (Hello) Tj ET")).with("/Pattern << /P 5 0 R >>").file(), rules.Order{}, "fail left", ""},
		{"a line of several runs is told once", lettered("BT /F 10 Tf 11 80 Td (A) Tj 12 0 Td (A) Tj 12 0 Td (A) Tj ET").file(), rules.Order{}, "fail left", ""},
		{"spaces that run out", lettered("BT /F 10 Tf 200 80 Td (AAA      ) Tj ET").file(), rules.Order{}, "pass", ""},
		{"5 mm are wanted", lettered(inside(rules.Left, 4)).file(), mm(5), "fail left", ""},
		{"nothing is wanted", lettered(near).file(), mm(0), "pass", "no safe margin"},
		{"the trim is not known", sheet{page: "/MediaBox [0 0 612 792]"}.file(), rules.Order{}, "skip", ""},
	})
}

// What is not seen, or not on the card, or meant to be cut, stays silent.
func TestSafeZoneNearMisses(t *testing.T) {
	near := inside(rules.Left, 1)
	layer := lettered("/OC /L BDC "+near+"EMC", "<< /Type /OCG /Name (Guide) >>").with("/Properties << /L 7 0 R >>")
	slug := func(y string) []byte {
		s := lettered("BT /F 10 Tf 60 " + y + " Td (AAA) Tj ET")
		s.page = "/MediaBox [0 0 270 260] /BleedBox [0 0 270 162] /TrimBox [9 9 261 153]"
		return s.file()
	}
	motifs := press.Card{Maker: "bookbinder", Style: press.Photographic, Size: "poker"}
	try(t, checks.SafeZone, []trial{
		{"a photograph's row of motifs", motifs.PDF(), rules.Order{Size: "poker"}, "pass", ""},
		{"invisible text", lettered("BT 3 Tr /F 10 Tf 10 80 Td (AAA) Tj ET").with(helvetica).file(), rules.Order{}, "pass", ""},
		{"text that only clips", card(ground + "q BT 7 Tr /F 10 Tf 11 80 Td (Wendlebury) Tj ET Q").with(helvetica).file(), rules.Order{}, "pass", ""},
		{"in the colour of its ground", lettered("0.1 0 0 0 k " + near).file(), rules.Order{}, "pass", ""},
		{"white on bare paper", card("0 0 0 0 k BT /F 10 Tf 11 80 Td (Wendlebury) Tj ET").with(helvetica).file(), rules.Order{}, "pass", ""},
		{"under a box that comes later", lettered(near + "0.1 0 0 0 k 0 60 60 50 re f").file(), rules.Order{}, "pass", ""},
		{"clipped away", lettered("q 100 0 50 50 re W n " + near + "Q").file(), rules.Order{}, "pass", ""},
		{"clipped to what is safe", lettered("q 19 0 200 162 re W n " + near + "Q").file(), rules.Order{}, "pass", ""},
		{"on a layer that is off", layer.off(7), rules.Order{}, "pass", ""},
		{"on a layer that is on", layer.file(), rules.Order{}, "fail left", ""},
		{"on a layer that is not printed", printed("OFF"), rules.Order{}, "pass", ""},
		{"on a layer that is printed", printed("ON"), rules.Order{}, "fail left", ""},
		{"a thin line across the card", card(ground + "0 40 270 1 re f").file(), rules.Order{}, "pass", ""},
		{"in a group that is clear as glass", lettered("/G gs /X Do", stream("/Type /XObject /Subtype /Form /BBox [0 0 270 162] /Group << /S /Transparency >> /Resources << /Font << /F 5 0 R >> >>", near)).
			with("/XObject << /X 7 0 R >> /ExtGState << /G << /ca 0 >> >>").file(), rules.Order{}, "pass", ""},
		{"clear as glass", lettered("/G gs " + near).with("/ExtGState << /G << /ca 0 >> >>").file(), rules.Order{}, "pass", ""},
		{"in the slug", slug("200"), rules.Order{}, "pass", ""},
		{"at the very edge of the slug", slug("163"), rules.Order{}, "pass", ""},
		{"an initial that runs off", card(ground + "BT /F 230 Tf -20 -4 Td (W) Tj ET").with(helvetica).file(), rules.Order{}, "pass", ""},
		{"a note that is not printed", note(0), rules.Order{}, "pass", ""},
		{"a note that is printed", note(4), rules.Order{}, "fail left", ""},
	})
}

// printed is text near the knife on a layer that is shown, and printed or not
// (ISO 32000-1, 8.11.4.4).
func printed(state string) []byte {
	s := lettered("/OC /L BDC "+inside(rules.Left, 1)+"EMC", "<< /Type /OCG /Name (Guide) /Usage << /Print << /PrintState /"+state+" >> >> >>").with("/Properties << /L 7 0 R >>")
	s.catalog = "/OCProperties << /OCGs [7 0 R] /D << /AS [<< /Event /Print /OCGs [7 0 R] /Category [/Print] >>] >> >>"
	return s.file()
}

// note is a card with an annotation that says AAA near the knife. Bit 3 of its
// flags, 4, has it printed (ISO 32000-1, Table 165).
func note(flags int) []byte {
	s := lettered("", fmt.Sprintf("<< /Type /Annot /Subtype /FreeText /Rect [0 0 270 162] /F %d /DA () /Contents () /AP << /N 8 0 R >> >>", flags),
		stream("/Type /XObject /Subtype /Form /BBox [0 0 270 162] /Resources << /Font << /F 5 0 R >> >>", inside(rules.Left, 1)))
	s.page += " /Annots [7 0 R]"
	return s.file()
}

// Text that is drawn rather than set is found by its pixels.
func TestSafeZoneOfDrawnText(t *testing.T) {
	c := press.Card{Maker: press.Makers()[2], Style: press.White, Size: "us-business"}
	order := rules.Order{Process: "desktop"}
	for name, file := range map[string][]byte{
		"outlines on a page": card(ground + outlinedWord(11, 80)).file(),
		"a picture":          c.PNG(300, press.PhoneAt(rules.Left, 1)),
		"a picture on a page": card("270 0 0 162 0 0 cm /X Do", stream("/Type /XObject /Subtype /Image /Width 1125 /Height 675 /BitsPerComponent 8 /ColorSpace /DeviceRGB /Filter /DCTDecode",
			string(c.JPEG(300, press.PhoneAt(rules.Left, 1))))).with("/XObject << /X 5 0 R >>").file(),
	} {
		t.Run(name, func(t *testing.T) {
			r := checktest.JudgeBy(t, kept(t, "card"+ending(file), file), order, checks.SafeZone)
			if got := verdicts(r, "safe-zone"); !strings.Contains(got, "left") {
				t.Errorf("says %q, want word of the left edge", got)
			}
		})
	}
	for name, file := range map[string][]byte{
		"outlines on a page": card(ground + outlinedWord(19, 80)).file(),
		"a picture":          c.PNG(300),
	} {
		r := checktest.JudgeBy(t, kept(t, "card"+ending(file), file), order, checks.SafeZone)
		if got := verdicts(r, "safe-zone"); got != "pass" {
			t.Errorf("%s, safe: says %q\n%s", name, got, words(r))
		}
	}
}

// outlinedWord is HELFT as outlines, 8 pt high, beginning at (x, y).
func outlinedWord(x, y float64) string {
	out := fmt.Sprintf("q 1 0 0 1 %v %v cm ", x, y)
	for i, bars := range []string{
		"0 0 1.2 8 re 4 0 1.2 8 re 1 3.4 3 1.2 re", "0 0 1.2 8 re 0 0 5 1.2 re 0 3.4 4 1.2 re 0 6.8 5 1.2 re",
		"0 0 1.2 8 re 0 0 5 1.2 re", "0 0 1.2 8 re 0 3.4 4 1.2 re 0 6.8 5 1.2 re", "2 0 1.2 8 re 0 6.8 5.2 1.2 re",
	} {
		out += fmt.Sprintf("q 1 0 0 1 %d 0 cm %s f Q ", i*7, bars)
	}
	return out + "Q "
}
