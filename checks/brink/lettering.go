package brink

import "slices"

// isLettering reports whether a group is a row of marks that differ as letters
// do: at least three, in one line and one ink, with areas that vary.
func (f *field) isLettering(g *group) bool {
	if len(g.blobs) < 3 {
		return false
	}
	long, short := f.mmX(g.w()), f.mmY(g.h())
	if short > long {
		long, short = short, long
	}
	return long >= 1.5*short && short <= tallLetter && g.varied() && g.aligned() && g.oneInk()
}

// varied reports whether the blobs' areas differ by more than a repeated
// motif's do.
func (g *group) varied() bool {
	areas := make([]int, len(g.blobs))
	for k, b := range g.blobs {
		areas[k] = b.area
	}
	slices.Sort(areas)
	low, high := areas[len(areas)/4], areas[len(areas)*3/4]
	return 100*high > 118*low
}

// isOneMotif reports whether most blobs are of one shape, as in a border of
// diamonds: no word has two letters of three alike.
func (g *group) isOneMotif() bool {
	if len(g.blobs) < 4 {
		return false
	}
	near := func(a, b int) bool { return 16*max(a, b) <= 17*min(a, b)+16 }
	most := 0
	for i := range g.blobs {
		a, n := &g.blobs[i], 0
		for k := range g.blobs {
			if b := &g.blobs[k]; near(a.w(), b.w()) && near(a.h(), b.h()) && near(a.area, b.area) {
				n++
			}
		}
		most = max(most, n)
	}
	return 3*most >= 2*len(g.blobs)
}

// aligned reports whether most blobs stand on one line, as letters do on their
// base line, whichever way it runs.
func (g *group) aligned() bool {
	size, sides := g.h(), [2]func(b *blob) int{func(b *blob) int { return b.y1 }, func(b *blob) int { return b.y0 }}
	if g.h() > g.w() {
		size, sides = g.w(), [2]func(b *blob) int{func(b *blob) int { return b.x1 }, func(b *blob) int { return b.x0 }}
	}
	for _, side := range sides {
		at := make([]int, len(g.blobs))
		for k := range g.blobs {
			at[k] = side(&g.blobs[k])
		}
		slices.Sort(at)
		middle, on := at[len(at)/2], 0
		for _, v := range at {
			if d := v - middle; max(d, -d) <= max(1, size/10) {
				on++
			}
		}
		if 10*on >= 6*len(at) {
			return true
		}
	}
	return false
}

// sameType reports whether the inks of two groups may be one. Of two words the
// one with thinner strokes looks paler; a motif beside a word has no excuse.
func sameType(a, b *group) bool {
	const paler = 100
	most := akinColour
	if sizeA, sizeB := min(a.w(), a.h()), min(b.w(), b.h()); a.lettering && b.lettering && 2*min(sizeA, sizeB) >= max(sizeA, sizeB) {
		most = paler
	}
	return farthest(a.ink(), b.ink()) <= most
}

// ink is the mean ink of the group's blobs, by area.
func (g *group) ink() [3]int {
	var sum [3]int
	area := 0
	for k := range g.blobs {
		for ch, v := range g.blobs[k].ink {
			sum[ch] += v * g.blobs[k].area
		}
		area += g.blobs[k].area
	}
	for ch := range sum {
		sum[ch] /= area
	}
	return sum
}

// isTypeset reports whether the group is a line of type beyond doubt: most of
// its blobs are about as high as one another, the line is not much higher than
// they are, and none is far wider than the line is high. The numbers lie
// between those of type and of engraved lines, bricks and spokes that pass for
// lettering by chance; TestUnseenSeeds and TestUnseenRecall guard them.
func (g *group) isTypeset() bool {
	tall := func(b *blob) int { return b.h() }
	wide := func(b *blob) int { return b.w() }
	line := g.h()
	if g.h() > g.w() {
		tall, wide, line = wide, tall, g.w()
	}
	heights := make([]int, len(g.blobs))
	for k := range g.blobs {
		heights[k] = tall(&g.blobs[k])
		if wide(&g.blobs[k]) > 2*line {
			return false
		}
	}
	slices.Sort(heights)
	middle, alike := heights[len(heights)/2], 0
	for _, h := range heights {
		if 10*h >= 6*middle && 10*h <= 15*middle {
			alike++
		}
	}
	return 10*alike >= 7*len(heights) && 10*line <= 24*middle
}

// oneInk reports whether most blobs are of one paint.
func (g *group) oneInk() bool {
	most := 0
	for i := range min(len(g.blobs), 5) { // a first letter may be set off
		n := 0
		for k := range g.blobs {
			if akinShade(&g.blobs[i], &g.blobs[k]) {
				n++
			}
		}
		most = max(most, n)
	}
	return 10*most >= 7*len(g.blobs)
}

// sameLine reports whether two groups are words of one line, in one ink.
func (f *field) sameLine(a, b *group) bool {
	if !a.lettering && !b.lettering || !sameType(a, b) {
		return false
	}
	inLine := func(along, over [2]span) bool {
		height := max(over[0].size(), over[1].size())
		return along[0].size() > over[0].size()/2 &&
			10*over[0].shared(over[1]) >= 6*min(over[0].size(), over[1].size()) &&
			2*min(over[0].size(), over[1].size()) >= height/2 &&
			float64(-along[0].shared(along[1])) <= wordGap*float64(height)
	}
	lead := a
	if !lead.lettering || (b.lettering && len(b.blobs) > len(a.blobs)) {
		lead = b
	}
	if lead.w() >= lead.h() {
		return inLine([2]span{a.across(), b.across()}, [2]span{a.down(), b.down()})
	}
	return inLine([2]span{a.down(), b.down()}, [2]span{a.across(), b.across()})
}
