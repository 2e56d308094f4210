package checks_test

import (
	"fmt"
	"testing"

	"stoneproof/checks"
	"stoneproof/rules"
)

// around is a box of the US business card's trim grown by so many points, on a
// page whose trim's corner lies at (20, 20).
func around(name string, left, bottom, right, top float64) string {
	return fmt.Sprintf("/%s [%v %v %v %v] ", name, 20-left, 20-bottom, 272+right, 164+top)
}

func even(name string, by float64) string { return around(name, by, by, by, by) }

const media = "/MediaBox [0 0 292 184] "

// Boxes nest: trim in bleed in media (ISO 32000-1, 14.11.2). A page of PDF/X has
// a TrimBox or an ArtBox, not both, and neither goes past the BleedBox (CGATS
// application notes for PDF/X v3, 2.9).
func TestPageBoxes(t *testing.T) {
	good := media + even("TrimBox", 0)
	try(t, checks.PageBoxes, []trial{
		{"trim and bleed", page(good + even("BleedBox", 9)), rules.Order{}, "pass", "MediaBox, BleedBox, TrimBox"},
		{"no BleedBox", page(good), rules.Order{}, "pass", "MediaBox, TrimBox"},
		{"ArtBox in place of TrimBox", page(media + even("ArtBox", 0) + even("BleedBox", 9)), rules.Order{}, "pass", "ArtBox"},
		{"ArtBox like the TrimBox", page(good + even("ArtBox", 0)), rules.Order{}, "pass", ""},
		{"ArtBox around what is drawn", page(good + even("ArtBox", -20)), rules.Order{}, "pass", ""},
		{"no boxes, the page is the card", page("/MediaBox [0 0 252 144]"), rules.Order{}, "warn", "no TrimBox"},
		{"no boxes, the page is no card", page("/MediaBox [0 0 612 792]"), rules.Order{}, "warn", "does not say where the knife goes"},
		{"BleedBox inside the TrimBox", page(good + even("BleedBox", -9)), rules.Order{}, "fail top", "ends 0.125 in inside it"},
		{"BleedBox short on the left", page(good + around("BleedBox", -5, 9, 9, 9)), rules.Order{}, "fail left", "BleedBox does not hold the TrimBox"},
		{"BleedBox short at the foot", page(good + around("BleedBox", 9, -5, 9, 9)), rules.Order{}, "fail bottom", ""},
		{"BleedBox is the TrimBox", page(good + even("BleedBox", 0)), rules.Order{}, "pass", ""},
		{"BleedBox rounded inwards by 0.01 pt", page(good + even("BleedBox", -0.01)), rules.Order{}, "pass", ""},
		{"BleedBox rounded inwards by 0.1 pt", page(good + even("BleedBox", -0.1)), rules.Order{}, "pass", ""},
		{"BleedBox inwards by 0.5 pt", page(good + even("BleedBox", -0.5)), rules.Order{}, "fail top", ""},
		{"TrimBox past the MediaBox", page("/MediaBox [0 0 252 144] /TrimBox [-9 -9 261 153]"), rules.Order{}, "fail", "TrimBox reaches past the MediaBox"},
		{"TrimBox past it by 0.01 pt", page("/MediaBox [0 0 252 144] /TrimBox [-0.01 -0.01 252.01 144.01]"), rules.Order{}, "pass", ""},
		{"BleedBox past the MediaBox", page(good + even("BleedBox", 30)), rules.Order{}, "fail", "BleedBox reaches past the MediaBox"},
		{"TrimBox of three numbers", page("/MediaBox [0 0 252 144] /TrimBox [0 0 252]"), rules.Order{}, "fail; warn", "3 numbers in place of 4"},
		{"TrimBox of words", page("/MediaBox [0 0 252 144] /TrimBox [0 0 (w) 144]"), rules.Order{}, "fail; warn", "not a usable number"},
		{"TrimBox with no area", page("/MediaBox [0 0 252 144] /TrimBox [9 9 9 153]"), rules.Order{}, "fail; warn", "no area"},
		{"TrimBox wholly off the page", page("/MediaBox [0 0 252 144] /TrimBox [900 900 1152 1044]"), rules.Order{}, "fail", "reaches past"},
		{"no MediaBox", page("/TrimBox [9 9 261 153]"), rules.Order{}, "fail", "no MediaBox"},
		{"UserUnit of nothing", page(good + "/UserUnit 0"), rules.Order{}, "fail", "UserUnit"},
		{"Rotate by 45", page(good + "/Rotate 45"), rules.Order{}, "fail", "multiple of 90"},
		{"a picture", densePNG(t, 1125, 675), rules.Order{}, "pass", "no page boxes"},
	})
}

