package pdf

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"
)

// picture adds a grey image of w × h pixels.
func (w *writer) picture(width, height int, extra string) int {
	return w.stream(fmt.Sprintf("/Type /XObject /Subtype /Image /Width %d /Height %d /BitsPerComponent 8 /ColorSpace /DeviceGray %s", width, height, extra),
		strings.Repeat("x", width*height))
}

// form adds a form around content; its BBox is wide unless extra brings one.
func (w *writer) form(extra, resources, content string) int {
	if !strings.Contains(extra, "/BBox") {
		extra += " /BBox [-1000 -1000 1000 1000]"
	}
	return w.stream(fmt.Sprintf("/Type /XObject /Subtype /Form %s /Resources << %s >>", extra, resources), content)
}

// placements put an image of 60 × 30 pixels on the page in odd ways, with the ppi
// that arithmetic gives: pixels × 72 / length of the unit vector's image.
var placements = []struct {
	name       string
	cm         string // in the page
	form       string // content of a form around it; its matrix is formMatrix
	formMatrix string
	ppix, ppiy float64
	box        Rect // of a page 270 × 162
}{
	{name: "plain", cm: "144 0 0 72 10 20", ppix: 30, ppiy: 30, box: Rect{10, 70, 154, 142}},
	{name: "squeezed", cm: "72 0 0 72 10 20", ppix: 60, ppiy: 30, box: Rect{10, 70, 82, 142}},
	{name: "turned by 90", cm: "0 144 -72 0 100 5", ppix: 30, ppiy: 30, box: Rect{28, 13, 100, 157}},
	{name: "turned by 30", cm: "124.7077 72 -36 62.3538 60 10", ppix: 30, ppiy: 30, box: Rect{24, 17.6462, 184.7077, 152}},
	{name: "mirrored", cm: "-144 0 0 72 200 20", ppix: 30, ppiy: 30, box: Rect{56, 70, 200, 142}},
	{name: "upside down", cm: "144 0 0 -72 10 100", ppix: 30, ppiy: 30, box: Rect{10, 62, 154, 134}},
	{name: "skewed", cm: "144 0 36 72 10 20", ppix: 30, ppiy: 26.8328, box: Rect{10, 70, 190, 142}},
	{name: "many small steps", cm: "2 0 0 2 0 0 cm 0.5 0 0 0.5 4 4 cm 72 0 0 36 0 0", ppix: 60, ppiy: 60, box: Rect{8, 118, 80, 154}},
	{name: "in a form", cm: "2 0 0 2 0 0", form: "q 36 0 0 18 5 5 cm /Im Do Q", ppix: 60, ppiy: 60, box: Rect{10, 116, 82, 152}},
	{name: "in a form with a matrix", cm: "1 0 0 1 10 10", form: "q 72 0 0 36 0 0 cm /Im Do Q", formMatrix: "/Matrix [0 1 -1 0 100 0]", ppix: 60, ppiy: 60, box: Rect{74, 80, 110, 152}},
	{name: "tiny", cm: "14.4 0 0 7.2 10 20", ppix: 300, ppiy: 300, box: Rect{10, 134.8, 24.4, 142}},
	{name: "turned by 200", cm: "-135.3157 -49.2509 24.6254 -67.6579 200 140", ppix: 30, ppiy: 30, box: Rect{64.6843, 22, 224.6254, 138.9088}},
}

func placed(i int, page string) []byte {
	p := placements[i]
	w := &writer{}
	im := w.picture(60, 30, "")
	name := "/Im Do"
	resources := "/XObject << /Im " + ref(im) + " >>"
	if p.form != "" {
		f := w.form(p.formMatrix, resources, p.form)
		resources, name = "/XObject << /Fm "+ref(f)+" >>", "/Fm Do"
	}
	return w.page(page, resources, fmt.Sprintf("q %s cm %s Q", p.cm, name))
}

func TestImageResolution(t *testing.T) {
	for i, p := range placements {
		t.Run(p.name, func(t *testing.T) {
			c := walk(t, placed(i, "/MediaBox [0 0 270 162]"))
			if len(c.Images) != 1 {
				t.Fatalf("%d images, notes %q", len(c.Images), c.Notes)
			}
			im := c.Images[0]
			if math.Abs(im.PPIX-p.ppix) > 1e-3 || math.Abs(im.PPIY-p.ppiy) > 1e-3 {
				t.Errorf("%.4f × %.4f ppi, want %.4f × %.4f", im.PPIX, im.PPIY, p.ppix, p.ppiy)
			}
			if !near(im.Full, p.box, 1e-3) {
				t.Errorf("box %.4f, want %.4f", im.Full, p.box)
			}
		})
	}
}

// UserUnit makes the page larger, so the resolution falls: 2 halves it.
func TestImageResolutionWithUserUnit(t *testing.T) {
	c := walk(t, placed(0, "/MediaBox [0 0 270 162] /UserUnit 2"))
	if im := c.Images[0]; im.PPIX != 15 || im.PPIY != 15 || !near(im.Box, Rect{20, 140, 308, 284}, 1e-9) {
		t.Errorf("%.2f × %.2f ppi in %v", im.PPIX, im.PPIY, im.Box)
	}
}

