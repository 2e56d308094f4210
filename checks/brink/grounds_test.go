package brink_test

import (
	"image/color"
	"math"
)

// Grounds, photographs and shapes that are meant to run off, or to end.

func (s *sheet) grain(base color.NRGBA, strength float64) {
	s.shade(func(point) color.NRGBA { return plus(base, strength*s.rng.NormFloat64()) })
}

// caption sets a few lines well inside the card.
func (s *sheet) caption(c color.Color) {
	x := max(s.w*.12, 8)
	s.text(c, x, s.h*.35, 14, "Ottery Pots")
	s.text(c, x, s.h*.35+8, 7, "Kiln Yard, Wendlebury Cross")
}

// photo is a landscape: a sky, a hill with texture, foliage strokes in front.
func (s *sheet) photo(sky, low, hill color.NRGBA) {
	clouds, slope, rough := s.octaves(18, 5), s.octaves(30, 3), s.octaves(3, 4)
	s.shade(func(p point) color.NRGBA {
		horizon := s.h*.55 + 6*slope(point{p.x, 0})
		g := 3 * s.rng.NormFloat64()
		if p.y < horizon {
			return plus(mix(sky, low, p.y/horizon+.35*clouds(p)), g)
		}
		return plus(hill, 40*rough(p)+g)
	})
	for range 250 {
		x, y := s.between(-s.bleed, s.w+s.bleed), s.between(s.h*.6, s.h+s.bleed)
		s.leaf(plus(hill, s.between(-60, 50)), x, y, s.between(1, 5), s.between(-2.6, -.5))
	}
}

// wash is a watercolour blot: a ragged closed edge about cx, cy.
func (s *sheet) wash(c color.NRGBA, cx, cy, rx, ry, ragged float64) {
	edge, tone := s.octaves(9, 5), s.octaves(14, 4)
	s.shade(func(p point) color.NRGBA {
		dx, dy := (p.x-cx)/rx, (p.y-cy)/ry
		d := 1 - math.Hypot(dx, dy) + ragged*edge(p)
		if d < 0 {
			return color.NRGBA{}
		}
		a := 150 + 50*tone(p)
		if d < .05 {
			a += 50 // pigment gathers at the rim
		}
		return faint(c, uint8(max(0, min(255, min(a, d*9000)))))
	})
}

