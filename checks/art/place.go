package art

import "stoneproof/rules"

// Placing is how the trim of a side was found.
type Placing int

// Ways of placing the trim, from the surest down.
const (
	Unplaced        Placing = iota
	ByTrimBox               // the page says it
	ByArtBox                // the page has no TrimBox but an ArtBox (ISO 32000-1, 14.11.2)
	ByTrimBoxInset          // the TrimBox is the card with its bleed: the trim lies inside
	ByMarks                 // the page's cutting marks
	ByPageSize              // the page or the image is the card itself
	ByPageWithBleed         // the page or the image is the card with its bleed
	ByOtherSize             // the page or the image is another named card
	ByShape                 // the image's shape, for want of a density that can be true
)

func (p Placing) String() string {
	switch p {
	case ByTrimBox:
		return "by its TrimBox"
	case ByArtBox:
		return "by its ArtBox"
	case ByTrimBoxInset:
		return "by the place one bleed inside its TrimBox"
	case ByMarks:
		return "by its cutting marks"
	case ByPageSize:
		return "by its size"
	case ByPageWithBleed:
		return "by its size less the bleed"
	case ByOtherSize:
		return "by the size of another card"
	case ByShape:
		return "by its shape and pixel count"
	}
	return "not placed"
}

// Place decides where the knife goes on every side, before anything is judged.
// Either way round of the card is tried: a side that lies the wrong way is
// judged as such by size, not lost.
func (a *Art) Place(t rules.Ticket) {
	for _, s := range a.Sides {
		s.bleed, s.safe = t.Bleed, t.Safe
		if s.Page != nil {
			s.placePage(t)
			if len(a.Sides) > fewSides {
				s.Release()
			}
		} else {
			s.placeImage(t)
		}
	}
}

// PlaceWhole makes all of every page its trim: for what is no card, but looked at whole.
func (a *Art) PlaceWhole() {
	for _, s := range a.Sides {
		if s.Page != nil {
			s.scale = grid{stepX: umPerPoint, stepY: umPerPoint}
			s.Basis = rules.Read
			s.placeAt(s.Page.Media, ByPageSize)
		}
	}
}

// fewSides is how many sides may keep what was walked to place them until they
// are judged; a deck's pages are walked again rather than all held.
const fewSides = 4

// fit is a finished size found inside a larger one, equally far from its edges.
type fit struct {
	trim    rules.Size
	placing Placing
}

// widestBleed is the largest border that is read as a bleed where the file does
// not say: twice what is common, and a quarter of an inch.
const widestBleed = rules.Inch / 4

// fitSize looks for a finished size in a page or an image of the given size:
// the ticket's card, the card with its bleeds, another named card with or
// without bleeds, the card with an equal border of another width.
func fitSize(outer rules.Size, t rules.Ticket, tolerance rules.Length) (fit, bool) {
	trim := lyingAs(t.Trim, outer)
	for _, trim := range []rules.Size{trim, trim.Turned()} {
		if near(outer, trim, tolerance) {
			return fit{trim, ByPageSize}, true
		}
		if near(outer, trim.Grow(t.Bleed), tolerance) {
			return fit{trim, ByPageWithBleed}, true
		}
	}
	if other, ok := otherSize(outer, t); ok {
		return fit{other, ByOtherSize}, true
	}
	for _, trim := range []rules.Size{trim, trim.Turned()} {
		across, down := outer.W-trim.W, outer.H-trim.H
		if across > 0 && down > 0 && (across-down).Abs() <= tolerance && max(across, down) <= 2*widestBleed {
			return fit{trim, ByPageWithBleed}, true
		}
	}
	return fit{}, false
}

// otherSize looks for another named card than the ticket's in outer, with no
// bleed, with the ticket's or with its own. The tolerance is the one for page
// boxes, for an ID-1 card and the 85 × 55 mm card differ by 0.6 and 1.02 mm.
func otherSize(outer rules.Size, t rules.Ticket) (rules.Size, bool) {
	for _, n := range rules.Sizes() {
		if near(n.Trim, lyingAs(t.Trim, n.Trim), t.Limits.TrimTolerance) {
			continue
		}
		trim := lyingAs(n.Trim, outer)
		for _, b := range []rules.Length{0, t.Bleed, n.Bleed} {
			if near(outer, trim.Grow(b), t.Limits.TrimTolerance) {
				return trim, true
			}
		}
	}
	return rules.Size{}, false
}

// lyingAs turns size to lie as like does.
func lyingAs(size, like rules.Size) rules.Size {
	if size.Landscape() != like.Landscape() && like.W != like.H {
		return size.Turned()
	}
	return size
}

func near(a, b rules.Size, tolerance rules.Length) bool {
	return (a.W-b.W).Abs() <= tolerance && (a.H-b.H).Abs() <= tolerance
}

// centred places the trim in the middle of a side of the given outer size.
func (s *Side) centred(outer, trim rules.Size) {
	left, top := (outer.W-trim.W)/2, (outer.H-trim.H)/2
	s.Trim = trim
	s.Room = rules.Edges{
		Top: max(0, top), Left: max(0, left),
		Bottom: max(0, outer.H-trim.H-top), Right: max(0, outer.W-trim.W-left),
	}
	s.scale.originX, s.scale.originY = float64(left), float64(top)
}
