package brink_test

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"math"
	"testing"

	"stoneproof/checks/brink"
	"stoneproof/rules"

	"golang.org/x/image/vector"
)

// keep takes away everything outside a polygon.
func (s *sheet) keep(loop []point) {
	b := s.img.Bounds()
	r := vector.NewRasterizer(b.Dx(), b.Dy())
	for i, p := range loop {
		x, y := s.to(p)
		if i == 0 {
			r.MoveTo(x, y)
		} else {
			r.LineTo(x, y)
		}
	}
	r.ClosePath()
	mask := image.NewAlpha(b)
	r.Draw(mask, b, image.Opaque, image.Point{})
	out := image.NewRGBA(b)
	draw.DrawMask(out, b, s.img, image.Point{}, mask, image.Point{}, draw.Src)
	s.img = out
}

// short is a stretch, mm, that the paint was cut off along.
type short struct {
	edge             rules.Edge
	from, to, extent float64
}

// cut takes paint away from a full card so that it falls short.
type cut struct {
	name  string
	make  func(s *sheet)
	short []short
}

// outline is the sheet's bleed box, with some edges pulled in to the given
// distance beyond the trim.
func (s *sheet) outline(e map[rules.Edge]float64) []point {
	of := func(k rules.Edge) float64 {
		if v, ok := e[k]; ok {
			return v
		}
		return s.bleed + 1
	}
	return box(-of(rules.Left), -of(rules.Top), s.w+of(rules.Left)+of(rules.Right), s.h+of(rules.Top)+of(rules.Bottom))
}

const (
	bw = 88.9
	bh = 50.8
)

func edgeCut(e rules.Edge, extent float64) cut {
	long := bw
	if e == rules.Left || e == rules.Right {
		long = bh
	}
	return cut{fmt.Sprintf("%s stops at %g", e, extent),
		func(s *sheet) { s.keep(s.outline(map[rules.Edge]float64{e: extent})) },
		[]short{{e, 0, long, extent}}}
}

// biteCut removes a rectangle that reaches the bleed edge.
func biteCut(name string, x, y, w, h float64, want ...short) cut {
	return cut{name, func(s *sheet) {
		b := usBleed + 1
		outer := box(-b, -b, s.w+2*b, s.h+2*b)
		s.keep(append(append(outer, outer[0]), closed(reversed(box(x, y, w, h)))...))
	}, want}
}

func closed(p []point) []point { return append(p, p[0]) }

func cuts() []cut {
	const far = usBleed + 2
	all := map[rules.Edge]float64{rules.Top: 0, rules.Right: 0, rules.Bottom: 0, rules.Left: 0}
	return []cut{
		{"drawn to the trim", func(s *sheet) { s.keep(s.outline(all)) }, trimmed(0)},
		edgeCut(rules.Bottom, 0), edgeCut(rules.Top, 1), edgeCut(rules.Right, 2), edgeCut(rules.Left, .5),
		biteCut("half of the top", -far, -far, 40+far, far, short{rules.Top, 0, 40, 0}, short{rules.Left, -9, -9, 0}),
		biteCut("end of the foot", 60.3, bh+1.1, 50, far, short{rules.Bottom, 60.3, bw, 1.1}),
		biteCut("notch of 4 mm", bw+.6, 20.2, far, 4, short{rules.Right, 20.2, 24.2, .6}),
		biteCut("notch of 2 mm", 33.4, -far, 2, far-.3, short{rules.Top, 33.4, 35.4, .3}),
	}
}

// paints are what is cut: from flat to hard.
func paints() []picture {
	return []picture{
		{"dark", business, func(s *sheet) { s.all(s.hue()) }},
		{"straw", business, func(s *sheet) { s.all(straw) }},
		{"gradient", business, func(s *sheet) {
			s.shade(func(p point) color.NRGBA { return mix(rust, straw, (p.x+p.y)/140) })
		}},
		{"photo", business, func(s *sheet) { s.photo(rgb(70, 120, 190), rgb(190, 205, 225), rgb(70, 95, 45)) }},
		{"foliage", business, func(s *sheet) {
			s.all(rgb(40, 60, 30))
			for range 900 {
				v := uint8(s.between(20, 190))
				s.leaf(rgb(v/2, v, v/3), s.between(-6, s.w+4), s.between(-6, s.h+4), s.between(1.5, 6), s.between(0, 6.3))
			}
		}},
		{"linen", business, func(s *sheet) {
			s.shade(func(p point) color.NRGBA { return plus(rgb(215, 205, 185), 9*math.Sin(p.x*14)+9*math.Sin(p.y*15)) })
		}},
		{"grain", business, func(s *sheet) { s.grain(rgb(120, 130, 140), 12) }},
		{"specks", business, func(s *sheet) {
			s.all(teal)
			s.strewn(900, .6, func(x, y float64) { s.disc(white, x, y, s.between(.05, .3)) })
		}},
	}
}