func flatGrounds() []picture {
	return []picture{
		{"white card", business, func(s *sheet) { s.caption(ink) }},
		{"dark flat", business, func(s *sheet) { s.all(ink); s.caption(white) }},
		{"light flat", business, func(s *sheet) { s.all(straw); s.caption(ink) }},
		{"cream flat", business, func(s *sheet) { s.all(cream); s.caption(ink) }},
		{"dark to mid gradient", business, func(s *sheet) {
			s.shade(func(p point) color.NRGBA { return mix(ink, teal, (p.x+3)/95) })
			s.caption(white)
		}},
		{"fades to white along the width", business, func(s *sheet) {
			s.shade(func(p point) color.NRGBA { return mix(teal, white, (p.x+3)/92) })
		}},
		{"fades to white at the bleed edge", business, func(s *sheet) {
			s.shade(func(p point) color.NRGBA { return mix(teal, white, (p.y+3)/(s.h+6)) })
		}},
		{"fades to white within the bleed", business, func(s *sheet) {
			s.shade(func(p point) color.NRGBA { return mix(rust, white, (p.y-s.h+20)/21.5) })
			s.caption(white)
		}},
		{"fades to nothing at the trim", business, func(s *sheet) {
			s.shade(func(p point) color.NRGBA { return mix(teal, faint(teal, 0), (p.y-s.h+30)/30) })
		}},
		{"radial fade", business, func(s *sheet) {
			s.shade(func(p point) color.NRGBA { return mix(rust, white, math.Hypot(p.x-s.w/2, p.y-s.h/2)/46) })
		}},
		{"short shadow over the trim", business, func(s *sheet) {
			s.shade(func(p point) color.NRGBA { return mix(faint(ink, 120), faint(ink, 0), math.Abs(p.y-s.h)/3) })
		}},
		{"corners fading to white", business, func(s *sheet) {
			s.shade(func(p point) color.NRGBA {
				return mix(teal, white, (math.Hypot((p.x-s.w/2)/s.w, (p.y-s.h/2)/s.h)-.5)/.27)
			})
		}},
		{"diagonal split", business, func(s *sheet) {
			s.poly(s.hue(), []point{{-10, -10}, {60, -10}, {25, 70}, {-10, 70}})
		}},
		{"colour to the left third", business, func(s *sheet) {
			s.rect(s.hue(), -s.bleed, -s.bleed, 30+s.bleed, s.h+2*s.bleed)
			s.text(ink, 36, 20, 11, "Hedge & Hoe")
		}},
		{"split in halves", upright, func(s *sheet) {
			s.all(s.hue())
			s.rect(s.hue(), -s.bleed, 40, s.w+2*s.bleed, 60)
		}},
		{"line frame well inside", business, func(s *sheet) { s.frame(ink, 5.5, .5); s.caption(ink) }},
		{"thick frame inside on cream", business, func(s *sheet) { s.all(straw); s.frame(rust, 6, 2); s.caption(ink) }},
		{"coloured border through the bleed", business, func(s *sheet) {
			s.all(s.hue())
			s.rect(white, 4, 4, s.w-8, s.h-8)
			s.caption(ink)
		}},
		{"panel inside", business, func(s *sheet) { s.rect(teal, 6, 6, s.w-12, s.h-12); s.caption(white) }},
		{"bar along the top, through the bleed", business, func(s *sheet) {
			s.rect(teal, -s.bleed, -s.bleed, s.w+2*s.bleed, s.bleed+6)
			s.caption(ink)
		}},
		{"hairline along the bottom, running off both ends", business, func(s *sheet) {
			s.rect(rust, -s.bleed, s.h-2, s.w+2*s.bleed, .25)
			s.caption(ink)
		}},
		{"white letters on dark, well inside", business, func(s *sheet) { s.all(rgb(20, 40, 60)); s.caption(white) }},
	}
}

