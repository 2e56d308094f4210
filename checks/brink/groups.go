package brink

import "slices"

// group is blobs that belong together: a line of lettering, or the parts of a
// shape. Its box is in field pixels.
type group struct {
	blobs          []blob
	x0, y0, x1, y1 int
	lettering      bool
}

func (g *group) w() int { return g.x1 - g.x0 }
func (g *group) h() int { return g.y1 - g.y0 }

func (g *group) add(b blob) {
	if len(g.blobs) == 0 {
		g.x0, g.y0, g.x1, g.y1 = b.x0, b.y0, b.x1, b.y1
	}
	g.blobs = append(g.blobs, b)
	g.x0, g.y0, g.x1, g.y1 = min(g.x0, b.x0), min(g.y0, b.y0), max(g.x1, b.x1), max(g.y1, b.y1)
}

// The make of lettering, in heights of its letters, and of shapes, mm.
const (
	letterGap  = 0.6 // between letters of a line
	wordGap    = 1.6 // between words of a line
	leastGap   = 0.35
	partGap    = 0.7 // between parts of a shape
	tallLetter = 16.0
)

// gather puts marks together: letters to lines, across or down the card, then
// what is left to shapes.
func (f *field) gather(marks []blob) []group {
	sets := newSets(len(marks))
	index := f.nearby(marks)
	for i := range marks {
		for _, k := range index.about(marks[i]) {
			if i < k && f.lettersOfALine(&marks[i], &marks[k]) {
				sets.join(i, k)
			}
		}
	}
	groups := collect(marks, sets)
	for k := range groups {
		groups[k].lettering = f.isLettering(&groups[k])
	}
	groups = f.merge(groups, f.sameLine)
	for k := range groups {
		groups[k].lettering = groups[k].lettering && !groups[k].isOneMotif()
	}
	groups = f.merge(groups, f.sameShape)
	return groups
}

// span is a length along one axis.
type span struct{ from, to int }

func (s span) size() int         { return s.to - s.from }
func (s span) shared(o span) int { return min(s.to, o.to) - max(s.from, o.from) }

func (b *blob) across() span  { return span{b.x0, b.x1} }
func (b *blob) down() span    { return span{b.y0, b.y1} }
func (g *group) across() span { return span{g.x0, g.x1} }
func (g *group) down() span   { return span{g.y0, g.y1} }

// lettersOfALine reports whether two marks stand side by side as letters of a
// line do, in either direction: in one ink, half of the smaller overlaps, sizes
// are akin, and the gap is small beside them. A dot belongs to the stem it is
// over.
func (f *field) lettersOfALine(a, b *blob) bool {
	side := func(along, over [2]span) bool {
		height := max(over[0].size(), over[1].size())
		gap := -along[0].shared(along[1])
		return 2*over[0].shared(over[1]) >= min(over[0].size(), over[1].size()) &&
			height <= 6*min(over[0].size(), over[1].size()) &&
			float64(gap) <= max(letterGap*float64(height), leastGap*1000/f.px)
	}
	if a.inside != b.inside || !akinShade(a, b) || max(f.mmX(max(a.w(), b.w())), f.mmY(max(a.h(), b.h()))) > tallLetter {
		return false
	}
	gapX, gapY := -a.across().shared(b.across()), -a.down().shared(b.down())
	if gapX >= gapY {
		return side([2]span{a.across(), b.across()}, [2]span{a.down(), b.down()})
	}
	// Above one another: letters turned, or a dot and its stem; not two lines.
	return float64(gapY) <= leastGap*1000/f.py &&
		side([2]span{a.down(), b.down()}, [2]span{a.across(), b.across()})
}

// sameShape reports whether two groups that are no lettering lie as near as
// the parts of one shape.
func (f *field) sameShape(a, b *group) bool {
	return !a.lettering && !b.lettering &&
		f.mmX(-a.across().shared(b.across())) <= partGap && f.mmY(-a.down().shared(b.down())) <= partGap
}

// mostGroups is how many groups are still compared each with each; a card with
// more is a texture.
const mostGroups = 1500

// merge joins groups as long as alike says so.
func (f *field) merge(groups []group, alike func(a, b *group) bool) []group {
	if len(groups) > mostGroups {
		return groups
	}
	for again := true; again; {
		again = false
		for i := 0; i < len(groups); i++ {
			for k := len(groups) - 1; k > i; k-- {
				if groups[i].blobs[0].inside != groups[k].blobs[0].inside || !alike(&groups[i], &groups[k]) {
					continue
				}
				for _, b := range groups[k].blobs {
					groups[i].add(b)
				}
				groups[i].lettering = groups[i].lettering || groups[k].lettering
				groups = slices.Delete(groups, k, k+1)
				again = true
			}
		}
	}
	return groups
}
