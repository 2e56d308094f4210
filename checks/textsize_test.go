package checks_test

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stoneproof/checks"
	"stoneproof/checks/checktest"
	"stoneproof/checks/checktest/press"
	"stoneproof/rules"
)

// sized is a card with words of a size; before stands the paint under them and their
// colour.
func sized(before string, size float64, words string) sheet {
	return card(fmt.Sprintf("%s BT /F %v Tf 40 80 Td (%s) Tj ET ", before, size, words)).with(helvetica)
}

const (
	inTheDark = "1 1 0 0.5 k 0 0 270 162 re f "
	hours     = "open Tue-Sat"
	inBlack   = "0 0 0 1 k "
	inWhite   = "0 0 0 0 k "
)

// In one ink on a lighter ground 5 pt holds, light on dark and in several inks 6 pt
// (common practice); half a per cent less counts as met.
func TestTextSizeByInk(t *testing.T) {
	var trials []trial
	for _, tt := range []struct {
		name, before string
		least        float64
		then         string // what type between the two limits earns
	}{
		{"black", ground, 5, "pass"},
		{"black on bare paper", inBlack, 5, "pass"},
		{"grey", "0.4 g ", 5, "pass"},
		{"one ink of four", "1 0 0 0 k ", 5, "pass"},
		{"a tint of one ink", "0 0.6 0 0 k ", 5, "pass"},
		{"two inks, of which one is a trace", "0 0.01 0 1 k ", 5, "pass"},
		{"two inks", "0 0.8 0 0.5 k ", 6, "fail"},
		{"four inks", "0.6 0.4 0.4 1 k ", 6, "fail"},
		{"white on dark", inTheDark + inWhite, 6, "fail"},
		{"pale on dark", inTheDark + "0 0 0.4 0 k ", 6, "fail"},
		{"white grey on dark", inTheDark + "1 g ", 6, "fail"},
		{"white light on dark", inTheDark + "1 1 1 rg ", 6, "fail"},
		{"white on black", "0 g 0 0 270 162 re f 1 g ", 6, "fail"},
		{"black on a mid tone", "0.5 0 0 0 k 0 0 270 162 re f " + inBlack, 5, "pass"},
		{"light of a colour", "0.7 0.1 0.1 rg ", 6, "warn"},
		{"black of light", "0 0 0 rg ", 5, "pass"},
		{"grey of light", "0.3 0.3 0.3 rg ", 5, "pass"},
		{"nearly grey light", "0.3 0.31 0.3 rg ", 5, "pass"},
	} {
		between := tt.then
		says := ""
		if tt.least > 5 {
			says = "6 pt is the least that holds here"
		}
		for _, one := range []struct {
			size       float64
			want, says string
		}{
			{3, "fail", ""}, {4.9, "fail", ""}, {4.97, "fail", ""}, {4.98, between, ""}, {5, between, says}, {5.5, between, says}, {5.96, between, says}, {5.98, "pass", ""}, {6, "pass", ""}, {9, "pass", ""},
		} {
			trials = append(trials, trial{fmt.Sprintf("%s, %v pt", tt.name, one.size), sized(tt.before, one.size, hours).file(), rules.Order{}, one.want, one.says})
		}
	}
	try(t, checks.TextSize, trials)
}

func TestTextSizeByProcess(t *testing.T) {
	uncoated := rules.Order{Process: "offset-uncoated"}
	try(t, checks.TextSize, []trial{
		{"5.5 pt uncoated", sized(inBlack, 5.5, hours).file(), uncoated, "fail", "6 pt is the least"},
		{"6 pt uncoated", sized(inBlack, 6, hours).file(), uncoated, "pass", ""},
		{"6.5 pt light on dark, uncoated", sized(inTheDark+inWhite, 6.5, hours).file(), uncoated, "fail", "7 pt is the least"},
		{"5 pt on one's own printer", sized(inBlack, 5, hours).file(), rules.Order{Process: "desktop"}, "pass", ""},
	})
}