// A CropBox only clips the view (ISO 32000-1, Table 30): where it hides bleed it
// costs one warning, however many edges it hides.
func TestPageBoxesCropped(t *testing.T) {
	good := media + even("TrimBox", 0) + even("BleedBox", 9)
	try(t, checks.PageBoxes, []trial{
		{"CropBox is the MediaBox", page(good + "/CropBox [0 0 292 184]"), rules.Order{}, "pass", "CropBox"},
		{"CropBox is the BleedBox", page(good + even("CropBox", 9)), rules.Order{}, "pass", ""},
		{"CropBox is the BleedBox rounded", page(good + even("CropBox", 8.99)), rules.Order{}, "pass", ""},
		{"CropBox is the TrimBox", page(good + even("CropBox", 0)), rules.Order{}, "warn top", "The CropBox hides the bleed"},
		{"CropBox half way", page(good + even("CropBox", 4.5)), rules.Order{}, "warn top", "0.063 in"},
		{"CropBox short on the right", page(good + around("CropBox", 9, 9, 2, 9)), rules.Order{}, "warn right", ""},
		{"CropBox inside the card", page(good + even("CropBox", -9)), rules.Order{}, "warn top", "0 in"},
		{"CropBox inherited", sheet{page: good, tree: "/CropBox [20 20 272 164]"}.file(), rules.Order{}, "warn top", ""},
		{"CropBox is the trim, and there is no bleed", page("/MediaBox [0 0 252 144] /TrimBox [0 0 252 144] /CropBox [0 0 252 144]"), rules.Order{}, "pass", ""},
		{"CropBox past the MediaBox", page(good + "/CropBox [-50 -50 400 400]"), rules.Order{}, "fail", "CropBox reaches past the MediaBox"},
	})
}

// One mistake is one finding: what rests on a box that is wrong is judged by the
// best reading of it.
func TestPageBoxesDoNotCascade(t *testing.T) {
	ground := "0 0 0 0.2 k -100 -100 900 900 re f"
	bled := func(entries string) []byte { return sheet{page: entries, content: ground}.file() }
	for _, tt := range []struct {
		name string
		file []byte
		want []string
	}{
		{"all well", bled(usCard), nil},
		{"the TrimBox is the card with its bleed", bled("/MediaBox [0 0 270 162] /TrimBox [0 0 270 162]"), []string{"trim-size fail"}},
		{"the BleedBox stops inside the trim", bled("/MediaBox [0 0 270 162] /BleedBox [12 12 258 150] /TrimBox [9 9 261 153]"), []string{"page-boxes fail top"}},
		{"the CropBox is the trim", bled(usCard + " /CropBox [9 9 261 153]"), []string{"page-boxes warn top"}},
		{"no boxes but a page with bleed", bled("/MediaBox [0 0 270 162]"), []string{"page-boxes warn"}},
		{"a page of the trim alone", bled("/MediaBox [0 0 252 144] /TrimBox [0 0 252 144]"), []string{"bleed-extent fail", "bleed-fill skip"}},
		{"a page of another card", bled("/MediaBox [0 0 612 792]"), []string{"page-boxes warn", "trim-size fail", "bleed-extent skip", "bleed-fill skip", "safe-zone skip", "edge-border skip", "marks-in-art skip", "code-scan skip"}},
	} {
		t.Run(tt.name, func(t *testing.T) { expectAll(t, tt.file, rules.Order{}, tt.want...) })
	}
}
