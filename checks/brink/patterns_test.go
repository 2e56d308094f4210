package brink_test

import (
	"fmt"
	"image/color"
	"math"
)

// What repeats, and runs off the edge as it comes.

func stripesAt(degrees float64) picture {
	return picture{fmt.Sprintf("stripes at %g degrees", degrees), business, func(s *sheet) {
		pitch := s.between(3, 8)
		s.stripes(s.hue(), degrees, pitch, pitch*s.between(.3, .7), s.between(0, pitch))
	}}
}

func checkerOf(cell float64) picture {
	return picture{fmt.Sprintf("checker of %g mm", cell), business, func(s *sheet) {
		c := s.hue()
		ox, oy := s.between(0, cell), s.between(0, cell)
		for j := -20; j < 60; j++ {
			for i := -20; i < 60; i++ {
				if (i+j)%2 == 0 {
					s.rect(c, float64(i)*cell+ox, float64(j)*cell+oy, cell, cell)
				}
			}
		}
	}}
}

// grid repeats a motif in rows; odd rows are set in by half a step if woven.
func (s *sheet) grid(step float64, woven bool, motif func(x, y float64)) {
	ox, oy := s.between(0, step), s.between(0, step)
	row := 0
	for y := -s.bleed - 2*step + oy; y < s.h+s.bleed+2*step; y += step {
		shift := 0.0
		if woven && row%2 == 1 {
			shift = step / 2
		}
		for x := -s.bleed - 2*step + ox; x < s.w+s.bleed+2*step; x += step {
			motif(x+shift, y)
		}
		row++
	}
}

// strewn scatters a motif over the whole sheet without overlaps nearer than gap.
func (s *sheet) strewn(n int, gap float64, motif func(x, y float64)) {
	var at []point
	for try := 0; try < n*20 && len(at) < n; try++ {
		p := point{s.between(-s.bleed-3, s.w+s.bleed+3), s.between(-s.bleed-3, s.h+s.bleed+3)}
		clear := true
		for _, q := range at {
			if math.Hypot(p.x-q.x, p.y-q.y) < gap {
				clear = false
				break
			}
		}
		if clear {
			at = append(at, p)
			motif(p.x, p.y)
		}
	}
}

func (s *sheet) flower(c, heart color.Color, x, y, r float64) {
	turn := s.between(0, 6)
	for k := range 5 {
		sin, cos := math.Sincos(turn + float64(k)*2*math.Pi/5)
		petal := oval(x+r*.55*cos, y+r*.55*sin, r*.45, r*.28)
		s.poly(c, turned(petal, point{x + r*.55*cos, y + r*.55*sin}, turn+float64(k)*2*math.Pi/5))
	}
	s.disc(heart, x, y, r*.22)
}

func (s *sheet) leaf(c color.Color, x, y, l, angle float64) {
	var p []point
	for i := range 21 {
		u := float64(i) / 20
		p = append(p, point{x + l*u, y + l*.22*math.Sin(math.Pi*u)})
	}
	for i := range 21 {
		u := 1 - float64(i)/20
		p = append(p, point{x + l*u, y - l*.22*math.Sin(math.Pi*u)})
	}
	s.poly(c, turned(p, point{x, y}, angle))
}

// engraving is hills of wavy lines on a tint, thicker and closer to the foot.
func (s *sheet) engraving() {
	s.all(rgb(226, 244, 236))
	for k := range 60 {
		y, thick := s.h*.45+float64(k)*.75, .2+.004*float64(k)
		var upper, lower []point
		for x := -5.0; x <= s.w+5; x++ {
			at := y + 1.6*math.Sin(x/9+float64(k)/14) + .7*math.Sin(x/4+float64(k)/5)
			upper, lower = append(upper, point{x, at - thick}), append(lower, point{x, at + thick})
		}
		s.poly(teal, append(upper, reversed(lower)...))
	}
}