func TestTextSizeWords(t *testing.T) {
	try(t, checks.TextSize, []trial{
		{"what and how small", sized(inBlack, 4.2, hours).file(), rules.Order{}, "fail", `"open Tue-Sat" (0.61 in across, 0.99 in down)`},
		{"the number", sized(inBlack, 4.2, hours).file(), rules.Order{}, "fail", "is 4.2 pt; 5 pt is the least that holds here."},
		{"how to mend it", sized(inBlack, 4.2, hours).file(), rules.Order{}, "fail", "Set it at 5 pt or larger, that is 120 % of its size."},
		{"rounded up", sized(inBlack, 3.5, hours).file(), rules.Order{}, "fail", "143 % of its size"},
		{"never rounded to the limit", sized(inBlack, 4.97, hours).file(), rules.Order{}, "fail", "is 4.97 pt"},
		{"why: inks", sized("0.6 0 0.4 0 k ", 5.5, hours).file(), rules.Order{}, "fail", "it is built from two inks (cyan and yellow)"},
		{"or another ink", sized("0.6 0 0.4 0 k ", 5.5, hours).file(), rules.Order{}, "fail", "110 % of its size, or in one ink."},
		{"which would not do at 4 pt", sized("0.6 0 0.4 0 k ", 4, hours).file(), rules.Order{}, "fail", "150 % of its size."},
		{"why: ground", sized(inTheDark+inWhite, 5.5, hours).file(), rules.Order{}, "fail", "light on a dark ground"},
		{"the worst of several", card(inBlack + "BT /F 4.5 Tf 40 80 Td (Madder House) Tj 0 -20 Td /F 4 Tf (Mill Leat) Tj ET").with(helvetica).file(), rules.Order{}, "fail", `"Mill Leat"`},
		{"and how many", card(inBlack + "BT /F 4.5 Tf 40 80 Td (Madder House) Tj 0 -20 Td /F 4 Tf (Mill Leat) Tj ET").with(helvetica).file(), rules.Order{}, "fail", "It is the worst of 2 such lines."},
		{"a failure before a warning", card("0.7 0 0 rg BT /F 5 Tf 40 80 Td (Madder House) Tj 0 -20 Td 0 g /F 4.9 Tf (Mill Leat) Tj ET").with(helvetica).file(), rules.Order{}, "fail", `"Mill Leat"`},
		{"runs of a line are joined", card(inBlack + "BT /F 4 Tf 40 80 Td (open) Tj 10.2 0 Td (Tue-) Tj 8.4 0 Td (Sat) Tj ET").with(helvetica).file(), rules.Order{}, "fail", `"open Tue-Sat"`},
		{"letter by letter", card(inBlack + "BT /F 4 Tf 40 80 Td (o) Tj (p) Tj (e) Tj (n) Tj ET").with(helvetica).file(), rules.Order{}, "fail", `"open"`},
		{"all well", sized(inBlack, 7, hours).file(), rules.Order{}, "pass", `The smallest type, "open Tue-Sat", is 7 pt.`},
	})
}

// Size is the em's height as printed, whatever is in force.
func TestTextSizeHoweverItIsScaled(t *testing.T) {
	text := func(set string) sheet { return card(inBlack + "BT " + set + " (open Tue-Sat) Tj ET").with(helvetica) }
	form := stream("/Type /XObject /Subtype /Form /BBox [0 0 270 162] /Matrix [.5 0 0 .5 0 0] /Resources << "+helvetica+" >>", "BT /F 9 Tf 100 150 Td (open Tue-Sat) Tj ET")
	tile := stream("/Type /Pattern /PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 60 20] /XStep 60 /YStep 20 /Resources << "+helvetica+" >>", "BT /F 4 Tf 5 5 Td (open Tue-Sat) Tj ET")
	unit := func(u, size float64) []byte {
		return sheet{page: "/MediaBox [0 0 135 81] /TrimBox [4.5 4.5 130.5 76.5] /UserUnit 2", resources: helvetica,
			content: fmt.Sprintf("BT /F %v Tf 20 40 Td (open Tue-Sat) Tj ET", size)}.file()
	}
	try(t, checks.TextSize, []trial{
		{"by its matrix, too small", text("/F 1 Tf 4.9 0 0 4.9 40 80 Tm").file(), rules.Order{}, "fail", "4.9 pt"},
		{"by its matrix", text("/F 1 Tf 5 0 0 5 40 80 Tm").file(), rules.Order{}, "pass", ""},
		{"by the page's, too small", text("/F 9.8 Tf 80 160 Td").scaled(0.5).file(), rules.Order{}, "fail", "4.9 pt"},
		{"by the page's", text("/F 10 Tf 80 160 Td").scaled(0.5).file(), rules.Order{}, "pass", ""},
		{"turned, too small", text("/F 4.9 Tf .6 .8 -.8 .6 100 40 Tm").file(), rules.Order{}, "fail", "4.9 pt"},
		{"turned", text("/F 5 Tf .6 .8 -.8 .6 100 40 Tm").file(), rules.Order{}, "pass", ""},
		{"on its side, too small", text("/F 4.9 Tf 0 1 -1 0 100 40 Tm").file(), rules.Order{}, "fail", ""},
		{"upside down by a size under nothing", text("/F -4.9 Tf 150 80 Td").file(), rules.Order{}, "fail", "4.9 pt"},
		{"drawn out, but no higher", text("/F 4.9 Tf 200 Tz 40 80 Td").file(), rules.Order{}, "fail", ""},
		{"condensed, but no lower", text("/F 5 Tf 50 Tz 40 80 Td").file(), rules.Order{}, "pass", ""},
		{"UserUnit 2, too small", unit(2, 2.4), rules.Order{}, "fail", "4.8 pt"},
		{"UserUnit 2", unit(2, 2.5), rules.Order{}, "pass", ""},
		{"in a form half as large", card(inBlack+"/X Do", form).with("/XObject << /X 5 0 R >>").file(), rules.Order{}, "fail", "4.5 pt"},
		{"in a tile", card("/Pattern cs /P scn 0 0 270 162 re f", tile).with("/Pattern << /P 5 0 R >>").file(), rules.Order{}, "fail", "4 pt"},
		{"stroked", text("1 Tr 0.3 w /F 4.9 Tf 40 80 Td").file(), rules.Order{}, "fail", ""},
		{"stroked in two inks", card("0.5 w 0 1 1 0 K BT 1 Tr /F 5.5 Tf 40 80 Td (open Tue-Sat) Tj ET").with(helvetica).file(), rules.Order{}, "fail", "two inks"},
		{"in an annotation that prints", noteOf(4, "BT /F 4 Tf 40 80 Td (open Tue-Sat) Tj ET"), rules.Order{}, "fail", ""},
	})
}

