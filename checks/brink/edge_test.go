package brink_test

import (
	"image/color"
	"math"
	"testing"

	"stoneproof/checks/brink"
	"stoneproof/rules"
)

// canvasOf paints a canvas pixel by pixel: w by h pixels of one size, with the
// trim's corner at x, y pixels.
func canvasOf(w, h int, px float64, trim rules.Size, at func(x, y int) color.NRGBA) brink.Canvas {
	c := brink.Canvas{W: w, H: h, Pix: make([]byte, 4*w*h), PxW: px, PxH: px, Trim: trim}
	c.X = -rules.Length((float64(w)*px - float64(trim.W)) / 2)
	c.Y = -rules.Length((float64(h)*px - float64(trim.H)) / 2)
	for y := range h {
		for x := range w {
			v := at(x, y)
			copy(c.Pix[4*(y*w+x):], []byte{v.R, v.G, v.B, v.A})
		}
	}
	return c
}

// usCanvas is a business card with bleed at 300 ppi.
func usCanvas(at func(x, y int) color.NRGBA) brink.Canvas {
	return canvasOf(1125, 675, 25400./300, rules.Size{W: rules.Inches(3.5), H: rules.Inches(2)}, at)
}

func TestEmptyOutermostRowIsASliver(t *testing.T) {
	c := usCanvas(func(_, y int) color.NRGBA {
		if y == 0 {
			return white
		}
		return teal
	})
	f := brink.Bleed(c, wantedBleed)
	if !f[0].Sliver || f[0].From != 0 || f[0].To != rules.Inches(3.5) || math.Abs(f[0].Extent.MM()-3.09) > .01 {
		t.Errorf("top: %+v, want a sliver of one pixel", f[0])
	}
	for _, o := range f[1:] {
		if o.From != o.To || o.Sliver {
			t.Errorf("%+v, want full", o)
		}
	}
}

func TestSoftenedOutermostRowIsNoSliver(t *testing.T) {
	for _, transparent := range []bool{true, false} {
		c := usCanvas(func(_, y int) color.NRGBA {
			if y > 0 {
				return teal
			}
			if transparent {
				return faint(teal, 90)
			}
			return mix(white, teal, .35)
		})
		c.Transparent = transparent
		if f := brink.Bleed(c, wantedBleed)[0]; f.Sliver || f.Extent != f.Room {
			t.Errorf("transparent %v: %+v, want full", transparent, f)
		}
	}
}

func TestCreamThatStopsIsFound(t *testing.T) {
	paint := func(x, y int) color.NRGBA {
		if y < 20 {
			return color.NRGBA{}
		}
		return cream
	}
	drawn := usCanvas(paint)
	drawn.Transparent = true
	opaque := usCanvas(func(x, y int) color.NRGBA {
		if y < 20 {
			return white
		}
		return cream
	})
	for name, c := range map[string]brink.Canvas{"rendered": drawn, "png": opaque} {
		f := brink.Bleed(c, wantedBleed)
		if want := 3.175 - 20*.08467; math.Abs(f[0].Extent.MM()-want) > .09 || f[2].From != f[2].To {
			t.Errorf("%s: %+v, want the top to stop at %.2f mm alone", name, f, want)
		}
	}
}

// TestTintAtTheBrinkIsPaint: a dark stripe that ends two pixels before the edge
// is followed by the next, pale one, not by paper.
func TestTintAtTheBrinkIsPaint(t *testing.T) {
	for _, tint := range []color.NRGBA{rgb(233, 236, 239), rgb(250, 238, 200), rgb(240, 245, 240)} {
		s := newSheet(business, usBleed, 300, 1)
		s.all(tint)
		for x := s.w + usBleed - .16 - 6; x > -12; x -= 12 {
			s.rect(teal, x, -usBleed, 6, s.h+2*usBleed)
		}
		for _, how := range []form{rendered, png, q90, q75} {
			checkSilentBleed(t, s.canvas(how))
		}
	}
}

func TestWhitePaintIsNoPaint(t *testing.T) {
	c := usCanvas(func(x, y int) color.NRGBA {
		if x < 37 || y < 37 || x >= 1125-37 || y >= 675-37 {
			return color.NRGBA{}
		}
		return white
	})
	c.Transparent = true
	for _, f := range brink.Bleed(c, wantedBleed) {
		if f.PaintAtTrim || f.From != f.To || f.Extent != f.Room {
			t.Errorf("%+v, want nothing to bleed", f)
		}
	}
}

