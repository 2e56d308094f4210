package checks_test

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"strings"
	"testing"

	"stoneproof/checks"
	"stoneproof/checks/checktest"
	"stoneproof/rules"
)

// A bleed of 0.125 in is 3.175 mm; up to 0.1 mm of it may be missing without a
// word, up to 0.3 mm costs a warning.
func TestBleedExtentShort(t *testing.T) {
	const bleed = 9.0 // points
	short := func(e rules.Edge, mm float64) []byte {
		by := bleed - mm*ptPerMM
		boxes := map[rules.Edge][4]float64{
			rules.Left: {by, bleed, bleed, bleed}, rules.Bottom: {bleed, by, bleed, bleed},
			rules.Right: {bleed, bleed, by, bleed}, rules.Top: {bleed, bleed, bleed, by},
		}
		b := boxes[e]
		return page(media + even("TrimBox", 0) + around("BleedBox", b[0], b[1], b[2], b[3]))
	}
	var trials []trial
	for _, e := range rules.AllEdges {
		trials = append(trials,
			trial{fmt.Sprintf("0.05 mm short at the %s", e), short(e, 0.05), rules.Order{}, "pass", ""},
			trial{fmt.Sprintf("0.2 mm short at the %s", e), short(e, 0.2), rules.Order{}, "warn " + string(e), "0.125 in is wanted"},
			trial{fmt.Sprintf("0.5 mm short at the %s", e), short(e, 0.5), rules.Order{}, "fail " + string(e), fmt.Sprintf("at the %s edge", e)},
			trial{fmt.Sprintf("all missing at the %s", e), short(e, 3.175), rules.Order{}, "fail " + string(e), "ends at the trim"})
	}
	try(t, checks.BleedExtent, trials)
}

func TestBleedExtent(t *testing.T) {
	trim := media + even("TrimBox", 0)
	mm := func(l float64) rules.Order { b := rules.MM(l); return rules.Order{Bleed: &b} }
	try(t, checks.BleedExtent, []trial{
		{"to the MediaBox where there is no BleedBox", page(trim), rules.Order{}, "pass", ""},
		{"two bleeds", page(trim + even("BleedBox", 18)), rules.Order{}, "pass", ""},
		{"short all round: told once", page(trim + even("BleedBox", 4.5)), rules.Order{}, "fail", "on every edge"},
		{"none on a card of another size", page("/MediaBox [0 0 240 144] /TrimBox [0 0 240 144]"), rules.Order{}, "fail", "past the trim on every edge and export with that bleed."},
		{"none all round: told once", page("/MediaBox [0 0 252 144] /TrimBox [0 0 252 144]"), rules.Order{}, "fail", "3.75 × 2.25 in altogether"},
		{"each edge by another length", page(trim + around("BleedBox", 0, 3, 6, 9)), rules.Order{}, "fail bottom; fail left; fail right", ""},
		{"a little and much", page(trim + around("BleedBox", 8.4, 9, 3, 9)), rules.Order{}, "fail right; warn left", ""},
		// The bleed is per edge: some give its total.
		{"0.125 in in all", page(trim + even("BleedBox", 4.5)), rules.Order{}, "fail", "0.063 in beyond the trim"},
		{"a CropBox does not end it", page(trim + even("CropBox", 0)), rules.Order{}, "pass", ""},
		{"a BleedBox that does not hold the trim says nothing", page(trim + even("BleedBox", -5)), rules.Order{}, "pass", ""},
		{"turned page", page("/MediaBox [0 0 162 270] /TrimBox [9 9 153 261] /BleedBox [9 0 162 270] /Rotate 90"), rules.Order{}, "fail top", ""},
		{"UserUnit 2", page("/MediaBox [0 0 135 81] /TrimBox [4.5 4.5 130.5 76.5] /UserUnit 2"), rules.Order{}, "pass", ""},
		{"none asked for", page("/MediaBox [0 0 252 144] /TrimBox [0 0 252 144]"), mm(0), "pass", ""},
		{"2 mm asked for", page(trim + even("BleedBox", 2*ptPerMM)), mm(2), "pass", ""},
		{"5 mm asked for", page(trim + even("BleedBox", 9)), mm(5), "fail", "0.1969 in is wanted"},
		{"picture with bleed", densePNG(t, 1125, 675), rules.Order{}, "pass", ""},
		{"picture of the trim", densePNG(t, 1050, 600), rules.Order{}, "fail", "Extend the background 0.125 in past the trim on every edge and export with that bleed: 1125 × 675 px (300 ppi) altogether"},
		{"picture with 3 mm for 1/8 in", densePNG(t, 1121, 671), rules.Order{}, "warn", ""},
		{"picture with 2 mm for 3", densePNG(t, 1051, 697), size("eu-business"), "fail", "1075 × 721 px"},
		{"one pixel fewer", densePNG(t, 1124, 674), rules.Order{}, "pass", ""},
		{"two pixels fewer", densePNG(t, 1123, 673), rules.Order{}, "pass", ""},
		{"not placed", densePNG(t, 900, 900), rules.Order{}, "skip", "see trim-size"},
	})
}