// pdfimages (poppler) computes the same from its own interpreter, rounded to whole
// ppi. It ignores UserUnit, so pages with one are left to the test above.
func TestImageResolutionAgainstPdfimages(t *testing.T) {
	for i, p := range placements {
		out := command(t, "pdfimages", "-list", saved(t, "a.pdf", placed(i, "/MediaBox [0 0 270 162]")))
		lines := strings.Split(strings.TrimSpace(out), "\n")
		f := strings.Fields(lines[len(lines)-1])
		x, _ := strconv.ParseFloat(f[12], 64)
		y, _ := strconv.ParseFloat(f[13], 64)
		im := walk(t, placed(i, "/MediaBox [0 0 270 162]")).Images[0]
		if math.Abs(im.PPIX-x) > 0.51 || math.Abs(im.PPIY-y) > 0.51 {
			t.Errorf("%s: %.2f × %.2f ppi, pdfimages says %v × %v", p.name, im.PPIX, im.PPIY, x, y)
		}
	}
}

func TestImageKinds(t *testing.T) {
	w := &writer{}
	soft := w.picture(8, 4, "")
	hard := w.stream("/Subtype /Image /Width 16 /Height 8 /ImageMask true", strings.Repeat("x", 16))
	a := w.picture(10, 10, "/SMask "+ref(soft)+" /Mask "+ref(hard)+" /Interpolate true")
	b := w.picture(10, 10, "/Mask "+ref(hard))
	k := w.picture(10, 10, "/Mask [10 20] /Decode [1 0]")
	s := w.stream("/Subtype /Image /Width 16 /Height 8 /ImageMask true", strings.Repeat("x", 16))
	j := w.stream("/Subtype /Image /Width 5 /Height 5 /BitsPerComponent 8 /ColorSpace /DeviceRGB /Filter [/ASCIIHexDecode /DCTDecode]", "FFD8FFD9>")
	res := fmt.Sprintf("/XObject << /A %s /B %s /K %s /S %s /J %s >>", ref(a), ref(b), ref(k), ref(s), ref(j))
	c := walk(t, w.page("/MediaBox [0 0 100 100]", res, "q 72 0 0 72 0 0 cm /A Do /B Do /K Do 1 0 0 rg /S Do /J Do Q"))
	var got []string
	for _, im := range c.Images {
		got = append(got, fmt.Sprintf("%s %s mask=%v", im.Name, im.Mask, im.IsMask))
	}
	want := []string{
		"image 1 soft mask=false", "mask of image 1  mask=true",
		"image 2 explicit mask=false", "mask of image 2 stencil mask=true",
		"image 3 colour key mask=false", "image 4 stencil mask=false", "image 5  mask=false",
	}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
	if im := c.Images[0]; !im.Interpolate || im.Bits != 8 || im.Object != a {
		t.Errorf("%+v", im)
	}
	if im := c.Images[4]; len(im.ColorKey) != 2 || len(im.Decode) != 2 {
		t.Errorf("colour key %v decode %v", im.ColorKey, im.Decode)
	}
	if im := c.Images[5]; im.Fill.Space.Family != DeviceRGB {
		t.Errorf("a stencil paints %v", im.Fill.Space)
	}
	im := c.Images[6]
	if raw, err := im.Raw(); err != nil || im.Codec != "DCTDecode" || !bytes.Equal(raw, []byte{0xff, 0xd8, 0xff, 0xd9}) {
		t.Errorf("raw %x %v codec %q", raw, err, im.Codec)
	}
	if raw, err := c.Images[0].Raw(); err != nil || len(raw) != 100 {
		t.Errorf("%d samples, %v", len(raw), err)
	}
	// Masks and their device spaces are no paint of the page.
	for _, u := range c.Spaces {
		if u.Space.Family == DeviceGray && u.Count != 3 {
			t.Errorf("DeviceGray is used %d times, want 3", u.Count)
		}
	}
}

func TestInlineImages(t *testing.T) {
	data := "\x01EI \xff(xy" // 8 samples, an EI among them
	cases := []struct{ name, content string }{
		{"length known", "BI /W 4 /H 2 /BPC 8 /CS /G ID " + data + "\nEI Q"},
		{"long keys", "BI /Width 4 /Height 2 /BitsPerComponent 8 /ColorSpace /DeviceGray ID " + data + "\nEI Q"},
		{"no white space before EI", "BI /W 4 /H 2 /BPC 8 /CS /G ID " + data + "EI Q"},
		{"hexadecimal", "BI /W 4 /H 2 /BPC 8 /CS /G /F /AHx ID 0145492 0ff287879>\nEI Q"},
		{"filters in a list", "BI /W 4 /H 2 /BPC 8 /CS /G /F [/AHx] ID 01454920ff287879> EI Q"},
		{"run length", "BI /W 4 /H 2 /BPC 8 /CS /G /F /RL ID \x07" + data + "\x80\nEI Q"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got := walk(t, onePage("/MediaBox [0 0 100 100]", "", "q 40 0 0 20 0 0 cm "+c.content+" 0 0 5 5 re f"))
			if len(got.Images) != 1 || len(got.Paths) != 1 || len(got.Notes) > 0 {
				t.Fatalf("%d images, %d paths, notes %q", len(got.Images), len(got.Paths), got.Notes)
			}
			im := got.Images[0]
			raw, err := im.Raw()
			if im.W != 4 || im.H != 2 || math.Abs(im.PPIX-7.2) > 1e-9 || !im.Inline || err != nil || string(raw) != data {
				t.Errorf("%d × %d, %.2f ppi, inline %v, %q, %v", im.W, im.H, im.PPIX, im.Inline, raw, err)
			}
		})
	}
}