// scaled draws the sheet's content by a factor.
func (s sheet) scaled(by float64) sheet {
	s.content = fmt.Sprintf("q %v 0 0 %v 0 0 cm %s Q", by, by, s.content)
	return s
}

// noteOf is a card with an annotation of given flags that shows content in
// Helvetica.
func noteOf(flags int, content string) []byte {
	s := card(ground, fmt.Sprintf("<< /Type /Annot /Subtype /FreeText /Rect [0 0 270 162] /F %d /AP << /N 6 0 R >> >>", flags),
		stream("/Type /XObject /Subtype /Form /BBox [0 0 270 162] /Resources << "+helvetica+" >>", content))
	s.page += " /Annots [5 0 R]"
	return s.file()
}

// What is not seen, not on the card or no reading matter stays silent.
func TestTextSizeNearMisses(t *testing.T) {
	small := func(before string) []byte { return sized(before, 4, hours).file() }
	layer := sized(inBlack+"/OC /L BDC", 4, hours).also("EMC")
	layer.objects = []string{"<< /Type /OCG /Name (Draft) >>"}
	layer = layer.with("/Properties << /L 5 0 R >>")
	slug := card(inBlack + "BT /F 4 Tf 40 200 Td (open Tue-Sat) Tj ET").with(helvetica)
	slug.page = "/MediaBox [0 0 270 260] /BleedBox [0 0 270 162] /TrimBox [9 9 261 153]"
	line := func(runs string) []byte { return card(inBlack + "BT 40 80 Td " + runs + " ET").with(helvetica).file() }
	try(t, checks.TextSize, []trial{
		{"invisible, as under a scan", small(inBlack + "3 Tr"), rules.Order{}, "pass", "No type"},
		{"white on bare paper", small(inWhite), rules.Order{}, "pass", ""},
		{"in the colour of its ground", small(inTheDark + "1 1 0 0.5 k"), rules.Order{}, "pass", ""},
		{"painted over", sized(inBlack, 4, hours).also(inTheDark).file(), rules.Order{}, "pass", ""},
		{"clear as glass", sized("/G gs "+inBlack, 4, hours).with("/ExtGState << /G << /ca 0 >> >>").file(), rules.Order{}, "pass", ""},
		{"clipped away", small(inBlack + "200 100 5 5 re W n"), rules.Order{}, "pass", ""},
		{"on a layer that is off", layer.off(5), rules.Order{}, "pass", ""},
		{"on a layer that is on", layer.file(), rules.Order{}, "fail", ""},
		{"in the slug", slug.file(), rules.Order{}, "pass", ""},
		{"in a note that does not print", noteOf(0, "BT /F 4 Tf 40 80 Td (open Tue-Sat) Tj ET"), rules.Order{}, "pass", ""},
		{"a row of dots", sized(inBlack, 4, "..........").file(), rules.Order{}, "pass", ""},
		{"a bullet", sized(inBlack, 4, "\\267").file(), rules.Order{}, "pass", ""},
		{"a rule of dashes", sized(inBlack, 3, "----------").file(), rules.Order{}, "pass", ""},
		{"two letters", sized(inBlack, 3, "mm").file(), rules.Order{}, "pass", ""},
		{"a trade mark's sign", line("/F 12 Tf (Potter) Tj 4 Ts /F 4 Tf (TM) Tj"), rules.Order{}, "pass", ""},
		{"a raised ordinal", line("/F 7 Tf (the 5) Tj 3 Ts /F 4 Tf (th) Tj 0 Ts /F 7 Tf ( of May) Tj"), rules.Order{}, "pass", ""},
		{"a raised figure of three", line("/F 7 Tf (the well) Tj 2 Ts /F 4 Tf (128) Tj"), rules.Order{}, "pass", ""},
		{"small capitals", line("/F 6.2 Tf (P) Tj /F 4.6 Tf (OTTER) Tj"), rules.Order{}, "pass", ""},
		{"too small for small capitals", line("/F 12 Tf (P) Tj /F 4.6 Tf (OTTER) Tj"), rules.Order{}, "fail", `"OTTER"`},
		{"small letters beside large ones", line("/F 6.2 Tf (P) Tj /F 4.6 Tf (otter) Tj"), rules.Order{}, "fail", `"otter"`},
		{"a small line beside a large one", line("/F 9 Tf (Potter) Tj 35 0 Td /F 4 Tf (open Tue-Sat) Tj"), rules.Order{}, "fail", `"open Tue-Sat"`},
		{"a picture", densePNG(t, 1125, 675), rules.Order{}, "skip", "type and lines are pixels"},
		{"no text", card(ground).file(), rules.Order{}, "pass", "No type is set"},
		{"the trim is not known", sheet{page: "/MediaBox [0 0 612 792]", content: "BT /F 4 Tf 40 80 Td (open Tue-Sat) Tj ET", resources: helvetica}.file(), rules.Order{}, "fail", ""},
	})
}