// Paint of a picture that stops short of its edge, on white, to the pixel: at
// 300 ppi a pixel is 0.085 mm, so that one passes the slack of 0.1 mm, yet is
// seen, two and three are a sliver, and four are not.
func TestBleedFillPixels(t *testing.T) {
	var trials []trial
	for px, want := range map[int]string{0: "pass", 1: "warn", 2: "warn", 3: "warn", 4: "fail", 20: "fail", 37: "fail"} {
		for _, e := range rules.AllEdges {
			said := want
			if want != "pass" {
				said += " " + string(e)
			}
			trials = append(trials, trial{fmt.Sprintf("%d px bare at the %s", px, e), bareAt(t, e, px), rules.Order{}, said, ""})
		}
	}
	try(t, checks.BleedFill, trials)
}

// bareAt is a red card with px pixels left white along an edge.
func bareAt(t testing.TB, e rules.Edge, px int) []byte {
	img := image.NewRGBA(image.Rect(0, 0, 1125, 675))
	draw.Draw(img, img.Rect, image.White, image.Point{}, draw.Src)
	r := img.Rect
	switch e {
	case rules.Top:
		r.Min.Y += px
	case rules.Right:
		r.Max.X -= px
	case rules.Bottom:
		r.Max.Y -= px
	case rules.Left:
		r.Min.X += px
	}
	draw.Draw(img, r, image.NewUniform(color.RGBA{0xb0, 0x20, 0x20, 0xff}), image.Point{}, draw.Src)
	return pngFile(t, opaque{img}, phys(11811, 11811, 1))
}

