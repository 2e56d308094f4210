package codes

import (
	"math"
	"slices"
)

// linear is how much light a coded value stands for, 0 to 1 (IEC 61966-2-1, 5.2).
func linear(v float64) float64 {
	v /= 255
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

// contrast parts the modules half way and takes the middle one of either kind.
func (p *Plane) contrast(f *frame) float64 {
	half := p.halfway(f)
	var dark, light []float64
	for j := range f.modules {
		for i := range f.modules {
			v := p.module(f, i, j)
			if v < half(i, j) {
				dark = append(dark, v)
			} else {
				light = append(light, v)
			}
		}
	}
	if len(dark) == 0 || len(light) == 0 {
		return 0
	}
	slices.Sort(dark)
	slices.Sort(light)
	return linear(light[len(light)/2]) - linear(dark[len(dark)/2])
}

// quiet follows each side outwards until something is met that a reader would take
// for a dark module: what is nearer to the symbol's dark than to its light.
func (p *Plane) quiet(f *frame) [4]float64 {
	dark, light := p.ends(f)
	limit := (light + dark) / 2
	n := float64(f.modules)
	sides := [4]func(along, out float64) Point{
		func(along, out float64) Point { return f.at(along, -out) },
		func(along, out float64) Point { return f.at(n+out, along) },
		func(along, out float64) Point { return f.at(n-along, n+out) },
		func(along, out float64) Point { return f.at(-out, n-along) },
	}
	var free [4]float64
	for k, side := range sides {
		free[k] = p.bare(side, f, limit)
	}
	return free
}

// bare is how far out one side is free of anything that passes the limit.
func (p *Plane) bare(side func(along, out float64) Point, f *frame, limit float64) float64 {
	const first, fine = 0.3, 0.1 // modules; nearer, the symbol's own edge is seen
	n := float64(f.modules)
	for out := first; out < QuietSeen; out += fine {
		for along := 0.25; along < n; along += 0.5 {
			q := side(along, out)
			if !p.inside(q) {
				continue // nothing is known to be there
			}
			if v := p.light(q); f.dark && v < limit || !f.dark && v > limit {
				if out == first {
					return 0
				}
				return out - fine/2
			}
		}
	}
	return QuietSeen
}

func (p *Plane) inside(q Point) bool {
	return q.X >= 0 && q.Y >= 0 && q.X <= float64(p.W)*p.PxW && q.Y <= float64(p.H)*p.PxH
}
