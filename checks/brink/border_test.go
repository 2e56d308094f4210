package brink_test

import (
	"fmt"
	"image/color"
	"math"
	"testing"

	"stoneproof/checks/brink"
	"stoneproof/rules"
)

// distances are what a frame is drawn with, mm; none is a side that it lacks.
type distances struct{ top, right, bottom, left float64 }

const none = 99

func evenly(d float64) distances { return distances{d, d, d, d} }

func (d distances) of(e rules.Edge) float64 {
	return map[rules.Edge]float64{rules.Top: d.top, rules.Right: d.right, rules.Bottom: d.bottom, rules.Left: d.left}[e]
}

// inner is the box inside the trim by the distances.
func (s *sheet) inner(d distances) []point {
	return box(d.left, d.top, s.w-d.left-d.right, s.h-d.top-d.bottom)
}

// lines draws a frame of lines with its outer side at the distances.
func (s *sheet) lines(c color.Color, d distances, thick float64) {
	in := distances{d.top + thick, d.right + thick, d.bottom + thick, d.left + thick}
	s.poly(c, s.inner(d), reversed(s.inner(in)))
}

// framed is a card with a frame.
type framed struct {
	name  string
	paint func(s *sheet)
	want  distances
}

func framedCards() []framed {
	cards := []framed{
		{"white border about a panel", func(s *sheet) { s.poly(teal, s.inner(evenly(2))) }, evenly(2)},
		{"white border about a photograph", func(s *sheet) {
			rough := s.octaves(6, 5)
			s.shadeIn(s.inner(evenly(2.5)), func(p point) color.NRGBA { return plus(rgb(90, 100, 80), 50*rough(p)) })
		}, evenly(2.5)},
		{"coloured margin, then another ground", func(s *sheet) { s.all(rust); s.poly(straw, s.inner(evenly(1.5))); s.caption(ink) }, evenly(1.5)},
		{"pale margins", func(s *sheet) { s.all(rgb(235, 228, 215)); s.poly(white, s.inner(evenly(2.2))); s.caption(ink) }, evenly(2.2)},
		{"one line", func(s *sheet) { s.lines(ink, evenly(2), .3); s.caption(ink) }, evenly(2)},
		{"a hairline", func(s *sheet) { s.lines(ink, evenly(2.7), .1); s.caption(ink) }, evenly(2.7)},
		{"a pale line on dark", func(s *sheet) { s.all(ink); s.lines(straw, evenly(1), .5); s.caption(white) }, evenly(1)},
		{"two lines", func(s *sheet) { s.lines(rust, evenly(1.8), .6); s.lines(rust, evenly(3.2), .2); s.caption(ink) }, evenly(1.8)},
		{"uneven lines", func(s *sheet) { s.lines(ink, distances{2, 2.6, 2.2, 1.4}, .4); s.caption(ink) }, distances{2, 2.6, 2.2, 1.4}},
		{"near on the left alone", func(s *sheet) { s.lines(ink, distances{7, 8, 7, 2}, .4) }, distances{7, 8, 7, 2}},
		{"round corners", func(s *sheet) {
			s.poly(ink, rounded(2, 2, s.w-4, s.h-4, 5), reversed(rounded(2.5, 2.5, s.w-5, s.h-5, 4.5)))
			s.caption(ink)
		}, evenly(2)},
		{"round panel", func(s *sheet) { s.all(straw); s.poly(teal, rounded(2, 2, s.w-4, s.h-4, 4)); s.caption(white) }, evenly(2)},
		{"four lines that leave the corners open", func(s *sheet) {
			s.rect(ink, 5, 2, s.w-10, .3)
			s.rect(ink, 5, s.h-2.3, s.w-10, .3)
			s.rect(ink, 2, 5, .3, s.h-10)
			s.rect(ink, s.w-2.3, 5, .3, s.h-10)
		}, evenly(2)},
		{"four lines that cross at the corners", func(s *sheet) {
			s.rect(ink, 1, 2, s.w-2, .3)
			s.rect(ink, 1, s.h-2.3, s.w-2, .3)
			s.rect(ink, 2, 1, .3, s.h-2)
			s.rect(ink, s.w-2.3, 1, .3, s.h-2)
		}, evenly(2)},
		{"dashes", func(s *sheet) { s.dashes(ink, 2, 2, 1.5, .4); s.caption(ink) }, evenly(2)},
		{"dots", func(s *sheet) { s.beads(rust, 2.4, 1.2, .4); s.caption(ink) }, evenly(2)},
		{"scallops", func(s *sheet) {
			s.all(straw)
			s.beads(teal, 3, 2, 1)
			s.poly(teal, s.inner(evenly(3)))
			s.caption(white)
		}, evenly(2)},
		{"a U of three lines", func(s *sheet) {
			s.rect(ink, 2, 2, s.w-4, .4)
			s.rect(ink, 2, 2, .4, 60)
			s.rect(ink, s.w-2.4, 2, .4, 60)
		}, distances{2, 2, none, 2}},
		{"a panel that bleeds off at the right and the foot", func(s *sheet) { s.rect(teal, 2, 2, 99, 99) }, distances{2, none, none, 2}},
		{"two bands", func(s *sheet) {
			s.rect(teal, -9, -9, 120, 9+2)
			s.rect(teal, -9, s.h-2, 120, 9)
			s.caption(ink)
		}, distances{2, none, 2, none}},
		{"a line alone down the left", func(s *sheet) { s.rect(ink, 2, 2, .5, s.h-4); s.caption(ink) }, distances{none, none, none, 2}},
		{"a line on the trim", func(s *sheet) { s.all(straw); s.lines(ink, evenly(-.15), .3) }, evenly(0)},
		{"a margin of laid paper", func(s *sheet) {
			s.grain(rgb(238, 232, 220), 5)
			s.lines(rust, evenly(2), .5)
		}, evenly(2)},
		{"a margin that changes its colour along the way", func(s *sheet) {
			s.shade(func(p point) color.NRGBA { return mix(straw, teal, (p.x+3)/95) })
			s.poly(white, s.inner(evenly(2)))
		}, evenly(2)},
		{"a frame that art breaks into", func(s *sheet) {
			s.lines(ink, evenly(2), .4)
			s.disc(rust, 40, 3.4, 3)
		}, evenly(2)},
	}
	for _, d := range []float64{.5, 1, 2.9, 4.5, 8} {
		cards = append(cards, framed{fmt.Sprintf("one line at %g mm", d), func(s *sheet) { s.lines(ink, evenly(d), .35) }, evenly(d)})
	}
	return cards
}

