package checks_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stoneproof/checks"
	"stoneproof/checks/checktest"
	"stoneproof/checks/checktest/press"
	"stoneproof/rules"
)

// States of overprint, as /O to be set by gs.
const (
	mode1 = " /ExtGState << /O << /OP true /op true /OPM 1 >> >>"
	mode0 = " /ExtGState << /O << /OP true /op true /OPM 0 >> >>"
)

// spotted puts a ground of gold beneath what follows.
const spotted = "/S cs 1 scn 0 0 270 162 re f "

const goldSpace = " /ColorSpace << /S [/Separation /Gold /DeviceCMYK " + tint + "] >>"

// By ISO 32000-1, 8.6.7, Tables 148 and 149.
func TestOverprint(t *testing.T) {
	const blue, white = "1 0.8 0 0 k 0 0 270 162 re f /O gs ", "0 0 0 0 k 0 0 0 0 K "
	words := func(content, state string) sheet { return card(content).with(helvetica + state) }
	var trials []trial
	add := func(want, says string, named map[string]sheet) {
		for name, s := range named {
			trials = append(trials, trial{name, s.file(), rules.Order{}, want, says})
		}
	}
	add("fail", `The words "Potter" (0.58 in across, 1.11 in down), in white, are set to overprint`, map[string]sheet{
		"white words": words(blue+white+set(8), mode1),
	})
	add("fail", "Switch overprint off for it.", map[string]sheet{
		"white words, outlined":        words(blue+white+"BT 1 Tr /F 20 Tf 40 70 Td (Potter) Tj ET", mode1),
		"a white line":                 words(blue+white+aLine("3"), mode1),
		"a white label":                words(blue+white+"40 40 90 60 re f", mode1),
		"a white stencil":              card(blue+white+"q 90 0 0 90 40 40 cm /X Do Q", pictureOf(600, 600, 1, 1, "/ImageMask true")).with("/XObject << /X 5 0 R >>" + mode1),
		"white by ink names":           card(blue+"/S cs 0 0 scn "+set(8), tintOf(2)).with(helvetica + mode1 + " /ColorSpace << /S [/DeviceN [/Gold /Slip] /DeviceCMYK 5 0 R] >>"),
		"no gold":                      words(blue+"/S cs 0 scn "+set(8), mode0+goldSpace),
		"white on gold":                words(spotted+"/O gs "+white+set(8), mode1+goldSpace),
		"white on gold in mode 0":      words(spotted+"/O gs "+white+set(8), mode0+goldSpace),
		"grey white on gold":           words(spotted+"/O gs 1 g "+set(8), mode1+goldSpace),
		"cyan on what has it":          words("1 0.5 0 0 k 0 0 270 162 re f /O gs 1 0 0 0 k "+set(8), mode1),
		"on a label on paper":          words("1 0 0 0 k 30 60 90 40 re f /O gs "+white+set(8), mode1),
		"in a form":                    card("1 0.8 0 0 k 0 0 270 162 re f /X Do", stream("/Type /XObject /Subtype /Form /BBox [0 0 270 162] /Resources << "+helvetica+mode1+" >>", "/O gs "+white+set(8))).with("/XObject << /X 5 0 R >>"),
		"drawn letters":                card(blue+white+"BT /F 8 Tf 40 70 Td (AA) Tj ET", blocks, stream("", "1000 0 0 0 700 700 d1 0 0 700 700 re f")).with("/Font << /F 5 0 R >>" + mode1),
		"on a dark picture":            card("q 270 0 0 162 0 0 cm /X Do Q /O gs "+white+set(8), pictureOf(300, 180, 8, 1, "/ColorSpace /DeviceGray /Decode [0.2 0]")).with(helvetica + " /XObject << /X 5 0 R >>" + mode1),
		"on a dark round":              words(darkRound+"/O gs "+white+set(8), mode1),
		"half clear":                   words(blue+white+set(8), " /ExtGState << /O << /op true /OPM 1 /ca 0.5 >> >>"),
		"OP alone counts for fills":    words(blue+white+set(8), " /ExtGState << /O << /OP true /OPM 1 >> >>"),
		"half of the words on another": words("1 0 0 0 k 0 0 270 162 re f 0 1 0 0 k 0 0 50 162 re f /O gs "+white+set(8), mode1),
	})
	add("warn", "prints about as dark as the ground", map[string]sheet{
		"yellow on blue":    words(blue+"0 0 1 0 k "+set(8), mode1),
		"pale grey on blue": words(blue+"0 0 0 0.1 k "+set(8), mode1),
	})
	add("pass", "Nothing is lost by overprinting.", map[string]sheet{
		"white that knocks out":    words("1 0.8 0 0 k 0 0 270 162 re f "+white+set(8), ""),
		"white in mode 0":          words(blue+white+set(8), mode0),
		"grey white":               words(blue+"1 g "+set(8), mode1),
		"RGB white":                words(blue+"1 1 1 rg "+set(8), mode1),
		"profiled white":           card(blue+"/S cs 0 0 0 0 scn "+set(8), stream("/N 4", "")).with(helvetica + mode1 + " /ColorSpace << /S [/ICCBased 5 0 R] >>"),
		"white through a default":  card(blue+white+set(8), stream("/N 4", "")).with(helvetica + mode1 + " /ColorSpace << /DefaultCMYK [/ICCBased 5 0 R] >>"),
		"no gold on gold":          words(spotted+"/O gs /S cs 0 scn "+set(8), mode1+goldSpace),
		"no cyan on blue, by name": words("1 0 0 0 k 0 0 270 162 re f /O gs /S cs 0 scn "+set(8), mode1+" /ColorSpace << /S [/Separation /Cyan /DeviceCMYK "+tint+"] >>"),
		"white on paper":           words("/O gs "+white+set(8), mode1),
		"white on a white label":   words("1 0.8 0 0 k 0 0 270 162 re f 0 0 0 0 k 30 60 90 40 re f /O gs "+white+set(8), mode1),
		"a white ground":           words("/O gs "+white+"0 0 270 162 re f 0 0 0 1 k "+set(8), mode1),
		"black on blue":            words(blue+"0 0 0 1 k "+set(8), mode1),
		"rich black on blue":       words(blue+"0.6 0.4 0.4 1 k "+set(8), mode1),
		"gold on blue":             words(blue+"/S cs 1 scn "+set(8), mode1+goldSpace),
		"varnish on blue":          words(blue+"/S cs 1 scn 40 40 90 60 re f", mode1+goldSpace),
		"only strokes overprint":   words("1 0.8 0 0 k 0 0 270 162 re f /O gs "+white+set(8), " /ExtGState << /O << /OP true /op false /OPM 1 >> >>"),
		"white on a pale picture":  card("q 270 0 0 162 0 0 cm /X Do Q /O gs "+white+set(8), pictureOf(300, 180, 8, 1, "/ColorSpace /DeviceGray /Decode [1 1]")).with(helvetica + " /XObject << /X 5 0 R >>" + mode1),
		"not seen":                 words(blue+white+"BT 3 Tr /F 8 Tf 40 70 Td (Potter) Tj ET", mode1),
		"painted over":             words(blue+white+set(8)+" /N gs 1 0 0 0 k 0 0 270 162 re f", " /ExtGState << /O << /op true /OPM 1 >> /N << /op false >> >>"),
		"switched off again":       words("q "+blue+"Q "+white+set(8), mode1),
		"a picture":                card(blue+"q 90 0 0 54 60 40 cm /X Do Q", tone(400)).with("/XObject << /X 5 0 R >>" + mode1),
		"registration on blue":     words(blue+"/S cs 1 scn "+set(8), mode1+" /ColorSpace << /S [/Separation /All /DeviceCMYK "+tint+"] >>"),
		"outside the card":         slugged("1 0.8 0 0 k 0 0 350 35 re f /O gs " + white + "BT /F 8 Tf 60 20 Td (job) Tj ET").with(helvetica + mode1),
		"nothing":                  card(""),
	})
	add("pass", `The words "Potter" (0.58 in across, 1.11 in down) are set to overprint, and the colour changes with the ground.`, map[string]sheet{
		"magenta on yellow": words("0 0 1 0 k 0 0 270 162 re f /O gs 0 1 0 0 k "+set(8), mode1),
	})
	add("pass", `The words "Potter" (0.58 in across, 1.11 in down) are black, and the ground is left out beneath`, map[string]sheet{
		"black that knocks out":       words("1 0 0.5 0 k 0 0 270 162 re f 0 0 0 1 k "+set(8), ""),
		"grey black, overprint or no": words("1 0 0.5 0 k 0 0 270 162 re f /O gs 0 g "+set(8), mode1),
	})
	try(t, checks.Overprint, append(trials,
		trial{"a picture file", pngFile(t, greyPicture(1125, 675)), rules.Order{}, "pass", "A picture has no overprint"}))
}

