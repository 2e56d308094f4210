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

const rich = "0.6 0.4 0.4 1 k 0.6 0.4 0.4 1 K "

// set is a word at a size, in the colour that is set.
func set(size float64) string {
	return fmt.Sprintf("BT /F %v Tf 40 70 Td (Potter) Tj ET ", size)
}

// The least sizes are 12 pt for type and 1 pt for lines; under 6 and 0.5 pt fails.
func TestRichBlack(t *testing.T) {
	words := func(content string) sheet { return card(content).with(helvetica) }
	var trials []trial
	add := func(want, says string, named map[string]sheet) {
		for name, s := range named {
			trials = append(trials, trial{name, s.file(), rules.Order{}, want, says})
		}
	}
	add("warn", "The words \"Potter\" (0.58 in across, 1.11 in down) are set in 8 pt of black mixed of four inks (C60 M40 Y40 K100): inks never meet exactly, and what is so fine gets coloured edges. 12 pt is the least for it.", map[string]sheet{
		"8 pt": words(rich + set(8)),
	})
	add("warn", "Set it in black ink alone: C0 M0 Y0 K100.", map[string]sheet{
		"11.9 pt":            words(rich + set(11.9)),
		"black of a convert": words("0.75 0.68 0.67 0.9 k " + set(8)),
		"without black ink":  words("1 1 1 0 k " + set(8)),
		"scaled down":        words(rich + "0.4 0 0 0.4 0 0 cm " + set(20)),
		"outlined":           words(rich + "BT 1 Tr 2 w /F 8 Tf 40 70 Td (Potter) Tj ET"),
		"on a tint":          words("0.1 0 0 0 k 0 0 270 162 re f " + rich + set(8)),
		"on a picture": card("q 270 0 0 162 0 0 cm /X Do Q "+rich+set(8), tone(300)).
			with(helvetica + " /XObject << /X 5 0 R >>"),
		"in a form":                       card("/X Do", stream("/Type /XObject /Subtype /Form /BBox [0 0 270 162] /Resources << "+helvetica+" >>", rich+set(8))).with("/XObject << /X 5 0 R >>"),
		"by ink names":                    card("/S cs 0.5 1 scn "+set(8), tintOf(2)).with(helvetica + " /ColorSpace << /S [/DeviceN [/Cyan /Black] /DeviceCMYK 5 0 R] >>"),
		"with gold":                       card("/S cs 0.5 1 scn "+set(8), tintOf(2)).with(helvetica + " /ColorSpace << /S [/DeviceN [/Gold /Black] /DeviceCMYK 5 0 R] >>"),
		"profiled":                        card("/S cs 0.6 0.4 0.4 1 scn "+set(8), stream("/N 4", "")).with(helvetica + " /ColorSpace << /S [/ICCBased 5 0 R] >>"),
		"drawn letters":                   card(rich+"BT /F 8 Tf 40 70 Td (AA) Tj ET", blocks, stream("", "1000 0 0 0 700 700 d1 0 0 700 700 re f")).with("/Font << /F 5 0 R >>"),
		"letters in colours of their own": card("0 0 0 1 k BT /F 8 Tf 40 70 Td (AA) Tj ET", blocks, stream("", "1000 0 d0 "+rich+"0 0 700 700 re f")).with("/Font << /F 5 0 R >>"),
		"a line":                          words(rich + "0.8 w 40 81 m 140 81 l S"),
		"a line of half a point":          words(rich + "0.5 w 40 81 m 140 81 l S"),
		"a shape like a line":             words(rich + "40 81 100 0.6 re f"),
	})
	add("warn", "8 pt of grey mixed of four inks (C10 M8 Y8 K60)", map[string]sheet{"grey": words("0.1 0.08 0.08 0.6 k " + set(8))})
	add("warn", "Set it in black ink alone: C0 M0 Y0 K63.", map[string]sheet{"grey": words("0.1 0.08 0.08 0.6 k " + set(8))})
	add("fail", "", map[string]sheet{
		"5 pt":                   words(rich + set(5)),
		"the smallest counts":    words(rich + set(8) + "BT /F 5 Tf 40 40 Td (Spoon) Tj ET"),
		"a line under half a pt": words(rich + "0.3 w 40 81 m 140 81 l S"),
		"a line of no width":     words(rich + "0 w 40 81 m 140 81 l S"),
	})
	add("warn; warn", "", map[string]sheet{"words and a line": words(rich + set(8) + "0.8 w 40 60 m 140 60 l S")})
	add("pass", "", map[string]sheet{
		"12 pt":                       words(rich + set(12)),
		"a headline":                  words(rich + set(30)),
		"scaled up":                   words(rich + "4 0 0 4 0 0 cm BT /F 5 Tf 10 18 Td (Potter) Tj ET"),
		"an area":                     words(rich + "0 0 270 162 re f 0 0 0 0 k " + set(8)),
		"black alone":                 words("0 0 0 1 k " + set(8)),
		"black in grey":               words("0 g " + set(8)),
		"black with a trace":          words("0.03 0 0.02 1 k " + set(8)),
		"black over a tint":           words("0.6 0.4 0.4 0 k 0 0 270 162 re f 0 0 0 1 k " + set(8)),
		"black overprints a tint":     words("0.6 0.4 0.4 0 k 0 0 270 162 re f /G gs 0 0 0 1 k " + set(8)).with("/ExtGState << /G << /op true /OPM 1 >> >>"),
		"dark green":                  words("0.9 0.3 0.95 0.3 k " + set(8)),
		"navy":                        words("1 0.8 0 0.5 k " + set(8)),
		"brown":                       words("0.5 0.7 0.8 0.7 k " + set(8)),
		"pale grey of inks":           words("0.2 0.15 0.15 0.1 k " + set(8)),
		"white":                       words(darkGround + "0 0 0 0 k " + set(8)),
		"registration":                words("/S cs 1 scn " + set(8)).with("/ColorSpace << /S [/Separation /All /DeviceCMYK " + tint + "] >>"),
		"a thick line":                words(rich + "1 w 40 81 m 140 81 l S"),
		"not seen":                    words(rich + "BT 3 Tr /F 8 Tf 40 70 Td (Potter) Tj ET"),
		"clear":                       words("/G gs " + rich + set(8)).with("/ExtGState << /G << /ca 0 /CA 0 >> >>"),
		"painted over":                words(rich + set(8) + "1 0 0 0 k 0 0 270 162 re f"),
		"beside the card":             slugged(rich + "BT /F 8 Tf 60 20 Td (job 7) Tj ET").with(helvetica),
		"black of light":              words("0 g 0 0 0 rg " + set(20)),
		"outlined bold in black only": words("0 0 0 1 k 0 0 0 1 K BT 2 Tr 0.1 w /F 8 Tf 40 70 Td (Potter) Tj ET"),
	})
	add("pass", "decided when it is converted. See colour-space.", map[string]sheet{
		"RGB": words("0 0 0 rg " + set(8)),
		"Lab": words("/S cs 10 0 0 scn " + set(8)).with("/ColorSpace << /S [/Lab << /WhitePoint [0.95 1 1.09] >>] >>"),
	})
	try(t, checks.RichBlack, append(trials,
		trial{"a picture", pngFile(t, greyPicture(1125, 675)), rules.Order{}, "skip", "pixels"}))
}

