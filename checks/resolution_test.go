package checks_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"stoneproof/checks"
	"stoneproof/checks/checktest"
	"stoneproof/rules"
)

const greySpace = "/ColorSpace /DeviceGray"

// withPicture is a card with a picture as /X.
func withPicture(content, picture string, more ...string) []byte {
	return card(content, append([]string{picture}, more...)...).with("/XObject << /X 5 0 R >>").file()
}

// at places a picture so that px of its pixels are as many to the inch.
func at(px int, ppiX, ppiY float64) string {
	return fmt.Sprintf("q %.6f 0 0 %.6f 20 20 cm /X Do Q ", float64(px)*72/ppiX, float64(px)*72/ppiY)
}

func tone(px int) string { return pictureOf(px, px, 8, 1, greySpace) }

// 300 ppi and 200 are met within 0.5 %.
func TestResolutionLimits(t *testing.T) {
	var trials []trial
	for ppi, want := range map[float64]string{
		600: "pass", 300: "pass", 299.9994: "pass", 299.72: "pass", 298.6: "pass", 298: "warn", 250: "warn", 200: "warn", 199.1: "warn", 198.9: "fail", 72: "fail",
	} {
		trials = append(trials, trial{fmt.Sprintf("%v ppi", ppi), withPicture(at(200, ppi, ppi), tone(200)), rules.Order{}, want, "200 × 200 px"})
	}
	try(t, checks.EffectiveResolution, trials)
}

// One bit: 800 and 550 ppi (an open working group's sheetfed specification), 600
// and 300 on the maker's own printer.
func TestResolutionOneBit(t *testing.T) {
	stencil := pictureOf(200, 200, 1, 1, "/ImageMask true")
	bit := pictureOf(200, 200, 1, 1, greySpace)
	desktop := rules.Order{Process: "desktop"}
	try(t, checks.EffectiveResolution, []trial{
		{"stencil, 800", withPicture(at(200, 800, 800), stencil), rules.Order{}, "pass", ""},
		{"stencil, 790", withPicture(at(200, 790, 790), stencil), rules.Order{}, "warn", "line art in one bit"},
		{"stencil, 550", withPicture(at(200, 550, 550), stencil), rules.Order{}, "warn", ""},
		{"stencil, 540", withPicture(at(200, 540, 540), stencil), rules.Order{}, "fail", ""},
		{"grey of one bit, 400", withPicture(at(200, 400, 400), bit), rules.Order{}, "fail", "800 is good"},
		{"index of one bit into grey, 400", withPicture(at(200, 400, 400), pictureOf(200, 200, 1, 1, "/ColorSpace [/Indexed /DeviceGray 1 <00ff>]")), rules.Order{}, "fail", ""},
		{"grey of two bits is tone", withPicture(at(200, 400, 400), pictureOf(200, 200, 2, 1, greySpace)), rules.Order{}, "pass", ""},
		{"stencil, 600, own printer", withPicture(at(200, 600, 600), stencil), desktop, "pass", ""},
		{"stencil, 400, own printer", withPicture(at(200, 400, 400), stencil), desktop, "warn", ""},
		{"stencil, 290, own printer", withPicture(at(200, 290, 290), stencil), desktop, "fail", ""},
		{"picture file of one bit", oneBitTIFF(3000, 1800, 2, 800), rules.Order{}, "pass", ""},
		{"picture file of one bit at 300 ppi", oneBitTIFF(1125, 675, 2, 300), rules.Order{}, "fail", "3000 × 1800 px (800 ppi)"},
	})
}

