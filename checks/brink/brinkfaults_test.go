package brink_test

import (
	"image/color"
	"testing"

	"stoneproof/checks/brink"
	"stoneproof/rules"
)

// Real faults on the very art that has to be let pass: what is cut off straight is
// cut off, however wild it is, and a line of type stays one beside paint and paper.

// paintedEdge is the first edge, from the k-th on, that is painted all along in the
// bleed of a picture as rendered.
func paintedEdge(c brink.Canvas, k int) (e rules.Edge, ok bool) {
	at := func(x, y int) bool {
		p := c.Pix[4*(y*c.W+x):]
		return p[3] > 200 && min(p[0], p[1], p[2]) < 225
	}
	const row = 4 // within the outermost half millimetre
	for n := range 4 {
		e = rules.AllEdges[(k+n)%4]
		long, seen := c.W, 0
		if e == rules.Left || e == rules.Right {
			long = c.H
		}
		for i := range long {
			x, y := map[rules.Edge]func() (int, int){
				rules.Top: func() (int, int) { return i, row }, rules.Bottom: func() (int, int) { return i, c.H - 1 - row },
				rules.Left: func() (int, int) { return row, i }, rules.Right: func() (int, int) { return c.W - 1 - row, i },
			}[e]()
			if at(x, y) {
				seen++
			}
		}
		if 50*seen > 49*long {
			return e, true
		}
	}
	return "", false
}

// TestArtCutOff cuts each card that is sound, and painted all along an edge, at that
// edge: at the trim, or some way beyond it.
func TestArtCutOff(t *testing.T) {
	extents := []float64{0, 1.2, .5, 2}
	// Its stripes run along the edge: where one is cut, the white beside it is taken for
	// the next gap.
	const taken = "awning"
	cut := 0
	for k, p := range quietPictures() {
		if p.name == taken || !*thorough && k%2 != 0 || testing.Short() && k%8 != 0 {
			continue
		}
		draw := p.once(uint64(k + 1))
		e, ok := paintedEdge(draw(300).canvas(rendered), k)
		if !ok {
			continue
		}
		cut++
		extent := extents[k%4]
		t.Run(p.name, func(t *testing.T) {
			t.Parallel()
			s := draw(300)
			s.keep(s.outline(map[rules.Edge]float64{e: extent}))
			long := s.w
			if e == rules.Left || e == rules.Right {
				long = s.h
			}
			how := []form{rendered, q90, png, q75}[k/4%4]
			for _, f := range brink.Bleed(s.canvas(how), wantedBleed) {
				if f.Edge != e {
					continue
				}
				if !near(f.Extent.MM(), extent, .12) || f.To.MM()-f.From.MM() < .9*long {
					t.Errorf("%s: %+v, want a stop at %g mm all along", how.name, f, extent)
				}
			}
		})
	}
	if cut < 5 {
		t.Errorf("only %d cards have an edge to cut", cut)
	}
}

// shortBrinks are cards of which only a part is painted, cut off where it is.
func shortBrinks() []shortCard {
	foot := func(from, to, extent float64) []short { return []short{{rules.Bottom, from, to, extent}} }
	return []shortCard{
		{"torn kraft drawn to the trim", func(s *sheet) {
			s.torn(rgb(190, 160, 120), 30, 2)
			s.keep(s.outline(map[rules.Edge]float64{rules.Top: 0}))
		}, []short{{rules.Top, 0, bw, 0}}, 0},
		{"spatter on a colour cut past the foot", func(s *sheet) {
			s.all(straw)
			s.spatter(rust, 60, s.h, 12, 160)
			s.keep(s.outline(map[rules.Edge]float64{rules.Bottom: .8}))
		}, foot(0, bw, .8), 0},
		{"blots on bare paper cut at the foot", func(s *sheet) {
			s.disc(ink, 20, s.h, 4)
			s.disc(ink, 60, s.h-1, 5)
			s.keep(s.outline(map[rules.Edge]float64{rules.Bottom: 0}))
		}, []short{{rules.Bottom, 16, 24, 0}, {rules.Bottom, 55, 65, 0}}, .6},
		{"drop shadow cut at the trim while still dark", func(s *sheet) {
			s.all(rgb(235, 225, 205))
			s.shadow(8, 8, s.w-16, s.h-10, 6, 170)
			s.rect(teal, 8, 8, s.w-16, s.h-16)
			s.keep(s.outline(map[rules.Edge]float64{rules.Bottom: 0}))
		}, foot(0, bw, 0), 0},
		{"dark end of a photograph cut past the foot", func(s *sheet) {
			s.photo(rgb(190, 205, 225), rgb(235, 235, 230), rgb(60, 70, 50))
			s.keep(s.outline(map[rules.Edge]float64{rules.Bottom: 1.5}))
		}, foot(0, bw, 1.5), 0},
		{"tiles on a colour cut at the foot", func(s *sheet) {
			s.all(straw)
			s.grid(4, true, func(x, y float64) {
				s.rect(teal, x-1.2, y-1.2, 2.4, 2.4)
				s.disc(white, x, y, .5)
			})
			s.keep(s.outline(map[rules.Edge]float64{rules.Bottom: .4}))
		}, foot(0, bw, .4), 0},
	}
}

