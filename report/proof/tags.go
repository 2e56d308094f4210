package proof

import (
	"cmp"
	"math"
	"slices"
)

// Sizes of tags, in pixels.
const (
	tagHeight = 36
	smallTag  = 26 // of a further place
	tagApart  = 8  // between two tags
	tagAway   = 36 // from the card to its tags
	frameGap  = 6  // between a place and its frame
	leaderGap = 3  // between a frame and the end of its leader, which has a knob
	leastSide = 14 // of a frame
)

// place frames the spots and finds a place for each tag in the band around the card,
// where it covers neither the card nor another tag, and its leader runs clear of other
// tags; best where that leader is short and runs over no other frame or leader.
func (d *drawing) place() {
	d.frames()
	order := make([]int, len(d.spots))
	for i := range order {
		order[i] = i
	}
	edge := d.view.rect(d.view.box)
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(depth(edge, d.spots[a].frame), depth(edge, d.spots[b].frame))
	})
	// The second round finds better places for the first, who did not know the rest.
	for range 2 {
		for _, i := range order {
			d.spots[i].tag, d.spots[i].leader = rect{}, [2]pt{}
			d.placeTag(i)
		}
	}
	for _, s := range d.spots {
		if s.tag == (rect{}) {
			d.over++
		}
	}
}

// tighten takes away the bands in which there is no tag.
func (d *drawing) tighten() {
	room, card := rect{bareBand, bareBand, bareBand, bareBand}, d.view.rect(d.view.box)
	for _, s := range d.spots {
		switch t := s.tag; {
		case t == (rect{}), s.further:
		case t.x1 <= card.x0:
			room.x0 = tagBand
		case t.x0 >= card.x1:
			room.x1 = tagBand
		case t.y1 <= card.y0:
			room.y0 = tagBand
		default:
			room.y1 = tagBand
		}
	}
	was := d.view
	d.view = newView(was.box, d.grain(), room)
	by := pt{d.view.x - was.x, d.view.y - was.y}
	for i := range d.spots {
		s := &d.spots[i]
		s.frame = s.frame.shifted(by)
		if s.tag != (rect{}) {
			s.tag = s.tag.shifted(by)
			s.leader = [2]pt{s.leader[0].add(by), s.leader[1].add(by)}
		}
	}
}

// frames frames every spot, cut to what is shown. Spots of one place share a frame.
func (d *drawing) frames() {
	all := d.view.rect(d.view.box)
	for i := range d.spots {
		s := &d.spots[i]
		s.frame = roomy(d.view.rect(s.box).within(all).snapped().outset(frameGap))
		for k := range d.spots[:i] {
			if other := &d.spots[k]; !other.shares && s.frame.near(other.frame, frameGap) {
				s.shares, s.frame = true, other.frame
				if s.verdict.Worse(other.verdict) {
					s.shares, other.shares = false, true
				}
				break
			}
		}
	}
}

// roomy is a frame that is not so small as to be lost.
func roomy(r rect) rect {
	if short := leastSide - r.w(); short > 0 {
		r.x0, r.x1 = r.x0-short/2, r.x1+short/2
	}
	if short := leastSide - r.h(); short > 0 {
		r.y0, r.y1 = r.y0-short/2, r.y1+short/2
	}
	return r
}

// depth is how far a frame lies from the nearest edge of what is shown.
func depth(edge, r rect) float64 {
	return min(r.x0-edge.x0, r.y0-edge.y0, edge.x1-r.x1, edge.y1-r.y1)
}

func (d *drawing) placeTag(i int) {
	s := &d.spots[i]
	best, berths, lead := math.Inf(1), d.berths, lead
	if s.further {
		berths, lead = d.beside, touch
	}
	for _, tag := range berths(s) {
		leader := lead(tag, s.frame)
		if cost := d.cost(i, tag, leader, best); cost < best {
			best, s.tag, s.leader = cost, tag, leader
		}
	}
}

