package brink_test

import (
	"image/color"
	"math"
)

// Brinks: things that end, fade or are cut about the trim on purpose, as
// painters, photographers and pattern drawers leave them.

// torn is paper whose torn edge, with its white core, runs along a side.
func (s *sheet) torn(c color.NRGBA, at, ragged float64) {
	edge, fibre := s.octaves(5, 6), s.octaves(.8, 3)
	s.shade(func(p point) color.NRGBA {
		y := at + ragged*edge(point{p.x, 0})
		switch d := p.y - y; {
		case d < 0:
			return plus(c, 6*fibre(p))
		case d < .5+.3*edge(point{p.x, 9}):
			return plus(rgb(250, 248, 244), 4*fibre(p))
		}
		return color.NRGBA{}
	})
}

// spatter throws drops of paint about a place: many small, some with tails.
func (s *sheet) spatter(c color.NRGBA, x, y, spread float64, n int) {
	for range n {
		a, d := s.between(0, 2*math.Pi), spread*math.Abs(s.rng.NormFloat64())
		px, py, r := x+d*math.Cos(a), y+d*math.Sin(a), .08+.4*s.rng.ExpFloat64()
		s.disc(c, px, py, r)
		if s.rng.IntN(3) == 0 {
			s.leaf(c, px, py, r*s.between(3, 8), a)
		}
	}
}

// shadow is a soft one of a box.
func (s *sheet) shadow(x, y, w, h, soft float64, strength uint8) {
	s.shade(func(p point) color.NRGBA {
		dx, dy := max(0, x-p.x, p.x-x-w), max(0, y-p.y, p.y-y-h)
		d := math.Hypot(dx, dy) / soft
		return faint(ink, uint8(float64(strength)*math.Exp(-2*d*d)))
	})
}