// around walks round the card at a distance from the trim and puts something
// down at every step, corners included, with the way that it goes.
func (s *sheet) around(d, step float64, put func(x, y float64, level bool)) {
	w, h := s.w-2*d, s.h-2*d
	nx, ny := math.Round(w/step), math.Round(h/step)
	for i := range int(nx) {
		put(d+w*float64(i)/nx, d, true)
		put(d+w*float64(i+1)/nx, s.h-d, true)
	}
	for i := range int(ny) {
		put(s.w-d, d+h*float64(i)/ny, false)
		put(d, d+h*float64(i+1)/ny, false)
	}
}

func (s *sheet) beads(c color.Color, d, step, r float64) {
	s.around(d, step, func(x, y float64, _ bool) { s.disc(c, x, y, r) })
}

func (s *sheet) dashes(c color.Color, d, step, long, thick float64) {
	s.around(d+thick/2, step, func(x, y float64, level bool) {
		if level {
			s.rect(c, x-long/2, y-thick/2, long, thick)
		} else {
			s.rect(c, x-thick/2, y-long/2, thick, long)
		}
	})
}

func TestFramesFound(t *testing.T) {
	for k, card := range framedCards() {
		t.Run(card.name, func(t *testing.T) {
			t.Parallel()
			draw := picture{card.name, business, card.paint}.once(uint64(k + 1))
			eachForm(t, k, draw, func(t *testing.T, s *sheet, how form) { checkFrame(t, s.canvas(how), card.want) })
		})
	}
}

// checkFrame compares distances to a pixel or a tenth of a millimetre; the tops
// of dots are softer.
func checkFrame(t *testing.T, c brink.Canvas, want distances) {
	t.Helper()
	b, ok := brink.ReadMargins(c).Border()
	if !ok {
		t.Error("no frame is found")
		return
	}
	for _, e := range rules.AllEdges {
		side, ok := b.Side(e)
		switch w := want.of(e); {
		case ok != (w != none):
			t.Errorf("%s: a side is found: %v (%+v)", e, ok, side)
		case ok && side.Broken && math.Abs(side.Distance.MM()-w) <= .15:
		case ok && math.Abs(side.Distance.MM()-w) > max(.1, c.PxW/1000, c.PxH/1000):
			t.Errorf("%s: %v from the trim, want %g mm", e, side.Distance, w)
		}
	}
}

// nearestFrame is how near a frame comes to the trim; far where there is none.
func nearestFrame(c brink.Canvas) rules.Length {
	if b, ok := brink.ReadMargins(c).Border(); ok {
		return b.Nearest().Distance
	}
	return rules.MM(none)
}