func shapes() []picture {
	return []picture{
		{"great disc off a corner", business, func(s *sheet) { s.disc(s.hue(), 80, 8, 26); s.text(ink, 8, 30, 10, "Wheel & Spoke") }},
		{"discs poking past the trim", business, func(s *sheet) {
			for x := 8.0; x < 85; x += 16 {
				s.disc(s.hue(), x, s.h+1-s.between(4, 7), 5.5)
			}
		}},
		{"great disc just past the trim", business, func(s *sheet) { s.disc(s.hue(), s.w/2, 14+1.1, 37.1-s.between(0, .4)) }},
		{"pennants pointing past the trim", business, func(s *sheet) {
			for x := -4.0; x < 90; x += 8 {
				s.poly(s.hue(), []point{{x, s.h - 9}, {x + 8, s.h - 9}, {x + 4, s.h + 1.2}})
			}
			s.rect(ink, -s.bleed, s.h-9.6, s.w+2*s.bleed, .8)
		}},
		{"great letter running off", business, func(s *sheet) { s.letters(s.hue(), fonts.bold, 50, 8, 190, "R") }},
		{"waves", business, func(s *sheet) {
			for k, c := range []color.NRGBA{teal, rust, ink} {
				p := []point{{-5, s.h + 5}}
				for x := -5.0; x < s.w+5; x++ {
					p = append(p, point{x, s.h - 14 + 4*float64(k) + 2.2*math.Sin(x/7+float64(k))})
				}
				s.poly(c, append(p, point{s.w + 5, s.h + 5}))
			}
		}},
		{"wave leaving through the bottom", business, func(s *sheet) {
			p := []point{{-5, s.h + 5}}
			for x := -5.0; x < s.w+5; x++ {
				p = append(p, point{x, s.h + 4*math.Sin(x/11+1)})
			}
			s.poly(teal, append(p, point{s.w + 5, s.h + 5}))
		}},
		{"wave hanging from the top past the bottom trim", business, func(s *sheet) {
			p := []point{{-5, -5}}
			for x := -5.0; x < s.w+5; x += .5 {
				p = append(p, point{x, s.h + 1.2*math.Sin(x/5)})
			}
			s.poly(teal, append(p, point{s.w + 5, -5}))
		}},
		{"flourishes that run off", business, func(s *sheet) {
			c := s.hue()
			for k := range 9 {
				s.leaf(c, 0, 0, s.between(9, 16), float64(k)*.35-.8)
				s.leaf(c, s.w, s.h, s.between(9, 16), math.Pi+float64(k)*.35-.8)
			}
		}},
		{"watercolour inside", business, func(s *sheet) { s.wash(s.hue(), s.w/2, s.h/2, 32, 15, .12) }},
		{"watercolour running off one side", business, func(s *sheet) { s.wash(s.hue(), 0, s.h/2, 30, 44, .3) }},
		{"watercolour ending about the trim", business, func(s *sheet) { s.wash(s.hue(), s.w/2, s.h/2, s.w/2, s.h/2+1, .16) }},
		{"torn paper", business, func(s *sheet) {
			edge := s.octaves(5, 6)
			s.shade(func(p point) color.NRGBA {
				if p.y < s.h-.5+1.8*edge(point{p.x, 0}) {
					return straw
				}
				return color.NRGBA{}
			})
			s.caption(ink)
		}},
		{"dry brush at the foot", business, func(s *sheet) {
			for range 60 {
				y, x, slope := s.between(s.h-9, s.h+4), s.between(-6, 40), s.between(-.12, .12)
				wobble, half := s.octaves(4, 4), s.between(.05, .35)
				var upper, lower []point
				for d, long := 0.0, s.between(15, 50); d < long; d += .5 {
					mid := y + slope*d + .6*wobble(point{d, y})
					upper = append(upper, point{x + d, mid - half})
					lower = append(lower, point{x + d, mid + half*s.between(.5, 1)})
				}
				s.poly(faint(teal, 200), append(upper, reversed(lower)...))
			}
		}},
		{"rays", business, func(s *sheet) {
			for k := range 18 {
				a := float64(k) * math.Pi / 9
				s.poly(rust, []point{{44, 25}, {44 + 90*math.Cos(a), 25 + 90*math.Sin(a)}, {44 + 90*math.Cos(a+.17), 25 + 90*math.Sin(a+.17)}})
			}
		}},
		{"contour lines", business, func(s *sheet) {
			high := s.octaves(25, 3)
			s.shade(func(p point) color.NRGBA {
				v := high(p) * 9
				if d := math.Abs(v - math.Round(v)); d < .06 {
					return rgb(150, 120, 80)
				}
				return rgb(245, 242, 230)
			})
		}},
	}
}

