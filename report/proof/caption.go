package proof

import (
	"fmt"
	"path/filepath"
	"slices"

	"stoneproof/rules"
)

// captionHeight is what the words below the card take.
func (d *drawing) captionHeight() int {
	return 2*lineHeight + lineHeight*(len(d.legend())+len(d.key())) + lineHeight/2 + margin
}

// caption tells below the card which side of what it is, what the lines mean and what
// the numbers stand for.
func (d *drawing) caption() {
	y := float64(d.view.h) + lineHeight
	left, width := d.left(), d.across()
	d.write(d.type_.shortened(plainly(d.title()), width, title), pt{left, y}, ink, title)
	y += lineHeight
	d.write(d.type_.shortened(plainly(d.about()), width, plain), pt{left, y}, ink, plain)
	for _, rows := range [][][]entry{d.legend(), d.key()} {
		for i, row := range rows {
			if y += lineHeight; i == 0 {
				y += lineHeight / 4
			}
			x := left
			for _, e := range row {
				e.draw(pt{x, y})
				d.write(e.text, pt{x + e.room, y}, ink, plain)
				x += e.width
			}
		}
	}
}

func (d *drawing) left() float64   { return rulerLeft - 26 }
func (d *drawing) across() float64 { return float64(d.view.w) - d.left() - margin }

func (d *drawing) title() string {
	t := filepath.Base(d.file.Path)
	if n := len(d.file.Sides); n > 1 {
		t += fmt.Sprintf(", side %d of %d", d.picture.Side, n)
	}
	return t
}

// about tells the card's size and how it was found.
func (d *drawing) about() string {
	if !d.placed() {
		return "Where the knife goes is not known: no lines are drawn."
	}
	u := d.ticket.Unit
	return d.facts.Trim.In(u) + " " + d.facts.Placing
}

// entry is a sign with its meaning.
type entry struct {
	text  string
	room  float64 // for the sign
	width float64 // of all, with the space to the next
	draw  func(at pt)
}

// legend tells what the lines mean, in rows.
func (d *drawing) legend() [][]entry {
	if !d.placed() {
		return nil
	}
	sample := func(m mark) func(pt) {
		return func(at pt) { d.on.line(m, pt{at.x + 2, at.y - 7}, pt{at.x + 44, at.y - 7}) }
	}
	u := d.ticket.Unit
	list := []entry{
		{text: "cut away", room: 54, draw: d.swatch},
		{text: "trim", room: 54, draw: sample(trimMark())},
	}
	if d.ticket.Bleed > 0 {
		list = append(list, entry{text: "bleed " + d.ticket.Bleed.In(u), room: 54, draw: sample(bleedMark())})
	}
	if d.ticket.Safe > 0 {
		list = append(list, entry{text: "safe line " + d.ticket.Safe.In(u), room: 54, draw: sample(safeMark())})
	}
	return d.rowsOf(list)
}

// swatch is a piece of the veil.
func (d *drawing) swatch(at pt) {
	b := rect{at.x + 2, at.y - 18, at.x + 44, at.y + 4}
	d.on.block(paper, b)
	p := b.pixels()
	for y := p.Min.Y; y < p.Max.Y; y++ {
		for x := p.Min.X; x < p.Max.X; x++ {
			d.veilPixel(x, y)
		}
	}
}

// mostEntries bounds what the key tells.
const mostEntries = 60

// key tells what the numbers stand for, in rows; then, with tags without a number,
// what is wrong with the side or its file and has no place to show.
func (d *drawing) key() [][]entry {
	var list []entry
	add := func(tag string, v rules.Verdict, rule string) {
		if len(list) < mostEntries {
			list = append(list, entry{text: string(v) + " " + d.type_.shortened(plainly(rule), 400, plain), room: 50, draw: func(at pt) {
				d.drawTag(tag, v, rect{at.x + 2, at.y - 20, at.x + 38, at.y + 6})
			}})
		}
	}
	told := map[int]bool{}
	for _, s := range slices.SortedStableFunc(slices.Values(d.spots), func(a, b spot) int { return a.number - b.number }) {
		if !told[s.number] && s.tag != (rect{}) {
			told[s.number] = true
			add(s.label(), s.verdict, s.rule)
		}
	}
	for i, n := range rules.Numbers(d.file.Findings) {
		f := d.file.Findings[i]
		bad := f.Verdict == rules.Fail || f.Verdict == rules.Warn
		if bad && n == 0 && (f.Side == d.picture.Side || f.Side == 0) {
			add(sign(f.Verdict), f.Verdict, f.Rule)
		}
	}
	if d.over > 0 {
		list = append(list, entry{text: "and " + rules.Counted(d.over, "more place"), draw: func(pt) {}})
	}
	return d.rowsOf(list)
}

// sign stands for the number of what has no place.
func sign(v rules.Verdict) string {
	if v == rules.Fail {
		return "×"
	}
	return "!"
}

// rowsOf fills rows with entries, in columns as wide as the widest.
func (d *drawing) rowsOf(list []entry) [][]entry {
	const apart = 34
	widest := 0.0
	for _, e := range list {
		widest = max(widest, e.room+d.type_.width(e.text, plain)+apart)
	}
	columns := max(1, int((d.across()+apart)/widest))
	var rows [][]entry
	for i, e := range list {
		if i%columns == 0 {
			rows = append(rows, nil)
		}
		e.width = widest
		rows[len(rows)-1] = append(rows[len(rows)-1], e)
	}
	return rows
}