func TestShortBrinks(t *testing.T) {
	for k, card := range shortBrinks() {
		t.Run(card.name, func(t *testing.T) {
			t.Parallel()
			draw := picture{card.name, business, card.paint}.once(uint64(k + 1))
			eachForm(t, k, draw, func(t *testing.T, s *sheet, how form) {
				checkShort(t, s.canvas(how), card.short, max(.3, card.loose))
			})
		})
	}
}

// TestSpatterIsNoMark: drops that ran together near the trim are paint, whatever they
// look like; now and then one clot may be asked about. A mark with a few dots about it is
// a mark.
func TestSpatterIsNoMark(t *testing.T) {
	cards, asked := 20, 0
	if testing.Short() {
		cards = 2
	}
	for seed := range cards {
		s := newSheet(business, usBleed, 300, uint64(seed)+1)
		s.spatter(s.hue(), s.between(2, s.w-2), s.between(1, 8), s.between(3, 9), 40+4*seed)
		s.caption(ink)
		c := s.canvas([]form{rendered, q90}[seed%2])
		checkSilentBleed(t, c)
		for _, in := range brink.ReadGround(c).Intruders(wantedBleed) {
			asked++
			if in.Sure {
				t.Errorf("seed %d: %+v", seed+1, in)
			}
		}
	}
	if asked > 1 {
		t.Errorf("%d of %d cards told", asked, cards)
	}
	s := newSheet(business, usBleed, 300, 1)
	s.ring(rust, 44, 6, 4, 1)
	for _, x := range []float64{32, 35, 38, 50, 53, 56} {
		s.disc(rust, x, 6, .7)
	}
	if in := brink.ReadGround(s.canvas(rendered)).Intruders(wantedBleed); len(in) == 0 {
		t.Error("a ring between dots, 2 mm from the trim, is not found")
	}
}

// TestLinesBesideBrinks: type that the knife may take, on cards whose edges torn paper,
// spatter, washes and shadows run over elsewhere.
func TestLinesBesideBrinks(t *testing.T) {
	const words = "Kiln Yard, Wendlebury Cross"
	for k, tt := range []struct {
		name  string
		paint func(s *sheet)
		line  func(s *sheet) seen
	}{
		{"under torn paper", func(s *sheet) { s.torn(ink, 14, 2) },
			func(s *sheet) seen { return s.lineAtFoot(ink, 20, 1.2, 8, words) }},
		{"on torn paper", func(s *sheet) { s.torn(rgb(190, 160, 120), 34, 2) },
			func(s *sheet) seen { return s.line(ink, 20, 1.2, 8, words) }},
		{"away from spatter", func(s *sheet) { s.spatter(rust, 82, 6, 6, 90) },
			func(s *sheet) seen { return s.lineAtFoot(ink, 10, 1, 8, words) }},
		{"away from a wash", func(s *sheet) { s.wash(teal, 84, 4, 22, 16, .25) },
			func(s *sheet) seen { return s.lineAtFoot(ink, 8, 1.4, 8, words) }},
		{"in a shadow that fades through the trim", func(s *sheet) {
			s.all(straw)
			s.shadow(8, 8, s.w-16, s.h-16, 8, 120)
			s.rect(white, 8, 8, s.w-16, s.h-16)
		}, func(s *sheet) seen { return s.lineAtFoot(ink, 20, 1.5, 8, words) }},
		{"on the sky over a dark foreground", func(s *sheet) {
			s.shade(func(p point) color.NRGBA { return mix(rgb(150, 190, 230), rgb(225, 235, 240), p.y/30) })
			for x := -4.0; x < 95; x += 5 {
				s.leaf(ink, x, s.h+4, 12, -1.5)
			}
		}, func(s *sheet) seen { return s.line(ink, 12, 1, 8, words) }},
		{"on grain", func(s *sheet) { s.grain(rgb(225, 220, 210), 6) },
			func(s *sheet) seen { return s.lineAtFoot(ink, 20, 1.2, 8, words) }},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			var want seen
			draw := func(ppi float64) *sheet {
				s := picture{tt.name, business, tt.paint}.sheet(ppi, uint64(k+1))
				want = tt.line(s)
				return s
			}
			eachForm(t, 1+3*k, draw, func(t *testing.T, s *sheet, how form) {
				checkIntruders(t, s.canvas(how), business, []seen{want}, false)
			})
		})
	}
}
