package brink

import (
	"slices"

	"stoneproof/rules"
)

// Border is a frame about the card: what runs parallel to the trim along an
// edge or more, so near that the eye compares the margin on one side with that
// on the other.
type Border struct {
	Sides []BorderSide // one to four, in the order of rules.AllEdges
}

// BorderSide is one side of a frame: the straight line along which the margin
// ends.
type BorderSide struct {
	Edge     rules.Edge
	Distance rules.Length // from the trim to the frame's outer side; negative: the knife cuts it
	From, To rules.Length // its stretch: x on the top and bottom edges, y on the left and right ones
	// Line: it is drawn, and the ground goes on behind it. False: the ground
	// itself changes, as where a white border ends.
	Line bool
	// Broken: dashes, dots or an ornament that swings.
	Broken bool
	// Repeated: more lines like it run deeper in the card, as stripes do.
	Repeated bool
}

// Nearest is the side that comes nearest to the trim.
func (b *Border) Nearest() BorderSide {
	return slices.MinFunc(b.Sides, func(a, o BorderSide) int { return int(a.Distance - o.Distance) })
}

// Side is the frame's side along an edge.
func (b *Border) Side(e rules.Edge) (s BorderSide, ok bool) {
	k := slices.IndexFunc(b.Sides, func(s BorderSide) bool { return s.Edge == e })
	if k < 0 {
		return s, false
	}
	return b.Sides[k], true
}

// Box is what the frame goes around, its lines included; out to the trim where
// it has no side.
func (b *Border) Box(trim rules.Size) rules.Box {
	var in rules.Edges
	for _, s := range b.Sides {
		switch s.Edge {
		case rules.Top:
			in.Top = s.Distance
		case rules.Right:
			in.Right = s.Distance
		case rules.Bottom:
			in.Bottom = s.Distance
		case rules.Left:
			in.Left = s.Distance
		}
	}
	return rules.Box{X: in.Left, Y: in.Top, W: trim.W - in.Left - in.Right, H: trim.H - in.Top - in.Bottom}
}

// How sides make a frame.
const (
	cornerMiss  = 1200 * rules.Micrometre // lines that cross at a corner reach past it by less
	cornerOpen  = 9 * rules.Millimetre    // a rounded or an open corner is no larger
	offCard     = 250 * rules.Micrometre  // what comes as near as this to the trim beside it runs off the card
	evenBands   = 500 * rules.Micrometre  // bands meant as a pair are alike to within this
	lonesEnds   = 2 * rules.Millimetre    // a line alone is a frame's if its ends are this near to where a corner would be
	lonesUneven = 1 * rules.Millimetre    // and as far from the trim as each other
)

// JoinSides makes a frame of sides, at most one an edge. Sides that meet at a
// corner are one. Of what does not meet others only two things are frames: a
// line alone that ends where the corners would be, and two like bands on
// opposite edges. A bar that bleeds off on three sides is none, and neither are
// stripes and rules that run across the card.
func JoinSides(sides []BorderSide, trim rules.Size) (b Border, ok bool) {
	var at [4]*BorderSide
	for i := range sides {
		at[slices.Index(rules.AllEdges[:], sides[i].Edge)] = &sides[i]
	}
	best := meeting(at, trim)
	switch {
	case len(best) >= 2:
	case isPair(at[0], at[2], trim):
		best = []int{0, 2}
	case isPair(at[1], at[3], trim):
		best = []int{1, 3}
	case len(sides) == 1 && isLone(&sides[0], trim):
		return Border{Sides: sides[:1:1]}, true
	default:
		return b, false
	}
	for _, k := range best {
		b.Sides = append(b.Sides, *at[k])
	}
	if !b.enough() {
		return Border{}, false
	}
	return b, true
}

// enough reports whether there are sides enough: dots and dashes that stand in
// a row along one edge or two may be anything, also a line of text.
func (b *Border) enough() bool {
	broken := 0
	for _, s := range b.Sides {
		if s.Broken {
			broken++
		}
	}
	return broken == 0 || len(b.Sides) == 4 || len(b.Sides) == 3 && broken < 3
}

// meeting is the longest chain of sides that meet at corners, by their index.
func meeting(at [4]*BorderSide, trim rules.Size) []int {
	var meets [4]bool // side k and the next one
	for k := range at {
		meets[k] = at[k] != nil && at[(k+1)%4] != nil && meet(at[k], at[(k+1)%4], trim)
	}
	var best []int
	for k := range at {
		chain := []int{k}
		for n := k; len(chain) < 4 && meets[n%4]; n++ {
			chain = append(chain, (n+1)%4)
		}
		if len(chain) > len(best) {
			best = chain
		}
	}
	slices.Sort(best)
	return best
}

// gaps are how far a side's ends lie from the trim of the edges beside it: of
// the one before it on the way round the card, and of the one after.
func (s *BorderSide) gaps(trim rules.Size) (before, after rules.Length) {
	switch s.Edge {
	case rules.Top:
		return s.From, trim.W - s.To
	case rules.Right:
		return s.From, trim.H - s.To
	case rules.Bottom:
		return trim.W - s.To, s.From
	}
	return trim.H - s.To, s.From
}

// meet reports whether side a and the next one, b, make a corner.
func meet(a, b *BorderSide, trim rules.Size) bool {
	_, endOfA := a.gaps(trim)
	startOfB, _ := b.gaps(trim)
	ends := func(gap rules.Length, other *BorderSide) bool {
		return gap >= other.Distance-cornerMiss && gap >= min(offCard, other.Distance-offCard/2) &&
			gap <= other.Distance+cornerOpen
	}
	return ends(endOfA, b) && ends(startOfB, a)
}

// isPair reports whether two sides on opposite edges are bands or rules of a
// pair: alike, across all of the card, with nothing like them between.
func isPair(a, b *BorderSide, trim rules.Size) bool {
	if a == nil || b == nil || a.Broken || b.Broken || a.Repeated || b.Repeated || a.Line != b.Line {
		return false
	}
	for _, s := range []*BorderSide{a, b} {
		if before, after := s.gaps(trim); max(before, after) > offCard {
			return false
		}
	}
	return (a.Distance - b.Distance).Abs() <= evenBands
}

func isLone(s *BorderSide, trim rules.Size) bool {
	before, after := s.gaps(trim)
	return s.Line && !s.Broken && !s.Repeated && min(before, after) > offCard &&
		max(before, after) <= s.Distance+lonesEnds && (before-after).Abs() <= lonesUneven
}
