package checks_test

import (
	"encoding/binary"
	"fmt"
	"strings"
	"testing"

	"stoneproof/checks"
	"stoneproof/rules"
)

// page is a sheet with boxes, and nothing painted.
func page(entries string) []byte { return sheet{page: entries}.file() }

// trimmed is a page with room on all sides of a trim of w × h points.
func trimmed(w, h float64) []byte {
	return page(fmt.Sprintf("/MediaBox [0 0 %v %v] /TrimBox [20 20 %v %v]", w+40, h+40, w+20, h+20))
}

// points in a millimetre.
const ptPerMM = 72 / 25.4

func size(name string) rules.Order { return rules.Order{Size: name} }

// The tolerance for a page box is 0.25 mm.
func TestTrimSizeByBox(t *testing.T) {
	try(t, checks.TrimSize, []trial{
		{"as it should be", trimmed(252, 144), rules.Order{}, "pass", "by its TrimBox"},
		{"0.2 mm too wide", trimmed(252+0.2*ptPerMM, 144), rules.Order{}, "pass", ""},
		{"0.3 mm too wide", trimmed(252+0.3*ptPerMM, 144), rules.Order{}, "fail", "too wide"},
		{"0.2 mm too narrow", trimmed(252-0.2*ptPerMM, 144), rules.Order{}, "pass", ""},
		{"0.3 mm too narrow", trimmed(252-0.3*ptPerMM, 144), rules.Order{}, "fail", "too narrow"},
		{"0.2 mm too high", trimmed(252, 144+0.2*ptPerMM), rules.Order{}, "pass", ""},
		{"0.3 mm too high", trimmed(252, 144+0.3*ptPerMM), rules.Order{}, "fail", "too high"},
		{"0.3 mm too low", trimmed(252, 144-0.3*ptPerMM), rules.Order{}, "fail", "too low"},
		{"ArtBox in its place", page("/MediaBox [0 0 292 184] /ArtBox [20 20 272 164]"), rules.Order{}, "pass", "by its ArtBox"},
		{"TrimBox before ArtBox", page("/MediaBox [0 0 292 184] /TrimBox [20 20 272 164] /ArtBox [30 30 262 154]"), rules.Order{}, "pass", "by its TrimBox"},
		{"the card with its bleed", page("/MediaBox [0 0 270 162] /TrimBox [0 0 270 162]"), rules.Order{}, "fail", "that is the card with its bleed"},
		{"the turned card with its bleed", page("/MediaBox [0 0 162 270] /TrimBox [0 0 162 270]"), rules.Order{}, "fail", "that is the card with its bleed"},
		// Boxes that reach past the MediaBox are cut to it (ISO 32000-1, 14.11.2.1).
		{"cut to the MediaBox", page("/MediaBox [0 0 252 144] /TrimBox [-9 -9 261 153]"), rules.Order{}, "pass", ""},
		{"corners the other way", page("/MediaBox [0 0 292 184] /TrimBox [272 164 20 20]"), rules.Order{}, "pass", "by its TrimBox"},
		{"Letter", page("/MediaBox [0 0 612 792] /TrimBox [0 0 612 792]"), rules.Order{}, "fail", "8.5"},
	})
}

