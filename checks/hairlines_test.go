package checks_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"stoneproof/checks"
	"stoneproof/checks/checktest"
	"stoneproof/checks/checktest/press"
	"stoneproof/rules"
)

// aLine is a level line in the middle of the card, 100 pt long.
func aLine(width string) string { return width + " w 80 81 m 180 81 l S " }

// bar is a filled shape in the place of a line.
func bar(width float64) string { return fmt.Sprintf("80 81 100 %v re f ", width) }

const darkGround = "1 0.8 0.2 0.4 k 0 0 270 162 re f 0 0 0 1 k "

// The least widths are 0.25 pt, and 0.5 pt light on dark.
func TestHairlines(t *testing.T) {
	offset := func(s string) sheet { return card("1 0 0 1 50 30 cm " + s) }
	formed := func(content string) sheet {
		return card("q 0.4 0 0 0.4 80 60 cm /X Do Q", stream("/Type /XObject /Subtype /Form /BBox [0 0 250 250]", content)).with("/XObject << /X 5 0 R >>")
	}
	hatch := func(content string) sheet {
		return card("/Pattern cs /P scn 30 30 200 100 re f", stream("/PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 20 20] /XStep 20 /YStep 20 /Resources << >>", content)).with("/Pattern << /P 5 0 R >>")
	}
	lined := func(mode string) sheet {
		return card("BT " + mode + " Tr 0.1 w /F 20 Tf 60 60 Td (Potter) Tj ET").with(helvetica)
	}
	var trials []trial
	add := func(want, says string, named map[string]sheet) {
		for name, s := range named {
			trials = append(trials, trial{name, s.file(), rules.Order{}, want, says})
		}
	}
	add("fail", "A line (1.68 in across, 1 in down) is 0.1 pt wide; 0.25 pt is the least that holds.", map[string]sheet{
		"0.1 pt": card(aLine("0.1")),
	})
	add("fail", "0.25 pt is the least that holds", map[string]sheet{
		"just under":                card(aLine("0.24")),
		"upright":                   card("0.1 w 80 40 m 80 120 l S"),
		"aslant":                    card("0.1 w 80 40 m 180 120 l S"),
		"a curve":                   card("0.1 w 80 40 m 80 80 120 80 120 40 c S"),
		"a frame":                   card("0.1 w 80 40 60 60 re S"),
		"scaled down":               card("0.2 0 0 0.2 0 0 cm 1 w 400 400 m 900 400 l S"),
		"scaled down and turned":    card("0 0.2 -0.2 0 200 0 cm 1 w 200 200 m 600 400 l S"),
		"squeezed":                  card("1 0 0 0.1 0 0 cm 1 w 80 810 m 180 810 l S"),
		"in a form":                 formed(aLine("0.5")),
		"in a pattern":              hatch("0.1 w 0 10 m 20 10 l S"),
		"a shape":                   card(bar(0.1)),
		"a shape drawn by lines":    card("80 81 m 180 81 l 180 81.1 l 80 81.1 l f"),
		"a shape aslant":            card("80 40 m 180 120 l 179.92 120.1 l 79.92 40.1 l h f"),
		"shapes that make a table":  card("80 40 100 0.1 re 80 60 100 0.1 re 80 80 100 0.1 re f"),
		"in spot ink":               card("/S CS 1 SCN " + aLine("0.1")).with("/ColorSpace << /S [/Separation /Gold /DeviceCMYK " + tint + "] >>"),
		"in RGB":                    card("1 0 0 RG " + aLine("0.1")),
		"dashed":                    card("[3 1] 0 d " + aLine("0.1")),
		"dark on a tint":            card("0.2 0 0 0 k 0 0 270 162 re f " + aLine("0.1")),
		"around a pale shape":       card("0.1 0 0 0 k 0.1 w 80 40 60 60 re B"),
		"in the bleed":              card("0.1 w 4 40 m 4 120 l S"),
		"two that touch":            card("80 81 100 0.1 re f 80 81.1 100 0.1 re f"),
		"drawn three times over":    card(bar(0.1) + bar(0.1) + bar(0.1)),
		"a cross":                   card("80 81 100 0.1 re f 130 31 0.1 100 re f"),
		"rules far from each other": card("80 81 100 0.1 re f 80 82 100 0.1 re f 80 83 100 0.1 re f"),
	})
	add("fail", "has no width: it prints as thin as the device can", map[string]sheet{
		"0 w":                  card(aLine("0")),
		"0 w, scaled":          offset("7 0 0 7 0 0 cm 0 w 5 5 m 20 5 l S"),
		"a shape of no height": card("80 81 100 0 re f"),
	})
	add("fail", `The outline of the words "Potter"`, map[string]sheet{"outlined": lined("1"), "filled and outlined in another colour": lined("1 0 0 0 k 2")})
	add("fail", "ink creeps into it; 0.5 pt is the least that holds", map[string]sheet{
		"white on dark":            card(darkGround + "0 0 0 0 K " + aLine("0.4")),
		"white on dark, very thin": card(darkGround + "0 0 0 0 K " + aLine("0.1")),
		"a tint on dark":           card(darkGround + "0.2 0 0 0 K " + aLine("0.4")),
		"a white shape on dark":    card(darkGround + "0 0 0 0 k " + bar(0.4)),
		"on a dark picture": card("q 270 0 0 162 0 0 cm /X Do Q 0 0 0 0 K "+aLine("0.4"), pictureOf(300, 180, 8, 1, "/ColorSpace /DeviceGray /Decode [0.2 0]")).
			with("/XObject << /X 5 0 R >>"),
		"on a dark round": card(darkRound + "0 0 0 0 K " + aLine("0.4")),
	})
	add("pass", "", map[string]sheet{
		"0.3 pt":                      card(aLine("0.3")),
		"0.25 pt":                     card(aLine("0.25")),
		"within rounding of 0.25":     card(aLine("0.2490")),
		"0.5 pt white on dark":        card(darkGround + "0 0 0 0 K " + aLine("0.5")),
		"0.4 pt dark on pale":         card("0.1 0 0 0 k 0 0 270 162 re f " + aLine("0.4")),
		"scaled up":                   card("5 0 0 5 0 0 cm 0.1 w 20 16 m 40 16 l S"),
		"squeezed the other way":      card("0.1 0 0 1 0 0 cm 1 w 800 81 m 1800 81 l S"),
		"squeezed rules":              card("0.1 0 0 1 0 0 cm 1 w 800 81 m 1800 81 l 800 91 m 1700 91 l S"),
		"white on paper":              card("0 0 0 0 K " + aLine("0.1")),
		"white on white in a picture": card("q 270 0 0 162 0 0 cm /X Do Q 0 0 0 0 K "+aLine("0.1"), pictureOf(300, 180, 8, 1, "/ColorSpace /DeviceGray /Decode [1 1]")).with("/XObject << /X 5 0 R >>"),
		"in the colour of its ground": card("1 0 0 0 k 0 0 270 162 re f 1 0 0 0 K " + aLine("0.1")),
		"around a shape of its own":   card("1 0 0 0 k 1 0 0 0 K 0.1 w 80 40 60 60 re B"),
		"clear":                       card("/G gs " + aLine("0.1")).with("/ExtGState << /G << /CA 0 >> >>"),
		"clipped away":                card("0 0 20 20 re W n " + aLine("0.1")),
		"a path that only clips":      card("80 81 100 0.1 re W n"),
		"painted over":                card(aLine("0.1") + "1 0 0 0 k 0 0 270 162 re f"),
		"cutting marks in the slug":   slugged("0 w 40 0 m 40 30 l 0 40 m 30 40 l S 0.1 w 310 40 m 340 40 l S"),
		"a gradient of strips":        card(strips(0.2, 0.2)),
		"with gaps of rounding":       card(strips(0.2, 0.23)),
		"strips that overlap":         card(strips(0.2, 0.15)),
		"a gradient aslant":           card("0.8 0.6 -0.6 0.8 80 20 cm " + strips(0.2, 0.2)),
		"a sliver beside its like":    card("1 0 0 0 k 80 40 60 60 re f 0.95 0 0 0 k 80 100 60 0.1 re f"),
		"a sliver between its likes":  card("1 0 0 0 k 80 40 60 60 re f 80 100 60 0.1 re f 80 100.1 60 20 re f"),
		"a thin letter of outlines":   card("80 81 0.2 7 re f 84 81 0.2 7 re f 80 84 4 0.2 re f"),
		"dots":                        card("80 81 0.2 0.2 re 81 81 0.2 0.2 re f"),
		"a ray that ends in a point":  card("80 81 m 180 81 l 180 81.4 l 80 81 l h f"),
		"bold by an outline":          card("BT 2 Tr 0.1 w /F 20 Tf 60 60 Td (Potter) Tj ET").with(helvetica),
		"letters that are filled":     card("BT 0.1 w /F 20 Tf 60 60 Td (Potter) Tj ET").with(helvetica),
		"a letter that is a thin bar": card("BT /F 20 Tf 60 60 Td (AA) Tj ET", blocks, stream("", "1000 0 0 0 700 700 d1 0 0 700 4 re f")).with("/Font << /F 5 0 R >>"),
		"UserUnit makes it wide":      {page: "/UserUnit 4 /MediaBox [0 0 67.5 40.5] /TrimBox [2.25 2.25 65.25 38.25]", content: "0.1 w 20 20 m 50 20 l S"},
		"nothing":                     card(""),
	})
	trials = append(trials,
		trial{"0.3 pt on uncoated paper", card(aLine("0.3")).file(), rules.Order{Process: "offset-uncoated"}, "fail", "0.35 pt is the least that holds"},
		trial{"UserUnit makes it thin", sheet{page: "/UserUnit 0.5 /MediaBox [0 0 540 324] /TrimBox [18 18 522 306]", content: "0.4 w 200 200 m 400 200 l S"}.file(), rules.Order{}, "fail", "0.2 pt wide"},
		trial{"a letter that is stroked", card("BT 0.1 w /F 20 Tf 60 60 Td (AA) Tj ET", blocks, stream("", "1000 0 0 0 700 700 d1 2 w 0 0 700 700 re S")).with("/Font << /F 5 0 R >>").file(), rules.Order{}, "fail", `The outline of the words "AA"`},
		trial{"on a layer that is off", card("/OC /L BDC "+aLine("0.1")+" EMC", "<< /Type /OCG /Name (Guide) >>").with("/Properties << /L 5 0 R >>").off(5), rules.Order{}, "pass", ""},
		trial{"a picture", pngFile(t, greyPicture(1125, 675)), rules.Order{}, "skip", "pixels"},
	)
	try(t, checks.Hairlines, trials)
}