// Near-misses of the notes: black that knocks out of next to nothing is not told.
func TestOverprintTellsNoMore(t *testing.T) {
	for name, content := range map[string]string{
		"paper":      set(8),
		"a pale one": "0.1 0.05 0 0 k 0 0 270 162 re f 0 0 0 1 k " + set(8),
		"grey":       "0 0 0 0.4 k 0 0 270 162 re f 0 0 0 1 k " + set(8),
	} {
		r := checktest.JudgeBy(t, kept(t, "card.pdf", card(content).with(helvetica).file()), rules.Order{}, checks.Overprint)
		if got := r.Findings[0].Message; got != "Nothing is lost by overprinting." {
			t.Errorf("%s: %s", name, got)
		}
	}
}

func TestOverprintOfACard(t *testing.T) {
	for _, style := range []press.Style{press.Dark, press.Photographic, press.Rays, press.Gradient, press.Broadside} {
		c := press.Card{Maker: "potter", Style: style, Size: "us-business"}
		try(t, checks.Overprint, []trial{
			{string(style), c.PDF(press.NamedIntent()), rules.Order{}, "pass", ""},
			{string(style) + " overprints", c.PDF(press.NamedIntent(), press.WhiteOverprints()), rules.Order{}, "fail", "in white"},
			{string(style) + " in RGB overprints", c.PDF(press.In(press.RGB), press.WhiteOverprints()), rules.Order{}, "pass", ""},
		})
	}
}