// lattice is the back of a playing card: two ways of double lines, with a
// diamond in every cell.
func (s *sheet) lattice() {
	s.all(straw)
	for _, way := range []float64{45, 135} {
		s.stripes(ink, way, 4, .8, .3)
		s.stripes(white, way, 4, .3, .55)
	}
	s.grid(4*math.Sqrt2, true, func(x, y float64) {
		s.poly(rust, []point{{x, y - .6}, {x + .6, y}, {x, y + .6}, {x - .6, y}})
	})
}

// awning is upright stripes on a tint. The last one on the right begins 1.9 mm
// inside the trim and would go on past the bleed edge; all others end a pitch
// of 5 mm apart, one of them where a cut .6 mm past the trim would be next.
func (s *sheet) awning() {
	s.all(rgb(250, 238, 200))
	for x := s.w + .6 - 2.5; x > -10; x -= 5 {
		s.rect(rust, x, -s.bleed, 2.5, s.h+2*s.bleed)
	}
	s.rect(rust, s.w-1.9, -s.bleed, 9, s.h+2*s.bleed)
}

func patterns() []picture {
	list := []picture{
		{"engraved hills", business, func(s *sheet) { s.engraving() }},
		{"lattice", business, func(s *sheet) { s.lattice() }},
		{"lattice round a medallion", business, func(s *sheet) {
			s.lattice()
			s.disc(white, s.w/2, s.h/2, 16)
			s.disc(rust, s.w/2, s.h/2, 14)
		}},
		{"awning", business, func(s *sheet) { s.awning() }},
		{"spokes before a brick wall", business, func(s *sheet) {
			s.all(rgb(200, 190, 175))
			for row := -3; row < 20; row++ {
				for k := -3; k < 16; k++ {
					s.rect(plus(rust, s.between(-25, 15)), float64(k)*7+float64(row%2)*3.5+.3, float64(row)*3.4+1.1, 6.5, 3)
				}
			}
			s.ring(ink, 20, s.h/2, 22, 2)
			for k := range 24 {
				sin, cos := math.Sincos(float64(k) * math.Pi / 12)
				s.poly(grey(210), stroke(point{20 + 2*cos, s.h/2 + 2*sin}, point{20 + 20.5*cos, s.h/2 + 20.5*sin}, .3))
			}
		}},
		{"dots in rows", business, func(s *sheet) {
			c := s.hue()
			s.grid(3, false, func(x, y float64) { s.disc(c, x, y, 1) })
		}},
		{"large woven dots", business, func(s *sheet) {
			c := s.hue()
			s.grid(6, true, func(x, y float64) { s.disc(c, x, y, 2) })
		}},
		{"pin dots on colour", business, func(s *sheet) {
			s.all(straw)
			c := s.hue()
			s.grid(1.6, true, func(x, y float64) { s.disc(c, x, y, .35) })
		}},
		{"strewn dots", upright, func(s *sheet) {
			s.strewn(150, 4, func(x, y float64) { s.disc(s.hue(), x, y, s.between(.6, 1.9)) })
		}},
		{"rings", business, func(s *sheet) {
			c := s.hue()
			s.grid(7, true, func(x, y float64) { s.ring(c, x, y, 3, .6) })
		}},
		{"squares in rows", business, func(s *sheet) {
			c := s.hue()
			s.grid(4, false, func(x, y float64) { s.rect(c, x, y, 2, 2) })
		}},
		{"strewn flowers", business, func(s *sheet) {
			c := s.hue()
			s.strewn(60, 8, func(x, y float64) { s.flower(c, straw, x, y, s.between(2.5, 4)) })
		}},
		{"flowers in rows on colour", business, func(s *sheet) {
			s.all(teal)
			s.grid(9, true, func(x, y float64) { s.flower(straw, rust, x, y, 3.2) })
		}},
		{"leaves", poker, func(s *sheet) {
			s.strewn(90, 6, func(x, y float64) { s.leaf(s.hue(), x, y, s.between(4, 8), s.between(0, 6.3)) })
		}},
		{"spatter", business, func(s *sheet) {
			c := s.hue()
			s.strewn(300, .5, func(x, y float64) { s.disc(c, x, y, .1+s.rng.ExpFloat64()*.35) })
		}},
		{"terrazzo", business, func(s *sheet) {
			s.all(rgb(236, 230, 220))
			s.strewn(200, 4, func(x, y float64) {
				var p []point
				turn := s.between(0, 6)
				for k := range 5 {
					sin, cos := math.Sincos(turn + float64(k)*2*math.Pi/5)
					r := s.between(.7, 1.9)
					p = append(p, point{x + r*cos, y + r*sin})
				}
				s.poly(s.hue(), p)
			})
		}},
		{"confetti", business, func(s *sheet) {
			s.strewn(160, 4, func(x, y float64) {
				s.poly(s.hue(), turned(box(x, y, s.between(1, 3), s.between(.6, 1.4)), point{x, y}, s.between(.15, 1.4)))
			})
		}},
		{"gingham", business, func(s *sheet) {
			c := faint(s.hue(), 110)
			s.stripes(c, 0, 6, 3, s.between(0, 6))
			s.stripes(c, 90, 6, 3, s.between(0, 6))
		}},
		{"bricks", business, func(s *sheet) {
			s.all(rgb(225, 220, 210))
			for row := -3; row < 20; row++ {
				for k := -3; k < 16; k++ {
					s.rect(plus(rust, s.between(-15, 15)), float64(k)*7+float64(row%2)*3.5+.3, float64(row)*3.4+1.1, 6.5, 3)
				}
			}
		}},
		{"honeycomb", business, func(s *sheet) {
			c := s.hue()
			s.grid(6, true, func(x, y float64) {
				var hex []point
				for k := range 6 {
					sin, cos := math.Sincos(float64(k) * math.Pi / 3)
					hex = append(hex, point{x + 3*cos, y + 3*sin})
				}
				for k := range 6 {
					s.poly(c, stroke(hex[k], hex[(k+1)%6], .4))
				}
			})
		}},
		{"zigzag", business, func(s *sheet) {
			c := s.hue()
			for row := -3.0; row < 12; row++ {
				y := row*6 + 1.3
				for k := -3.0; k < 14; k++ {
					x := k * 8
					s.poly(c, []point{{x, y}, {x + 4, y + 4}, {x + 8, y}, {x + 8, y + 2}, {x + 4, y + 6}, {x, y + 2}})
				}
			}
		}},
		{"halftone fade", business, func(s *sheet) {
			s.grid(1.5, true, func(x, y float64) {
				if r := .85 * (x + 5) / (s.w + 8); r > .08 {
					s.disc(teal, x, y, r)
				}
			})
		}},
		{"rings from a corner", business, func(s *sheet) {
			for r := 3.0; r < 120; r += 5 {
				s.ring(rust, s.between(-.1, .1), 0, r, 2)
			}
		}},
		{"notebook lines", business, func(s *sheet) {
			s.stripes(rgb(120, 160, 210), 0, 6, .25, s.between(0, 6))
			s.rect(rgb(220, 90, 90), 14, -s.bleed, .3, s.h+2*s.bleed)
		}},
		{"harlequin", business, func(s *sheet) {
			c := s.hue()
			s.grid(7, true, func(x, y float64) {
				s.poly(c, []point{{x, y - 3.5}, {x + 3.5, y}, {x, y + 3.5}, {x - 3.5, y}})
			})
		}},
		{"crosses", business, func(s *sheet) {
			c := s.hue()
			s.grid(5, true, func(x, y float64) {
				s.rect(c, x-1, y-.25, 2, .5)
				s.rect(c, x-.25, y-1, .5, 2)
			})
		}},
		{"small triangles", upright, func(s *sheet) {
			c := s.hue()
			s.grid(5, true, func(x, y float64) { s.poly(c, []point{{x, y - 1.5}, {x + 1.5, y + 1}, {x - 1.5, y + 1}}) })
		}},
	}
	for _, d := range []float64{0, 1.5, 3, 6, 10, 20, 30, 45, 60, 75, 84, 88, 90, 135} {
		list = append(list, stripesAt(d))
	}
	for _, c := range []float64{2.5, 4, 8} {
		list = append(list, checkerOf(c))
	}
	return list
}