func TestWhiteOver(t *testing.T) {
	for _, noise := range []int{0, 3} {
		c := usCanvas(func(x, y int) color.NRGBA {
			if y < 25 {
				return grey(uint8(255 - noise*((x*7+y*13)%11)/10))
			}
			return rust
		})
		c.Transparent = true
		f := brink.Bleed(c, wantedBleed)[0]
		if want := 3.175 - 25*.08467; !f.WhiteOver || math.Abs(f.Extent.MM()-want) > .09 {
			t.Errorf("noise %d: %+v, want a stop at %.2f mm before white paint", noise, f, want)
		}
	}
}

func TestRoom(t *testing.T) {
	trim := rules.Size{W: rules.MM(85), H: rules.MM(55)}
	tests := []struct {
		name           string
		beyond, wanted float64
		room           float64
	}{
		{"as wanted", 3, 3, 3}, {"less than wanted", 1.5, 3, 1.5}, {"more than wanted", 6, 3, 3}, {"none", 0, 3, 0},
	}
	for _, tt := range tests {
		const px = 50.
		n := int(2 * tt.beyond * 1000 / px)
		c := canvasOf(1700+n, 1100+n, px, trim, func(_, _ int) color.NRGBA { return ink })
		for _, f := range brink.Bleed(c, rules.MM(tt.wanted)) {
			if f.Room != rules.MM(tt.room) || f.Extent != f.Room || !f.PaintAtTrim {
				t.Errorf("%s: %+v, want full out to %g mm", tt.name, f, tt.room)
			}
		}
	}
}

// TestStopInFractionalPixels: a raster of any pixel size is measured to half
// of its pixel where the edge is softened.
func TestStopInFractionalPixels(t *testing.T) {
	for _, ppi := range []float64{131, 237, 299.7, 444} {
		s := newSheet(business, usBleed, ppi, 1)
		s.rect(teal, -usBleed, -1.37, s.w+2*usBleed, s.h+1.37+usBleed)
		f := brink.Bleed(s.canvas(rendered), wantedBleed)[0]
		if math.Abs(f.Extent.MM()-1.37) > .5*25.4/ppi {
			t.Errorf("%g ppi: stop told at %v, want 1.37 mm", ppi, f.Extent)
		}
	}
}

func TestUnreadableCanvas(t *testing.T) {
	good := usCanvas(func(_, _ int) color.NRGBA { return teal })
	for name, spoil := range map[string]func(c *brink.Canvas){
		"no pixels":      func(c *brink.Canvas) { c.Pix = nil },
		"too few pixels": func(c *brink.Canvas) { c.H *= 2 },
		"negative width": func(c *brink.Canvas) { c.W = -1 },
		"no pixel size":  func(c *brink.Canvas) { c.PxW = 0 },
		"not a number":   func(c *brink.Canvas) { c.PxH = math.NaN() },
		"infinite":       func(c *brink.Canvas) { c.PxW = math.Inf(1) },
		"no trim":        func(c *brink.Canvas) { c.Trim = rules.Size{} },
		"far away":       func(c *brink.Canvas) { c.X = math.MaxInt64 },
	} {
		c := good
		spoil(&c)
		for k, f := range brink.Bleed(c, wantedBleed) {
			if f.Edge != rules.AllEdges[k] || f.PaintAtTrim || f.Room != 0 || f.From != f.To {
				t.Errorf("%s: %+v", name, f)
			}
		}
		if in := brink.ReadGround(c).Intruders(wantedBleed); in != nil {
			t.Errorf("%s: %+v", name, in)
		}
	}
}

// TestSofteningIsLetPass: ink a tenth past the safe line is no alarm, more is.
func TestSofteningIsLetPass(t *testing.T) {
	for _, tt := range []struct {
		distance float64
		want     int
	}{{3.3, 0}, {3.12, 0}, {2.9, 1}} {
		s := newSheet(business, usBleed, 300, 1)
		s.lineAtFoot(ink, 20, tt.distance, 8, "Orchard End")
		if got := brink.ReadGround(s.canvas(rendered)).Intruders(wantedBleed); len(got) != tt.want {
			t.Errorf("%g mm from the trim: %+v, want %d", tt.distance, got, tt.want)
		}
	}
}

// TestStemOfALetterAtTheTrim: what ends there is a letter, the safe zone's to tell.
func TestStemOfALetterAtTheTrim(t *testing.T) {
	s := newSheet(business, usBleed, 300, 1)
	s.rect(ink, s.w-.5, 20, .62, 3.2)
	for _, how := range []form{rendered, q90} {
		checkSilentBleed(t, s.canvas(how))
	}
}

