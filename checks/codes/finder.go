package codes

import (
	"cmp"
	"math"
	"slices"
)

// finder is a finder pattern: its middle and its width across and down, pixels.
type finder struct {
	x, y, w, h float64
	dark       bool
	alike      bool // its ring is about as dark as its middle
	hits       int
}

// finders searches the picture. Those come first whose dark parts are alike, as no
// ring of a pattern in three colours is, and of these the ones seen most often.
func (p *Plane) finders() []finder {
	var found []finder
	const rows = 2 // even the smallest pattern's middle is three rows high
	for y := 0; y < p.H; y += rows {
		least := 0
		for k, swing := range swings {
			if swing <= least {
				continue // it would turn where the last one did
			}
			least = p.row(y).scan(swing, func(h hit) {
				if again(found, h, float64(y)+0.5) {
					return
				}
				if f, ok := p.confirmed(h, y, swings[k:]); ok {
					found = merged(found, f)
				}
			})
		}
	}
	for i := range found {
		found[i].alike = p.alike(&found[i])
	}
	slices.SortStableFunc(found, func(a, b finder) int {
		if a.alike != b.alike {
			if a.alike {
				return -1
			}
			return 1
		}
		return cmp.Compare(b.hits, a.hits)
	})
	return varied(found)
}

// varied are the first of a list, but no more of about one size than codes have: the
// rest repeat in the art.
func varied(list []finder) []finder {
	seen := map[int]int{}
	var out []finder
	for _, f := range list {
		size := int(math.Log(f.w+f.h) / math.Log(1.06))
		if seen[size]++; seen[size] <= limits().alike && len(out) < limits().finders {
			out = append(out, f)
		}
	}
	return out
}

// alike reports whether a pattern's ring differs from its light by more than half as
// much as its middle does. Of small modules the ring blurs, but by less than that.
func (p *Plane) alike(f *finder) bool {
	about := func(modules float64) (sum float64) {
		dx, dy := modules*f.w/7, modules*f.h/7
		return (p.at(f.x-dx, f.y) + p.at(f.x+dx, f.y) + p.at(f.x, f.y-dy) + p.at(f.x, f.y+dy)) / 4
	}
	middle, light, ring := p.at(f.x, f.y), about(2), about(3)
	return math.Abs(light-ring) > math.Abs(light-middle)*0.55
}

func (p *Plane) row(y int) line { return line{p.Pix, y * p.W, 1, p.W} }

// confirmed looks for a hit's pattern by the first swing that shows it.
func (p *Plane) confirmed(h hit, y int, swings []int) (f finder, ok bool) {
	for _, swing := range swings {
		if f, ok = p.crossed(h, y, swing); ok {
			break
		}
	}
	return f, ok
}

// crossed looks for a hit's pattern down the column through its middle, and then
// along the row through the middle found there.
func (p *Plane) crossed(h hit, y, swing int) (finder, bool) {
	wide := h.width * p.PxW / p.PxH // in rows
	down, ok := p.near(true, h.middle, float64(y)+0.5, wide, swing, h.dark)
	if !ok {
		return finder{}, false
	}
	across, ok := p.near(false, down.middle, h.middle, h.width, swing, h.dark)
	if !ok {
		return finder{}, false
	}
	return finder{x: across.middle, y: down.middle, w: across.width, h: down.width, dark: h.dark, hits: 1}, true
}

// near scans a stretch of a column, or of a row, that goes through on, for the hit
// nearest to a place, of a width like the one known.
func (p *Plane) near(column bool, on, about, width float64, swing int, dark bool) (best hit, ok bool) {
	n, others := p.W, p.H
	if column {
		n, others = p.H, p.W
	}
	reach := 0.9*width + 2
	from, to := max(0, int(about-reach)), min(n, int(about+reach)+1)
	which := max(0, min(others-1, int(on)))
	if to-from < 7 {
		return hit{}, false
	}
	l := line{p.Pix, which*p.W + from, 1, to - from}
	if column {
		l = line{p.Pix, from*p.W + which, p.W, to - from}
	}
	l.scan(swing, func(h hit) {
		h.middle += float64(from)
		off := math.Abs(h.middle - about)
		if h.dark == dark && off < 0.25*width && h.width > 0.7*width && h.width < 1.4*width &&
			(!ok || off < math.Abs(best.middle-about)) {
			best, ok = h, true
		}
	})
	return best, ok
}

// again counts a hit on the middle of a pattern that is known.
func again(list []finder, h hit, y float64) bool {
	for i := len(list) - 1; i >= 0 && y-list[i].y < 3*list[i].h; i-- {
		g := &list[i]
		if g.dark == h.dark && math.Abs(g.x-h.middle) < 0.1*g.w && math.Abs(g.y-y) < 0.2*g.h && math.Abs(g.w-h.width) < 0.2*g.w {
			g.hits++
			return true
		}
	}
	return false
}

// merged adds a sighting to the pattern that it is of. Rows come from the top, so
// that pattern is one of the last in the list.
func merged(list []finder, f finder) []finder {
	for i := len(list) - 1; i >= 0 && f.y-list[i].y < 3*f.h; i-- {
		g := &list[i]
		if g.dark != f.dark || math.Abs(g.x-f.x) > 0.2*g.w || math.Abs(g.y-f.y) > 0.2*g.h ||
			f.w > 1.3*g.w || g.w > 1.3*f.w {
			continue
		}
		k := float64(g.hits)
		mean := func(a, b float64) float64 { return (a*k + b) / (k + 1) }
		g.x, g.y, g.w, g.h, g.hits = mean(g.x, f.x), mean(g.y, f.y), mean(g.w, f.w), mean(g.h, f.h), g.hits+1
		return list
	}
	if len(list) >= 50*limits().finders {
		return list
	}
	return append(list, f)
}
