package checks_test

import (
	"fmt"
	"image"
	"image/color/palette"
	"strings"
	"testing"

	"stoneproof/checks"
	"stoneproof/checks/checktest"
	"stoneproof/checks/checktest/press"
	"stoneproof/rules"
)

// tint is what a tint transform does is of no matter here: it has to be there.
const tint = "<< /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0 0.3 1 0] /N 1 >>"

// tintOf is a tint transform of several inks (ISO 32000-1, 7.10.5).
func tintOf(inks int) string {
	return stream("/FunctionType 4 /Domain ["+strings.Repeat("0 1 ", inks)+"] /Range [0 1 0 1 0 1 0 1]",
		"{ "+strings.Repeat("pop ", inks)+"0 0 0 0 }")
}

// inSpace paints the card's ground in a colour space.
func inSpace(space, values string, objects ...string) sheet {
	return card("/S cs "+values+" scn 0 0 270 162 re f", objects...).with("/ColorSpace << /S " + space + " >>")
}

// inOperator paints the card's ground with a colour operator.
func inOperator(set string) sheet { return card(set + " 0 0 270 162 re f") }

// What the four processes make of a colour space: RGB, Lab and calibrated RGB
// pass on the maker's own printer, warn on a digital press, fail on offset.
func TestColourSpaceByProcess(t *testing.T) {
	const taken, unwanted = "pass pass pass pass", "pass warn fail fail"
	const cal = "/WhitePoint [0.9505 1 1.089]"
	srgb := stream("/N 3", string(press.SRGB()))
	for _, tt := range []struct {
		name string
		file []byte
		want string // desktop, digital, offset-coated, offset-uncoated
	}{
		{"DeviceRGB", inOperator("1 0 0 rg").file(), unwanted},
		{"DeviceRGB black", inOperator("0 0 0 rg").file(), unwanted},
		{"DeviceRGB by a stroke", inOperator("1 0 0 RG 50 50 m 99 99 l S").file(), unwanted},
		{"DeviceCMYK", inOperator("1 0 0 0 k").file(), taken},
		{"DeviceGray", inOperator("0.3 g").file(), taken},
		{"CalRGB", inSpace("[/CalRGB << "+cal+" >>]", "1 0 0").file(), unwanted},
		{"CalGray", inSpace("[/CalGray << "+cal+" >>]", "1").file(), taken},
		{"Lab", inSpace("[/Lab << "+cal+" /Range [-100 100 -100 100] >>]", "50 20 20").file(), unwanted},
		{"ICC with 3 components", inSpace("[/ICCBased 5 0 R]", "1 0 0", srgb).file(), unwanted},
		{"ICC with 4", inSpace("[/ICCBased 5 0 R]", "1 0 0 0", stream("/N 4", string(press.Coated()))).file(), taken},
		{"ICC with 1", inSpace("[/ICCBased 5 0 R]", "1", stream("/N 1", string(press.GreyProfile()))).file(), taken},
		{"Indexed into RGB", inSpace("[/Indexed /DeviceRGB 1 <ff000000ff00>]", "1").file(), unwanted},
		{"Indexed into CMYK", inSpace("[/Indexed /DeviceCMYK 1 <ff00000000ff0000>]", "1").file(), taken},
		{"Indexed into Lab", inSpace("[/Indexed [/Lab << "+cal+" >>] 0 <800000>]", "0").file(), unwanted},
		{"spot ink", inSpace("[/Separation /Gold /DeviceCMYK "+tint+"]", "1").file(), taken},
		{"spot ink shown by RGB", inSpace("[/Separation /Gold /DeviceRGB << /FunctionType 2 /Domain [0 1] /C0 [1 1 1] /C1 [1 0.8 0] /N 1 >>]", "1").file(), taken},
		{"Separation Black", inSpace("[/Separation /Black /DeviceCMYK "+tint+"]", "1").file(), taken},
		{"Separation All", inSpace("[/Separation /All /DeviceCMYK "+tint+"]", "1").file(), taken},
		{"two inks of the press", inSpace("[/DeviceN [/Cyan /Black] /DeviceCMYK 5 0 R]", "1 0", tintOf(2)).file(), taken},
		{"an ink and a spot", inSpace("[/DeviceN [/Gold /Black] /DeviceCMYK 5 0 R]", "1 0", tintOf(2)).file(), taken},
		{"a picture in RGB", withPicture("q 96 0 0 96 20 20 cm /X Do Q", pictureOf(100, 100, 8, 3, "/ColorSpace /DeviceRGB")), unwanted},
		{"a picture of indexed RGB", withPicture("q 96 0 0 96 20 20 cm /X Do Q", pictureOf(100, 100, 1, 1, "/ColorSpace [/Indexed /DeviceRGB 1 <ff000000ff00>]")), unwanted},
		{"a picture in grey", withPicture("q 96 0 0 96 20 20 cm /X Do Q", tone(100)), taken},
		{"a gradient in RGB", card("/S sh").with("/Shading << /S << /ShadingType 2 /ColorSpace /DeviceRGB /Coords [0 0 270 0] /Function << /FunctionType 2 /Domain [0 1] /C0 [1 0 0] /C1 [0 1 0] /N 1 >> >> >>").file(), unwanted},
		{"text in RGB", card("1 0 0 rg BT /F 20 Tf 60 60 Td (Potter) Tj ET").with(helvetica).file(), unwanted},
		{"a pattern in RGB", card("/Pattern cs /P scn 0 0 270 162 re f", stream("/PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 9 9] /XStep 9 /YStep 9 /Resources << >>", "1 0 0 rg 0 0 5 5 re f")).with("/Pattern << /P 5 0 R >>").file(), unwanted},
		{"RGB in a form", card("/X Do", stream("/Type /XObject /Subtype /Form /BBox [0 0 270 162]", "1 0 0 rg 0 0 270 162 re f")).with("/XObject << /X 5 0 R >>").file(), unwanted},
		{"DefaultRGB does not make it CMYK", inOperator("1 0 0 rg").with("/ColorSpace << /DefaultRGB [/CalRGB << " + cal + " >>] >>").file(), unwanted},
		// Near-misses: RGB that is there, and leaves no ink.
		{"RGB set and not used", inOperator("1 0 0 rg 1 0 0 0 k").file(), taken},
		{"RGB in the resources alone", inOperator("1 0 0 0 k").with("/ColorSpace << /S [/ICCBased 5 0 R] >>").file(), taken},
		{"RGB off the page", inOperator("1 0 0 rg 900 900 9 9 re f 1 0 0 0 k").file(), taken},
		{"RGB clipped away", card("q 0 0 9 9 re W n 1 0 0 rg 50 50 9 9 re f Q").file(), taken},
		{"RGB on a layer that is off", card("/OC /L BDC 1 0 0 rg 9 9 252 144 re f EMC", "<< /Type /OCG /Name (Guide) >>").with("/Properties << /L 5 0 R >>").off(5), taken},
		{"RGB in text that is not seen", card("1 0 0 rg BT 3 Tr /F 20 Tf 60 60 Td (Potter) Tj ET").with(helvetica).file(), taken},
		{"RGB as clear as glass", card("q /G gs 1 0 0 rg 50 50 9 9 re f Q").with("/ExtGState << /G << /ca 0 >> >>").file(), taken},
		{"a group that blends in RGB", card("/X Do", stream("/Type /XObject /Subtype /Form /BBox [0 0 270 162] /Group << /S /Transparency /CS /DeviceRGB >>", "1 0 0 0 k 0 0 270 162 re f")).with("/XObject << /X 5 0 R >>").file(), taken},
		{"a page that paints nothing", card("").file(), taken},
		// Picture files.
		{"RGB PNG", pngFile(t, rgbPicture(1125, 675)), unwanted},
		{"grey PNG", pngFile(t, greyPicture(1125, 675)), taken},
		{"PNG of a palette", pngFile(t, image.NewPaletted(image.Rect(0, 0, 1125, 675), palette.WebSafe)), unwanted},
		{"RGB JPEG", jpegFile(t, rgbPicture(1125, 675)), unwanted},
		{"grey JPEG", jpegFile(t, greyPicture(1125, 675)), taken},
		{"CMYK JPEG", plainCard().JPEG(100, press.In(press.CMYK)), taken},
		{"CMYK TIFF", plainCard().TIFF(100), taken},
		{"Lab TIFF", labTIFF(1125, 675), unwanted},
	} {
		var got []string
		t.Run(tt.name, func(t *testing.T) {
			path := kept(t, "card"+ending(tt.file), tt.file)
			for _, process := range rules.Processes() {
				r := checktest.JudgeBy(t, path, rules.Order{Process: process}, checks.ColourSpace)
				got = append(got, verdicts(r, "colour-space"))
			}
			if fmt.Sprint(got) != "["+tt.want+"]" {
				t.Errorf("says %v, want %v", got, tt.want)
			}
		})
	}
}