// TestOfNoConcern: what other rules judge, or nobody does.
func TestOfNoConcern(t *testing.T) {
	for _, p := range []picture{
		{"line frame 1.5 mm inside", business, func(s *sheet) { s.frame(ink, 1.5, .4); s.caption(ink) }},
		{"thick frame 1 mm inside", business, func(s *sheet) { s.all(straw); s.frame(rust, 1, 2) }},
		{"cutting marks in the bleed", business, func(s *sheet) {
			for _, x := range []float64{0, s.w} {
				s.rect(ink, x-.1, -3, .2, 2)
				s.rect(ink, x-.1, s.h+1, .2, 2)
			}
		}},
		{"gap of slanted stripes at the corner", business, func(s *sheet) {
			s.all(teal)
			s.keep([]point{{-.1, -usBleed}, {99, -usBleed}, {99, 60}, {-usBleed, 60}, {-usBleed, -.1}})
		}},
		{"rule 60 mm long beside the foot", business, func(s *sheet) { s.rect(ink, 14, s.h-2, 60, .3) }},
	} {
		c := p.sheet(300, 1).canvas(rendered)
		checkSilentBleed(t, c)
		if in := brink.ReadGround(c).Intruders(wantedBleed); len(in) > 0 {
			t.Errorf("%s: %+v", p.name, in)
		}
	}
}

// TestLineOnPanel: a panel that stops short of the trim is a frame, and not of
// concern here; the line on it is.
func TestLineOnPanel(t *testing.T) {
	s := newSheet(business, usBleed, 300, 1)
	s.all(teal)
	s.rect(straw, .8, .8, s.w-1.6, s.h-1.6)
	s.caption(ink)
	want := s.lineAtFoot(ink, 20, 1.9, 8, "Orchard End, Wendlebury Cross")
	for _, how := range []form{rendered, q90} {
		checkIntruders(t, s.canvas(how), business, []seen{want}, false)
	}
}

// TestLetteringAcrossStripes: letters that stand over the border of two grounds
// are as good as any.
func TestLetteringAcrossStripes(t *testing.T) {
	s := newSheet(business, usBleed, 300, 1)
	s.all(straw)
	s.stripes(rgb(200, 90, 80), 90, 16, 8, 0)
	want := s.lineAtFoot(ink, 12, 1.2, 9, "Marsh Lane Bakery")
	for _, how := range []form{rendered, q90} {
		found := false
		for _, in := range brink.ReadGround(s.canvas(how)).Intruders(wantedBleed) {
			found = found || in.Kind == want.kind && near(in.Distance.MM(), 1.2, .15)
		}
		if !found {
			t.Errorf("%s: the line is not found", how.name)
		}
	}
}

// TestSureBesidePhotograph: a photograph elsewhere on the card makes lettering
// on flat ground no less sure.
func TestSureBesidePhotograph(t *testing.T) {
	s := newSheet(business, usBleed, 300, 3)
	s.all(rgb(64, 61, 95))
	rough := s.octaves(3, 5)
	s.shadeIn(box(-s.bleed, -s.bleed, 35, 99), func(p point) color.NRGBA { return plus(rgb(120, 110, 90), 60*rough(p)) })
	s.lineAtFoot(white, 48, 1.3, 8, "Hedge & Hoe, Orchard End")
	for _, how := range []form{rendered, q75} {
		got := brink.ReadGround(s.canvas(how)).Intruders(wantedBleed)
		if len(got) != 1 || !got[0].Sure || got[0].Kind != brink.Lettering {
			t.Errorf("%s: %+v, want one line for sure", how.name, got)
		}
	}
}

// TestTurnedLine: lettering that runs up the card is one line too.
func TestTurnedLine(t *testing.T) {
	s := newSheet(upright, usBleed, 300, 1)
	s.lineAtFoot(ink, 8, 1.5, 8, "Ottery Pots, Kiln Yard")
	s.lineAtFoot(ink, 8, 6, 8, "thrown by hand")
	got := brink.ReadGround(quarterTurned(s.canvas(rendered))).Intruders(wantedBleed)
	if len(got) != 1 || got[0].Kind != brink.Lettering || got[0].Edge != rules.Left || !near(got[0].Distance.MM(), 1.5, .15) {
		t.Errorf("%+v, want one line 1.5 mm from the left", got)
	}
}

// TestCrowdedCanvas: more marks than any card has are a texture, and soon done with.
func TestCrowdedCanvas(t *testing.T) {
	c := usCanvas(func(x, y int) color.NRGBA {
		if x%6 < 4 && y%6 < 4 && (x/6*31+y/6*17)%5 > 0 {
			return ink
		}
		return white
	})
	if got := brink.ReadGround(c).Intruders(wantedBleed); len(got) > 0 {
		t.Errorf("%+v", got)
	}
}
