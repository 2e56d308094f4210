package brink_test

import (
	"image/color"
	"math"
	"testing"

	"stoneproof/checks/brink"
)

// seen is an intruder as it was drawn: its ink's bounds, mm.
type seen struct {
	l, t, r, b float64
	kind       brink.Kind
}

// distance is that of the nearest edge.
func (w seen) distance(trim point) float64 {
	return min(w.l, w.t, trim.x-w.r, trim.y-w.b)
}

// intrusion draws things past the safe line and tells what must be found.
type intrusion struct {
	name string
	draw func(s *sheet, c color.NRGBA) []seen
	fine bool // too fine in its parts to be promised at 150 ppi
}

func (s *sheet) line(c color.NRGBA, x, y, pt float64, words string) seen {
	l, t, r, b := s.text(c, x, y, pt, words)
	return seen{l, t, r, b, brink.Lettering}
}

// lineAtFoot sets a line whose ink ends d above the foot; lineAtRight one that
// ends d left of the right edge.
func (s *sheet) lineAtFoot(c color.NRGBA, x, d, pt float64, words string) seen {
	_, h := s.size(pt, words)
	return s.line(c, x, s.h-d-h, pt, words)
}

func (s *sheet) lineAtRight(c color.NRGBA, d, y, pt float64, words string) seen {
	w, _ := s.size(pt, words)
	return s.line(c, s.w-d-w, y, pt, words)
}

func intrusions() []intrusion {
	const address = "Kiln Yard, Wendlebury Cross"
	one := func(w seen) []seen { return []seen{w} }
	return []intrusion{
		{"line 1 mm above the foot", func(s *sheet, c color.NRGBA) []seen { return one(s.lineAtFoot(c, 8, 1, 8, address)) }, false},
		{"line 2.5 mm above the foot", func(s *sheet, c color.NRGBA) []seen { return one(s.lineAtFoot(c, 20, 2.5, 7, address)) }, false},
		{"line .4 mm below the top", func(s *sheet, c color.NRGBA) []seen { return one(s.line(c, 30, .4, 9, "Ottery Pots")) }, false},
		{"line that starts 1.5 mm from the left", func(s *sheet, c color.NRGBA) []seen { return one(s.line(c, 1.5, 20, 10, "Ottery Pots")) }, false},
		{"long line that ends 2 mm from the right", func(s *sheet, c color.NRGBA) []seen {
			return one(s.lineAtRight(c, 2, 30, 8, "mending, truing and tea at Mill Street"))
		}, false},
		{"small print 1.2 mm above the foot", func(s *sheet, c color.NRGBA) []seen {
			return one(s.lineAtFoot(c, 12, 1.2, 5, "open Tuesday to Saturday, nine till five"))
		}, false},
		{"two lines, one past the safe line", func(s *sheet, c color.NRGBA) []seen {
			s.text(c, 10, 39, 8, "Marsh Lane Bakery")
			return one(s.lineAtFoot(c, 10, 1.4, 8, address))
		}, false},
		{"line cut by the foot", func(s *sheet, c color.NRGBA) []seen { return one(s.lineAtFoot(c, 10, -.8, 9, address)) }, false},
		{"line cut by the right edge", func(s *sheet, c color.NRGBA) []seen { return one(s.lineAtRight(c, -1.5, 22, 9, address)) }, false},
		{"mark 1 mm from the left", func(s *sheet, c color.NRGBA) []seen {
			s.ring(c, 5, 20, 4, 1)
			s.disc(c, 5, 20, 1.5)
			return one(seen{1, 16, 9, 24, brink.Mark})
		}, false},
		{"pot 1.5 mm from a corner", func(s *sheet, c color.NRGBA) []seen {
			s.poly(c, []point{{79.4, 1.5}, {87.4, 1.5}, {86.4, 4}, {87.2, 9}, {84.4, 12}, {82.4, 12}, {79.6, 9}, {80.4, 4}})
			return one(seen{79.4, 1.5, 87.4, 12, brink.Mark})
		}, false},
		{"mark cut by the top", func(s *sheet, c color.NRGBA) []seen {
			s.ring(c, 60, 2, 3.5, .9)
			return one(seen{56.5, -1.5, 63.5, 5.5, brink.Mark})
		}, false},
		{"code 1 mm from right and foot", func(s *sheet, c color.NRGBA) []seen {
			const n, cell = 21, .5
			x0, y0 := s.w-1-n*cell, s.h-1-n*cell
			for j := range n {
				for i := range n {
					if i == 0 || j == 0 || i == n-1 || j == n-1 || s.rng.IntN(2) == 0 {
						s.rect(c, x0+float64(i)*cell, y0+float64(j)*cell, cell, cell)
					}
				}
			}
			return one(seen{x0, y0, x0 + n*cell, y0 + n*cell, brink.Mark})
		}, true},
		{"three lines of text past the left safe line", func(s *sheet, c color.NRGBA) []seen {
			return []seen{s.line(c, 1, 15, 8, "Hedge & Hoe"), s.line(c, 1, 21, 8, "gardens kept"), s.line(c, 1, 27, 8, "Orchard End")}
		}, false},
	}
}

