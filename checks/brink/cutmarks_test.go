package brink_test

import (
	"image/color"
	"testing"

	"stoneproof/checks/brink"
)

// cropMarks draws lines on the trim lines at the corners, from a distance off
// the trim outward.
func (s *sheet) cropMarks(c color.Color, off, long, thick float64) {
	for _, x := range []float64{0, s.w} {
		s.rect(c, x-thick/2, -off-long, thick, long)
		s.rect(c, x-thick/2, s.h+off, thick, long)
	}
	for _, y := range []float64{0, s.h} {
		s.rect(c, -off-long, y-thick/2, long, thick)
		s.rect(c, s.w+off, y-thick/2, long, thick)
	}
}

func (s *sheet) registerCross(c color.Color, x, y, long float64) {
	s.rect(c, x-long/2, y-.05, long, .1)
	s.rect(c, x-.05, y-long/2, .1, long)
	s.ring(c, x, y, long/3, .1)
}

func (s *sheet) colourBar(x, y, side float64) {
	for k, c := range []color.NRGBA{rgb(0, 160, 230), rgb(230, 0, 126), rgb(255, 237, 0), rgb(29, 29, 27)} {
		s.rect(c, x+float64(k)*side, y, side, side)
	}
}

func TestCutMarksFound(t *testing.T) {
	photo := func(s *sheet) { s.photo(rgb(70, 120, 190), rgb(190, 205, 225), rgb(70, 95, 45)) }
	for k, tt := range []struct {
		name  string
		paint func(s *sheet)
		sure  bool
	}{
		{"on bare paper", func(s *sheet) { s.cropMarks(ink, 1, 5, .25); s.caption(ink) }, true},
		{"on a tint", func(s *sheet) { s.all(straw); s.cropMarks(ink, 1, 5, .25); s.caption(ink) }, true},
		{"white on dark", func(s *sheet) { s.all(ink); s.cropMarks(white, .5, 5, .3) }, true},
		{"touching the trim", func(s *sheet) { s.all(straw); s.cropMarks(ink, 0, 5, .25) }, true},
		{"reaching into the card", func(s *sheet) { s.all(straw); s.cropMarks(ink, -2, 6, .25) }, true},
		{"on a photograph", func(s *sheet) { photo(s); s.cropMarks(white, 0, 5, .4) }, true},
		{"crosses at the middles", func(s *sheet) {
			s.all(straw)
			for _, p := range []point{{s.w / 2, -1.6}, {s.w / 2, s.h + 1.6}, {-1.6, s.h / 2}, {s.w + 1.6, s.h / 2}} {
				s.registerCross(ink, p.x, p.y, 2.6)
			}
		}, false},
		{"a colour bar", func(s *sheet) { s.all(straw); s.colourBar(20, -s.bleed, 4) }, false},
		{"a small colour bar at the foot", func(s *sheet) { s.colourBar(30, s.h+.4, 2.7) }, false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			draw := picture{tt.name, business, tt.paint}.once(uint64(k + 1))
			eachForm(t, 1+3*k, draw, func(t *testing.T, s *sheet, how form) {
				m := brink.FindCutMarks(s.canvas(how), wantedBleed)
				if !m.Any() || tt.sure && !m.Sure() && s.ppi >= 300 {
					t.Errorf("found %+v, want it sure: %v", m, tt.sure)
				}
			})
		})
	}
}

// unmarked are cards whose corners and edges have something of their own.
func unmarked() []picture {
	return []picture{
		{"corner ornaments", business, func(s *sheet) {
			for _, x := range []float64{3, s.w - 9} {
				for _, y := range []float64{3, s.h - 9} {
					s.rect(ink, x, y, 6, .3)
					s.rect(ink, x, y, .3, 6)
				}
			}
		}},
		{"lines along the trim from end to end", business, func(s *sheet) {
			for _, x := range []float64{0, s.w} {
				s.rect(ink, x-.1, -9, .2, 90)
			}
		}},
		{"a frame 1 mm inside", business, func(s *sheet) { s.frame(ink, 1, .3) }},
		{"patches of other colours", business, func(s *sheet) {
			for k := range 12 {
				s.rect(s.hue(), float64(k)*8-4, -9, 8, 14)
			}
		}},
		{"ticks of a ruler", business, func(s *sheet) {
			for k := -3; k < 95; k++ {
				s.rect(ink, float64(k), s.h-3, .15, 9)
			}
		}},
		{"marks outside the bleed", business, func(s *sheet) { s.all(straw); s.cropMarks(ink, s.bleed+.2, 5, .25) }},
		{"a caliper's scale in the bleed", business, func(s *sheet) {
			for k := -3; k < 95; k++ {
				s.rect(ink, float64(k), -2, .15, 4)
			}
		}},
	}
}

func TestNoCutMarks(t *testing.T) {
	for k, p := range append(unmarked(), append(frameless(), quietPictures()...)...) {
		t.Run(p.name, func(t *testing.T) {
			t.Parallel()
			eachForm(t, k, p.once(uint64(k+1)), func(t *testing.T, s *sheet, how form) {
				if m := brink.FindCutMarks(s.canvas(how), wantedBleed); m.Any() {
					t.Errorf("told %+v", m)
				}
			})
		})
	}
}