// frameless are cards with something parallel to the trim that is no frame too
// near to it.
func frameless() []picture {
	return []picture{
		{"a footer", business, func(s *sheet) { s.rect(teal, -9, s.h-2.5, 120, 20); s.caption(ink) }},
		{"a bar down the left", business, func(s *sheet) { s.rect(teal, -9, -9, 9+2.5, 99); s.caption(ink) }},
		{"a rule from side to side", business, func(s *sheet) { s.rect(ink, -9, 2.5, 120, .5); s.caption(ink) }},
		{"a short rule", business, func(s *sheet) { s.rect(ink, 14, 2.5, s.w-28, .5); s.caption(ink) }},
		{"level stripes", business, func(s *sheet) { s.stripes(teal, 0, 4.15, 2.1, 1.55) }},
		{"upright stripes", business, func(s *sheet) { s.stripes(teal, 90, 5, 2.5, 1) }},
		{"level stripes cut alike", business, func(s *sheet) {
			for k := -1; k < 10; k++ {
				s.rect(teal, -9, 2+float64(k)*5.2, 120, 2.6-.6)
			}
		}},
		{"plaid", business, func(s *sheet) {
			s.all(straw)
			for k := -3; k < 20; k++ {
				s.rect(faint(rust, 130), 2.2+float64(k)*6, -9, 2, 80)
				s.rect(faint(teal, 130), -9, 2.2+float64(k)*6, 120, 2)
			}
		}},
		{"squares in rows that end evenly", business, func(s *sheet) {
			w, h := s.w/22, s.h/12
			for i := -2; i < 24; i++ {
				for j := -2; j < 14; j++ {
					s.rect(teal, (float64(i)+.25)*w, (float64(j)+.25)*h, w/2, h/2)
				}
			}
		}},
		{"dots in rows that end evenly", business, func(s *sheet) {
			for i := -2; i < 24; i++ {
				for j := -2; j < 14; j++ {
					s.disc(teal, (float64(i)+.5)*s.w/22, (float64(j)+.5)*s.h/12, 1.1)
				}
			}
		}},
		{"a checkerboard that fits", business, func(s *sheet) {
			for i := -2; i < 24; i++ {
				for j := -2; j < 14; j++ {
					if (i+j)%2 == 0 {
						s.rect(ink, float64(i)*s.w/22-2, float64(j)*s.h/12-2, s.w/22, s.h/12)
					}
				}
			}
		}},
		{"words along the top and the foot", business, func(s *sheet) {
			s.text(ink, 2, 1.5, 8, "WENDLEBURY CROSS POTTERY AND KILN YARD OPEN DAYS")
			s.text(ink, 2, s.h-4, 8, "WENDLEBURY CROSS POTTERY AND KILN YARD OPEN DAYS")
		}},
		{"lines of small print", business, func(s *sheet) {
			for k := range 16 {
				s.text(ink, 2, 2+3*float64(k), 5.6, "Stoneware thrown by hand; mugs, jugs, bowls and crocks; glazes of wood ash; kiln open on Saturdays from nine to one")
			}
		}},
		{"frame 4 mm inside", business, func(s *sheet) { s.lines(ink, evenly(4), .4); s.caption(ink) }},
		{"a picture in the middle", business, func(s *sheet) { s.rect(teal, 20, 12, 48, 26) }},
		{"a picture whose top is near the trim", business, func(s *sheet) { s.rect(teal, 20, 2, 48, 26) }},
		{"a window with a horizon", business, func(s *sheet) {
			s.photo(rgb(70, 120, 190), rgb(190, 205, 225), rgb(70, 95, 45))
			s.rect(grey(60), -9, 2, 120, 1.2)
			s.rect(grey(60), 30, -9, 1.2, 80)
		}},
		{"a wall of planks", business, func(s *sheet) {
			s.all(rgb(150, 110, 70))
			for k := -1; k < 12; k++ {
				s.rect(plus(rgb(150, 110, 70), s.between(-25, 25)), -9, 1.9+float64(k)*7, 120, 6.8)
			}
		}},
		{"tiles", business, func(s *sheet) {
			s.all(grey(230))
			for i := -1; i < 12; i++ {
				for j := -1; j < 8; j++ {
					s.rect(plus(teal, s.between(-20, 20)), 1.7+float64(i)*9, 2.1+float64(j)*9, 8.4, 8.4)
				}
			}
		}},
	}
}

func TestNoFrames(t *testing.T) {
	const limit = 3 // mm
	for k, p := range append(frameless(), quietPictures()...) {
		t.Run(p.name, func(t *testing.T) {
			t.Parallel()
			eachForm(t, k, p.once(uint64(k+1)), func(t *testing.T, s *sheet, how form) {
				if d := nearestFrame(s.canvas(how)); d < rules.MM(limit) {
					b, _ := brink.ReadMargins(s.canvas(how)).Border()
					t.Errorf("a frame is told: %+v", b)
				}
			})
		})
	}
}