// Runs that make one line of words are told as one; further lines are counted.
func TestRichBlackTellsWords(t *testing.T) {
	content := rich + "BT /F 8 Tf 40 70 Td [(Hob) -250 (Lane)] TJ ( Pottery) Tj 0 -20 Td (4 Hob Lane) Tj ET"
	f := checktest.JudgeBy(t, kept(t, "card.pdf", card(content).with(helvetica).file()), rules.Order{}, checks.RichBlack).Findings[0]
	if len(f.Also) != 1 || !strings.Contains(f.Message, "the smallest of 2") || !strings.Contains(f.Message, "Hob") || *f.Measured.Value != 8 {
		t.Errorf("%+v", f)
	}
}

func TestRichBlackOfACard(t *testing.T) {
	for _, style := range []press.Style{press.White, press.Light, press.Framed, press.Broadside} {
		c := press.Card{Maker: "joiner", Style: style, Size: "eu-business"}
		try(t, checks.RichBlack, []trial{
			{string(style), c.PDF(press.NamedIntent()), rules.Order{Size: c.Size}, "pass", "black ink alone"},
			{string(style) + ", rich", c.PDF(press.NamedIntent(), press.RichBlack()), rules.Order{Size: c.Size}, "warn", "C60 M40 Y40 K100"},
			{string(style) + " in RGB", c.PDF(press.In(press.RGB)), rules.Order{Size: c.Size, Process: "desktop"}, "pass", "converted"},
		})
	}
}

// The same as Ghostscript writes it.
func TestForeignRichBlack(t *testing.T) {
	for colour, want := range map[string]string{"0.6 0.4 0.4 1": "warn", "0 0 0 1": "pass", "0.9 0.3 0.95 0.3": "pass"} {
		path := ghostscript(t, "%!PS\n<< /PageSize [270 162] >> setpagedevice [ /TrimBox [9 9 261 153] /PAGE pdfmark "+colour+
			" setcmykcolor /Helvetica findfont 8 scalefont setfont 60 80 moveto (Wendlebury Cross) show showpage\n")
		r := checktest.JudgeBy(t, path, rules.Order{}, checks.RichBlack)
		if got := verdicts(r, "rich-black"); got != want || want == "warn" && !strings.Contains(words(r), "Wendlebury Cross") {
			t.Errorf("%s: %s\n%s", colour, got, words(r))
		}
	}
}