func brinks() []picture {
	list := []picture{
		{"torn paper at the foot", business, func(s *sheet) { s.torn(straw, s.h-1, 1.5); s.caption(ink) }},
		{"torn kraft just past the trim", business, func(s *sheet) { s.torn(rgb(190, 160, 120), s.h+1.2, .9); s.caption(ink) }},
		{"torn dark paper well inside", upright, func(s *sheet) { s.torn(ink, s.h-12, 3); s.caption(white) }},
		{"spatter from a corner", business, func(s *sheet) { s.spatter(s.hue(), 4, 4, 12, 160); s.caption(ink) }},
		{"spatter along the right", business, func(s *sheet) {
			c := s.hue()
			for y := 0.0; y < 50; y += 6 {
				s.spatter(c, s.w-1, y, 4, 25)
			}
			s.caption(ink)
		}},
		{"spatter of two colours on a wash", business, func(s *sheet) {
			s.wash(straw, s.w*.8, s.h*.8, 40, 30, .3)
			s.spatter(rust, s.w*.8, s.h*.8, 14, 120)
			s.spatter(teal, s.w*.8, s.h*.8, 18, 60)
		}},
		{"ink blots by the edges", poker, func(s *sheet) {
			for range 5 {
				x, y := s.between(0, s.w), s.between(-2, 2)
				if s.rng.IntN(2) == 0 {
					y = s.h + s.between(-2, 2)
				}
				s.spatter(ink, x, y, 3, 30)
				s.disc(ink, x, y, s.between(1.5, 3))
			}
		}},
		{"shadow of a panel fading through the trim", business, func(s *sheet) {
			s.all(straw)
			s.shadow(8, 8, s.w-16, s.h-16, 8, 170)
			s.rect(white, 8, 8, s.w-16, s.h-16)
			s.caption(ink)
		}},
		{"shadow on bare paper fading through the foot", business, func(s *sheet) {
			s.shadow(10, 30, s.w-20, s.h-33, 6, 150)
			s.rect(teal, 10, 12, s.w-20, s.h-18)
			s.caption(white)
		}},
		{"long shadow to a corner", business, func(s *sheet) {
			s.all(rgb(230, 180, 60))
			s.poly(faint(ink, 70), []point{{30, 20}, {44, 12}, {120, 60}, {106, 68}})
			s.disc(white, 37, 17, 8)
		}},
		{"glow about the trim", upright, func(s *sheet) {
			s.all(ink)
			s.shade(func(p point) color.NRGBA {
				d := max(math.Abs(p.x-s.w/2)-s.w/2, math.Abs(p.y-s.h/2)-s.h/2)
				return faint(straw, uint8(160*math.Exp(-d*d/4)))
			})
		}},
		{"photo with dark stems at the foot", business, func(s *sheet) {
			s.photo(rgb(190, 205, 225), rgb(235, 235, 230), rgb(200, 200, 180))
			for range 30 {
				x := s.between(-3, s.w+3)
				s.poly(rgb(30, 35, 20), stroke(point{x, s.h + 5}, point{x + s.between(-3, 3), s.h - s.between(3, 18)}, s.between(.2, .9)))
			}
		}},
		{"photo with a dark fence across", business, func(s *sheet) {
			s.photo(rgb(180, 200, 225), rgb(230, 230, 225), rgb(170, 180, 140))
			for x := -3.0; x < s.w+4; x += 5.3 {
				s.rect(rgb(50, 40, 35), x, 33, 1.1, 25)
			}
			s.rect(rgb(50, 40, 35), -9, 36, 120, 1.4)
		}},
		{"silhouettes against a sunset", business, func(s *sheet) {
			s.shade(func(p point) color.NRGBA {
				return plus(mix(rgb(90, 60, 110), rgb(250, 180, 90), p.y/50), 2*s.rng.NormFloat64())
			})
			for x := -4.0; x < 95; x += s.between(3, 9) {
				s.leaf(rgb(20, 15, 20), x, s.h+4, s.between(5, 14), s.between(-1.9, -1.2))
			}
			s.rect(rgb(20, 15, 20), -9, s.h-2, 120, 9)
		}},
		{"branches from the sides", business, func(s *sheet) {
			s.all(rgb(235, 240, 245))
			for range 14 {
				x, dir := -4.0, 1.0
				if s.rng.IntN(2) == 0 {
					x, dir = s.w+4, -1
				}
				y := s.between(-2, s.h+2)
				tip := point{x + dir*s.between(6, 22), y + s.between(-9, 9)}
				s.poly(rgb(60, 45, 40), stroke(point{x, y}, tip, s.between(.3, 1)))
				for k := range 5 {
					t := float64(k+1) / 6
					s.leaf(rgb(70, 110, 60), x+(tip.x-x)*t, y+(tip.y-y)*t, s.between(1.5, 3.5), s.between(0, 6.3))
				}
			}
			s.caption(ink)
		}},
		{"bubbles rising past the top", business, func(s *sheet) {
			s.shade(func(p point) color.NRGBA { return mix(rgb(160, 215, 230), teal, p.y/50) })
			for range 60 {
				s.ring(faint(white, 180), s.between(-3, s.w+3), s.between(-3, s.h+3), s.between(.6, 3), .25)
			}
		}},
		{"watercolour petals over the edges", business, func(s *sheet) {
			for _, at := range []point{{2, 3}, {s.w - 3, 4}, {s.w / 2, s.h + 1}, {0, s.h - 6}} {
				s.wash(s.hue(), at.x, at.y, s.between(7, 12), s.between(7, 12), .25)
			}
			s.caption(ink)
		}},
		{"watercolour frame of leaves", poker, func(s *sheet) {
			for range 120 {
				side, x, y := s.rng.IntN(4), s.between(-2, s.w+2), s.between(-2, s.h+2)
				switch side {
				case 0:
					y = s.between(-3, 5)
				case 1:
					y = s.h - s.between(-3, 5)
				case 2:
					x = s.between(-3, 5)
				default:
					x = s.w - s.between(-3, 5)
				}
				s.leaf(faint(rgb(70, uint8(s.between(100, 160)), 80), 190), x, y, s.between(3, 8), s.between(0, 6.3))
			}
		}},
		{"concrete with cracks", business, func(s *sheet) {
			tone, fine := s.octaves(15, 5), s.octaves(1, 2)
			s.shade(func(p point) color.NRGBA { return plus(rgb(185, 183, 178), 18*tone(p)+6*fine(p)+3*s.rng.NormFloat64()) })
			for range 6 {
				p := point{s.between(0, s.w), s.between(-3, s.h+3)}
				for range 12 {
					q := point{p.x + s.between(-3, 3), p.y + s.between(0, 4)}
					s.poly(rgb(110, 108, 104), stroke(p, q, s.between(.1, .25)))
					p = q
				}
			}
		}},
		{"denim with a seam", business, func(s *sheet) {
			s.shade(func(p point) color.NRGBA {
				return plus(rgb(60, 80, 125), 14*math.Sin((p.x+p.y)*9)+8*s.rng.NormFloat64())
			})
			for x := -3.0; x < s.w+3; x += 2.6 {
				s.rect(rgb(205, 150, 70), x, s.h-1.8, 1.8, .5)
			}
		}},
		{"leather stitched along every edge", business, func(s *sheet) {
			rough := s.octaves(1.5, 3)
			s.shade(func(p point) color.NRGBA { return plus(rgb(110, 65, 40), 14*rough(p)) })
			s.dashes(straw, 4.2, 2.4, 1.6, .4)
		}},
		{"felt", poker, func(s *sheet) {
			s.grain(rgb(30, 90, 60), 9)
			s.strewn(700, .7, func(x, y float64) {
				s.leaf(plus(rgb(30, 90, 60), s.between(-22, 26)), x, y, s.between(.4, 2), s.between(0, 6.3))
			})
		}},
		{"crumpled foil", business, func(s *sheet) {
			fold := s.octaves(6, 4)
			s.shade(func(p point) color.NRGBA {
				return mix(rgb(120, 95, 40), rgb(250, 235, 170), math.Abs(math.Sin(4*fold(p))))
			})
		}},
		{"small anchors cut by the trim", business, func(s *sheet) {
			c := s.hue()
			s.grid(6.5, true, func(x, y float64) {
				s.rect(c, x-.2, y-1.6, .4, 3)
				s.rect(c, x-.8, y-1, 1.6, .35)
				s.ring(c, x, y-2, .5, .25)
				s.leaf(c, x, y+1.4, 1.6, -.5)
				s.leaf(c, x, y+1.4, 1.6, math.Pi+.5)
			})
		}},
		{"letters of the alphabet strewn", business, func(s *sheet) {
			s.strewn(90, 6, func(x, y float64) {
				s.letters(s.hue(), fonts.bold, x-1.5, y-1.5, s.between(9, 13), string(rune('A'+s.rng.IntN(26))))
			})
		}},
		{"stars on midnight", upright, func(s *sheet) {
			s.all(rgb(18, 22, 50))
			s.strewn(220, 2, func(x, y float64) { s.disc(straw, x, y, s.between(.1, .5)) })
			s.disc(straw, s.w-2, 6, 7)
		}},
		{"fish in shoals", business, func(s *sheet) {
			s.all(rgb(200, 225, 232))
			c := s.hue()
			s.grid(7.5, true, func(x, y float64) {
				s.leaf(c, x-2, y, 4, 0)
				s.poly(c, []point{{x + 1.6, y}, {x + 3, y - 1}, {x + 3, y + 1}})
				s.disc(white, x-1.2, y-.2, .25)
			})
		}},
		{"snow on a slate", business, func(s *sheet) {
			s.grain(rgb(70, 78, 90), 4)
			s.strewn(260, 1.5, func(x, y float64) { s.disc(faint(white, uint8(s.between(120, 255))), x, y, s.between(.15, 1)) })
			s.caption(white)
		}},
		{"musical staves off both sides", business, func(s *sheet) {
			for _, y0 := range []float64{2, 20, 38} {
				for k := range 5 {
					s.rect(ink, -9, y0+float64(k)*2, 120, .2)
				}
				for range 14 {
					x, y := s.between(-2, s.w), y0+float64(s.rng.IntN(9))
					s.poly(ink, turned(oval(x, y, 1.2, .85), point{x, y}, -.35))
					s.rect(ink, x+1, y-6, .25, 6)
				}
			}
		}},
		{"a map with roads", business, func(s *sheet) {
			s.all(rgb(238, 234, 222))
			for range 16 {
				a, b := point{s.between(-5, 95), -5}, point{s.between(-5, 95), 60}
				if s.rng.IntN(2) == 0 {
					a, b = point{-5, s.between(-5, 55)}, point{95, s.between(-5, 55)}
				}
				s.poly(rgb(200, 170, 110), stroke(a, b, s.between(.4, 1.6)))
			}
			for range 40 {
				s.rect(rgb(190, 180, 165), s.between(-3, s.w), s.between(-3, s.h), s.between(1, 3), s.between(1, 3))
			}
		}},
	}
	for _, d := range []float64{4, 15, 37, 52, 67, 80, 87} {
		list = append(list, stripesOn(d))
	}
	return list
}

// stripesOn are stripes of two widths on a ground of their own.
func stripesOn(degrees float64) picture {
	p := stripesAt(degrees)
	p.name += ", of two widths on colour"
	p.paint = func(s *sheet) {
		s.all(straw)
		pitch := s.between(5, 9)
		s.stripes(s.hue(), degrees, pitch, pitch*.4, s.between(0, pitch))
		s.stripes(s.hue(), degrees, pitch, pitch*.1, s.between(0, pitch))
		s.caption(ink)
	}
	return p
}