// An ID-1 card (85.60 × 53.98 mm, ISO/IEC 7810) is not the 85 × 55 mm card: they
// differ by 0.6 and 1.02 mm.
func TestTrimSizeTellsLikeCardsApart(t *testing.T) {
	id1, eu := trimmed(85.60*ptPerMM, 53.98*ptPerMM), trimmed(85*ptPerMM, 55*ptPerMM)
	try(t, checks.TrimSize, []trial{
		{"id-1 as such", id1, size("id-1"), "pass", ""},
		{"id-1 for eu-business", id1, size("eu-business"), "fail", "--size id-1"},
		{"eu-business as such", eu, size("eu-business"), "pass", ""},
		{"eu-business for id-1", eu, size("id-1"), "fail", "--size eu-business"},
		{"jp-business for cn-business", trimmed(91*ptPerMM, 55*ptPerMM), size("cn-business"), "fail", "--size jp-business"},
		{"poker-us for poker", trimmed(180, 252), size("poker"), "fail", "--size poker-us"},
		{"1011 × 638 px is id-1", densePNG(t, 1011, 638), size("id-1"), "pass", ""},
		{"1011 × 638 px is not eu-business", densePNG(t, 1011, 638), size("eu-business"), "fail", "--size id-1"},
		{"1004 × 650 px is eu-business", densePNG(t, 1004, 650), size("eu-business"), "pass", ""},
		{"1004 × 650 px is not id-1", densePNG(t, 1004, 650), size("id-1"), "fail", "--size eu-business"},
	})
}

func TestTrimSizeOrientation(t *testing.T) {
	lying, standing := trimmed(252, 144), trimmed(144, 252)
	way := func(o rules.Orientation) rules.Order { return rules.Order{Orientation: o} }
	try(t, checks.TrimSize, []trial{
		{"lying, any", lying, rules.Order{}, "pass", ""},
		{"standing, any", standing, rules.Order{}, "pass", ""},
		{"lying, landscape", lying, way(rules.Landscape), "pass", ""},
		{"standing, landscape", standing, way(rules.Landscape), "fail", "lies portrait (higher than wide)"},
		{"lying, portrait", lying, way(rules.Portrait), "fail", "lies landscape (wider than high)"},
		{"standing, portrait", standing, way(rules.Portrait), "pass", ""},
		{"picture lying, portrait", densePNG(t, 1125, 675), way(rules.Portrait), "fail", "Turn"},
		{"picture standing, portrait", densePNG(t, 675, 1125), way(rules.Portrait), "pass", ""},
		// Rotate turns what the reader sees (ISO 32000-1, Table 30).
		{"standing page turned by 90", page("/MediaBox [0 0 144 252] /TrimBox [0 0 144 252] /Rotate 90"), way(rules.Landscape), "pass", ""},
		{"picture turned by Exif", jpegFile(t, greyPicture(675, 1125), segment(0xe1, "Exif\x00\x00"+string(tiffFile([]field{{274, short, half(6)}})))), way(rules.Landscape), "pass", ""},
		{"turned by -90", page("/MediaBox [0 0 144 252] /TrimBox [0 0 144 252] /Rotate -90"), way(rules.Landscape), "pass", ""},
		{"turned by 450", page("/MediaBox [0 0 144 252] /TrimBox [0 0 144 252] /Rotate 450"), way(rules.Landscape), "pass", ""},
		{"turned by 180", page("/MediaBox [0 0 144 252] /TrimBox [0 0 144 252] /Rotate 180"), way(rules.Landscape), "fail", ""},
	})
}

