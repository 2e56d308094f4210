package press

import (
	"math"
	"strings"

	"stoneproof/rules"
)

// draft is a side being drawn: the canvas, the trim, and whose card it is.
type draft struct {
	canvas
	w, h   float64
	ground rect // where background paint goes: the trim and its bleed
	who    maker
	phone  *place
	faults settings
}

// unit is the card's own scale: 1 on a business card.
func (d *draft) unit() float64 { return math.Min(d.w, d.h) / 50.8 }

func (d *draft) upright() bool { return d.h > d.w }

// across is how columns lie: to the left, or centred where the card is narrow.
func (d *draft) across() float64 {
	if d.upright() {
		return .5
	}
	return 0
}

// trim is the card itself.
func (d *draft) trim() rect { return rect{0, 0, d.w, d.h} }

// live is the trim less a margin that grows with the card: 5 mm at least, so
// nothing that matters comes near the knife.
func (d *draft) live() rect { return d.trim().inset(5.2 * math.Max(1, math.Sqrt(d.unit()))) }

// line is a line of a column: type, and space before it in points.
type line struct {
	text
	before float64
}

// smallest is the least type set, in points, above the 6 pt that reversed type
// holds (common practice).
const smallest = 6.2

// displayType is the size in points from which type is there to be seen from afar.
const displayType = 10

// set stacks lines in r: across and down tell where they lie, 0 to 1. Sizes are
// those of a business card; they grow with the card and shrink to fit r.
func (d *draft) set(r rect, across, down float64, lines ...line) {
	lines = broken(lines, r.w)
	f := d.fit(r, lines)
	y := r.y + (r.h-tall(lines, f))*down
	for _, l := range lines {
		t := l.text
		t.size = math.Max(smallest, t.size*f)
		t.track *= f
		if d.faults.smallType > 0 && l.size < displayType {
			t.size = d.faults.smallType
		}
		y += (l.before*f + t.size*.76) * mmPerPt
		at := pt{r.x + (r.w-t.width())*across, y}
		if d.phone != nil && l.s == d.who.phone {
			at = d.dragged(t, at)
		}
		if d.faults.richBlack && t.ink == black {
			t.ink = pc(60, 40, 40, 100)
		}
		d.write(t, at)
		y += t.size * .5 * mmPerPt
	}
}

// broken cuts lines that would not fit w even in the smallest type.
func broken(lines []line, w float64) []line {
	var out []line
	for _, l := range lines {
		small := l.text
		small.size = smallest
		at := cutAt(l.s)
		if small.width() <= w || at < 0 {
			out = append(out, l)
			continue
		}
		first, rest := l, l
		first.s, rest.s, rest.before = l.s[:at], l.s[at+1:], 0
		out = append(out, first, rest)
	}
	return out
}

// cutAt is the space to cut a line at: the one after its last comma, or else
// the one nearest to the middle; -1 if there is none.
func cutAt(s string) int {
	if i := strings.LastIndex(s, ", "); i >= 0 {
		return i + 1
	}
	best := -1
	for i, r := range s {
		if r == ' ' && (best < 0 || abs(2*i-len(s)) < abs(2*best-len(s))) {
			best = i
		}
	}
	return best
}

func abs(n int) int { return max(n, -n) }

// fit is the scale at which lines go into r.
func (d *draft) fit(r rect, lines []line) float64 {
	f := math.Pow(d.unit(), .8)
	for _, l := range lines {
		if w := l.width(); w*f > r.w {
			f = r.w / w
		}
	}
	if h := tall(lines, f); h > r.h {
		f *= r.h / h
	}
	return f
}

// tall is the height of lines at scale f, in millimetres.
func tall(lines []line, f float64) float64 {
	sum := 0.0
	for _, l := range lines {
		sum += (l.before*f + math.Max(smallest, l.size*f)*1.26) * mmPerPt
	}
	last := lines[len(lines)-1]
	return sum - math.Max(smallest, last.size*f)*.28*mmPerPt
}

// dragged is where a line starts so that its ink is the wanted way off an edge.
func (d *draft) dragged(t text, at pt) pt {
	b := t.reach()
	switch d.phone.edge {
	case rules.Left:
		at.x = d.phone.mm - b.x
	case rules.Right:
		at.x = d.w - d.phone.mm - b.right()
	case rules.Top:
		at.y = d.phone.mm - b.y
	case rules.Bottom:
		at.y = d.h - d.phone.mm - b.bottom()
	}
	return at
}

// title is the maker's name, drawn large.
func (d *draft) title(size float64, k ink) line {
	return line{text: text{s: d.who.name, face: caps, size: size, track: .5, ink: k}}
}

// motto is what the maker does.
func (d *draft) motto(size float64, k ink) line {
	return line{text: text{s: d.who.trade, face: italic, size: size, ink: k}, before: 1.2}
}

// contact are the ways to reach the maker.
func (d *draft) contact(size float64, k ink) []line {
	m := d.who
	out := []line{{text: text{s: m.person, face: medium, size: size + .9, ink: k}}}
	for _, s := range []string{m.street, m.town, m.phone, m.mail} {
		out = append(out, line{text: text{s: s, face: roman, size: size, track: .1, ink: k}, before: .3})
	}
	out[3].before = 2.6
	return out
}

// brief is the shortest way to say where and how: two lines, three where the
// card is narrow.
func (d *draft) brief(size float64, k ink) []line {
	place := func(s string, before float64) line {
		return line{text{s: s, face: roman, size: size, track: .1, ink: k}, before}
	}
	phone := line{text{s: d.who.phone, face: medium, size: size, track: .4, ink: k}, .6}
	if d.upright() {
		return []line{place(d.who.street, 0), place(d.who.town, .3), phone}
	}
	return []line{place(d.who.street+", "+d.who.town, 0), phone}
}

// emblem stamps the maker's mark in the disc of radius r about c.
func (d *draft) emblem(c pt, r float64, k, ground ink) {
	d.stamp(d.who.mark, moved(c.x, c.y).after(scaled(r)), k, ground)
}

// photograph lays the maker's scene on r.
func (d *draft) photograph(r rect) { d.picture(r, d.who.scene(r.w, r.h)) }

// rule draws a level line of weight mm through (x, y), w wide.
func (d *draft) rule(x, y, w, weight float64, k ink) {
	if d.faults.rule > 0 {
		weight = d.faults.rule * mmPerPt
	}
	d.stroke(lineTo(x, y, x+w, y), weight, k)
}

// cutMarks draws two lines at each corner of the trim, off mm outside it.
func (d *draft) cutMarks(off float64) {
	const long, weight = 5, .18
	line := func(x0, y0, x1, y1 float64) { d.stroke(lineTo(x0, y0, x1, y1), weight, black) }
	for _, x := range []float64{0, d.w} {
		line(x, -off-long, x, -off)
		line(x, d.h+off, x, d.h+off+long)
	}
	for _, y := range []float64{0, d.h} {
		line(-off-long, y, -off, y)
		line(d.w+off, y, d.w+off+long, y)
	}
}
