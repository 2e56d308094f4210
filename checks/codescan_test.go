package checks_test

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing/qrcode/decoder"
	"github.com/makiuchi-d/gozxing/qrcode/encoder"

	"stoneproof/checks"
	"stoneproof/checks/checktest"
	"stoneproof/checks/checktest/press"
	"stoneproof/rules"
)

const (
	shortText = "https://potter.example"                                                // version 2, 25 modules
	longText  = "https://bicycle-mender.example/wendlebury-cross/opening-hours?week=12" // version 5, 37 modules
)

// modulesOf is a code of level M by the library's encoder.
func modulesOf(t testing.TB, text string) [][]bool {
	t.Helper()
	code, err := encoder.Encoder_encode(text, decoder.ErrorCorrectionLevel_M, nil)
	if err != nil {
		t.Fatal(err)
	}
	m := code.GetMatrix()
	out := make([][]bool, m.GetHeight())
	for y := range out {
		for x := range m.GetWidth() {
			out[y] = append(out[y], m.Get(x, y) == 1)
		}
	}
	return out
}

// A drawn code's modules are told in mm; its middle lies in the middle of the card
// unless a test moves it.
type drawn struct {
	modules [][]bool
	module  float64 // mm
	turned  float64 // degrees
	x, y    float64 // middle, mm from the trim's top left corner
}

func drawnCode(t testing.TB, text string, module float64) drawn {
	return drawn{modulesOf(t, text), module, 0, 44.45, 25.4}
}

// matrix maps modules, y down, to the points of usCard.
func (d drawn) matrix() string {
	const mm = 72 / 25.4
	s, c := math.Sincos(d.turned * math.Pi / 180)
	k := d.module * mm
	a, b, e, f := k*c, -k*s, -k*s, -k*c
	n := float64(len(d.modules)) / 2
	x, y := 9+d.x*mm-n*(a+e), 153-d.y*mm-n*(b+f)
	return fmt.Sprintf("%.5f %.5f %.5f %.5f %.5f %.5f cm", a, b, e, f, x, y)
}

// squares draws each module by itself, each fills it.
func (d drawn) squares(end string) string {
	var b strings.Builder
	for y, row := range d.modules {
		for x, dark := range row {
			if dark {
				fmt.Fprintf(&b, "%d %d 1 1 re %s\n", x, y, end)
			}
		}
	}
	return b.String()
}

// ink draws the code by its squares, each filled by itself, in a colour.
func (d drawn) ink(colour string) string {
	return fmt.Sprintf("q %s %s %s Q\n", colour, d.matrix(), d.squares("f"))
}

// onePath draws it as one shape.
func (d drawn) onePath(colour string) string {
	return fmt.Sprintf("q %s %s %s f Q\n", colour, d.matrix(), d.squares(""))
}

// strokes draws each row's runs as thick lines.
func (d drawn) strokes(colour string) string {
	var b strings.Builder
	for y, row := range d.modules {
		for x := 0; x < len(row); x++ {
			from := x
			for x < len(row) && row[x] {
				x++
			}
			if x > from {
				fmt.Fprintf(&b, "%d %.1f m %d %.1f l S\n", from, float64(y)+0.5, x, float64(y)+0.5)
			}
		}
	}
	return fmt.Sprintf("q %s 1 w %s %s Q\n", colour, d.matrix(), b.String())
}

// picture is an image of a pixel a module, and what shows it.
func (d drawn) picture() (object, content string) {
	n := len(d.modules)
	var data strings.Builder
	for _, row := range d.modules {
		for _, dark := range row {
			data.WriteByte(map[bool]byte{true: 0, false: 255}[dark])
		}
	}
	object = stream(fmt.Sprintf("/Type /XObject /Subtype /Image /Width %d /Height %d /BitsPerComponent 8 /ColorSpace /DeviceGray", n, n), data.String())
	return object, fmt.Sprintf("q %s %d 0 0 %d 0 %d cm /Im0 Do Q\n", d.matrix(), n, -n, n)
}

// on is a grey card of pixels with the code on it.
func (d drawn) on(ppi float64, dark, light uint8) *image.Gray {
	w, h := int(math.Round(3.75*ppi)), int(math.Round(2.25*ppi))
	img := image.NewGray(image.Rect(0, 0, w, h))
	s, c := math.Sincos(d.turned * math.Pi / 180)
	n := float64(len(d.modules))
	const fine = 4
	for y := range h {
		for x := range w {
			sum := 0
			for k := range fine * fine {
				mx := (float64(x)+(float64(k%fine)+.5)/fine)/ppi*25.4 - 3.175 - d.x
				my := (float64(y)+(float64(k/fine)+.5)/fine)/ppi*25.4 - 3.175 - d.y
				u, v := (c*mx+s*my)/d.module+n/2, (c*my-s*mx)/d.module+n/2
				if u >= 0 && v >= 0 && u < n && v < n && d.modules[int(v)][int(u)] {
					sum += int(dark)
				} else {
					sum += int(light)
				}
			}
			img.SetGray(x, y, color.Gray{uint8(sum / fine / fine)})
		}
	}
	return img
}