// However a picture comes to its place, it is its own axes that count: an image
// fills the unit square of its matrix (PDF Reference 1.7, 4.8).
func TestResolutionPlaced(t *testing.T) {
	turned := func(degrees, side float64) string {
		s, c := math.Sincos(degrees * math.Pi / 180)
		return fmt.Sprintf("q %f %f %f %f 135 40 cm /X Do Q", side*c, side*s, -side*s, side*c)
	}
	form := func(matrix, content string) string {
		return stream("/Type /XObject /Subtype /Form /BBox [0 0 1000 1000] /Matrix ["+matrix+"] /Resources << /XObject << /X 5 0 R >> >>", content)
	}
	inForm := func(matrix string) []byte {
		return card("/Y Do", tone(200), form(matrix, "100 0 0 100 20 20 cm /X Do")).with("/XObject << /Y 6 0 R >>").file()
	}
	tile := stream("/Type /Pattern /PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 60 60] /XStep 60 /YStep 60 /Resources << /XObject << /X 5 0 R >> >>",
		"60 0 0 60 0 0 cm /X Do")
	try(t, checks.EffectiveResolution, []trial{
		{"turned by 30°, 300 ppi", withPicture(turned(30, 48), tone(200)), rules.Order{}, "pass", ""},
		{"turned by 30°, 200 ppi", withPicture(turned(30, 72), tone(200)), rules.Order{}, "warn", "200 ppi"},
		{"turned by 90°", withPicture(turned(90, 72), tone(200)), rules.Order{}, "warn", "200 ppi"},
		{"mirrored", withPicture("q -72 0 0 72 135 40 cm /X Do Q", tone(200)), rules.Order{}, "warn", "200 ppi"},
		{"upside down", withPicture("q 72 0 0 -72 135 140 cm /X Do Q", tone(200)), rules.Order{}, "warn", "200 ppi"},
		{"skewed: each axis by its own length", withPicture("q 48 0 48 48 40 40 cm /X Do Q", tone(200)), rules.Order{}, "warn", "300 × 212.1 ppi"},
		{"drawn out on one axis", withPicture(at(200, 300, 150), tone(200)), rules.Order{}, "fail", "300 × 150 ppi"},
		{"in a form, as it is", inForm("1 0 0 1 0 0"), rules.Order{}, "fail", "144 ppi"},
		{"in a form, halved", inForm(".48 0 0 .48 0 0"), rules.Order{}, "pass", ""},
		{"in a form, doubled", inForm("1.4 0 0 1.4 0 0"), rules.Order{}, "fail", "102.9 ppi"},
		{"in a pattern", card("/Pattern cs /P scn 0 0 270 162 re f", tone(200), tile).with("/Pattern << /P 6 0 R >>").file(), rules.Order{}, "warn", "240 ppi"},
		{"inline", card("q 72 0 0 72 20 20 cm BI /W 100 /H 100 /BPC 8 /CS /G ID " + strings.Repeat("U", 10000) + " EI Q").file(), rules.Order{}, "fail", "100 ppi"},
		{"UserUnit 2", sheet{page: "/MediaBox [0 0 135 81] /TrimBox [4.5 4.5 130.5 76.5] /UserUnit 2", content: "36 0 0 36 20 20 cm /X Do",
			resources: "/XObject << /X 5 0 R >>", objects: []string{tone(200)}}.file(), rules.Order{}, "warn", "200 ppi"},
		{"turned page", sheet{page: "/MediaBox [0 0 162 270] /TrimBox [9 9 153 261] /Rotate 90", content: "72 0 0 36 20 20 cm /X Do",
			resources: "/XObject << /X 5 0 R >>", objects: []string{tone(200)}}.file(), rules.Order{}, "warn", "200 × 400 ppi"},
	})
}