// Which entries a page inherits, and what a unit is: ISO 32000-1, 7.7.3.4 and
// Table 30. MediaBox, CropBox and Rotate are inheritable; TrimBox and UserUnit
// are not. With a UserUnit of 2, 126 × 72 units are 3.5 × 2 in.
func TestTrimSizeUnitsAndInheritance(t *testing.T) {
	try(t, checks.TrimSize, []trial{
		{"UserUnit 2", page("/MediaBox [0 0 126 72] /TrimBox [0 0 126 72] /UserUnit 2"), rules.Order{}, "pass", "3.5 × 2 in"},
		{"UserUnit 2 on a page of full size", page("/MediaBox [0 0 252 144] /TrimBox [0 0 252 144] /UserUnit 2"), rules.Order{}, "fail", "7 × 4 in"},
		{"UserUnit is not inherited", sheet{page: "/MediaBox [0 0 252 144] /TrimBox [0 0 252 144]", tree: "/UserUnit 2"}.file(), rules.Order{}, "pass", ""},
		{"MediaBox is inherited", sheet{page: "/TrimBox [9 9 261 153]", tree: "/MediaBox [0 0 270 162]"}.file(), rules.Order{}, "pass", "by its TrimBox"},
		{"Rotate is inherited", sheet{page: "/MediaBox [0 0 144 252]", tree: "/Rotate 90"}.file(), rules.Order{Orientation: rules.Landscape}, "pass", ""},
		{"TrimBox is not inherited", sheet{page: "/MediaBox [0 0 270 162]", tree: "/TrimBox [50 50 100 100]"}.file(), rules.Order{}, "pass", "by its size less the bleed"},
		{"a box by reference", sheet{page: "/MediaBox 5 0 R /TrimBox 6 0 R", objects: []string{"[0 0 270 162]", "[9 7 0 R 261 153]", "9"}}.file(), rules.Order{}, "pass", "by its TrimBox"},
		{"origin far away", page("/MediaBox [-1009 5000 -739 5162] /TrimBox [-1000 5009 -748 5153]"), rules.Order{}, "pass", "by its TrimBox"},
	})
}

// A page without boxes: the size of the page, then cutting marks.
func TestTrimSizeWithoutBoxes(t *testing.T) {
	bare := func(w, h float64, content string) []byte {
		return sheet{page: fmt.Sprintf("/MediaBox [0 0 %v %v]", w, h), content: content}.file()
	}
	try(t, checks.TrimSize, []trial{
		{"the trim itself", bare(252, 144, ""), rules.Order{}, "pass", "by its size."},
		{"the trim and two bleeds", bare(270, 162, ""), rules.Order{}, "pass", "by its size less the bleed"},
		{"a bleed of 3 mm in place of 1/8 in", bare(252+6*ptPerMM, 144+6*ptPerMM, ""), rules.Order{}, "pass", "by its size less the bleed"},
		{"1/8 in in all in place of an edge", bare(261, 153, ""), rules.Order{}, "pass", "by its size less the bleed"},
		{"larger, with no marks", bare(352, 244, ""), rules.Order{}, "fail", "no cutting marks"},
		{"Letter with no marks", bare(612, 792, ""), rules.Order{}, "fail", "no cutting marks"},
		{"larger, with marks stroked one by one", bare(352, 244, strokedMarks(50, 50, 252, 144, 9, 12, " S\n")), rules.Order{}, "pass", "by its cutting marks"},
		{"marks in one path", bare(352, 244, strokedMarks(50, 50, 252, 144, 9, 12, " ")+" S"), rules.Order{}, "pass", "by its cutting marks"},
		{"marks as filled bars", bare(352, 244, filledMarks(50, 50, 252, 144, 9, 12)), rules.Order{}, "pass", "by its cutting marks"},
		{"marks for the bleed as well", bare(352, 244, strokedMarks(50, 50, 252, 144, 12, 15, " S\n")+strokedMarks(41, 41, 270, 162, 12, 15, " S\n")), rules.Order{}, "pass", "by its cutting marks"},
		{"marks and a slug text", sheet{page: "/MediaBox [0 0 352 244]",
			content:   strokedMarks(50, 50, 252, 144, 9, 12, " S\n") + " BT /F 6 Tf 120 8 Td (Card of the potter, Wendlebury Cross) Tj ET",
			resources: helvetica}.file(), rules.Order{}, "pass", "by its cutting marks"},
		{"marks and register crosses", bare(352, 244, strokedMarks(50, 50, 252, 144, 9, 12, " S\n")+
			" 20 122 m 34 122 l S 27 115 m 27 129 l S 318 122 m 332 122 l S 325 115 m 325 129 l S 176 20 m 176 34 l S 169 27 m 183 27 l S"), rules.Order{}, "pass", "by its cutting marks"},
		{"marks and a grid inside the card", bare(352, 244, strokedMarks(50, 50, 252, 144, 9, 12, " S\n")+" 100 80 m 120 80 l S 100 90 m 120 90 l S"), rules.Order{}, "pass", "by its cutting marks"},
		{"marks of the turned card", bare(244, 352, strokedMarks(50, 50, 144, 252, 9, 12, " S\n")), rules.Order{}, "pass", "by its cutting marks"},
		{"marks off the middle", bare(612, 792, strokedMarks(70, 500, 252, 144, 9, 12, " S\n")), rules.Order{}, "pass", "by its cutting marks"},
		{"marks of another size", bare(352, 244, strokedMarks(50, 50, 230, 144, 9, 12, " S\n")), rules.Order{}, "fail", ""},
		{"a frame is no mark", bare(352, 244, "0.5 w 50 50 252 144 re S"), rules.Order{}, "fail", "no cutting marks"},
		{"two corners are no marks", bare(352, 244, "0.5 w 50 30 m 50 41 l S 302 30 m 302 41 l S"), rules.Order{}, "fail", "no cutting marks"},
		{"the page of another card", bare(85*ptPerMM, 55*ptPerMM, ""), rules.Order{}, "fail", "--size eu-business"},
		{"CropBox is the card", page("/MediaBox [0 0 612 792] /CropBox [100 100 352 244]"), rules.Order{}, "pass", ""},
	})
}