// The same on a page, in exact lengths, by several ways of painting a ground.
func TestBleedFillPage(t *testing.T) {
	const red = "0 0.9 0.8 0.2 k "
	rect := func(x, y, w, h float64) []byte { return card(red + fmt.Sprintf("%v %v %v %v re f", x, y, w, h)).file() }
	try(t, checks.BleedFill, []trial{
		{"to the edge of the page", rect(0, 0, 270, 162), rules.Order{}, "pass", "0.125 in past the trim"},
		{"past the page", rect(-50, -50, 400, 400), rules.Order{}, "pass", ""},
		{"to the trim at the left", rect(9, 0, 261, 162), rules.Order{}, "fail left", "stops at the trim"},
		{"to the trim all round", rect(9, 9, 252, 144), rules.Order{}, "fail bottom; fail left; fail right; fail top", ""},
		{"0.05 mm short", rect(0.05*ptPerMM, 0, 270, 162), rules.Order{}, "warn left", ""},
		{"0.2 mm short", rect(0.2*ptPerMM, 0, 270, 162), rules.Order{}, "warn left", "bare sliver"},
		{"0.5 mm short", rect(0.5*ptPerMM, 0, 270, 162), rules.Order{}, "fail left", ""},
		{"well inside the card", rect(30, 30, 200, 100), rules.Order{}, "pass", "nothing to bleed"},
		{"nothing at all", card("").file(), rules.Order{}, "pass", "nothing to bleed"},
		{"white that stops at the trim", card("0 0 0 0 k 9 9 252 144 re f").file(), rules.Order{}, "pass", ""},
		{"half of an edge", card(red + "0 0 135 162 re 135 0 126 162 re f").file(), rules.Order{}, "fail right", ""},
		{"the lower half of the left edge", card(red + "9 0 261 162 re 0 81 20 81 re f").file(), rules.Order{}, "fail left", "from 1"},
		{"a stripe across, whole", card(red + "0 60 270 40 re f").file(), rules.Order{}, "pass", ""},
		{"a stripe across, to the trim", card(red + "9 60 252 40 re f").file(), rules.Order{}, "fail left; fail right", ""},
		{"clipped at the trim", card("9 9 252 144 re W n " + red + "0 0 270 162 re f").file(), rules.Order{}, "fail bottom; fail left; fail right; fail top", ""},
		{"in a form clipped at the trim", card("/X Do", stream("/Type /XObject /Subtype /Form /BBox [9 9 261 153]", red+"0 0 270 162 re f")).with("/XObject << /X 5 0 R >>").file(), rules.Order{}, "fail bottom; fail left; fail right; fail top", ""},
		{"in a form that bleeds", card("/X Do", stream("/Type /XObject /Subtype /Form /BBox [0 0 270 162]", red+"0 0 270 162 re f")).with("/XObject << /X 5 0 R >>").file(), rules.Order{}, "pass", ""},
		{"a picture to the bleed", card("270 0 0 162 0 0 cm /X Do", pictureOf(100, 60, 8, 1, "/ColorSpace /DeviceGray")).with("/XObject << /X 5 0 R >>").file(), rules.Order{}, "pass", ""},
		{"a picture to the trim", card("252 0 0 144 9 9 cm /X Do", pictureOf(100, 60, 8, 1, "/ColorSpace /DeviceGray")).with("/XObject << /X 5 0 R >>").file(), rules.Order{}, "fail bottom; fail left; fail right; fail top", ""},
		{"a gradient to the bleed", card("/S sh").with("/Shading << /S << /ShadingType 2 /ColorSpace /DeviceGray /Coords [0 0 270 0] /Extend [true true] /Function << /FunctionType 2 /Domain [0 1] /C0 [0.1] /C1 [0.6] /N 1 >> >> >>").file(), rules.Order{}, "pass", ""},
		{"a gradient to the trim", card("q 9 9 252 144 re W n /S sh Q").with("/Shading << /S << /ShadingType 2 /ColorSpace /DeviceGray /Coords [0 0 270 0] /Extend [true true] /Function << /FunctionType 2 /Domain [0 1] /C0 [0.1] /C1 [0.6] /N 1 >> >> >>").file(), rules.Order{}, "fail bottom; fail left; fail right; fail top", ""},
		{"a ground that is switched off", card("/OC /L BDC "+red+"9 9 252 144 re f EMC", "<< /Type /OCG /Name (Guide) >>").with("/Properties << /L 5 0 R >>").off(5), rules.Order{}, "pass", ""},
		{"white bars laid over the bleed", card(red + "0 0 270 162 re f 0 0 0 0 k 0 0 270 9 re 0 153 270 9 re 0 0 9 162 re 261 0 9 162 re f").file(), rules.Order{}, "fail bottom; fail left; fail right; fail top", ""},
		{"a bare corner of the bleed", card(red + "0 0 270 162 re f 0 0 0 0 k 0 0 8 8 re f").file(), rules.Order{}, "fail bottom; fail left", "at the bottom edge, at its left end; 0.125 in is wanted"},
		{"the other corner", card(red + "0 0 270 162 re f 0 0 0 0 k 262 154 8 8 re f").file(), rules.Order{}, "fail right; fail top", "at the top edge, at its right end; 0.125 in is wanted"},
		{"a spot ink to the trim", inSpace("[/Separation /Gold /DeviceCMYK "+tint+"]", "1").but("9 9 252 144 re f").file(), rules.Order{}, "fail bottom; fail left; fail right; fail top", ""},
		{"a pale ground to the trim", card("0 0 0.06 0 k 9 9 252 144 re f").file(), rules.Order{}, "fail bottom; fail left; fail right; fail top", ""},
		{"a corner cut off by the trim", card(red + "9 9 m 60 9 l 9 60 l f").file(), rules.Order{}, "fail bottom; fail left", ""},
		{"a corner that bleeds", card(red + "0 0 m 69 0 l 0 69 l f").file(), rules.Order{}, "pass", ""},
		// Streams of a page's content are one, cut between any two words (ISO 32000-1, Table 30).
		{"a ground in two streams", card("", stream("", red+"0 0 270"), stream("", "162 re f")).contents("[5 0 R 6 0 R]"), rules.Order{}, "pass", ""},
		{"a ground in two streams, to the trim", card("", stream("", red+"9 0 270"), stream("", "162 re f")).contents("[5 0 R 6 0 R]"), rules.Order{}, "fail left", ""},
		{"no room at all", page("/MediaBox [0 0 252 144] /TrimBox [0 0 252 144]"), rules.Order{}, "skip", "see bleed-extent"},
		{"no room on one side, all of it painted", sheet{page: "/MediaBox [9 0 270 162] /TrimBox [9 9 261 153]", content: red + "0 0 270 162 re f"}.file(), rules.Order{}, "pass", ""},
		{"turned page, bare at the top as seen", sheet{page: "/MediaBox [0 0 162 270] /TrimBox [9 9 153 261] /Rotate 90", content: red + "9 0 153 270 re f"}.file(), rules.Order{}, "fail top", ""},
	})
}