// berths are all the places where a tag may be: in each part of the band, every few
// pixels, and right beside the frame.
func (d *drawing) berths(s *spot) []rect {
	const apart = 6
	w, h := max(tagHeight, math.Ceil(d.type_.width(s.label(), bold))+16), float64(tagHeight)
	card := d.view.rect(d.view.box)
	around := card.outset(tagAway)
	at := func(x, y float64) rect { return rect{x, y, x + w, y + h} }
	var list []rect
	across := func(x float64) {
		list = append(list, at(x, around.y0-h), at(x, around.y1))
	}
	down := func(y float64) {
		list = append(list, at(around.x0-w, y), at(around.x1, y))
	}
	c := s.frame.nearest(card.centre()) // of a long frame, the part in the middle
	across(math.Round(max(card.x0, min(card.x1-w, c.x-w/2))))
	down(math.Round(max(card.y0, min(card.y1-h, c.y-h/2))))
	for x := card.x0; x <= card.x1-w; x += apart {
		across(math.Round(x))
	}
	for y := card.y0; y <= card.y1-h; y += apart {
		down(math.Round(y))
	}
	return list
}

// lead runs from the middle of a tag to the nearest point of a frame. What lies under
// the tag is not seen.
func lead(tag, frame rect) [2]pt {
	from := tag.centre()
	return [2]pt{from, frame.outset(leaderGap).nearest(from)}
}

// beside are the places for a small tag right at its frame, the best first, that the
// picture has room for even without bands.
func (d *drawing) beside(s *spot) []rect {
	w, h := max(smallTag, math.Ceil(d.type_.width(s.label(), small))+12), float64(smallTag)
	const off = 4 // from the middle of the frame's line
	f, mid, all := s.frame, s.frame.centre(), d.view.rect(d.view.box).outset(bareBand-4)
	var list []rect
	for _, c := range []pt{
		{f.x1 + off, mid.y - h/2}, {f.x0 - off - w, mid.y - h/2}, {f.x0, f.y0 - off - h}, {f.x1 - w, f.y0 - off - h},
		{f.x0, f.y1 + off}, {f.x1 - w, f.y1 + off}, {mid.x - w/2, f.y0 - off - h}, {mid.x - w/2, f.y1 + off},
	} {
		c = pt{math.Round(c.x), math.Round(c.y)}
		if r := (rect{c.x, c.y, c.x + w, c.y + h}); r.within(all) == r {
			list = append(list, r)
		}
	}
	return list
}

// touch is the leader of a small tag: none to be seen.
func touch(tag, frame rect) [2]pt { return [2]pt{tag.centre(), tag.centre()} }

// cost is how bad a place for a tag is; infinite where it covers a tag, a frame or a
// leader, or its own leader runs under a tag. It is told no further than to the best
// so far.
func (d *drawing) cost(i int, tag rect, leader [2]pt, best float64) float64 {
	const crossing, overFrame, offMiddle = 500, 200, 0.3
	room := tag.outset(tagApart)
	if d.spots[i].further {
		room = tag.outset(3)
	}
	cost := leader[0].distance(leader[1]) + offMiddle*leader[1].distance(d.spots[i].frame.centre())
	for k := range d.spots {
		other := &d.spots[k]
		if k == i {
			continue
		}
		switch {
		case cost >= best:
			return cost
		case room.meets(other.frame):
			return math.Inf(1)
		case runsOver(leader, other.frame):
			cost += overFrame
		}
		if other.tag == (rect{}) {
			continue
		}
		switch {
		case room.meets(other.tag), runsOver(leader, other.tag.outset(4)), runsOver(other.leader, tag.outset(4)):
			return math.Inf(1)
		case meet(leader, other.leader):
			cost += crossing
		}
	}
	return cost
}

// runsOver reports whether a line touches a rectangle (clipping by Liang and Barsky,
// 1984).
func runsOver(l [2]pt, r rect) bool {
	t0, t1 := 0.0, 1.0
	d := l[1].less(l[0])
	for _, c := range [4][2]float64{{-d.x, l[0].x - r.x0}, {d.x, r.x1 - l[0].x}, {-d.y, l[0].y - r.y0}, {d.y, r.y1 - l[0].y}} {
		switch p, q := c[0], c[1]; {
		case p == 0 && q < 0:
			return false
		case p < 0:
			t0 = max(t0, q/p)
		case p > 0:
			t1 = min(t1, q/p)
		}
	}
	return t0 <= t1
}

// meet reports whether two lines cross.
func meet(a, b [2]pt) bool {
	side := func(l [2]pt, p pt) float64 { return cross(l[1].less(l[0]), p.less(l[0])) }
	return side(a, b[0])*side(a, b[1]) < 0 && side(b, a[0])*side(b, a[1]) < 0
}