const helvetica = "/Font << /F << /Type /Font /Subtype /Type1 /BaseFont /Helvetica >> >>"

// markLines are the eight cutting marks of a card at (x, y): gap away from it
// and long.
func markLines(x, y, w, h, gap, long float64) [][4]float64 {
	var lines [][4]float64
	for _, at := range []float64{x, x + w} {
		lines = append(lines, [4]float64{at, y - gap - long, at, y - gap}, [4]float64{at, y + h + gap, at, y + h + gap + long})
	}
	for _, at := range []float64{y, y + h} {
		lines = append(lines, [4]float64{x - gap - long, at, x - gap, at}, [4]float64{x + w + gap, at, x + w + gap + long, at})
	}
	return lines
}

func strokedMarks(x, y, w, h, gap, long float64, after string) string {
	out := "0.5 w "
	for _, l := range markLines(x, y, w, h, gap, long) {
		out += fmt.Sprintf("%v %v m %v %v l%s", l[0], l[1], l[2], l[3], after)
	}
	return out
}

func filledMarks(x, y, w, h, gap, long float64) string {
	out := ""
	for _, l := range markLines(x, y, w, h, gap, long) {
		out += fmt.Sprintf("%v %v %v %v re f\n", l[0]-.25, l[1]-.25, l[2]-l[0]+.5, l[3]-l[1]+.5)
	}
	return out
}

