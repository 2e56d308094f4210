package brink

import (
	"cmp"
	"slices"

	"stoneproof/rules"
)

// Kind says what an intruder looks like.
type Kind string

// The kinds of intruder.
const (
	Lettering Kind = "lettering" // a row of stroke-like marks: text
	Mark      Kind = "mark"      // a compact shape: a logo, an icon, a code
)

// Intruder is something that must survive but lies past the safe line.
type Intruder struct {
	Box      rules.Box    // bounds of the whole thing: a line of text is one
	Edge     rules.Edge   // the nearest edge
	Distance rules.Length // from its ink to the trim; negative: the trim cuts it
	Kind     Kind
	Sure     bool // sharp marks alone on calm ground; otherwise it is inferred
}

// softening is how far past the safe line ink may seem to reach because edges
// are softened: a pixel at 250 ppi.
const softening = 100 * rules.Micrometre

// Ground is a canvas as lettering and marks are looked for on it.
type Ground struct{ field *field } // nil where the canvas cannot be measured

// ReadGround reads a canvas for marks.
func ReadGround(c Canvas) Ground {
	if !c.readable() {
		return Ground{}
	}
	f := newField(&c)
	if f.w < 8 || f.h < 8 {
		return Ground{}
	}
	return Ground{f}
}

// Intruders tells what lies between the safe line, safe inside the trim, and the
// knife, or is cut by it, and is not meant to run off the edge. Ink up to
// 0.1 mm past the safe line is let pass: that much is the softening of an
// edge. Intruders come from top to bottom, then from left to right. A canvas
// that cannot be measured has none.
func (g Ground) Intruders(safe rules.Length) []Intruder {
	f := g.field
	if f == nil {
		return nil
	}
	var found []Intruder
	f.intruders(safe, func(g *group, sure bool) {
		box := f.refine(g)
		edge, distance := nearest(box, f.c.Trim)
		if distance < safe-softening {
			found = append(found, Intruder{Box: box, Edge: edge, Distance: distance, Kind: g.kind(), Sure: sure})
		}
	})
	return outermost(found)
}

// intruders calls tell for each group of marks past the safe line that must survive.
func (f *field) intruders(safe rules.Length, tell func(g *group, sure bool)) {
	s := newScene(f)
	groups := f.gather(s.marks)
	for k := range groups {
		if !groups[k].lettering {
			s.shapes = append(s.shapes, groups[k])
		}
	}
	for k := range groups {
		g := &groups[k]
		box := f.box(g)
		if _, near := nearest(box, f.c.Trim); near >= safe-softening || outside(box, f.c.Trim) {
			continue
		}
		if sure, ok := s.mustSurvive(g); ok {
			tell(g, sure)
		}
	}
}

func (g *group) kind() Kind {
	if g.lettering {
		return Lettering
	}
	return Mark
}

// nearest is the edge that the box is nearest to, or farthest beyond.
func nearest(b rules.Box, trim rules.Size) (rules.Edge, rules.Length) {
	room := rules.Edges{Top: b.Y, Right: trim.W - b.Right(), Bottom: trim.H - b.Bottom(), Left: b.X}
	best := rules.AllEdges[0]
	for _, e := range rules.AllEdges {
		if room.Of(e) < room.Of(best) {
			best = e
		}
	}
	return best, room.Of(best)
}

// outside reports whether the box lies wholly beyond the trim.
func outside(b rules.Box, trim rules.Size) bool {
	return b.Right() <= 0 || b.Bottom() <= 0 || b.X >= trim.W || b.Y >= trim.H
}

// outermost leaves out what lies within another intruder, and sorts the rest.
func outermost(all []Intruder) []Intruder {
	var kept []Intruder
	for i, a := range all {
		within := false
		for k, b := range all {
			if i != k && b.Box.Intersect(a.Box) == a.Box && (a.Box != b.Box || k < i) {
				within = true
			}
		}
		if !within {
			kept = append(kept, a)
		}
	}
	slices.SortFunc(kept, func(a, b Intruder) int {
		return cmp.Or(cmp.Compare(a.Box.Y, b.Box.Y), cmp.Compare(a.Box.X, b.Box.X),
			cmp.Compare(a.Box.W, b.Box.W), cmp.Compare(a.Box.H, b.Box.H))
	})
	return kept
}