func photographs() []picture {
	return []picture{
		{"photo of a hill", business, func(s *sheet) { s.photo(rgb(70, 120, 190), rgb(200, 220, 235), rgb(70, 95, 45)) }},
		{"photo upright", upright, func(s *sheet) { s.photo(rgb(60, 90, 150), rgb(230, 190, 150), rgb(50, 70, 40)) }},
		{"photo with a blown sky", business, func(s *sheet) { s.photo(white, rgb(240, 245, 250), rgb(90, 100, 70)) }},
		{"photo of snow", business, func(s *sheet) {
			drift, fine := s.octaves(22, 5), s.octaves(2, 3)
			s.shade(func(p point) color.NRGBA {
				return plus(rgb(240, 244, 250), 26*drift(p)+5*fine(p)+2*s.rng.NormFloat64())
			})
			s.leaf(rgb(60, 50, 45), 60, s.h+2, 25, -1.4)
		}},
		{"photo at night with grain", business, func(s *sheet) {
			glow := s.octaves(20, 4)
			s.shade(func(p point) color.NRGBA { return plus(rgb(35, 35, 55), 30*glow(p)+9*s.rng.NormFloat64()) })
		}},
		{"lights out of focus", business, func(s *sheet) {
			s.shade(func(p point) color.NRGBA { return mix(rgb(30, 25, 50), rgb(90, 40, 60), p.y/50) })
			for range 40 {
				x, y, r := s.between(-5, s.w+5), s.between(-5, s.h+5), s.between(1.5, 5)
				c := faint(s.hue(), uint8(s.between(40, 120)))
				s.disc(c, x, y, r)
			}
		}},
		{"photo with foliage to every edge", poker, func(s *sheet) {
			s.all(rgb(40, 60, 30))
			for range 1500 {
				v := uint8(s.between(20, 190))
				s.leaf(rgb(v/2, v, v/3), s.between(-6, s.w+4), s.between(-6, s.h+4), s.between(1.5, 6), s.between(0, 6.3))
			}
		}},
		{"photo on the left, bleeding on three sides", business, func(s *sheet) {
			rough := s.octaves(6, 5)
			s.shadeIn(box(-s.bleed, -s.bleed, 38+s.bleed, s.h+2*s.bleed), func(p point) color.NRGBA {
				return plus(rgb(130, 100, 80), 70*rough(p)+3*s.rng.NormFloat64())
			})
			s.text(ink, 44, 20, 10, "Marsh Lane Bakery")
		}},
		{"linen", business, func(s *sheet) {
			s.shade(func(p point) color.NRGBA {
				return plus(rgb(225, 218, 200), 9*math.Sin(p.x*14)+9*math.Sin(p.y*15)+3*s.rng.NormFloat64())
			})
			s.caption(ink)
		}},
		{"paper grain", business, func(s *sheet) { s.grain(rgb(238, 232, 220), 5); s.caption(ink) }},
		{"coarse grain on dark", business, func(s *sheet) { s.grain(rgb(60, 70, 80), 14); s.caption(white) }},
		{"kraft with fibres", business, func(s *sheet) {
			s.grain(rgb(190, 160, 120), 5)
			s.strewn(500, .8, func(x, y float64) {
				s.leaf(plus(rgb(150, 120, 85), s.between(-30, 50)), x, y, s.between(.3, 1.6), s.between(0, 6.3))
			})
		}},
		{"texture with white specks", business, func(s *sheet) {
			s.all(teal)
			s.strewn(900, .6, func(x, y float64) { s.disc(white, x, y, s.between(.05, .3)) })
		}},
		{"marble", business, func(s *sheet) {
			warp := s.octaves(16, 5)
			s.shade(func(p point) color.NRGBA {
				v := math.Abs(math.Sin(p.x/9 + 3.5*warp(p)))
				return mix(rgb(120, 120, 130), rgb(248, 247, 246), math.Pow(v, .35))
			})
		}},
		{"near-white texture", business, func(s *sheet) {
			rough := s.octaves(2, 3)
			s.shade(func(p point) color.NRGBA { return plus(rgb(250, 249, 246), 3*rough(p)) })
			s.caption(ink)
		}},
		{"chalkboard", business, func(s *sheet) {
			dust := s.octaves(10, 6)
			s.shade(func(p point) color.NRGBA { return plus(rgb(45, 50, 48), 22*dust(p)+4*s.rng.NormFloat64()) })
			s.caption(white)
		}},
		{"wood", business, func(s *sheet) {
			warp := s.octaves(30, 4)
			s.shade(func(p point) color.NRGBA {
				return plus(rgb(150, 105, 65), 28*math.Sin(p.y*2.2+6*warp(point{p.x / 4, p.y}))+4*s.rng.NormFloat64())
			})
		}},
		{"inset photo with a soft shadow", business, func(s *sheet) {
			s.all(rgb(235, 235, 230))
			s.shade(func(p point) color.NRGBA {
				d := math.Hypot(max(0, math.Abs(p.x-s.w/2)-34), max(0, math.Abs(p.y-s.h/2)-16))
				return mix(faint(ink, 110), faint(ink, 0), d/4.5)
			})
			rough := s.octaves(6, 5)
			s.shadeIn(box(s.w/2-35, s.h/2-17, 70, 34), func(p point) color.NRGBA { return plus(rgb(110, 120, 100), 70*rough(p)) })
		}},
	}
}

// quietPictures are cards with nothing wrong at the brink.
func quietPictures() []picture {
	var all []picture
	for _, list := range [][]picture{flatGrounds(), shapes(), photographs(), patterns(), brinks()} {
		all = append(all, list...)
	}
	return all
}