// 300 ppi is 11811 px/m in PNG (299.9994 ppi) and 118 per cm in JFIF (299.72).
// "No density" has four spellings: JFIF units 0, PNG without pHYs or with unit 0
// (W3C PNG, pHYs), TIFF ResolutionUnit 1 (TIFF 6.0, p. 18); the fifth, Exif's 72
// for "unknown", states a number.
func TestTrimSizeByDensity(t *testing.T) {
	grey := greyPicture(1125, 675)
	try(t, checks.TrimSize, []trial{
		{"PNG, 11811 px/m", pngFile(t, grey, phys(11811, 11811, 1)), rules.Order{}, "pass", "by its size less the bleed"},
		{"JFIF, 118 per cm", jpegFile(t, grey, jfif(2, 118, 118)), rules.Order{}, "pass", "by its size less the bleed"},
		{"JFIF, 300 per inch", jpegFile(t, grey, jfif(1, 300, 300)), rules.Order{}, "pass", "by its size less the bleed"},
		{"TIFF, 300 per inch", greyTIFF(1125, 675, 2, 300), rules.Order{}, "pass", "by its size less the bleed"},
		{"TIFF, 118 per cm", greyTIFF(1125, 675, 3, 118), rules.Order{}, "pass", "by its size less the bleed"},
		{"Exif, 300 per inch", jpegFile(t, grey, exif(2, 300)), rules.Order{}, "pass", "by its size less the bleed"},
		{"JFIF without a unit, Exif with one", jpegFile(t, grey, jfif(0, 1, 1), exif(2, 300)), rules.Order{}, "pass", "by its size less the bleed"},
		{"JFIF with 300, Exif with 72 for unknown", jpegFile(t, grey, jfif(1, 300, 300), exif(2, 72)), rules.Order{}, "pass", "by its size less the bleed"},
		{"TIFF without a unit field means inches", tiffFile(append(greyFields(1125, 675), resolution(2, 300)[:2]...)), rules.Order{}, "pass", "by its size less the bleed"},
		{"JFIF, no unit", jpegFile(t, grey, jfif(0, 1, 1)), rules.Order{}, "pass", "states no density: set it to 300 ppi"},
		{"JPEG, nothing", jpegFile(t, grey), rules.Order{}, "pass", "states no density: set it to 300 ppi"},
		{"PNG, nothing", pngFile(t, grey), rules.Order{}, "pass", "states no density: set it to 300 ppi"},
		{"PNG, no unit", pngFile(t, grey, phys(1, 1, 0)), rules.Order{}, "pass", "states no density: set it to 300 ppi"},
		{"TIFF, no unit", greyTIFF(1125, 675, 1, 1), rules.Order{}, "pass", "states no density: set it to 300 ppi"},
		{"Exif, 72", jpegFile(t, grey, exif(2, 72)), rules.Order{}, "warn", "Set the density to 300 ppi without changing the 1125 × 675 px"},
		{"72 per inch", jpegFile(t, grey, jfif(1, 72, 72)), rules.Order{}, "warn", "15.625 × 9.375 in"},
		{"96 per inch", jpegFile(t, grey, jfif(1, 96, 96)), rules.Order{}, "warn", "Set the density to 300 ppi"},
		{"PNG, 72 as 2835 px/m", pngFile(t, grey, phys(2835, 2835, 1)), rules.Order{}, "warn", "Set the density to 300 ppi"},
		{"150 where 300 is meant", jpegFile(t, grey, jfif(1, 150, 150)), rules.Order{}, "fail", "7.5 × 4.5 in"},
		{"72, and no card", jpegFile(t, greyPicture(800, 800), jfif(1, 72, 72)), rules.Order{}, "fail", "neither the card"},
		{"no density, and no card", pngFile(t, greyPicture(1600, 1200)), rules.Order{}, "fail", "1125 × 675 px (300 ppi)"},
		{"72 and truly so large", jpegFile(t, greyPicture(270, 162), jfif(1, 72, 72)), rules.Order{}, "pass", "by its size less the bleed"},
		{"two densities, one card", pngFile(t, greyPicture(1125, 338), phys(11811, 5906, 1)), rules.Order{}, "pass", "by its size less the bleed"},
		{"two densities, square pixels meant", pngFile(t, grey, phys(11811, 5906, 1)), rules.Order{}, "fail", "At its stated 300 × 150 ppi"},
		{"density of nothing", pngFile(t, grey, phys(0, 0, 1)), rules.Order{}, "pass", "states no density"},
		{"density beyond belief", pngFile(t, grey, phys(4_000_000_000, 4_000_000_000, 1)), rules.Order{}, "fail", ""},
	})
}

