package checks_test

import (
	"fmt"
	"image"
	"testing"

	"stoneproof/checks"
	"stoneproof/checks/checktest/press"
	"stoneproof/rules"
)

// cropMarks are eight lines on the trim lines, from a distance off the trim
// outward, mm, long by so much; the page of marked has 10 mm of room.
func cropMarks(off, long float64) string {
	var b string
	for _, x := range []float64{0, 88.9} {
		b += segmentOf(x, -off-long, x, -off) + segmentOf(x, 50.8+off, x, 50.8+off+long)
	}
	for _, y := range []float64{0, 50.8} {
		b += segmentOf(-off-long, y, -off, y) + segmentOf(88.9+off, y, 88.9+off+long, y)
	}
	return b + "S "
}

// marked is a US business card on a larger page, with its boxes.
func marked(content string, objects ...string) sheet {
	s := card(content, objects...)
	s.page = "/MediaBox [-31 -31 301 193] /BleedBox [0 0 270 162] /TrimBox [9 9 261 153]"
	return s
}

// cross is a register mark.
func cross(x, y, long float64) string {
	return segmentOf(x-long/2, y, x+long/2, y) + segmentOf(x, y-long/2, x, y+long/2) + "S "
}

func fourCrosses(off float64) string {
	return cross(44.45, -off, 3) + cross(44.45, 50.8+off, 3) + cross(-off, 25.4, 3) + cross(88.9+off, 25.4, 3)
}

func TestMarksInArtInPDF(t *testing.T) {
	const pen = "0 0 0 1 K 0.5 w "
	const every = "/All CS 1 SCN 0.5 w "
	all := func(s sheet) []byte {
		return s.with("/ColorSpace << /All [/Separation /All /DeviceCMYK << /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [1 1 1 1] /N 1 >>] >>").file()
	}
	bars := ""
	for k, ink := range []string{"1 0 0 0", "0 1 0 0", "0 0 1 0", "0 0 0 1"} {
		bars += fmt.Sprintf("%s k %d 0 9 9 re f ", ink, 60+9*k)
	}
	thin := ""
	for _, x := range []float64{0, 88.9} {
		for _, y := range []float64{-3, 50.8 + 1} {
			thin += fmt.Sprintf("%.3f %.3f 0.5 6 re f ", 9+x*ptPerMM-0.25, 9+y*ptPerMM)
		}
	}
	try(t, checks.MarksInArt, []trial{
		{"1 mm off the trim", marked(ground + pen + cropMarks(1, 5)).file(), metric, "fail", "8 short lines on the trim lines at 4 corners inside the bleed are sheet marks"},
		{"touching the trim", marked(ground + pen + cropMarks(0, 5)).file(), metric, "fail", ""},
		{"running into the card", marked(ground + pen + cropMarks(-2, 5)).file(), metric, "fail", ""},
		{"half a millimetre into the bleed", marked(ground + pen + cropMarks(2.6, 5)).file(), metric, "fail", "at least 3.18 mm outside the trim"},
		{"drawn as thin boxes", marked(ground + thin).file(), metric, "fail", ""},
		{"at two corners", marked(ground + pen + segmentOf(0, -6, 0, -1) + segmentOf(0, 51.8, 0, 56) + "S").file(), metric, "warn", "look like"},
		{"crosses", marked(ground + pen + fourCrosses(2)).file(), metric, "warn", "4 register marks by the edges"},
		{"crosses in registration colour", all(marked(ground + every + fourCrosses(2))), metric, "fail", "registration colour"},
		{"a colour bar", marked(ground + bars).file(), metric, "warn", "patches in the process inks"},
		{"in a picture", jpegInPage(t, painted(append([]dab{{chalk, -4, -4, 100, 60}}, cornerDabs()...)...)), metric, "fail", ""},

		{"outside the bleed", marked(ground + pen + cropMarks(3.175, 5)).file(), metric, "pass", ""},
		{"outside the bleed, placing the trim", sheet{page: "/MediaBox [-31 -31 301 193]", content: ground + pen + cropMarks(3.3, 5)}.file(), metric, "pass", ""},
		{"crosses outside the bleed", all(marked(ground + every + fourCrosses(5))), metric, "pass", ""},
		{"under the ground", marked(pen + cropMarks(0.5, 2.5) + ground).file(), metric, "pass", ""},
		{"off the trim lines", marked(ground + pen + "q 1 0 0 1 6 6 cm " + cropMarks(1, 5) + "Q").file(), metric, "pass", ""},
		{"corner ornaments", marked(ground + pen + cropMarks(-8, 4)).file(), metric, "pass", ""},
		{"lines from end to end", marked(ground + pen + segmentOf(0, -5, 0, 56) + segmentOf(88.9, -5, 88.9, 56) + "S").file(), metric, "pass", ""},
		{"a short rule in registration colour", all(card(ground + every + segmentOf(20, 20, 30, 20) + "S")), metric, "pass", ""},
		{"bare", card("").file(), metric, "pass", ""},
		{"a layer that does not print", marked(ground + pen + "/OC /L BDC " + cropMarks(1, 5) + "EMC").layered(), metric, "pass", ""},
	})
}