// off is the file with one object's layer switched off (ISO 32000-1, 8.11.4.3).
func (s sheet) off(layer int) []byte {
	s.catalog += fmt.Sprintf(" /OCProperties << /OCGs [%d 0 R] /D << /OFF [%d 0 R] >> >>", layer, layer)
	return s.file()
}

// but paints the ground another way.
func (s sheet) but(ground string) sheet {
	s.content = strings.Replace(s.content, "0 0 270 162 re f", ground, 1)
	return s
}

// A picture that is clear along an edge is bare there.
func TestBleedFillOfClearPixels(t *testing.T) {
	clearAt := func(px int) []byte {
		img := image.NewNRGBA(image.Rect(0, 0, 1125, 675))
		draw.Draw(img, image.Rect(px, 0, 1125, 675), image.NewUniform(color.NRGBA{0xb0, 0x20, 0x20, 0xff}), image.Point{}, draw.Src)
		return pngFile(t, img, phys(11811, 11811, 1))
	}
	try(t, checks.BleedFill, []trial{
		{"nowhere", clearAt(0), rules.Order{}, "pass", ""},
		{"on the left", clearAt(20), rules.Order{}, "fail left", ""},
	})
}

// A deck's sides are told apart by their numbers.
func TestSidesAreNumbered(t *testing.T) {
	s := card("0 0.9 0.8 0.2 k 9 0 261 162 re f")
	s.pages = 2
	r := checktest.JudgeBy(t, kept(t, "card.pdf", s.file()), rules.Order{}, checks.BleedFill)
	var sides []int
	for _, f := range r.Findings {
		if f.Verdict == rules.Fail && f.Edge == rules.Left {
			sides = append(sides, f.Side)
		}
	}
	if fmt.Sprint(sides) != "[1 2]" {
		t.Errorf("fails on sides %v, want 1 and 2", sides)
	}
}