// checkShort compares an edge's finding with the wanted stretches: extents to
// a pixel, ends to slack mm.
func checkShort(t *testing.T, c brink.Canvas, want []short, slack float64) {
	t.Helper()
	px := max(c.PxW, c.PxH) / 1000
	for _, f := range brink.Bleed(c, wantedBleed) {
		var on []short
		skip := false
		for _, w := range want {
			if w.edge == f.Edge && w.from == w.to {
				skip = true
			} else if w.edge == f.Edge {
				on = append(on, w)
			}
		}
		if skip {
			continue
		}
		if len(on) == 0 {
			if f.From != f.To {
				t.Errorf("%s: paint told to stop at %v, %v to %v; want none", f.Edge, f.Extent, f.From, f.To)
			}
			continue
		}
		w := on[0]
		for _, other := range on {
			if math.Abs(f.From.MM()-other.from) < math.Abs(f.From.MM()-w.from) {
				w = other // either of two alike may be told first
			}
		}
		if f.From == f.To {
			t.Errorf("%s: stop at %g not found", f.Edge, w.extent)
			continue
		}
		if d := math.Abs(f.Extent.MM() - w.extent); d > 1.05*px {
			t.Errorf("%s: stop told at %v, want %g mm", f.Edge, f.Extent, w.extent)
		}
		if math.Abs(f.From.MM()-w.from) > slack || math.Abs(f.To.MM()-w.to) > slack {
			t.Errorf("%s: stretch told %v to %v (also %v), want %g to %g mm", f.Edge, f.From, f.To, f.Also, w.from, w.to)
		}
	}
}

// shortCards are whole cards that fall short in ways of their own.
func shortCards() []shortCard {
	left := func(extent float64) []short { return []short{{rules.Left, 0, bh, extent}} }
	return []shortCard{
		{"colour stripe of 3 mm stops at the trim", func(s *sheet) {
			s.rect(rust, 20, 0, 3, s.h+usBleed)
		}, []short{{rules.Top, 20, 23, 0}}, 0},
		{"ribbon at 45 degrees stops at the trim", func(s *sheet) {
			s.poly(rust, []point{{10, 0}, {20, 0}, {20 - 54, 54}, {10 - 54, 54}})
		}, []short{{rules.Top, 10, 20, 0}}, .6},
		{"rounded background at the trim", func(s *sheet) {
			s.poly(teal, rounded(0, 0, s.w, s.h, 3))
		}, trimmed(visibleArc(3)), .7},
		{"panel on the left stops short of the foot", func(s *sheet) {
			s.rect(teal, -usBleed, -usBleed, 30+usBleed, s.h+usBleed+1.3)
		}, []short{{rules.Bottom, 0, 30, 1.3}}, 0},
		{"panel on the right drawn to the trim", func(s *sheet) {
			s.all(straw)
			s.keep(box(-9, -9, 60+9, 90))
			s.rect(rust, 60, 0, 28.9, s.h)
		}, []short{{rules.Top, 60, bw, 0}, {rules.Right, 0, bh, 0}, {rules.Bottom, 60, bw, 0}}, 0},
		{"upright stripes drawn to the trim at the foot", func(s *sheet) {
			s.stripes(rust, 90, 2, 1, .3)
			s.keep(s.outline(map[rules.Edge]float64{rules.Bottom: 0}))
		}, []short{{rules.Bottom, 0, bw, 0}}, 1.2},
		{"slanted stripes cut 1 mm past the foot", func(s *sheet) {
			s.stripes(rust, 55, 4, 2, .3)
			s.keep(s.outline(map[rules.Edge]float64{rules.Bottom: 1}))
		}, []short{{rules.Bottom, 0, bw, 1}}, 3},
		{"dots cut at the left trim", func(s *sheet) {
			s.grid(3, true, func(x, y float64) { s.disc(teal, x, y, 1.2) })
			s.keep(s.outline(map[rules.Edge]float64{rules.Left: 0}))
		}, left(0), 1.5},
		{"flowers on colour cut .8 mm past the left trim", func(s *sheet) {
			s.all(straw)
			s.grid(9, true, func(x, y float64) { s.flower(teal, rust, x, y, 3.2) })
			s.keep(s.outline(map[rules.Edge]float64{rules.Left: .8}))
		}, left(.8), .3},
		{"colour fading along the foot, drawn to the trim", func(s *sheet) {
			s.shade(func(p point) color.NRGBA { return mix(teal, faint(teal, 40), p.x/s.w) })
			s.keep(s.outline(map[rules.Edge]float64{rules.Bottom: 0}))
		}, []short{{rules.Bottom, 0, bw, 0}}, 0},
		{"gradient to the foot, cut while still dark", func(s *sheet) {
			s.shade(func(p point) color.NRGBA { return mix(ink, straw, p.y/s.h) })
			s.keep(s.outline(map[rules.Edge]float64{rules.Bottom: 0}))
		}, []short{{rules.Bottom, 0, bw, 0}}, 0},
		{"border band drawn to the trim", func(s *sheet) { s.frame(rust, 0, 4) }, trimmed(0), 0},
		{"background with its rounding a hair inside the trim", func(s *sheet) {
			s.rect(teal, -usBleed, -usBleed, s.w+2*usBleed, s.h+usBleed-.1)
		}, []short{{rules.Bottom, 0, bw, 0}}, 0},
		{"watercolour cut at the trim", func(s *sheet) {
			s.wash(teal, 0, s.h/2, 40, 60, .2)
			s.keep(s.outline(map[rules.Edge]float64{rules.Left: 0}))
		}, left(0), 0},
		{"background with round corners of 6 mm at the bleed edge", func(s *sheet) {
			s.poly(teal, rounded(-s.bleed, -s.bleed, s.w+2*s.bleed, s.h+2*s.bleed, 6))
		}, everyCorner(1.418, visibleArc(6)), .5},
		{"photo with round corners of 4 mm at the bleed edge", func(s *sheet) {
			s.photo(rgb(70, 120, 190), rgb(190, 205, 225), rgb(70, 95, 45))
			s.keep(rounded(-s.bleed, -s.bleed, s.w+2*s.bleed, s.h+2*s.bleed, 4))
		}, everyCorner(2.003, visibleArc(4)), .5},
		{"bleed without its corners", func(s *sheet) {
			s.rect(teal, -s.bleed, 0, s.w+2*s.bleed, s.h)
			s.rect(teal, 0, -s.bleed, s.w, s.h+2*s.bleed)
		}, everyCorner(0, usBleed), 0},
		{"pale tint with a line frame, drawn to the trim at the foot", func(s *sheet) {
			s.all(rgb(245, 234, 216))
			s.frame(rust, 3, .4)
			s.keep(s.outline(map[rules.Edge]float64{rules.Bottom: 0}))
		}, []short{{rules.Bottom, 0, bw, 0}}, 0},
		{"engraved hills on a tint cut 1.2 mm past the foot", func(s *sheet) {
			s.engraving()
			s.keep(s.outline(map[rules.Edge]float64{rules.Bottom: 1.2}))
		}, []short{{rules.Bottom, 0, bw, 1.2}}, 20},
		{"lattice cut 1 mm past the right edge", func(s *sheet) {
			s.lattice()
			s.keep(s.outline(map[rules.Edge]float64{rules.Right: 1}))
		}, []short{{rules.Right, 0, bh, 1}}, 3},
		{"stripes on a tint cut where the next gap would begin", func(s *sheet) {
			s.awning()
			s.keep(s.outline(map[rules.Edge]float64{rules.Right: 3.1 - 2.5}))
		}, []short{{rules.Right, 0, bh, .6}}, 0},
		{"sliver of .2 mm", func(s *sheet) {
			s.all(ink)
			s.keep(s.outline(map[rules.Edge]float64{rules.Right: usBleed - .2}))
		}, []short{{rules.Right, 0, bh, usBleed - .2}}, 0},
	}
}