// cornerDabs are cutting marks in the bleed of a picture.
func cornerDabs() []dab {
	var list []dab
	for _, x := range []float64{0, 88.9} {
		list = append(list, dab{dusk, x - .12, -3.2, .25, 2.7}, dab{dusk, x - .12, 50.8 + .5, .25, 2.7})
	}
	for _, y := range []float64{0, 50.8} {
		list = append(list, dab{dusk, -3.2, y - .12, 2.7, .25}, dab{dusk, 88.9 + .5, y - .12, 2.7, .25})
	}
	return list
}

func TestMarksInArtInPictures(t *testing.T) {
	all := dab{chalk, -4, -4, 100, 60}
	// Its name stands near the top edge: the stems of the letters are no pattern of marks.
	named := press.Card{Maker: "ferryman", Style: press.Light, Size: "cn-business"}
	small := press.Card{Maker: "joiner", Style: press.White, Size: "cn-business"}
	try(t, checks.MarksInArt, []trial{
		{"above lettering", named.TIFF(300, press.CutMarks(1.3)), rules.Order{Size: "cn-business"}, "fail", "at 4 corners"},
		{"on bare paper", pngFile(t, painted(cornerDabs()...)), metric, "fail", "are sheet marks"},
		{"on a tint, coded with loss", jpegFile(t, painted(append([]dab{all}, cornerDabs()...)...)), metric, "fail", ""},
		{"at two corners", pngFile(t, painted(append([]dab{all}, cornerDabs()[:3]...)...)), metric, "warn", "look like"},
		{"a frame 2 mm inside", pngFile(t, painted(all, dab{dusk, 2, 2, 84.9, 46.8}, dab{chalk, 2.4, 2.4, 84.1, 46})), rules.Order{}, "pass", ""},
		{"crosses a hair wide, with rings about them", small.TIFF(300, press.Crosses()), rules.Order{Size: "cn-business"}, "warn", "register marks"},
		{"no bleed asked for", pngFile(t, painted(all)), rules.Order{Bleed: new(rules.Length)}, "pass", ""},
		{"bare", pngFile(t, painted()), metric, "pass", ""},
	})
}

// jpegInPage is a page that is one picture, as a flattened export has it.
func jpegInPage(t testing.TB, img image.Image) []byte {
	b := jpegFile(t, img)
	picture := stream(fmt.Sprintf("/Type /XObject /Subtype /Image /Width %d /Height %d /BitsPerComponent 8 /ColorSpace /DeviceRGB /Filter /DCTDecode",
		img.Bounds().Dx(), img.Bounds().Dy()), string(b))
	return card("270 0 0 162 0 0 cm /P Do", picture).with("/XObject << /P 5 0 R >>").file()
}