const black, white = "0 0 0 1 k", "0 0 0 0 k"

// flood fills the whole page.
func flood(colour string) string { return colour + " 0 0 270 162 re f\n" }

func TestCodeScan(t *testing.T) {
	at := func(module, x, y, turned float64) drawn {
		d := drawnCode(t, shortText, module)
		d.x, d.y, d.turned = x, y, turned
		return d
	}
	mid := func(module float64) drawn { return drawnCode(t, shortText, module) }
	big := drawnCode(t, longText, 0.25)
	object, shown := mid(0.5).picture()
	pixel := chunk("pHYs", "\x00\x00\x2e\x23\x00\x00\x2e\x23\x01") // 300 ppi
	tiny, tinyShown := mid(0.12).picture()
	try(t, checks.CodeScan, []trial{
		{"nothing", card(flood("0.2 0 0 0 k")).file(), rules.Order{}, "pass", "No QR code on this side."},
		{"squares", card(mid(0.5).ink(black)).file(), rules.Order{}, "pass", `The QR code "https://potter.example" (1.75 in across, 1 in down)`},
		{"one path", card(mid(0.5).onePath(black)).file(), rules.Order{}, "pass", "reads as printed: 25 × 25 modules of 0.5 mm"},
		{"lines", card(mid(0.5).strokes("0 0 0 1 K")).file(), rules.Order{}, "pass", "reads as printed: 25 × 25"},
		{"picture", card(shown, object).with("/XObject << /Im0 5 0 R >>").file(), rules.Order{}, "pass", "reads as printed: 25 × 25"},
		{"turned", card(at(0.5, 30, 25, 33).ink(black)).file(), rules.Order{}, "pass", "reads as printed"},
		{"in colour", card(mid(0.5).ink("1 0.8 0 0.3 k")).file(), rules.Order{}, "pass", "reads as printed"},
		{"two", card(at(0.4, 20, 25, 0).ink(black) + at(0.4, 60, 25, 45).ink(black)).file(), rules.Order{}, "pass", "(2.36 in across"},
		{"small", card(big.ink(black)).file(), rules.Order{}, "warn", "Enlarge it to 0.49 in, or shorten its text from 69 to 26 characters."},
		{"too fine", card(mid(0.12).ink(black)).file(), rules.Order{}, "fail", "finer than four dots of the printer"},
		{"too fine, as one shape", card(mid(0.09).onePath(black)).file(), rules.Order{}, "fail", "finer than four dots of the printer"},
		{"too fine for this printer", card(mid(0.25).ink(black)).file(), rules.Order{Process: "desktop"}, "fail", "0.28 mm"},
		{"too fine in a picture", card(tinyShown, tiny).with("/XObject << /Im0 5 0 R >>").file(), rules.Order{}, "fail", "finer than"},
		{"pale", card(mid(0.5).ink("0 0 0 0.18 k")).file(), rules.Order{}, "warn", "is pale"},
		{"yellow", card(mid(0.5).ink("0 0.1 1 0 k")).file(), rules.Order{}, "warn", "is pale"},
		{"paler", card(mid(0.5).ink("0 0 0 0.08 k")).file(), rules.Order{}, "fail", "is pale"},
		{"light on dark", card(flood(black) + mid(0.5).ink(white)).file(), rules.Order{}, "warn", "light on dark"},
		{"mirrored", card("q -1 0 0 1 270 0 cm " + mid(0.5).ink(black) + " Q").file(), rules.Order{}, "warn", "is mirrored"},
		{"label too tight", card(flood("0 0 0 1 k") + white + " 105 51 57 60 re f\n" + mid(0.65).ink(black)).file(), rules.Order{}, "warn right", "needs a bare margin of 4 modules"},
		{"no margin", card(flood(black) + white + fmt.Sprintf(" q %s 0 0 25 25 re f Q ", mid(0.6).matrix()) + mid(0.6).ink(black)).file(), rules.Order{}, "fail top", "needs a bare margin"},
		{"near the trim", card(at(0.5, 7.3, 25, 0).ink(black)).file(), rules.Order{}, "warn left", "lies inside the trim"},
		{"across the trim", card(at(0.5, 4, 25, 0).ink(black)).file(), rules.Order{}, "fail left", "is cut by the knife"},
		{"covered", card(mid(0.5).ink(black) + white + " 130 64 22 20 re f\n").file(), rules.Order{}, "fail", "does not read as printed: something covers it"},
		{"pixels", pngFile(t, mid(0.5).on(300, 0, 255), pixel), rules.Order{}, "pass", "reads as printed"},
		{"pixels turned", pngFile(t, at(0.4, 30, 25, 71).on(300, 30, 240), pixel), rules.Order{}, "pass", "reads as printed"},
		{"pixels too fine", pngFile(t, mid(0.15).on(300, 0, 255), pixel), rules.Order{}, "fail", "finer than"},
		{"pixels pale", pngFile(t, mid(0.5).on(300, 215, 255), pixel), rules.Order{}, "warn", "is pale"},
	})
}