// visibleArc is how much of a round corner's radius is missing along an edge by
// more than the slack, a tenth of a millimetre. A pixel at 150 ppi is 0.17 mm, so
// what is told may differ by half a millimetre or so.
func visibleArc(radius float64) float64 {
	const slack = .1
	return radius - math.Sqrt(2*radius*slack-slack*slack)
}

// trimmed is a stretch along each edge that stops at the trim, without its ends.
func trimmed(ends float64) []short {
	return []short{{rules.Top, ends, bw - ends, 0}, {rules.Right, ends, bh - ends, 0},
		{rules.Bottom, ends, bw - ends, 0}, {rules.Left, ends, bh - ends, 0}}
}

// everyCorner is a stretch from either of the bleed's corners along each edge.
func everyCorner(extent, long float64) []short {
	var all []short
	for _, e := range rules.AllEdges {
		end := bw
		if e == rules.Left || e == rules.Right {
			end = bh
		}
		all = append(all, short{e, -usBleed, long - usBleed, extent}, short{e, end + usBleed - long, end + usBleed, extent})
	}
	return all
}

type shortCard struct {
	name  string
	paint func(s *sheet)
	short []short
	loose float64 // mm that the ends may be off where the shape leaves them open
}

func TestShortCards(t *testing.T) {
	for k, card := range shortCards() {
		t.Run(card.name, func(t *testing.T) {
			t.Parallel()
			draw := picture{card.name, business, card.paint}.once(uint64(k + 1))
			eachForm(t, k, draw, func(t *testing.T, s *sheet, how form) {
				c := s.canvas(how)
				checkShort(t, c, card.short, max(.3, card.loose))
			})
		})
	}
}

func TestBleedFound(t *testing.T) {
	for k, p := range paints() {
		t.Run(p.name, func(t *testing.T) {
			t.Parallel()
			ground := p.once(uint64(k + 1))
			for n, cut := range cuts() {
				draw := func(ppi float64) *sheet {
					s := ground(ppi)
					cut.make(s)
					return s
				}
				t.Run(cut.name, func(t *testing.T) {
					eachForm(t, k+n, draw, func(t *testing.T, s *sheet, how form) {
						checkShort(t, s.canvas(how), cut.short, .3)
					})
				})
			}
		})
	}
}
