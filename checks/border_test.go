package checks_test

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"testing"

	"stoneproof/checks"
	"stoneproof/checks/checktest/press"
	"stoneproof/rules"
)

// rectangle is a box on the US business card by its distances from the trim at
// left, bottom, right and top, mm, with its middle line there.
func rectangle(left, bottom, right, top float64) string {
	return fmt.Sprintf("%.4f %.4f %.4f %.4f re ", 9+left*ptPerMM, 9+bottom*ptPerMM, 252-(left+right)*ptPerMM, 144-(bottom+top)*ptPerMM)
}

// segmentOf is a line between places of the card, mm from its lower left corner.
func segmentOf(x0, y0, x1, y1 float64) string {
	return fmt.Sprintf("%.4f %.4f m %.4f %.4f l ", 9+x0*ptPerMM, 9+y0*ptPerMM, 9+x1*ptPerMM, 9+y1*ptPerMM)
}

// A stroke of 1 pt reaches 0.176 mm past its middle line.
func TestEdgeBorderInPDF(t *testing.T) {
	const pen = "0 0 0 1 K 1 w "
	desktop := rules.Order{Process: "desktop"}
	trials := []trial{
		{"a stroked rectangle 2 mm inside", card(ground + pen + rectangle(2, 2, 2, 2) + "S").file(), rules.Order{},
			"warn", "A frame runs 0.072 in inside the trim on every edge"},
		{"says what a cut does", card(ground + pen + rectangle(2.376, 2.376, 2.376, 2.376) + "S").file(), metric,
			"warn", "2.2 mm inside the trim on every edge: a cut 1 mm off leaves 1.2 mm on one side and 3.2 mm on the other"},
		{"3 mm inside", card(ground + pen + rectangle(3.18, 3.18, 3.18, 3.18) + "S").file(), rules.Order{}, "pass", ""},
		{"4.5 mm inside, digital", card(ground + pen + rectangle(4.5, 4.5, 4.5, 4.5) + "S").file(), rules.Order{}, "pass", ""},
		{"4.5 mm inside, desktop", card(ground + pen + rectangle(4.5, 4.5, 4.5, 4.5) + "S").file(), desktop, "warn", "at least 0.1969 in"},
		{"6.6 mm inside, desktop", card(ground + pen + rectangle(6.6, 6.6, 6.6, 6.6) + "S").file(), desktop, "pass", ""},
		{"unequal, far inside", card(ground + pen + rectangle(5, 5, 6, 5) + "S").file(), metric, "warn left", "1 mm nearer to the trim at the left edge than at the right"},
		{"a mount with a deeper foot", card(ground + pen + rectangle(5, 9, 5, 5) + "S").file(), metric, "pass", ""},
		{"near at the left alone", card(ground + pen + rectangle(2, 7, 7, 7) + "S").file(), metric, "warn left", ""},
		{"a white border about a picture of one colour", card("0.8 0.4 0 0 k " + rectangle(2, 2, 2, 2) + "f").file(), metric, "warn", "The ground changes along a frame 2 mm inside"},
		{"a ground with another on it", card(ground + "0 0.5 0.8 0 k " + rectangle(2, 2, 2, 2) + "f").file(), metric, "warn", ""},
		{"a ground with the same on it", card(ground + "0.1 0 0 0 k " + rectangle(2, 2, 2, 2) + "f").file(), metric, "pass", ""},
		{"white on bare paper", card("0 0 0 0 k " + rectangle(2, 2, 2, 2) + "f").file(), metric, "pass", ""},
		{"painted over", card(pen + rectangle(2, 2, 2, 2) + "S " + ground).file(), metric, "pass", ""},
		{"four lines", card(ground + pen + segmentOf(2, 2, 86.9, 2) + segmentOf(2, 48.8, 86.9, 48.8) + "S " +
			segmentOf(2, 2, 2, 48.8) + "S " + segmentOf(86.9, 2, 86.9, 48.8) + "S").file(), metric, "warn", ""},
		{"four thin bars", card(ground + rectangle(2, 2, 2, 48.4) + rectangle(2, 48.4, 2, 2) + "f " +
			rectangle(2, 2, 86.5, 2) + "f " + rectangle(86.5, 2, 2, 2) + "f").file(), metric, "warn", ""},
		{"dashes", card(ground + pen + "[4 3] 0 d " + rectangle(2, 2, 2, 2) + "S").file(), metric, "warn", ""},
		{"round corners", card(ground + pen + roundedPath(2, 4) + "S").file(), metric, "warn", ""},
		{"a ring filled by the even-odd rule", card(ground + rectangle(2, 2, 2, 2) + rectangle(2.4, 2.4, 2.4, 2.4) + "f*").file(), metric, "warn", ""},
		{"over a picture", card(ground+"q 270 0 0 162 0 0 cm /P Do Q "+pen+rectangle(2, 2, 2, 2)+"S", pictureOf(64, 40, 8, 1, "/ColorSpace /DeviceGray")).
			with("/XObject << /P 5 0 R >>").file(), metric, "warn", ""},
		{"a picture with a white border", card("q 240.66 0 0 132.66 14.67 14.67 cm /P Do Q", pictureOf(64, 40, 8, 1, "/ColorSpace /DeviceGray")).
			with("/XObject << /P 5 0 R >>").file(), metric, "warn", ""},
		{"a line alone along the left", card(ground + pen + segmentOf(2, 2, 2, 48.8) + "S").file(), metric, "warn left", "0.82 mm or 2.82 mm"},
		{"a line on the trim", card(ground + pen + rectangle(0, 0, 0, 0) + "S").file(), metric, "warn", "on the trim at the top, right, bottom and left edges"},

		{"a footer", card(ground + "0 0.5 0.8 0 k 0 0 270 16 re f").file(), metric, "pass", ""},
		{"a rule from side to side", card(ground + pen + segmentOf(-5, 2.5, 99, 2.5) + "S").file(), metric, "pass", ""},
		{"a short rule", card(ground + pen + segmentOf(15, 2.5, 74, 2.5) + "S").file(), metric, "pass", ""},
		{"a picture whose top is near the trim", card(ground + "0 0.5 0.8 0 k " + rectangle(20, 12, 20, 2) + "f").file(), metric, "pass", ""},
		{"a cutting guide that does not print", card(ground + pen + "/OC /L BDC " + rectangle(2, 2, 2, 2) + "S EMC").layered(), metric, "pass", ""},
		{"bare paper", card("").file(), metric, "pass", ""},
	}
	var stripes string
	for y := 2.0; y < 60; y += 6 {
		stripes += rectangle(-3, y-3, -3, 50.8-y) + "f "
	}
	trials = append(trials, trial{"stripes", card("0 0.5 0.8 0 k " + stripes).file(), metric, "pass", ""})
	try(t, checks.EdgeBorder, trials)
}

