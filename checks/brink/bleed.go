package brink

import (
	"cmp"
	"slices"

	"stoneproof/rules"
)

// EdgeFill is what the paint does along one edge.
type EdgeFill struct {
	Edge        rules.Edge
	PaintAtTrim bool         // false: nothing reaches the trim here, so nothing needs to bleed
	Room        rules.Length // judged out to here: the wanted bleed, or the canvas's room if less
	Extent      rules.Length // least distance beyond the trim that the paint reaches; Room when full
	From, To    rules.Length // the worst stretch that falls short, along the edge; 0, 0 if none
	Also        []Stretch    // the other stretches, worst first
	Sliver      bool         // only a sliver of at most 0.3 mm along the outermost edge is missing
	WhiteOver   bool         // beyond the paint lies white paint rather than nothing (Transparent only)
}

// Stretch is a part of an edge whose paint stops short. From and To are x on
// the top and bottom edges, y on the left and right ones; at a corner they
// reach out into the bleed.
type Stretch struct {
	From, To rules.Length
	Extent   rules.Length // how far beyond the trim its paint reaches
}

// thinnest is the most that a sliver is wide.
const thinnest = 300 * rules.Micrometre

// Bleed tells for each edge, in the order of rules.AllEdges, whether there is
// paint out to the wanted bleed wherever there is paint at the trim. Paint is
// what shows on paper: white paint is none. A canvas that cannot be measured
// (no pixels, no size) has no paint and no room.
func Bleed(c Canvas, wanted rules.Length) [4]EdgeFill {
	var fills [4]EdgeFill
	for k, e := range rules.AllEdges {
		fills[k].Edge = e
	}
	if !c.readable() {
		return fills
	}
	var strips [4]strip
	var short [4][]stop
	for k, e := range rules.AllEdges {
		strips[k] = newStrip(&c, e, wanted)
		short[k] = readEdge(&strips[k], &fills[k])
	}
	for k, more := range roundedCorners(&strips) {
		short[k] = append(short[k], more...)
	}
	for k := range fills {
		fills[k].tell(short[k])
	}
	return fills
}

// readEdge finds the stops of one edge and fills in what holds without them.
func readEdge(s *strip, fill *EdgeFill) []stop {
	fill.Room = length(s.room)
	fill.Extent = fill.Room
	if s.c.Transparent {
		s.ink = exact()
	} else {
		s.ink = measured(s)
	}
	fill.PaintAtTrim = s.paintAtTrim()
	if !fill.PaintAtTrim || s.depth == 0 {
		return nil
	}
	stops := s.stops()
	if len(stops) > 0 || !s.whiteOver() {
		return stops
	}
	// The white may carry the noise of lossy coding, which is no paint either.
	s.ink = measured(s)
	return s.stops()
}

// tell puts the stops into the fill, worst first: the least extent, and of
// those within a tenth of a millimetre the longest.
func (f *EdgeFill) tell(stops []stop) {
	if len(stops) == 0 {
		return
	}
	slices.SortFunc(stops, func(a, b stop) int {
		const alike = 100 * rules.Micrometre
		return cmp.Or(cmp.Compare(a.Extent/alike, b.Extent/alike),
			cmp.Compare(b.To-b.From, a.To-a.From), cmp.Compare(a.From, b.From))
	})
	f.From, f.To = stops[0].From, stops[0].To
	for k, st := range stops {
		f.Extent = min(f.Extent, st.Extent)
		f.WhiteOver = f.WhiteOver || st.whiteOver
		if k > 0 {
			f.Also = append(f.Also, st.Stretch)
		}
	}
	f.Sliver = f.Room-f.Extent <= thinnest
}