// darkRound is a dark shape that is no rectangle, as large as the card.
const darkRound = "1 0.8 0.2 0.4 k -100 80 m -100 260 370 260 370 80 c 370 -100 -100 -100 -100 80 c f 0 0 0 1 k "

// slugged is a card on a larger page, with marks beside it; the corner of its bleed
// lies at (40, 40).
func slugged(content string) sheet {
	return sheet{page: "/MediaBox [0 0 350 242] /BleedBox [40 40 310 202] /TrimBox [49 49 301 193]", content: content}
}

// strips is a gradient as some programs write it: many shapes, each a little darker.
func strips(high, step float64) string {
	var b strings.Builder
	for i := range 60 {
		fmt.Fprintf(&b, "0 0 0 %.3f k 80 %.3f 100 %.3f re f ", 0.2+float64(i)/100, 60+float64(i)*step, high)
	}
	return b.String()
}

// The worst line is told; the others are counted and listed.
func TestHairlinesTellTheWorst(t *testing.T) {
	r := checktest.JudgeBy(t, kept(t, "card.pdf", card(aLine("0.2")+"0.1 w 80 40 m 180 40 l S 80 60 m 180 60 l S "+aLine("0.3")).file()), rules.Order{}, checks.Hairlines)
	f := r.Findings[0]
	if *f.Measured.Value != 0.1 || *f.Wanted.Min != 0.25 || len(f.Also) != 2 || !strings.Contains(f.Message, "the worst of 3") || f.Fix != "Make it at least 0.25 pt wide." {
		t.Errorf("%+v", f)
	}
	if y := f.Where.Y + f.Where.H/2; math.Abs(y.Points()-(153-40)) > 0.01 {
		t.Errorf("it lies at %v pt", y.Points())
	}
}

