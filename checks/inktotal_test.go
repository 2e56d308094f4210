package checks_test

import (
	"image"
	"testing"

	"stoneproof/checks"
	"stoneproof/checks/checktest/press"
	"stoneproof/rules"
)

func by(process string) rules.Order { return rules.Order{Process: process} }

// patch is a card with a ground and a patch on it, w × h points, in inks.
func patch(inks, w, h string) sheet {
	return card("0.1 0 0 0 k 0 0 270 162 re f " + inks + " k 100 60 " + w + " " + h + " re f")
}

func TestInkTotalOfPages(t *testing.T) {
	try(t, checks.InkTotal, []trial{
		// The newspaper body's check page has C52 M44 Y44 K100 for 240 %.
		{"240 %", patch("0.52 0.44 0.44 1", "60", "40").file(), rules.Order{}, "pass", "No colour here costs more than 240 %"},
		{"320 % is the limit", patch("0.8 0.7 0.7 1", "60", "40").file(), rules.Order{}, "pass", "320 %"},
		{"321 % is rounding", patch("0.81 0.7 0.7 1", "60", "40").file(), rules.Order{}, "pass", ""},
		{"324 %", patch("0.84 0.7 0.7 1", "60", "40").file(), rules.Order{}, "fail", "Inks sum up to 324 %"},
		{"how much to lower which", patch("0.9 0.8 0.7 1", "60", "40").file(), rules.Order{}, "fail", "lower cyan to 82, magenta to 73, yellow to 64"},
		{"280 % on an own printer", patch("0.7 0.6 0.6 0.95", "60", "40").file(), by("desktop"), "warn", "285 %"},
		{"280 % on uncoated paper", patch("0.6 0.6 0.6 1", "60", "40").file(), by("offset-uncoated"), "fail", "260 % is the most"},
		{"a thin line is no area", patch("1 1 1 1", "60", "0.3").file(), rules.Order{}, "pass", ""},
		{"a strip of a millimetre is", patch("1 1 1 1", "60", "3.2").file(), rules.Order{}, "fail", ""},
		{"off the card", patch("1 1 1 1", "60", "40").off(99)[:], rules.Order{}, "fail", ""},
		{"in the slug", sheet{page: "/MediaBox [-60 -60 330 222] /TrimBox [9 9 261 153] /BleedBox [0 0 270 162]", content: "1 1 1 1 k -55 -55 30 30 re f"}.file(), rules.Order{}, "pass", ""},
		{"painted over", patch("1 1 1 1", "60", "40").over("0 0 0 0 k 90 50 100 60 re f"), rules.Order{}, "pass", ""},
		{"knocked out by what lies on it", card("0.9 0.9 0 0 k 0 0 270 162 re f 0 0 0.9 0.9 k 100 60 60 40 re f").file(), rules.Order{}, "pass", "180 %"},
		{"overprinting what lies beneath", card("/O gs 0.9 0.9 0 0 k 0 0 270 162 re f 0 0 0.9 0.9 k 100 60 60 40 re f").with("/ExtGState << /O << /OP true /op true /OPM 1 >> >>").file(), rules.Order{}, "fail", "359 %"},
		{"multiplied", card("/M gs 0.9 0.9 0 0 k 0 0 270 162 re f 0 0 0.9 0.9 k 100 60 60 40 re f").with("/ExtGState << /M << /BM /Multiply >> >>").file(), rules.Order{}, "fail", "359 %"},
		{"half clear", card("/H gs 1 1 1 1 k 100 60 60 40 re f").with("/ExtGState << /H << /ca 0.5 >> >>").file(), rules.Order{}, "pass", ""},
		{"a spot on top", card("/O gs 0.8 0.8 0.8 0.6 k 0 0 270 162 re f /S cs 1 scn 100 60 60 40 re f").
			with("/ExtGState << /O << /OP true /op true /OPM 1 >> >> /ColorSpace << /S [/Separation /Gold /DeviceCMYK " + tint + "] >>").file(), rules.Order{}, "fail", "Gold 100"},
		{"registration black", inSpace("[/Separation /All /DeviceGray << /FunctionType 2 /Domain [0 1] /C0 [1] /C1 [0] /N 1 >>]", "1").file(), rules.Order{}, "fail", "400 %"},
		{"grey", card("0 g 0 0 270 162 re f").file(), by("offset-uncoated"), "pass", "100 %"},
	})
}

// over paints more on top.
func (s sheet) over(content string) []byte {
	s.content += " " + content
	return s.file()
}

// RGB has no inks yet: what they will be is a guess that warns at most.
func TestInkTotalOfLight(t *testing.T) {
	black := card("0 0 0 rg 0 0 270 162 re f").file()
	dark := card("0.5 0.5 0.6 rg 0 0 270 162 re f").file()
	c := press.Card{Maker: "potter", Style: press.Dark, Size: "us-business"}
	try(t, checks.InkTotal, []trial{
		{"on an own printer", black, by("desktop"), "pass", "makes its own inks"},
		{"where all colours dry", black, by("digital"), "pass", "318 %"},
		{"black for offset", black, by("offset-coated"), "warn", "estimated"},
		{"mid grey for offset", dark, by("offset-coated"), "pass", "estimated"},
		{"a picture on an own printer", c.PNG(300), by("desktop"), "pass", "makes its own inks"},
		{"a black picture for offset", pngFile(t, rgbPicture(1125, 675)), by("offset-coated"), "warn", "estimated"},
	})
}

func TestInkTotalOfPictures(t *testing.T) {
	c := press.Card{Maker: "potter", Style: press.Dark, Size: "us-business"}
	wet := c.TIFF(300, press.Wet())
	try(t, checks.InkTotal, []trial{
		{"a sound ground", c.TIFF(300), rules.Order{}, "pass", "sum up to"},
		{"a wet ground", wet, rules.Order{}, "fail", "Inks sum up to 343 %"},
		{"inks that add up", wet, rules.Order{}, "fail", "cyan 92, magenta 84, yellow 78, black 89;"},
		{"a wet ground in a JPEG", c.JPEG(300, press.In(press.CMYK), press.Wet()), rules.Order{}, "fail", "Inks sum up to 34"},
		{"a wet ground in a page's picture", press.Card{Maker: "potter", Style: press.Photographic, Size: "us-business"}.PDF(press.Wet()), rules.Order{}, "fail", ""},
		{"grey", pngFile(t, image.NewGray(image.Rect(0, 0, 1125, 675))), by("offset-uncoated"), "pass", "100 %"},
	})
}