// Light on dark is told from what lies right beneath, by pixels where drawing
// instructions do not tell: a picture, a gradient, a shape.
func TestTextSizeByGround(t *testing.T) {
	shade := func(c0, c1 string) string {
		return "/Shading << /S << /ShadingType 2 /ColorSpace /DeviceCMYK /Coords [0 0 0 162] /Extend [true true] /Function << /FunctionType 2 /Domain [0 1] /N 1 /C0 [" + c0 + "] /C1 [" + c1 + "] >> >> >>"
	}
	const round = "60 20 m 220 20 220 140 60 140 c h f "
	try(t, checks.TextSize, []trial{
		{"on a dark gradient", sized("/S sh "+inWhite, 5.5, hours).with(shade("1 1 0 .5", "1 1 0 .8")).file(), rules.Order{}, "fail", "light on a dark ground"},
		{"black on a pale gradient", sized("/S sh "+inBlack, 5.5, hours).with(shade("0 0 0 0", "0.2 0 0 0")).file(), rules.Order{}, "pass", ""},
		{"on a dark shape", sized("0 0 0 1 k 0 0 m 0 162 l 270 162 l 270 0 l 100 -1 l f "+inWhite, 5.5, hours).file(), rules.Order{}, "fail", ""},
		{"on a panel in a dark ground", sized(inTheDark+"0 0 0.1 0 k 30 60 150 60 re f "+inBlack, 5.5, hours).file(), rules.Order{}, "pass", ""},
		{"on a dark panel in a pale ground", sized(ground+"0 0 0 1 k 30 60 150 60 re f "+inWhite, 5.5, hours).file(), rules.Order{}, "fail", ""},
		{"on a dark picture", sized("q 270 0 0 162 0 0 cm /X Do Q "+inWhite, 5.5, hours).darkPicture(), rules.Order{}, "fail", ""},
		{"black beside a dark shape", sized(inBlack+round+"BT ET "+inBlack, 5.5, hours).file(), rules.Order{}, "pass", ""},
	})
}

// darkPicture draws /X as a picture of a dark grey.
func (s sheet) darkPicture() []byte {
	s.objects = append(s.objects, pictureOf(40, 24, 8, 1, "/ColorSpace /DeviceGray"))
	return s.with("/XObject << /X 5 0 R >>").file()
}