// What never reaches ink, or has no detail to lose, stays silent.
func TestResolutionNearMisses(t *testing.T) {
	const coarse = "q 100 0 0 100 %s cm /X Do Q"
	hidden := card("/OC /L BDC 100 0 0 100 20 20 cm /X Do EMC", tone(100), "<< /Type /OCG /Name (Guide) >>").
		with("/XObject << /X 5 0 R >> /Properties << /L 6 0 R >>")
	try(t, checks.EffectiveResolution, []trial{
		{"coarse", withPicture(fmt.Sprintf(coarse, "20 20"), tone(100)), rules.Order{}, "fail", "72 ppi"},
		{"outside the page", withPicture(fmt.Sprintf(coarse, "500 20"), tone(100)), rules.Order{}, "pass", ""},
		{"in the slug", sheet{page: "/MediaBox [0 0 270 400] /BleedBox [0 0 270 162] /TrimBox [9 9 261 153]", content: fmt.Sprintf(coarse, "20 200"),
			resources: "/XObject << /X 5 0 R >>", objects: []string{tone(100)}}.file(), rules.Order{}, "pass", ""},
		{"in the bleed alone: it is printed", withPicture("q 100 0 0 5 20 0 cm /X Do Q", tone(100)), rules.Order{}, "fail", ""},
		{"clipped away", withPicture("0 0 10 10 re W n "+fmt.Sprintf(coarse, "50 50"), tone(100)), rules.Order{}, "pass", ""},
		{"on a layer that is off", hidden.off(6), rules.Order{}, "pass", ""},
		{"no picture", card("0 0 50 50 re f").file(), rules.Order{}, "pass", "nothing to blur"},
		{"an icon", withPicture("q 20 0 0 20 50 50 cm /X Do Q", tone(20)), rules.Order{}, "pass", ""},
		{"few pixels drawn large are no icon", withPicture("q 60 0 0 60 50 50 cm /X Do Q", tone(20)), rules.Order{}, "fail", ""},
		{"one pixel as a tint", withPicture("q 270 0 0 162 0 0 cm /X Do Q", pictureOf(1, 1, 8, 1, greySpace)), rules.Order{}, "pass", ""},
		{"a gradient of 1 × 256 px", withPicture("q 270 0 0 60 0 0 cm /X Do Q", pictureOf(1, 256, 8, 1, greySpace)), rules.Order{}, "pass", ""},
		{"a gradient of 256 × 1 px", withPicture("q 60 0 0 162 0 0 cm /X Do Q", pictureOf(256, 1, 8, 1, greySpace)), rules.Order{}, "pass", ""},
		{"squashed to nothing", withPicture("q 0 0 0 0 20 20 cm /X Do Q", tone(100)), rules.Order{}, "pass", ""},
		{"a coarse soft mask of a sharp picture", withPicture(at(200, 300, 300),
			pictureOf(200, 200, 8, 1, greySpace+" /SMask 6 0 R"), pictureOf(70, 70, 8, 1, greySpace)), rules.Order{}, "pass", ""},
		{"clear as glass", card("/G gs "+fmt.Sprintf(coarse, "20 20"), tone(100)).with("/XObject << /X 5 0 R >> /ExtGState << /G << /ca 0 >> >>").file(), rules.Order{}, "pass", ""},
	})
}

// Of several pictures the worst is told, the others stand beside it.
func TestResolutionTellsTheWorst(t *testing.T) {
	file := card(at(200, 250, 250)+"q 72 0 0 72 100 60 cm /Y Do Q q 24 0 0 24 200 60 cm /X Do Q", tone(200), tone(150)).
		with("/XObject << /X 5 0 R /Y 6 0 R >>").file()
	r := checktest.JudgeBy(t, kept(t, "card.pdf", file), rules.Order{}, checks.EffectiveResolution)
	if len(r.Findings) != 1 {
		t.Fatalf("want one finding, got %s", words(r))
	}
	f := r.Findings[0]
	if f.Verdict != rules.Fail || f.Measured == nil || *f.Measured.Value != 150 || len(f.Also) != 2 {
		t.Errorf("want the picture at 150 ppi and two beside it, got %+v", f)
	}
	if !strings.Contains(f.Message, "worst of 2") || !strings.Contains(f.Fix, "300 × 300 px") || !strings.Contains(f.Fix, "50 %") {
		t.Errorf("says %q, %q", f.Message, f.Fix)
	}
}

// Worked example: 3.75 × 2.25 in at 300 ppi are 1125 × 675 px.
func TestResolutionOfPictureFiles(t *testing.T) {
	try(t, checks.EffectiveResolution, []trial{
		{"1125 × 675 px", densePNG(t, 1125, 675), rules.Order{}, "pass", "300 ppi"},
		{"no density, the same pixels", pngFile(t, greyPicture(1125, 675)), rules.Order{}, "pass", "300 ppi"},
		{"562 × 338 px", pngFile(t, greyPicture(562, 338)), rules.Order{}, "fail", "1125 × 675 px (300 ppi)"},
		{"900 × 540 px", pngFile(t, greyPicture(900, 540)), rules.Order{}, "warn", "240 ppi"},
		{"900 × 540 px that say 300", densePNG(t, 900, 540), rules.Order{}, "warn", "240 ppi"},
		{"72 ppi, the size of the card", jpegFile(t, greyPicture(270, 162), jfif(1, 72, 72)), rules.Order{}, "fail", "72 ppi"},
		{"300 × 150 ppi", pngFile(t, greyPicture(1125, 338), phys(11811, 5906, 1)), rules.Order{}, "fail", "300 × 150"},
		{"JFIF, 118 per cm", jpegFile(t, greyPicture(1125, 675), jfif(2, 118, 118)), rules.Order{}, "pass", ""},
		{"no size known", pngFile(t, greyPicture(900, 900)), rules.Order{}, "skip", "see trim-size"},
		{"no card, but a density", densePNG(t, 900, 900), rules.Order{}, "pass", "300 ppi"},
	})
}
