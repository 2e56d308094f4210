package codes

import (
	"cmp"
	"math"
	"slices"
)

// frame is a symbol's grid: module (i, j) has its middle at origin + (i+½)·across +
// (j+½)·down. It is told in micrometres, so that it is square whatever the pixels.
type frame struct {
	origin, across, down Point
	modules              int  // on a side
	dark                 bool // dark on light
	arm                  float64
	module               float64 // as the finder patterns tell it
}

func (f *frame) at(i, j float64) Point {
	return Point{f.origin.X + i*f.across.X + j*f.down.X, f.origin.Y + i*f.across.Y + j*f.down.Y}
}

// corners are the symbol's own top left, top right, bottom right and bottom left.
func (f *frame) corners() [4]Point {
	n := float64(f.modules)
	return [4]Point{f.at(0, 0), f.at(n, 0), f.at(n, n), f.at(0, n)}
}

// around is the box about the symbol with so many modules more on each side.
func (f *frame) around(modules float64) box {
	n, m := float64(f.modules), modules
	b := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, q := range [4]Point{f.at(-m, -m), f.at(n+m, -m), f.at(n+m, n+m), f.at(-m, n+m)} {
		b = box{min(b.x0, q.X), min(b.y0, q.Y), max(b.x1, q.X), max(b.y1, q.Y)}
	}
	return b
}

// Symbols have 21 to 177 modules a side, in steps of 4 (ISO/IEC 18004, 5.1).
const (
	fewest = 21
	most   = 177
	step   = 4
)

// corner is a finder pattern in micrometres.
type corner struct {
	at          Point
	least, most float64 // widths
	sum         float64 // across and down together
	dark        bool
}

// triple is three patterns that lie as those of one symbol do.
type triple struct {
	a, b, c int
	off     float64 // how far it is from square
}

// frames are the triples of patterns that fit and have something of a timing pattern,
// the best first. A stray pattern may fit as well, so each is tried twice.
func (p *Plane) frames(list []finder) []frame {
	corners := make([]corner, len(list))
	for i, f := range list {
		w, h := f.w*p.PxW, f.h*p.PxH
		corners[i] = corner{Point{f.x * p.PxW, f.y * p.PxH}, min(w, h), max(w, h), w + h, f.dark}
	}
	fits := triples(corners)
	slices.SortStableFunc(fits, func(a, b triple) int { return cmp.Compare(a.off, b.off) })
	var out []frame
	used := make([]int, len(list))
	for _, t := range fits {
		if len(out) == limits().suspects {
			break
		}
		if used[t.a] > 1 || used[t.b] > 1 || used[t.c] > 1 {
			continue
		}
		f, ok := framed(&corners[t.a], &corners[t.b], &corners[t.c])
		if !ok {
			continue
		}
		used[t.a]++
		used[t.b]++
		used[t.c]++
		if _, ok := p.timed(f, hinted()); ok { // art that repeats has any number without
			out = append(out, f)
		}
	}
	return out
}

// What a triple may be off: the sine of how far its angle is from a right one, how
// unlike its arms are, and how unlike its patterns.
const (
	offAngle  = 0.06
	offArms   = 0.03 // of their sum
	offWidths = 1.35 // times
)

// triples are those with a right angle between even arms, and patterns of a size.
func triples(list []corner) []triple {
	var out []triple
	for i := range list {
		a := &list[i]
		for j := range list {
			b := &list[j]
			if i == j || b.dark != a.dark || max(a.most, b.most) > offWidths*min(a.least, b.least) {
				continue
			}
			ab := minus(b.at, a.at)
			arm := ab.X*ab.X + ab.Y*ab.Y
			for k := j + 1; k < len(list); k++ {
				c := &list[k]
				ac := minus(c.at, a.at)
				other := ac.X*ac.X + ac.Y*ac.Y
				dot := math.Abs(ab.X*ac.X + ab.Y*ac.Y)
				if k == i || dot > offAngle*arm || math.Abs(arm-other) > 2*offArms*(arm+other) || c.dark != a.dark {
					continue
				}
				widths := max(a.most, b.most, c.most) / min(a.least, b.least, c.least)
				if widths > offWidths || arm == 0 {
					continue
				}
				out = append(out, triple{i, j, k, dot/arm + math.Abs(arm-other)/(arm+other) + 0.2*(widths-1)})
			}
		}
	}
	return out
}

func minus(a, b Point) Point { return Point{a.X - b.X, a.Y - b.Y} }

// framed lays a frame with its corner at a and its arms to b and c.
func framed(a, b, c *corner) (f frame, ok bool) {
	ab, ac := minus(b.at, a.at), minus(c.at, a.at)
	if ab.X*ac.Y-ab.Y*ac.X < 0 {
		ab, ac = ac, ab
	}
	arm := (math.Hypot(ab.X, ab.Y) + math.Hypot(ac.X, ac.Y)) / 2
	// A line through the middle of a square turned by t crosses it over
	// 1/max(|cos t|, |sin t|) of its side.
	turned := max(math.Abs(ab.X), math.Abs(ab.Y)) / math.Hypot(ab.X, ab.Y)
	module := (a.sum + b.sum + c.sum) / 6 / 7 * turned
	n := arm/module + 7
	if n < fewest-3 || n > most+9 {
		return f, false
	}
	f = frame{origin: a.at, dark: a.dark, module: module, arm: arm, modules: nearestSide(n)}
	f.lay(ab, ac)
	return f, true
}

// lay sets the grid from the arms between the middles of the patterns, which lie
// 3½ modules from the corners.
func (f *frame) lay(ab, ac Point) {
	steps := float64(f.modules - 7)
	corner := f.origin
	f.across, f.down = Point{ab.X / steps, ab.Y / steps}, Point{ac.X / steps, ac.Y / steps}
	f.origin = Point{
		corner.X - 3.5*(f.across.X+f.down.X),
		corner.Y - 3.5*(f.across.Y+f.down.Y),
	}
}

// resized is the frame with the same finder patterns and another count of modules.
func (f *frame) resized(modules int) frame {
	out := *f
	k := float64(f.modules - 7)
	out.origin = f.at(3.5, 3.5)
	out.modules = modules
	out.lay(Point{f.across.X * k, f.across.Y * k}, Point{f.down.X * k, f.down.Y * k})
	return out
}

func nearestSide(n float64) int {
	k := int(math.Round((n - fewest) / step))
	return fewest + step*max(0, min((most-fewest)/step, k))
}
