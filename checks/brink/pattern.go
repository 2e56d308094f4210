package brink

// isPattern reports whether most of the group's marks have their like beyond
// the trim, or all over the card.
func (s *scene) isPattern(g *group) bool {
	const strays, everywhere, crowd = 2, 12, 3
	if !g.lettering && (s.ofSize(g) >= crowd || s.isOneOfMany(g)) {
		return true
	}
	inPattern := 0
	for k := range g.blobs {
		b := &g.blobs[k]
		if s.like(b, s.strays, g) >= strays || !g.lettering && s.like(b, s.marks, g) >= everywhere && s.strewn(b) {
			inPattern++
		}
	}
	return 2*inPattern > len(g.blobs)
}

// like counts the blobs of a list that are like b and are not in the group, nor
// on its line if it is lettering: those may be more of its letters.
func (s *scene) like(b *blob, list []blob, g *group) int {
	n := 0
	for k := range list {
		o := &list[k]
		if o.id != b.id && !(g.lettering && g.onLine(o)) && akin(b, o) {
			n++
		}
	}
	return n
}

// onLine reports whether a blob lies between the lines along the group's long
// sides, however far off.
func (g *group) onLine(b *blob) bool {
	if g.w() >= g.h() {
		return b.y0 >= g.y0 && b.y1 <= g.y1
	}
	return b.x0 >= g.x0 && b.x1 <= g.x1
}

// isOneOfMany reports whether shapes of about the group's size, whatever their
// colour, lie over more than half of the card both ways.
func (s *scene) isOneOfMany(g *group) bool {
	const many, sizes = 5, 6
	all := group{}
	n := 0
	for k := range s.shapes {
		o := &s.shapes[k]
		if a, b := g.w()*g.h(), o.w()*o.h(); max(a, b) <= sizes*min(a, b) {
			all.add(o.blobs[0])
			n++
		}
	}
	return n >= many && s.coversCard(&all)
}

// ofSize counts the strays of about the group's size, whatever their colour,
// that are not of the group.
func (s *scene) ofSize(g *group) int {
	const sizes = 6
	area, n := 0, 0
	for k := range g.blobs {
		area = max(area, g.blobs[k].area)
	}
	for k := range s.strays {
		b := &s.strays[k]
		within := b.x0 >= g.x0 && b.x1 <= g.x1 && b.y0 >= g.y0 && b.y1 <= g.y1
		if !within && max(area, b.area) <= sizes*min(area, b.area) {
			n++
		}
	}
	return n
}

// leastContrast is that of a shape that is meant to be seen; fainter ones are
// lights out of focus and tints in a texture.
const leastContrast = 60

// akinColour is how far the shades of one paint may lie apart, in levels.
const akinColour = 70

// akin reports whether two blobs may be one motif, whole or cut: of a size and
// a colour.
func akin(a, b *blob) bool {
	const sizes = 3
	if max(a.area, b.area) > sizes*min(a.area, b.area) {
		return false
	}
	if 8*max(a.w(), b.w()) <= 9*min(a.w(), b.w()) && 8*max(a.h(), b.h()) <= 9*min(a.h(), b.h()) {
		return true // one shape, in whatever colours
	}
	return akinShade(a, b)
}

func akinShade(a, b *blob) bool { return farthest(a.ink, b.ink) <= akinColour }

// farthest is the greatest difference of a channel between two colours.
func farthest(a, b [3]int) int {
	d := 0
	for ch := range 3 {
		d = max(d, a[ch]-b[ch], b[ch]-a[ch])
	}
	return d
}

// strewn reports whether the marks like b lie over more than half of the card
// both ways.
func (s *scene) strewn(b *blob) bool {
	all := group{}
	for k := range s.marks {
		if akin(b, &s.marks[k]) {
			all.add(s.marks[k])
		}
	}
	return s.coversCard(&all)
}

// coversCard reports whether the group spans more than half of the card both ways.
func (s *scene) coversCard(g *group) bool {
	box, trim := s.f.box(g), s.f.c.Trim
	return 2*box.W > trim.W && 2*box.H > trim.H
}