// plainCard is a card that is quick to draw.
func plainCard() press.Card {
	return press.Card{Maker: press.Makers()[0], Style: press.White, Size: "us-business"}
}

// labTIFF is a picture in CIE L*a*b* (TIFF 6.0, section 23).
func labTIFF(w, h int) []byte {
	fields := greyFields(w, h)
	fields[2].data = half(8) + half(8) + half(8)
	fields[4].data = half(8)
	fields[5].data = strings.Repeat("\x55", 3*w*h)
	fields[6].data = half(3)
	fields[8].data = word(uint32(3 * w * h))
	return tiffFile(append(fields, resolution(2, 300)...))
}

func TestColourSpaceTellsWhatFor(t *testing.T) {
	try(t, checks.ColourSpace, []trial{
		{"line art and text", card("1 0 0 rg 20 20 50 50 re f BT /F 20 Tf 60 60 Td (Potter) Tj ET").with(helvetica).file(), rules.Order{}, "warn", "RGB is used for text and line art; the digital process prints in CMYK"},
		{"Lab is called Lab", inSpace("[/Lab << /WhitePoint [0.95 1 1.09] >>]", "50 20 20").file(), rules.Order{}, "warn", "Lab is used for line art"},
		{"both", inSpace("[/Lab << /WhitePoint [0.95 1 1.09] >>]", "50 20 20").also("1 0 0 rg 20 20 9 9 re f").file(), rules.Order{}, "warn; warn", ""},
		{"what is harmless is named", card("1 0 0 0 k 20 20 50 50 re f 0.5 g 80 20 50 50 re f").file(), rules.Order{}, "pass", "The page is painted in CMYK and grey."},
	})
}

// also adds drawing instructions.
func (s sheet) also(content string) sheet { s.content += " " + content; return s }
