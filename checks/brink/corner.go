package brink

import "math"

// corner is the square of bleed between two edges. u counts pixels along the
// first edge outward past the corner, j across it outward, both 0 at the first
// pixel beyond the trim.
type corner struct {
	a, b         *strip
	aLast, bLast bool // at which end of either strip the corner lies
	strength     int  // ink at the trim's corner
}

// cornerReach is how far along an edge a round corner is followed, mm: a
// greater radius is a shape, not a corner.
const cornerReach = 15

// roundedCorners finds corners of the bleed that the paint leaves out, as a
// background with round corners does, though both edges beside them are full
// and the trim's own corner is painted. Each is told on both of its edges.
func roundedCorners(strips *[4]strip) [4][]stop {
	var found [4][]stop
	for k := range strips {
		next := (k + 1) % 4 // the edges run round the card
		c := corner{a: &strips[k], b: &strips[next], aLast: k < 2, bLast: k == 1 || k == 2}
		along, across, extent, ok := c.missing()
		if !ok {
			continue
		}
		found[k] = append(found[k], cornerStop(c.a, c.aLast, c.b.room, along, extent))
		found[next] = append(found[next], cornerStop(c.b, c.bLast, c.a.room, across, extent))
	}
	return found
}

// cornerStop is a stop of the given length, µm, at an end of the strip, counted
// from the bleed edge beside it.
func cornerStop(s *strip, last bool, beside, long, extent float64) stop {
	from, to := -beside, long-beside
	if last {
		from, to = float64(s.long)+beside-long, float64(s.long)+beside
	}
	return stop{Stretch: Stretch{From: length(from), To: length(to), Extent: length(extent)}}
}

// missing measures how much paint is missing along the bleed edge beside the
// first edge and beside the second, and how far beyond the trim, on both at
// once, the corner is painted; µm.
func (c *corner) missing() (along, across, extent float64, ok bool) {
	if c.a.depth < 3 || c.b.depth < 3 || !c.solid() {
		return 0, 0, 0, false
	}
	last := func(n int) (int, int) { return c.b.depth - 1 - n, c.a.depth - 1 }
	first := func(n int) (int, int) { return c.b.depth - 1, c.a.depth - 1 - n }
	along, okA := c.gap(last, c.a.pxAlong)
	across, okB := c.gap(first, c.a.px)
	if !okA || !okB || math.Abs(along-across) > 0.15*max(along, across)+2*c.a.px {
		return 0, 0, 0, false
	}
	share, ok := c.diagonal()
	room := min(c.a.room, c.b.room)
	extent = share * room
	ok = ok && room-extent > float64(thinnest) && !slanted(room-extent, (along+across)/2)
	return along, across, extent, ok
}

// slanted reports whether what is missing has the proportions of a straight
// cut over the corner, as the gap between slanted stripes has: half as deep
// as it is long. An arc is 0.29 deep (a little more, for the flat of its ends
// does not show), a square whole.
func slanted(deep, long float64) bool { return deep > 0.42*long && deep < 0.6*long }

// ink is the ink at u, j; 0 where the canvas has no such pixel.
func (c *corner) ink(u, j int) int {
	i := c.a.first - 1 - u
	if c.aLast {
		i = c.a.last + u
	}
	if u >= c.b.depth || j >= c.a.depth || u < -c.b.inner || j < -c.a.inner {
		return 0
	}
	return c.a.at(i, j)
}

// solid reports whether the card is painted all over at the trim's corner, as
// a background is and the tip of a shape is not, and notes how strongly.
func (c *corner) solid() bool {
	n := c.a.outPx(1.5)
	sum, bare := 0, 0
	for u := -n; u < 0; u++ {
		for j := -n; j < 0; j++ {
			v := c.ink(u, j)
			sum += v
			if v < c.a.ink.floor {
				bare++
			}
		}
	}
	c.strength = sum / (n * n)
	return 20*bare <= n*n
}

func (c *corner) bare(u, j int) bool {
	return c.ink(u, j) < max(c.a.ink.floor, c.b.ink.floor, c.strength/8)
}

// gap is the length that is bare along a line from the bleed's corner, µm. It
// must end soon, with solid paint for a while after.
func (c *corner) gap(at func(n int) (u, j int), px float64) (float64, bool) {
	reach, after := int(cornerReach*1000/px), int(5000/px)
	gap := 0
	for gap < reach && c.bare(at(gap)) {
		gap++
	}
	if gap == 0 || gap == reach {
		return 0, false
	}
	bare := 0
	for n := gap; n < gap+after; n++ {
		if c.bare(at(n)) {
			bare++
		}
	}
	return float64(gap) * px, 20*bare <= after
}

// diagonal is the share of the way from the trim's corner to the bleed's that
// is painted, if the paint stops at once there and all beyond is bare.
func (c *corner) diagonal() (float64, bool) {
	steps := max(c.a.depth, c.b.depth)
	at := func(n int) int {
		scale := (float64(n) + 0.5) / float64(steps)
		return c.ink(int(math.Floor(scale*float64(c.b.depth))), int(math.Floor(scale*float64(c.a.depth))))
	}
	edge := steps - 1
	for edge >= 0 && 2*at(edge) < c.strength {
		edge--
	}
	inside, deep := at(edge-3), at(edge-12)
	if 2*inside < deep {
		return 0, false
	}
	for n := edge + 4; n < steps; n++ {
		if at(n) > max(2, inside/8) {
			return 0, false
		}
	}
	return float64(edge+1) / float64(steps), at(edge+3) <= inside/4+1
}