// Every card of the generator, at its thinnest rule.
func TestHairlinesOfACard(t *testing.T) {
	c := press.Card{Maker: "weaver", Style: press.White, Size: "us-business"}
	var trials []trial
	for pt, want := range map[float64]string{0.1: "fail", 0.24: "fail", 0.25: "pass", 0.3: "pass", 1: "pass"} {
		for name, opts := range map[string][]press.Option{"": nil, ", turned": {press.Rotated(90)}, ", in units of 2 pt": {press.UserUnit(2)}} {
			trials = append(trials, trial{fmt.Sprintf("%v pt%s", pt, name), c.PDF(append(opts, press.RulePoints(pt))...), rules.Order{}, want, ""})
		}
	}
	try(t, checks.Hairlines, trials)
}

// Lines as Ghostscript and cairo write them.
func TestForeignHairlines(t *testing.T) {
	for line, want := range map[string]string{"0.1 setlinewidth": "fail", "0 setlinewidth": "fail", "0.3 setlinewidth": "pass", "0.2 dup scale 1 setlinewidth": "fail"} {
		path := ghostscript(t, "%!PS\n<< /PageSize [270 162] >> setpagedevice [ /TrimBox [9 9 261 153] /PAGE pdfmark 0 0 0 1 setcmykcolor 60 80 translate 0 0 moveto "+
			line+" 100 0 rlineto stroke showpage\n")
		if got := verdicts(checktest.JudgeBy(t, path, rules.Order{}, checks.Hairlines), "hairlines"); got != want {
			t.Errorf("ghostscript, %s: %s", line, got)
		}
	}
	for body, want := range map[string]string{
		`<path d="M20 20H60" stroke="#000" stroke-width="0.03"/>`:                                                                                "fail",
		`<path d="M20 20H60" stroke="#000" stroke-width="0.2"/>`:                                                                                 "pass",
		`<rect x="20" y="20" width="40" height="0.03"/>`:                                                                                         "fail",
		`<rect width="95.25" height="57.15" fill="#123"/><path d="M20 20H60" stroke="#fff" stroke-width="0.12"/>`:                                "fail",
		`<rect width="95.25" height="57.15" fill="#123"/><path d="M20 20H60" stroke="#fff" stroke-width="0.2"/>`:                                 "pass",
		`<g transform="rotate(20)scale(.1)"><path d="M300 200H700" stroke="#000" stroke-width="0.5"/></g>`:                                       "fail",
		`<linearGradient id="g"><stop stop-color="#fff"/><stop offset="1"/></linearGradient><rect width="95.25" height="57.15" fill="url(#g)"/>`: "pass",
	} {
		if got := verdicts(checktest.JudgeBy(t, cairo(t, svg(95.25, 57.15, body)), rules.Order{}, checks.Hairlines), "hairlines"); got != want {
			t.Errorf("cairo, %s: %s, want %s", body, got, want)
		}
	}
}