// metric tells the US business card in millimetres.
var metric = rules.Order{Unit: rules.UnitMM}

// layered puts layer L, which is off, into the file.
func (s sheet) layered() []byte {
	s.catalog += "/OCProperties << /OCGs [5 0 R] /D << /OFF [5 0 R] >> >>"
	s.objects = append(s.objects, "<< /Type /OCG /Name (Guides) /Usage << /Print << /PrintState /OFF >> >> >>")
	return s.with("/Properties << /L 5 0 R >>").file()
}

// roundedPath is a frame with round corners, mm.
func roundedPath(d, r float64) string {
	x0, y0, x1, y1 := 9+d*ptPerMM, 9+d*ptPerMM, 261-d*ptPerMM, 153-d*ptPerMM
	r *= ptPerMM
	k := r * (1 - 0.5523)
	return fmt.Sprintf("%.3f %.3f m %.3f %.3f l %.3f %.3f %.3f %.3f %.3f %.3f c %.3f %.3f l %.3f %.3f %.3f %.3f %.3f %.3f c "+
		"%.3f %.3f l %.3f %.3f %.3f %.3f %.3f %.3f c %.3f %.3f l %.3f %.3f %.3f %.3f %.3f %.3f c h ",
		x0+r, y0, x1-r, y0, x1-k, y0, x1, y0+k, x1, y0+r,
		x1, y1-r, x1, y1-k, x1-k, y1, x1-r, y1,
		x0+r, y1, x0+k, y1, x0, y1-k, x0, y1-r,
		x0, y0+r, x0, y0+k, x0+k, y0, x0+r, y0)
}

// painted is a picture of a US business card with its bleed at 300 ppi, with
// boxes of colours put down one after another: mm from the trim's corner.
func painted(boxes ...dab) image.Image {
	img := image.NewRGBA(image.Rect(0, 0, 1125, 675))
	draw.Draw(img, img.Bounds(), image.White, image.Point{}, draw.Src)
	px := func(mm float64) int { return int((mm+3.175)/25.4*300 + .5) }
	for _, b := range boxes {
		draw.Draw(img, image.Rect(px(b.x), px(b.y), px(b.x+b.w), px(b.y+b.h)), image.NewUniform(b.c), image.Point{}, draw.Src)
	}
	return opaque{img}
}

type dab struct {
	c          color.Color
	x, y, w, h float64
}

var (
	dusk  = color.RGBA{40, 50, 90, 255}
	chalk = color.RGBA{235, 228, 210, 255}
)

func TestEdgeBorderInPictures(t *testing.T) {
	all := dab{chalk, -4, -4, 100, 60}
	// The trim runs through the middles of its cells: what lies on both sides is alike.
	lattice := press.Card{Maker: "bicycle-mender", Style: press.Lattice, Size: "bridge"}
	try(t, checks.EdgeBorder, []trial{
		{"a lattice cut on purpose", lattice.PDF(press.Rotated(90)), rules.Order{Size: "bridge"}, "pass", ""},
		{"a white border", pngFile(t, painted(dab{dusk, 2, 2, 84.9, 46.8})), metric, "warn", "1 mm off leaves"},
		{"a coloured margin", pngFile(t, painted(all, dab{dusk, 1.5, 1.5, 85.9, 47.8})), metric, "warn", "The ground changes"},
		{"a frame of lines", jpegFile(t, painted(all, dab{dusk, 2, 2, 84.9, 46.8}, dab{chalk, 2.4, 2.4, 84.1, 46})), metric, "warn", "A frame runs"},
		{"near at the top alone", pngFile(t, painted(all, dab{dusk, 7, 2, 74.9, 41.8})), metric, "warn top", ""},
		{"6 mm inside", pngFile(t, painted(all, dab{dusk, 6, 6, 76.9, 38.8})), rules.Order{Process: "desktop"}, "pass", ""},
		{"a footer", pngFile(t, painted(all, dab{dusk, -4, 48, 100, 10})), metric, "pass", ""},
		{"nothing", pngFile(t, painted()), metric, "pass", ""},
	})
}
