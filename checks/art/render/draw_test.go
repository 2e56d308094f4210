package render

import (
	"errors"
	"fmt"
	"image"
	"image/color"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// No paint, white paint in two colour spaces, and black told apart.
func TestPaintIsNotGround(t *testing.T) {
	img := renderOne(t, pdf("", nil, card(`
		1 1 1 rg 10 10 20 20 re f
		0 0 0 0 k 40 10 20 20 re f
		0 g 70 10 20 20 re f`,
	)), whole(cardMedia, 1))
	for x, want := range map[int]color.NRGBA{5: nothing, 20: white, 50: white, 80: {0, 0, 0, 255}} {
		sameEverywhere(t, img, image.Rect(x-4, 135, x+4, 150), want)
	}
}

// Straight alpha: half-transparent red is all red and half there. PDF 1.7,
// 11.3.5 (ca), from memory.
func TestAlphaIsStraight(t *testing.T) {
	s := card("/half gs 1 0 0 rg 100 10 20 20 re f")
	s.resources = "/ExtGState<</half<</ca .5>>>>"
	got := renderOne(t, pdf("", nil, s), whole(cardMedia, 1)).NRGBAAt(110, 142)
	if got.R != 255 || got.G != 0 || got.B != 0 || got.A < 126 || got.A > 129 {
		t.Errorf("half-transparent red is %v", got)
	}
}

// quarters paints a page of w × h units, from x, y on, in four colours: red
// bottom left, green bottom right, blue top left, nothing top right.
func quarters(x, y, w, h float64) string {
	return fmt.Sprintf("1 0 0 rg %[1]v %[2]v %[3]v %[4]v re f 0 1 0 rg %[5]v %[2]v %[3]v %[4]v re f 0 0 1 rg %[1]v %[6]v %[3]v %[4]v re f",
		x, y, w/2, h/2, x+w/2, y+h/2)
}

// A page turned by Rotate or with its MediaBox elsewhere is the same picture,
// turned clockwise (PDF 1.7, Table 30).
func TestRotateAndOrigin(t *testing.T) {
	const w, h = 120, 60
	corners := []color.NRGBA{blue, nothing, green, red} // from the top left, clockwise, unturned
	for turn := range 4 {
		for _, at := range [][2]float64{{0, 0}, {36, 18}, {-500, 1000}, {0.5, -0.25}} {
			for _, turnSign := range []int{1, -3} { // 90 and -270 are one turn
				media := [4]float64{at[0], at[1], at[0] + w, at[1] + h}
				s := sheet{
					media:   fmt.Sprintf("[%v %v %v %v]", media[0], media[1], media[2], media[3]),
					rotate:  90 * turn * turnSign,
					content: quarters(at[0], at[1], w, h),
				}
				v := View{Media: media, W: w, H: h, PxW: 2 * w, PxH: 2 * h}
				if turn%2 == 1 {
					v.W, v.H, v.PxW, v.PxH = v.H, v.W, v.PxH, v.PxW
				}
				img := renderOne(t, pdf("", nil, s), v)
				mx, my := v.PxW/2, v.PxH/2
				for i, r := range []image.Rectangle{
					image.Rect(0, 0, mx, my), image.Rect(mx, 0, v.PxW, my),
					image.Rect(mx, my, v.PxW, v.PxH), image.Rect(0, my, mx, v.PxH),
				} {
					sameEverywhere(t, img, r, corners[(i-turn+4)%4])
				}
			}
		}
	}
}

// A window shows what the whole page shows there, whatever its scale.
func TestWindowIsPartOfWhole(t *testing.T) {
	file := pdf("", nil, card(quarters(0, 0, 270, 162)+" 0 g 30 30 m 200 60 l 90 140 l f"))
	d := open(t, file)
	all, err := d.Render(t.Context(), 1, whole(cardMedia, 4))
	if err != nil {
		t.Fatal(err)
	}
	part, err := d.Render(t.Context(), 1, View{Media: cardMedia, X: 50, Y: 25, W: 75, H: 60, PxW: 300, PxH: 240})
	if err != nil {
		t.Fatal(err)
	}
	worst := 0
	for y := range 240 {
		want := all.Pix[(y+100)*all.Stride+200*4:]
		for i, got := range part.Pix[y*part.Stride:][:part.Stride] {
			worst = max(worst, int(got)-int(want[i]), int(want[i])-int(got))
		}
	}
	if worst > 2 { // the renderer counts in 1/256 of a pixel
		t.Errorf("the window differs by %d levels from its part of the whole page", worst)
	}
}

// Edges of boxes fall on edges of pixels: paint that ends where the window
// ends leaves no half-painted border, and a gap of one pixel is seen.
func TestWindowEdges(t *testing.T) {
	const bleed = 9.0
	shapes := map[string]string{
		"rectangle": "%[1]v %[2]v %[3]v %[4]v re f",
		"polygon":   "%[1]v %[2]v m %[5]v %[2]v l %[5]v %[6]v l 100 %[6]v l 100 90 l 90 90 l 90 %[6]v l %[1]v %[6]v l f",
		"image":     "q %[3]v 0 0 %[4]v %[1]v %[2]v cm BI /W 1 /H 1 /CS /G /BPC 8 ID \x00 EI Q",
	}
	for name, shape := range shapes {
		for _, ppi := range []float64{96, 300, 450, 600} {
			for _, gap := range []float64{0, 1} { // pixels left free on each edge
				if name == "image" {
					gap *= 1.25 // an image is grown to whole pixels, with no slack for rounding
				}
				g := bleed + gap*72/ppi
				x1, y1 := 270-g, 162-g
				s := card("0 g " + fmt.Sprintf(shape, g, g, x1-g, y1-g, x1, y1))
				v := View{Media: cardMedia, X: bleed, Y: bleed, W: 252, H: 144, PxW: int(3.5 * ppi), PxH: int(2 * ppi)}
				img := renderOne(t, pdf("", nil, s), v)
				outer, inner := alphaAlong(img, 0), alphaAlong(img, 1)
				switch {
				case gap == 0 && outer != [2]uint8{255, 255}:
					t.Errorf("%s at %v ppi: the border's alpha is %v", name, ppi, outer)
				case gap > 0 && (outer[1] > 1 || inner[0] < 254):
					t.Errorf("%s with a gap at %v ppi: the border's alpha is %v, then %v", name, ppi, outer, inner)
				}
			}
		}
	}
}

// alphaAlong is the least and the most alpha on the four edges, n pixels in, but
// for the part of the top edge where the polygon has its notch.
func alphaAlong(img *image.NRGBA, n int) [2]uint8 {
	least, most := uint8(255), uint8(0)
	see := func(x, y int) {
		a := img.NRGBAAt(x, y).A
		least, most = min(least, a), max(most, a)
	}
	b := img.Rect
	for x := b.Min.X + n; x < b.Max.X-n; x++ {
		if x < b.Max.X*3/10 || x > b.Max.X*4/10 {
			see(x, b.Min.Y+n)
		}
		see(x, b.Max.Y-1-n)
	}
	for y := b.Min.Y + n; y < b.Max.Y-n; y++ {
		see(b.Min.X+n, y)
		see(b.Max.X-1-n, y)
	}
	return [2]uint8{least, most}
}

// A page whose size is no whole number of units is not shrunk to one.
func TestFractionalPage(t *testing.T) {
	const size = 240.945 // 85 mm
	media := [4]float64{0, 0, size, size}
	s := sheet{media: "[0 0 240.945 240.945]", content: "0 g 230 10 10 220 re f"}
	img := renderOne(t, pdf("", nil, s), View{Media: media, W: size, H: size, PxW: 2400, PxH: 2400})
	// 230 and 240 units are 2290.98 and 2390.59 of 2400 pixels.
	for x, want := range map[int]uint8{2285: 0, 2289: 0, 2293: 255, 2388: 255, 2393: 0} {
		if got := img.NRGBAAt(x, 1200).A; got != want {
			t.Errorf("alpha of pixel %d is %d, not %d", x, got, want)
		}
	}
}

// A small window of a page that would be huge: right as far as allowed, and
// refused beyond.
func TestFarReach(t *testing.T) {
	// A slope of 0.6 from the bottom left corner to the top right.
	file := pdf("", nil, card("0 g 0 0 m 270 162 l 270 0 l f"))
	d := open(t, file)
	for _, at := range []float64{10, 135, 260} { // where on the page
		// As large as the farther end of the page allows, less a little.
		scale := (mostReach - 300) / max(at, 270-at)
		v := View{Media: cardMedia, X: at - 250/scale, Y: 162 - at*0.6 - 250/scale, W: 500 / scale, H: 500 / scale, PxW: 500, PxH: 500}
		img, err := d.Render(t.Context(), 1, v)
		if err != nil {
			t.Fatal(err)
		}
		for x, edge := range map[int]int{50: 370, 250: 250, 450: 130} {
			if above, below := img.NRGBAAt(x, edge-2).A, img.NRGBAAt(x, edge+2).A; above != 0 || below != 255 {
				t.Errorf("at %v, scale %.0f: alpha round pixel %d,%d is %d and %d", at, scale, x, edge, above, below)
			}
		}
	}
	v := View{Media: cardMedia, W: 1, H: 1, PxW: 120, PxH: 120}
	if _, err := d.Render(t.Context(), 1, v); !errors.Is(err, ErrTooBig) {
		t.Errorf("a page of 32 400 pixels: %v", err)
	}
}

// Paint beyond the MediaBox is not on the page, and a window may reach there.
func TestOutsideMedia(t *testing.T) {
	s := card("1 0 0 rg -1000 -1000 3000 3000 re f")
	img := renderOne(t, pdf("", nil, s), View{Media: cardMedia, X: -10, Y: -20, W: 290, H: 202, PxW: 580, PxH: 404})
	inside := image.Rect(20, 40, 560, 364)
	sameEverywhere(t, img, inside, red)
	for _, r := range []image.Rectangle{
		image.Rect(0, 0, 580, 40), image.Rect(0, 364, 580, 404), image.Rect(0, 0, 20, 404), image.Rect(560, 0, 580, 404),
	} {
		sameEverywhere(t, img, r, nothing)
	}
	far := renderOne(t, pdf("", nil, s), View{Media: cardMedia, X: 5000, W: 10, H: 10, PxW: 10, PxH: 10})
	sameEverywhere(t, far, far.Rect, nothing)
}

// A CropBox cuts neither plain paint nor a shading, which the renderer fits to
// the visible area.
func TestCropBoxDoesNotCut(t *testing.T) {
	for name, content := range map[string]string{"fill": "1 0 0 rg 0 0 270 162 re f", "shading": "/red sh"} {
		for turn := range 4 {
			s := card(content)
			s.crop, s.rotate = "[100 50 170 100]", 90*turn
			s.resources = "/Shading<</red<</ShadingType 2/ColorSpace/DeviceRGB/Coords[0 0 1 0]/Extend[true true]" +
				"/Function<</FunctionType 2/Domain[0 1]/C0[1 0 0]/C1[1 0 0]/N 1>>>>>>"
			v := View{Media: cardMedia, W: 270, H: 162, PxW: 540, PxH: 324}
			if turn%2 == 1 {
				v.W, v.H, v.PxW, v.PxH = v.H, v.W, v.PxH, v.PxW
			}
			t.Run(fmt.Sprint(name, turn), func(t *testing.T) {
				img := renderOne(t, pdf("", nil, s), v)
				sameEverywhere(t, img, img.Rect, red)
			})
		}
	}
}

// UserUnit makes the page larger, not the numbers on it.
func TestUserUnitIsLeftOut(t *testing.T) {
	s := card(quarters(0, 0, 270, 162))
	plain := renderOne(t, pdf("", nil, s), whole(cardMedia, 1))
	s.extra = "/UserUnit 4"
	if got := renderOne(t, pdf("", nil, s), whole(cardMedia, 1)); !cmp.Equal(plain.Pix, got.Pix) {
		t.Error("UserUnit changes the picture")
	}
}

// What shows on the screen and what prints are not the same (PDF 1.7, 8.11.4
// and Table 165, from memory).
func TestLayersAndAnnotations(t *testing.T) {
	catalog := "/OCProperties<</OCGs[100 0 R 101 0 R]/D<</OFF[100 0 R 101 0 R]/AS[<</Event/Print/Category[/Print]/OCGs[101 0 R]>>]>>>>"
	objects := []string{
		"<</Type/OCG/Name(off)>>",
		"<</Type/OCG/Name(for print)/Usage<</Print<</PrintState/ON>>>>>>",
		appearance("0 0 1 rg 0 0 20 20 re f"),
	}
	s := card("/OC/off BDC 1 0 0 rg 0 0 20 20 re f EMC /OC/print BDC 0 1 0 rg 30 0 20 20 re f EMC")
	s.resources = "/Properties<</off 100 0 R/print 101 0 R>>"
	s.extra = "/Annots[<</Type/Annot/Subtype/Stamp/Rect[200 0 220 20]/F 4/AP<</N 102 0 R>>>>" + // bit 3 of F: print
		"<</Type/Annot/Subtype/Stamp/Rect[230 0 250 20]/F 0/AP<</N 102 0 R>>>>]"
	file := pdf(catalog, objects, s)
	for _, printing := range []bool{false, true} {
		v := whole(cardMedia, 1)
		v.Printing = printing
		img := renderOne(t, file, v)
		want := map[int]color.NRGBA{10: nothing, 40: nothing, 210: nothing, 240: nothing}
		if printing {
			want[40], want[210] = green, blue
		}
		for x, c := range want {
			if got := img.NRGBAAt(x, 152); got != c {
				t.Errorf("printing %v: pixel %d is %v, not %v", printing, x, got, c)
			}
		}
	}
}

// appearance is the appearance of an annotation of 20 × 20 units.
func appearance(content string) string {
	return fmt.Sprintf("<</Type/XObject/Subtype/Form/BBox[0 0 20 20]/Length %d>>stream\n%s\nendstream", len(content), content)
}

// One document draws several pages, in any order, and the same page with other
// boxes.
func TestSeveralPages(t *testing.T) {
	var pages []sheet
	colours := []color.NRGBA{red, green, blue}
	for _, c := range []string{"1 0 0", "0 1 0", "0 0 1"} {
		pages = append(pages, card(c+" rg 0 0 135 162 re f"))
	}
	d := open(t, pdf("", nil, pages...))
	left, right := [4]float64{0, 0, 135, 162}, [4]float64{135, 0, 270, 162}
	for _, n := range []int{1, 3, 2, 2, 1} {
		for media, want := range map[[4]float64]color.NRGBA{left: colours[n-1], right: nothing} {
			img, err := d.Render(t.Context(), n, whole(media, 1))
			if err != nil {
				t.Fatal(err)
			}
			sameEverywhere(t, img, img.Rect, want)
		}
	}
}

// Type comes out without any font of the machine.
func TestTypeWithoutFonts(t *testing.T) {
	s := card("BT /F 40 Tf 20 60 Td (" + strings.Repeat("M", 6) + ") Tj ET")
	s.resources = "/Font<</F<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>>>"
	img := renderOne(t, pdf("", nil, s), whole(cardMedia, 2))
	inked := 0
	for i := 3; i < len(img.Pix); i += 4 {
		if img.Pix[i] > 127 {
			inked++
		}
	}
	// Six letters 40 units high, drawn at 2 pixels a unit: some thousand pixels.
	if inked < 4000 || inked > 20000 {
		t.Errorf("%d pixels are inked", inked)
	}
}