// A Type 3 font is drawn to any scale. Where its em is that of its ink, its size
// counts; else its ink does.
func TestTextSizeOfDrawnFonts(t *testing.T) {
	// One block is 0.7 em high. A matrix of 1 makes the em a thousandth of it.
	whole := strings.Replace(blocks, "[.001 0 0 .001 0 0]", "[1 0 0 1 0 0]", 1)
	drawn := func(font, set string) []byte {
		return card(inBlack+"BT "+set+" 40 80 Td (AAA) Tj ET", font, stream("", "1000 0 0 0 700 700 d1 0 0 700 700 re f")).with("/Font << /F 5 0 R >>").file()
	}
	try(t, checks.TextSize, []trial{
		{"4 pt", drawn(blocks, "/F 4 Tf"), rules.Order{}, "fail", "4 pt"},
		{"5 pt", drawn(blocks, "/F 5 Tf"), rules.Order{}, "pass", ""},
		{"10 pt by a size of a hundredth", drawn(whole, "/F 0.01 Tf"), rules.Order{}, "pass", ""},
		{"0.9 pt by a size of a thousandth", drawn(whole, "/F 0.0009 Tf"), rules.Order{}, "fail", ""},
	})
}

// Text whose font does not tell its letters may be ornaments: it warns.
func TestTextSizeOfUnknownLetters(t *testing.T) {
	font := "/Font << /F << /Type /Font /Subtype /Type0 /BaseFont /Thorne /Encoding /Identity-H /DescendantFonts [<< /Type /Font /Subtype /CIDFontType2 /BaseFont /Thorne /DW 500 >>] >> >>"
	set := func(codes string) []byte {
		return card(inBlack + "BT /F 4 Tf 40 80 Td <" + codes + "> Tj ET").with(font).file()
	}
	try(t, checks.TextSize, []trial{
		{"a word", set("00410042004300440045"), rules.Order{}, "warn", "does not tell its letters"},
		{"a sign", set("0041"), rules.Order{}, "pass", ""},
	})
}

// However a line is scaled, turned and cut into runs, its verdict is that of its
// size.
func TestTextSizeProperty(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		size := rapid.Float64Range(3, 8).Draw(rt, "size")
		scale := rapid.Float64Range(0.1, 10).Draw(rt, "scale")
		lines := fmt.Sprintf("0 g BT /F %.6f Tf %.6f 0 0 %.6f 60 80 Tm (open Tue-Sat) Tj ET", size*scale, 1/scale, 1/scale)
		r := checktest.JudgeBy(t, kept(t, "card.pdf", card(lines).with(helvetica).file()), rules.Order{}, checks.TextSize)
		want := "pass"
		if size < 5*0.995 {
			want = "fail"
		}
		if got := verdicts(r, "text-size"); got != want && (size < 4.974 || size > 4.976) {
			rt.Fatalf("%v pt: %s, want %s", size, got, want)
		}
	})
}

// The same line by other programs.
func TestTextSizeByOthers(t *testing.T) {
	gs := func(size float64) string {
		return ghostscript(t, strings.Replace(postscript("0 0 270 162", "30 40", "150 60 translate 36 21.6 scale"), "12 scalefont", fmt.Sprintf("%v scalefont", size), 1))
	}
	drawn := func(mm float64) string {
		return cairo(t, svg(95.25, 57.15, fmt.Sprintf(`<text x="20" y="30" font-family="sans-serif" font-size="%v">The potter</text>`, mm)))
	}
	for _, tt := range []struct {
		name, path string
		want       []string
	}{
		{"ghostscript, 4.9 pt", gs(4.9), []string{"text-size fail"}},
		{"ghostscript, 5 pt", gs(5), nil},
		{"cairo, 4.9 pt", drawn(4.9 * 25.4 / 72), []string{"text-size fail"}},
		{"cairo, 5 pt", drawn(5 * 25.4 / 72), nil},
		{"ghostscript", "../testdata/foreign/herbalist.pdf", nil},
		{"pdfTeX", "../testdata/foreign/scrivener.pdf", nil},
		{"cairo", "../testdata/foreign/kitemaker.pdf", nil},
		{"our own", kept(t, "card.pdf", plainCard().PDF(press.SmallType(5))), nil},
		{"our own, too small", kept(t, "small.pdf", plainCard().PDF(press.SmallType(4.9))), []string{"text-size fail"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			checktest.Expect(t, checktest.JudgeBy(t, tt.path, rules.Order{}, checks.TextSize), tt.want...)
		})
	}
}
