package codes_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"stoneproof/checks/codes"
)

// dot is that of a printer of 600 dpi, micrometres.
const dot = 42.3

// alone draws a symbol in a picture with room for it at any turn.
func (s symbol) alone(t testing.TB, ppi float64) codes.Plane {
	size := s.module * (1.45*float64(len(s.matrix(t))) + 16)
	return s.plane(t, size, size, ppi)
}

// readOne reads the one code of a picture.
func readOne(t testing.TB, p codes.Plane) codes.Code {
	t.Helper()
	found := codes.Read(p, dot)
	if len(found) != 1 {
		t.Fatalf("found %d codes, want 1", len(found))
	}
	return found[0]
}

// TestEveryTurn: every version to 10, each level, at modules from 0.15 to 1 mm, whichever
// way it is turned, is found and read, and its size is told to a hundredth.
func TestEveryTurn(t *testing.T) {
	turns := 12
	if testing.Short() {
		turns = 3
	}
	for k, module := range []float64{0.15, 0.2, 0.33, 0.5, 1} {
		for turn := range turns {
			version := 1 + (turn+2*k)%10
			s := plain(long(version), module)
			s.turned = float64(turn) * 360 / float64(turns)
			p := s.alone(t, 300)
			c := readOne(t, p)
			if !c.Readable || c.Text != s.text || c.Level != "M" || c.Modules != codes.Modules(version) || c.Reversed {
				t.Errorf("version %d, %g mm, %g°: %+v", version, module, s.turned, c)
			}
			if math.Abs(c.Module/1000-module) > 0.01*module {
				t.Errorf("version %d, %g mm, %g°: a module of %g µm", version, module, s.turned, c.Module)
			}
			if len(codes.Suspects(p)) == 0 {
				t.Errorf("version %d, %g mm, %g°: not suspected", version, module, s.turned)
			}
		}
	}
}

// TestAnyPlace: where on the pixels a code lies, how it is turned, and its level of
// error correction make no difference; its corners are where they were drawn.
func TestAnyPlace(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		s := plain(rapid.StringMatching(`[a-zA-Z0-9/:. -]{1,60}`).Draw(r, "text"), rapid.Float64Range(0.17, 0.6).Draw(r, "module"))
		s.level = rapid.SampledFrom([]string{"L", "M", "Q", "H"}).Draw(r, "level")
		s.turned = rapid.Float64Range(0, 360).Draw(r, "turned")
		size := s.module * (1.45*float64(len(s.matrix(t))) + 16)
		w := size + rapid.Float64Range(0, 0.2).Draw(r, "wider")
		ppi := rapid.Float64Range(300, 600).Draw(r, "ppi")
		found := codes.Read(s.plane(t, w, size, ppi), dot)
		if len(found) != 1 || !found[0].Readable || found[0].Text != s.text || found[0].Level != s.level {
			r.Fatalf("%+v", found)
		}
		sin, cos := math.Sincos(s.turned * math.Pi / 180)
		half := s.module * float64(found[0].Modules) / 2
		for k, d := range [4]codes.Point{{X: -1, Y: -1}, {X: 1, Y: -1}, {X: 1, Y: 1}, {X: -1, Y: 1}} {
			x := 1000 * (w/2 + half*(cos*d.X-sin*d.Y))
			y := 1000 * (size/2 + half*(sin*d.X+cos*d.Y))
			if c := found[0].Corners[k]; math.Hypot(c.X-x, c.Y-y) > 0.4*found[0].Module {
				r.Errorf("corner %d at %.0f, %.0f µm, drawn at %.0f, %.0f", k, c.X, c.Y, x, y)
			}
		}
	})
}

// TestQuiet: what is bare beside a code is told to a fifth of a module.
func TestQuiet(t *testing.T) {
	for _, want := range []float64{0, 1, 2, 3.5, 4, 5} {
		for _, turned := range []float64{0, 30, 90, 211} {
			s := plain(long(2), 0.4)
			s.quiet, s.ground, s.turned = want, 20, turned
			for k, got := range readOne(t, s.alone(t, 600)).Quiet {
				if math.Abs(got-want) > 0.2 {
					t.Errorf("%g modules, turned by %g: side %d has %g", want, turned, k, got)
				}
			}
		}
	}
	if got := readOne(t, plain(long(2), 0.4).alone(t, 600)).Quiet; got != [4]float64{6, 6, 6, 6} {
		t.Errorf("all bare: %v", got)
	}
}

// TestContrast checks against sRGB (IEC 61966-2-1): the coded value 188 is half of all
// light, 137 a quarter, and 89 a tenth.
func TestContrast(t *testing.T) {
	for _, tt := range []struct{ dark, light, want float64 }{
		{0, 255, 1}, {188, 255, 0.5}, {0, 188, 0.5}, {137, 188, 0.25}, {0, 89, 0.1},
	} {
		s := plain(long(3), 0.5)
		s.dark, s.light, s.ground = tt.dark, tt.light, tt.light
		if c := readOne(t, s.alone(t, 300)); math.Abs(c.Contrast-tt.want) > 0.01 {
			t.Errorf("%g on %g: contrast %g, want %g", tt.dark, tt.light, c.Contrast, tt.want)
		}
	}
}