type backdrop struct {
	name  string
	ink   color.NRGBA
	paint func(s *sheet)
	busy  bool // finding is not promised here, only that it is exact when found
}

func backdrops() []backdrop {
	return []backdrop{
		{"white", ink, func(s *sheet) {}, false},
		{"dark", straw, func(s *sheet) { s.all(rgb(30, 50, 70)) }, false},
		{"straw", rust, func(s *sheet) { s.all(straw) }, false},
		{"gradient", white, func(s *sheet) {
			s.shade(func(p point) color.NRGBA { return mix(ink, teal, (p.x+p.y)/140) })
		}, false},
		{"linen", ink, func(s *sheet) {
			s.shade(func(p point) color.NRGBA { return plus(rgb(215, 205, 185), 9*math.Sin(p.x*14)+9*math.Sin(p.y*15)) })
		}, false},
		{"grain", white, func(s *sheet) { s.grain(rgb(60, 70, 80), 9) }, false},
		{"soft photo", ink, func(s *sheet) {
			soft := s.octaves(25, 4)
			s.shade(func(p point) color.NRGBA { return plus(rgb(170, 190, 210), 25*soft(p)+2*s.rng.NormFloat64()) })
		}, true},
		{"hill photo", white, func(s *sheet) { s.photo(rgb(70, 120, 190), rgb(150, 170, 200), rgb(50, 70, 35)) }, true},
	}
}

func near(a, b, slack float64) bool { return math.Abs(a-b) <= slack }

// find looks for a drawn thing among the intruders.
func find(list []brink.Intruder, w seen) (brink.Intruder, bool) {
	for _, in := range list {
		b := in.Box
		if near(b.X.MM(), w.l, .4) && near(b.Y.MM(), w.t, .4) && near(b.Right().MM(), w.r, .4) && near(b.Bottom().MM(), w.b, .4) {
			return in, true
		}
	}
	return brink.Intruder{}, false
}

func checkIntruders(t *testing.T, c brink.Canvas, trim point, want []seen, busy bool) {
	t.Helper()
	got := brink.ReadGround(c).Intruders(wantedBleed)
	slack := max(.15, 1.05*c.PxW/1000)
	for _, w := range want {
		in, ok := find(got, w)
		if !ok {
			if !busy {
				t.Errorf("%s at %.2f %.2f %.2f %.2f not found in %+v", w.kind, w.l, w.t, w.r, w.b, got)
			}
			continue
		}
		if !near(in.Distance.MM(), w.distance(trim), slack) || in.Kind != w.kind {
			t.Errorf("%s told %v from the %s, want %s at %.2f mm", in.Kind, in.Distance, in.Edge, w.kind, w.distance(trim))
		}
	}
	if len(got) > len(want) && !busy {
		t.Errorf("%d intruders told, %d drawn: %+v", len(got), len(want), got)
	}
}

func TestSafeFound(t *testing.T) {
	for k, bd := range backdrops() {
		t.Run(bd.name, func(t *testing.T) {
			t.Parallel()
			ground := picture{bd.name, business, bd.paint}.once(uint64(k + 1))
			for n, in := range intrusions() {
				var want []seen
				draw := func(ppi float64) *sheet {
					s := ground(ppi)
					want = in.draw(s, bd.ink)
					return s
				}
				t.Run(in.name, func(t *testing.T) {
					eachForm(t, k+n, draw, func(t *testing.T, s *sheet, how form) {
						// Coarse and coded at low quality, letters are smudges.
						busy := bd.busy || s.ppi < 200 && (in.fine || how == q75)
						checkIntruders(t, s.canvas(how), business, want, busy)
					})
				})
			}
		})
	}
}
