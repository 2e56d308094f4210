package codes_test

import (
	"math"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing/qrcode/decoder"
	"github.com/makiuchi-d/gozxing/qrcode/encoder"

	"stoneproof/checks/codes"
)

// symbol is a code to be drawn.
type symbol struct {
	text    string
	level   string  // L, M, Q, H
	module  float64 // mm
	turned  float64 // degrees
	dark    float64 // light of the dark modules, 0 to 255
	light   float64 // of the light ones
	quiet   float64 // modules of bare ground
	ground  float64 // light beyond them
	texture func(x, y float64) float64
}

// plain is black on white, with more room than it needs.
func plain(text string, module float64) symbol {
	return symbol{text: text, level: "M", module: module, light: 255, quiet: 12, ground: 255}
}

func (s symbol) matrix(t testing.TB) [][]bool {
	t.Helper()
	level, err := decoder.ErrorCorrectionLevel_ValueOf(s.level)
	if err != nil {
		t.Fatal(err)
	}
	code, werr := encoder.Encoder_encode(s.text, level, nil)
	if werr != nil {
		t.Fatal(werr)
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

// plane draws the symbol in the middle of a picture of w × h mm, each pixel the mean
// of 4 × 4 places.
func (s symbol) plane(t testing.TB, w, h, ppi float64) codes.Plane {
	m := s.matrix(t)
	n := float64(len(m))
	px := 25.4 / ppi
	p := codes.Plane{W: int(w / px), H: int(h / px), PxW: 1000 * px, PxH: 1000 * px}
	p.Pix = make([]byte, p.W*p.H)
	sin, cos := math.Sincos(s.turned * math.Pi / 180)
	const fine = 4
	for y := range p.H {
		for x := range p.W {
			sum := 0.0
			for k := range fine * fine {
				mx := (float64(x)+(float64(k%fine)+0.5)/fine)*px - w/2
				my := (float64(y)+(float64(k/fine)+0.5)/fine)*px - h/2
				u, v := (cos*mx+sin*my)/s.module+n/2, (-sin*mx+cos*my)/s.module+n/2
				sum += s.lightAt(m, u, v, mx, my)
			}
			p.Pix[y*p.W+x] = byte(max(0, min(255, sum/fine/fine+0.5)))
		}
	}
	return p
}

func (s symbol) lightAt(m [][]bool, u, v, x, y float64) float64 {
	n := float64(len(m))
	grain := 0.0
	if s.texture != nil {
		grain = s.texture(x, y)
	}
	switch {
	case u >= 0 && v >= 0 && u < n && v < n && m[int(v)][int(u)]:
		return s.dark + grain*0.3
	case u >= -s.quiet && v >= -s.quiet && u < n+s.quiet && v < n+s.quiet:
		return s.light + grain
	}
	return s.ground + grain
}

// long is a text that makes a symbol of a version at level M, in bytes.
func long(version int) string {
	fits := map[int]int{1: 14, 2: 26, 3: 42, 4: 62, 5: 84, 6: 106, 7: 122, 8: 152, 9: 180, 10: 213}
	return strings.Repeat("https://wendlebury.example/a", 10)[:fits[version]]
}