// TestCodeInEveryContainer: the same card with a sound code, and with one that is too
// small, says the same however its file is made.
func TestCodeInEveryContainer(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long, in one goroutine")
	}
	c := press.Card{Maker: "clock-mender", Style: press.Broadside, Size: "us-business"}
	makes := map[string]func(mm float64) []byte{
		"inks.pdf": func(mm float64) []byte { return c.PDF(press.Code(mm)) },
		"turned":   func(mm float64) []byte { return c.PDF(press.Code(mm), press.Rotated(90), press.UserUnit(2)) },
		"rgb.pdf":  func(mm float64) []byte { return c.PDF(press.Code(mm), press.In(press.RGB)) },
		"rgb.jpg":  func(mm float64) []byte { return c.JPEG(300, press.Code(mm)) },
		"inks.jpg": func(mm float64) []byte { return c.JPEG(300, press.Code(mm), press.In(press.CMYK)) },
		"grey.png": func(mm float64) []byte { return c.PNG(300, press.Code(mm), press.In(press.Grey)) },
		"inks.tif": func(mm float64) []byte { return c.TIFF(300, press.Code(mm)) },
		"fine.tif": func(mm float64) []byte { return c.TIFF(600, press.Code(mm), press.In(press.RGB)) },
	}
	var trials []trial
	for name, file := range makes {
		trials = append(trials,
			trial{"sound " + name, file(10), rules.Order{}, "pass", `The QR code "https://quarterpast.example" (3.09 in across, 1.59 in down) reads as printed: 29 × 29 modules`},
			trial{"small " + name, file(7.2), rules.Order{}, "warn", "not every telephone reads less than 0.33 mm"},
			trial{"too small " + name, file(4.4), rules.Order{}, "fail", "Enlarge it to 0.38 in."})
	}
	try(t, checks.CodeScan, trials)
}

// TestCodeOnPhotograph: on a photograph, lightened as a designer would do, a code reads;
// on the photograph as it is, we say no more than is so.
func TestCodeOnPhotograph(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long, in one goroutine")
	}
	for _, maker := range press.Makers()[:6] {
		c := press.Card{Maker: maker, Style: press.Vignette, Size: "us-business"}
		photo, err := jpeg.Decode(bytes.NewReader(c.JPEG(300)))
		if err != nil {
			t.Fatal(err)
		}
		for k, module := range []float64{0.35, 0.5, 0.7} {
			d := drawnCode(t, shortText, module)
			d.turned, d.x = float64(20*k), 22
			code := d.on(300, 0, 255)
			img := image.NewRGBA(photo.Bounds())
			for y := range img.Rect.Dy() {
				for x := range img.Rect.Dx() {
					r, g, b, _ := photo.At(x, y).RGBA()
					v := uint32(code.GrayAt(x, y).Y)
					pale := func(c uint32) uint8 { return uint8((150 + (c>>8)*105/255) * v / 255) }
					img.SetRGBA(x, y, color.RGBA{pale(r), pale(g), pale(b), 255})
				}
			}
			file := pngFile(t, opaque{img}, chunk("pHYs", "\x00\x00\x2e\x23\x00\x00\x2e\x23\x01"))
			r := checktest.JudgeBy(t, kept(t, "card.png", file), rules.Order{}, checks.CodeScan)
			if !strings.Contains(words(r), "potter.example") || strings.Contains(words(r), "does not read") {
				t.Errorf("%s, %g mm: %s", maker, module, words(r))
			}
		}
	}
}

// TestNoCodeIsNotDrawn: a page that cannot hold a code is judged without being drawn.
func TestNoCodeIsNotDrawn(t *testing.T) {
	c := press.Card{Maker: "potter", Style: press.Dark, Size: "us-business"}
	judge := checktest.NewJudge(t, rules.Order{}, checks.CodeScan)
	judge.Renderer = nil // it would panic
	r := judge.File(t.Context(), kept(t, "card.pdf", c.PDF()))
	if verdicts(r, "code-scan") != "pass" {
		t.Error(words(r))
	}
}

// TestCodeSaysNothingHarmful: what a code holds is shown as text alone.
func TestCodeSaysNothingHarmful(t *testing.T) {
	for text, says := range map[string]string{
		"\x1b]0;title\x07 plain":                        `"\x1b]0;title\a plain"`,
		"WIFI:S:bakery;T:WPA;P:secret bread;;":          "with a Wi-Fi login of 36 characters",
		"BEGIN:VCARD\nVERSION:3.0\nN:Sorrel\nEND:VCARD": "with a contact card of 42 characters",
	} {
		d := drawnCode(t, text, 0.5)
		r := checktest.JudgeBy(t, kept(t, "card.pdf", card(d.ink(black)).file()), rules.Order{}, checks.CodeScan)
		if !strings.Contains(words(r), says) || strings.Contains(words(r), "secret") {
			t.Errorf("%q: %s", text, words(r))
		}
	}
}
