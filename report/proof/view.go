package proof

import (
	"image"
	"math"

	"stoneproof/rules"
)

// Sizes in pixels. The card is shown with 1000 to 1900 along its longer side: a screen
// shows it whole, and 5 pt type on a business card can be read.
const (
	leastLong, mostLong = 1000, 1900
	leastWidth          = 860 // of the whole picture, for the words below
	rulerAbove          = 46
	rulerLeft           = 72
	tagBand             = 84 // beside the card, for leaders and tags
	bareBand            = 22 // the same where there are none
	margin              = 26 // right of all and below the words
)

// view maps trim coordinates to pixels.
type view struct {
	box  rules.Box // what is shown
	k    float64   // pixels a micrometre
	x, y float64   // pixel edges of the box's top left corner
	w, h int       // of the whole picture, without the words below
	room rect      // widths of the bands around the box
}

// newView lays the picture out around what is shown, with room on each side of it.
// Grain is the picture's own pixels a micrometre, kept where that gives a fair size.
func newView(box rules.Box, grain float64, room rect) view {
	long := float64(max(box.W, box.H))
	v := view{box: box, k: max(leastLong, min(mostLong, grain*long)) / long, room: room}
	across := rulerLeft + room.x0 + math.Ceil(float64(box.W)*v.k) + room.x1 + margin
	v.w = int(max(leastWidth, across))
	v.x = math.Floor(rulerLeft + room.x0 + (float64(v.w)-across)/2)
	v.y = rulerAbove + room.y0
	v.h = int(math.Ceil(v.y + float64(box.H)*v.k + room.y1))
	return v
}

// X and Y are the pixel edges of trim coordinates.
func (v view) X(l rules.Length) float64 { return v.x + float64(l-v.box.X)*v.k }
func (v view) Y(l rules.Length) float64 { return v.y + float64(l-v.box.Y)*v.k }

// rect is a box in pixels.
func (v view) rect(b rules.Box) rect {
	return rect{v.X(b.X), v.Y(b.Y), v.X(b.Right()), v.Y(b.Bottom())}
}

// rect is a rectangle of pixel edges.
type rect struct{ x0, y0, x1, y1 float64 }

func (r rect) outset(by float64) rect { return rect{r.x0 - by, r.y0 - by, r.x1 + by, r.y1 + by} }
func (r rect) centre() pt             { return pt{(r.x0 + r.x1) / 2, (r.y0 + r.y1) / 2} }
func (r rect) w() float64             { return r.x1 - r.x0 }
func (r rect) h() float64             { return r.y1 - r.y0 }

// within is the rectangle cut to outer; what lies beyond is drawn to its edge.
func (r rect) within(outer rect) rect {
	x := func(v float64) float64 { return max(outer.x0, min(outer.x1, v)) }
	y := func(v float64) float64 { return max(outer.y0, min(outer.y1, v)) }
	return rect{x(r.x0), y(r.y0), x(r.x1), y(r.y1)}
}

// meets reports whether two rectangles share any area.
func (r rect) meets(s rect) bool {
	return r.x0 < s.x1 && s.x0 < r.x1 && r.y0 < s.y1 && s.y0 < r.y1
}

// nearest is the point of the rectangle nearest to p.
func (r rect) nearest(p pt) pt {
	return pt{max(r.x0, min(r.x1, p.x)), max(r.y0, min(r.y1, p.y))}
}

// near reports whether no edge is farther off than by.
func (r rect) near(s rect, by float64) bool {
	return max(math.Abs(r.x0-s.x0), math.Abs(r.y0-s.y0), math.Abs(r.x1-s.x1), math.Abs(r.y1-s.y1)) <= by
}

// shifted is the rectangle moved.
func (r rect) shifted(by pt) rect { return rect{r.x0 + by.x, r.y0 + by.y, r.x1 + by.x, r.y1 + by.y} }

// snapped is the rectangle with its edges between pixels: at most half a pixel off.
func (r rect) snapped() rect {
	return rect{math.Round(r.x0), math.Round(r.y0), math.Round(r.x1), math.Round(r.y1)}
}

// pixels is the snapped rectangle, one pixel wide at least.
func (r rect) pixels() image.Rectangle {
	s := r.snapped()
	return image.Rect(int(s.x0), int(s.y0), max(int(s.x1), int(s.x0)+1), max(int(s.y1), int(s.y0)+1))
}

// pt is a point in pixels.
type pt struct{ x, y float64 }

func (p pt) add(q pt) pt           { return pt{p.x + q.x, p.y + q.y} }
func (p pt) less(q pt) pt          { return pt{p.x - q.x, p.y - q.y} }
func (p pt) times(k float64) pt    { return pt{p.x * k, p.y * k} }
func (p pt) length() float64       { return math.Hypot(p.x, p.y) }
func (p pt) distance(q pt) float64 { return p.less(q).length() }
func cross(a, b pt) float64        { return a.x*b.y - a.y*b.x }