func TestReversed(t *testing.T) {
	for turned := 0.0; turned < 360; turned += 40 {
		s := plain(long(3), 0.4)
		s.dark, s.light, s.ground, s.turned = 250, 30, 30, turned
		if c := readOne(t, s.alone(t, 300)); !c.Reversed || !c.Readable || c.Text != s.text {
			t.Errorf("turned by %g: %+v", turned, c)
		}
	}
}

func TestMirrored(t *testing.T) {
	s := plain(long(3), 0.4)
	s.turned = 25
	p := s.alone(t, 300)
	if readOne(t, p).Mirrored {
		t.Error("a sound code is called mirrored")
	}
	for y := range p.H {
		slices.Reverse(p.Pix[y*p.W : (y+1)*p.W])
	}
	if c := readOne(t, p); !c.Mirrored || !c.Readable || c.Text != s.text {
		t.Errorf("%+v", c)
	}
}

// TestTooFine: what is finer than the printer's dots reads in the art and not in print.
func TestTooFine(t *testing.T) {
	c := readOne(t, plain(long(5), 0.12).alone(t, 1200))
	if !c.Readable {
		t.Errorf("0.12 mm at 600 dpi: %+v", c)
	}
	found := codes.Read(plain(long(5), 0.12).alone(t, 1200), 150)
	if len(found) != 1 || found[0].Readable || found[0].Text != long(5) {
		t.Errorf("0.12 mm in dots of 0.15 mm: %+v", found)
	}
}

// TestSeveral: codes side by side are not taken for each other.
func TestSeveral(t *testing.T) {
	const ppi = 300
	a, b := plain("the left one", 0.4), plain("the one on the right", 0.4)
	left, right := a.plane(t, 16, 16, ppi), b.plane(t, 16, 16, ppi)
	both := codes.Plane{W: left.W + right.W, H: left.H, PxW: left.PxW, PxH: left.PxH}
	for y := range left.H {
		both.Pix = append(both.Pix, left.Pix[y*left.W:(y+1)*left.W]...)
		both.Pix = append(both.Pix, right.Pix[y*right.W:(y+1)*right.W]...)
	}
	said := map[string]bool{}
	for _, c := range codes.Read(both, dot) {
		said[c.Text] = c.Readable
	}
	if len(said) != 2 || !said[a.text] || !said[b.text] {
		t.Errorf("read %v", said)
	}
}

// TestOblong: pixels need not be square.
func TestOblong(t *testing.T) {
	s := plain(long(3), 0.5)
	s.turned = 20
	p := s.plane(t, 30, 30, 600)
	half := codes.Plane{W: p.W / 2, H: p.H, PxW: 2 * p.PxW, PxH: p.PxH}
	for y := range p.H {
		for x := range half.W {
			half.Pix = append(half.Pix, byte((int(p.Pix[y*p.W+2*x])+int(p.Pix[y*p.W+2*x+1]))/2))
		}
	}
	if c := readOne(t, half); !c.Readable || math.Abs(c.Module-500) > 5 {
		t.Errorf("%+v", c)
	}
}

// TestSameTwice: the order of anything found is fixed.
func TestSameTwice(t *testing.T) {
	s := busy()
	s.dark = 20
	p := s.plane(t, 40, 40, 300)
	if a, b := fmt.Sprint(codes.Read(p, dot), codes.Suspects(p)), fmt.Sprint(codes.Read(p, dot), codes.Suspects(p)); a != b {
		t.Errorf("%s\n%s", a, b)
	}
}

func TestUnsoundPictures(t *testing.T) {
	pix := make([]byte, 100)
	for _, p := range []codes.Plane{
		{}, {Pix: pix, W: 10, H: 11, PxW: 1, PxH: 1}, {Pix: pix, W: -10, H: -10, PxW: 1, PxH: 1}, {Pix: pix, W: 10, H: 10},
		{Pix: pix, W: 10, H: 10, PxW: math.NaN(), PxH: 1}, {Pix: pix, W: 10, H: 10, PxW: math.Inf(1), PxH: 1},
		{Pix: pix, W: 1 << 40, H: 1 << 40, PxW: 1, PxH: 1},
	} {
		if len(codes.Suspects(p))+len(codes.Read(p, dot)) > 0 {
			t.Errorf("found something in %d × %d pixels of %g", p.W, p.H, p.PxW)
		}
	}
	for _, d := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if codes.Read(plain("x", 0.5).alone(t, 300), d) != nil {
			t.Errorf("read in dots of %g", d)
		}
	}
}