// Worked examples: 3.75 × 2.25 in at 300 ppi are 1125 × 675 px, the trim alone
// 1050 × 600 (px = mm / 25.4 × ppi). Pixels are whole; the tolerance for a
// picture is 0.5 mm, 5.9 px at 300 ppi.
func TestTrimSizeByPixels(t *testing.T) {
	try(t, checks.TrimSize, []trial{
		{"1125 × 675", densePNG(t, 1125, 675), rules.Order{}, "pass", "3.5 × 2 in"},
		{"1050 × 600", densePNG(t, 1050, 600), rules.Order{}, "pass", "by its size."},
		{"one pixel more", densePNG(t, 1126, 676), rules.Order{}, "pass", ""},
		{"one pixel fewer", densePNG(t, 1124, 674), rules.Order{}, "pass", ""},
		{"five pixels on one axis", densePNG(t, 1130, 675), rules.Order{}, "pass", ""},
		{"eight pixels on one axis", densePNG(t, 1133, 675), rules.Order{}, "fail", ""},
		{"the trim, eight pixels short", densePNG(t, 1042, 600), rules.Order{}, "fail", ""},
		{"91 × 61 mm", densePNG(t, 1075, 720), size("eu-business"), "pass", "85 × 55 mm"},
		{"poker, the trim alone", densePNG(t, 744, 1039), size("poker"), "pass", "63 × 88 mm"},
		{"poker-us, the trim alone", densePNG(t, 750, 1050), size("poker-us"), "pass", "2.5 × 3.5 in"},
		{"A6, the trim alone", densePNG(t, 1240, 1748), size("a6"), "pass", "105 × 148 mm"},
		{"6 × 4 in, the trim alone", densePNG(t, 1800, 1200), size("us-postcard"), "pass", "6 × 4 in"},
		{"6 × 4 in for a business card", densePNG(t, 1800, 1200), rules.Order{}, "fail", "--size us-postcard"},
		{"one pixel", densePNG(t, 1, 1), rules.Order{}, "fail", ""},
	})
}

// densePNG is a picture at 300 ppi.
func densePNG(t testing.TB, w, h int) []byte {
	return pngFile(t, greyPicture(w, h), phys(11811, 11811, 1))
}

// phys is a pHYs chunk (W3C PNG): pixels per unit; 0 is no unit, 1 a metre.
func phys(x, y uint32, unit byte) string {
	b := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, x), y)
	return chunk("pHYs", string(append(b, unit)))
}

// jfif is an APP0 segment (JFIF 1.02, p. 5): 0 no unit, 1 per inch, 2 per cm.
func jfif(unit byte, x, y uint16) string {
	b := binary.BigEndian.AppendUint16(append([]byte("JFIF\x00\x01\x02"), unit), x)
	return segment(0xe0, string(binary.BigEndian.AppendUint16(b, y))+"\x00\x00")
}

// exif is an APP1 segment with a resolution (Exif 2.3, 4.6.4): 2 per inch, 3 per cm.
func exif(unit uint16, density uint32) string {
	return segment(0xe1, "Exif\x00\x00"+string(tiffFile(resolution(unit, density))))
}

func greyTIFF(w, h int, unit uint16, density uint32) []byte {
	return tiffFile(append(greyFields(w, h), resolution(unit, density)...))
}

func TestTrimSizeNamesTheExport(t *testing.T) {
	try(t, checks.TrimSize, []trial{
		{"a page", trimmed(300, 200), rules.Order{}, "fail", "Set the page to 3.5 × 2 in with 0.125 in of bleed an edge (3.75 × 2.25 in altogether)"},
		{"a picture", densePNG(t, 900, 900), rules.Order{}, "fail", "Export again at 1125 × 675 px (300 ppi)"},
		{"in one bit", oneBitTIFF(900, 900, 2, 300), rules.Order{}, "fail", "Export again at 3000 × 1800 px (800 ppi)"},
	})
}

func oneBitTIFF(w, h int, unit uint16, density uint32) []byte {
	fields := greyFields(w, h)
	fields[2] = field{258, short, "\x01\x00"}
	fields[len(fields)-1] = field{279, long, word(uint32((w + 7) / 8 * h))}
	fields[5].data = strings.Repeat("\x00", (w+7)/8*h)
	return tiffFile(append(fields, resolution(unit, density)...))
}