// White that overprints as Ghostscript writes it.
func TestForeignOverprint(t *testing.T) {
	for state, want := range map[string]string{"true setoverprint 1 .setoverprintmode": "fail", "true setoverprint": "pass", "false setoverprint 1 .setoverprintmode": "pass"} {
		dir := t.TempDir()
		program := "%!PS\n<< /PageSize [270 162] >> setpagedevice [ /TrimBox [9 9 261 153] /PAGE pdfmark 1 0.8 0 0.2 setcmykcolor 0 0 270 162 rectfill " +
			state + " 0 0 0 0 setcmykcolor /Helvetica findfont 12 scalefont setfont 60 80 moveto (Wendlebury Cross) show showpage\n"
		if err := os.WriteFile(filepath.Join(dir, "card.ps"), []byte(program), 0o644); err != nil {
			t.Fatal(err)
		}
		ran(t, dir, "gs", "-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-sDEVICE=pdfwrite", "-dPreserveOverprintSettings=true", "-o", "card.pdf", "card.ps")
		r := checktest.JudgeBy(t, filepath.Join(dir, "card.pdf"), rules.Order{}, checks.Overprint)
		if got := verdicts(r, "overprint"); got != want || want == "fail" && !strings.Contains(words(r), "Wendlebury Cross") {
			t.Errorf("%s: %s\n%s", state, got, words(r))
		}
	}
}
