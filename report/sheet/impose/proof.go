package impose

import (
	"bytes"
	"fmt"
	"time"

	"stoneproof/checks/art/pdf"
	"stoneproof/checks/art/pdf/write"
	"stoneproof/report/sheet"
	"stoneproof/rules"
)

// Proof is a test sheet for the turn, printed on plain paper on both sides. The front
// carries fine lines, the back stairs of short steps behind each line; against the
// light the line lies on the step that tells how far the backs have to move.
type Proof struct {
	Ask     sheet.Ask // its Sheet, Margin, Turn, Shift and Unit count
	Made    time.Time
	Program string
}

// Draw makes the PDF of two pages.
func (p Proof) Draw() ([]byte, error) {
	if min(p.Ask.Sheet.W, p.Ask.Sheet.H)-2*p.Ask.Margin < leastProof {
		return nil, fmt.Errorf("a sheet of %s is too small for the scales of a turn proof", p.Ask.Sheet.In(p.Ask.Unit))
	}
	b := &builder{file: write.NewFile(Most)}
	b.root, b.tree = b.file.Reserve(), b.file.Reserve()
	front, back := p.front(), p.back()
	b.page(front, p.Ask.Sheet)
	b.page(back, p.Ask.Sheet)
	return b.close(Sheet{Plan: sheet.Plan{Ask: p.Ask}, Designs: []Design{{Name: "the turn proof"}}, Made: p.Made, Program: p.Program}), nil
}

// Measures of the proof.
const (
	leastProof = 90 * rules.Millimetre
	inset      = 12 * rules.Millimetre // of the crosses from what the printer reaches
	hair       = 0.3                   // points
	smallType  = 5.5
)

// steps is how many steps a stair has on each side of its zero.
const steps = 8

// spot is a place on a side of the sheet.
type spot struct{ X, Y rules.Length }

// corners are where crosses stand, to see whether the paper ran askew.
func (p Proof) corners() []spot {
	in := p.Ask.Printable().Inset(inset)
	return []spot{{in.X, in.Y}, {in.Right(), in.Y}, {in.X, in.Bottom()}, {in.Right(), in.Bottom()}}
}

// at is a place by hundredths of the sheet's height, in the middle of its width: the
// arrow, the upright line, the level line at half height, and then the words.
func (p Proof) at(percent int) spot {
	return spot{p.Ask.Sheet.W / 2, p.Ask.Sheet.H * rules.Length(percent) / 100}
}

// tread is how long a step is along its line: across and down.
func (p Proof) tread() (across, down rules.Length) {
	return min(6*rules.Millimetre, (p.Ask.Sheet.W-2*p.Ask.Margin-20*rules.Millimetre)/(2*steps+1)), p.Ask.Sheet.H / 100
}

// behind is a place as the back shows it, before any shift.
func (p Proof) behind(s spot) spot {
	if p.Ask.Sideways() {
		s.X = p.Ask.Sheet.W - s.X
	} else {
		s.Y = p.Ask.Sheet.H - s.Y
	}
	return s
}

// drawing is a page drawn in micrometres with y down.
type drawing struct {
	canvas
	size rules.Size
}

func (d *drawing) line(weight float64, x0, y0, x1, y1 rules.Length) {
	m := toPage(d.size)
	p, q := m.At(float64(x0), float64(y0)), m.At(float64(x1), float64(y1))
	fmt.Fprintf(&d.out, "q 0 G %s w %s m %s l S Q\n", numbers(weight), short(p), short(q))
}

// words sets a line of type with its middle at x and its base line at y.
func (d *drawing) words(line string, points float64, x, y rules.Length) {
	p := toPage(d.size).At(float64(x), float64(y))
	d.set(line, pdf.Matrix{points, 0, 0, points, p.X - points*width(line)/2, p.Y})
}

// wedge is a solid arrow head, its tip at x, y, pointing up or down.
func (d *drawing) wedge(x, y, long rules.Length) {
	m := toPage(d.size)
	var b bytes.Buffer
	for i, p := range []spot{{x, y}, {x - long.Abs()/2, y + long}, {x + long.Abs()/2, y + long}} {
		op := "l"
		if i == 0 {
			op = "m"
		}
		fmt.Fprintf(&b, "%s %s ", short(m.At(float64(p.X), float64(p.Y))), op)
	}
	fmt.Fprintf(&d.out, "q 0 g %sh f Q\n", b.String())
}

// front draws the lines, and an arrow to compare the turn by.
func (p Proof) front() *canvas {
	d := &drawing{size: p.Ask.Sheet}
	for _, s := range p.corners() {
		const arm = 6 * rules.Millimetre
		d.line(hair, s.X-arm, s.Y, s.X+arm, s.Y)
		d.line(hair, s.X, s.Y-arm, s.X, s.Y+arm)
	}
	across, down := p.tread()
	upright, level := p.at(36), p.at(50)
	d.line(hair, upright.X, upright.Y-down*(steps+2), upright.X, upright.Y+down*(steps+2))
	d.line(hair, level.X-across*(steps+1), level.Y, level.X+across*(steps+1), level.Y)
	p.arrow(d, true)
	words := p.at(61)
	if p.Ask.Sideways() { // clear of the back's words, through the sheet
		words = p.at(80)
	}
	d.paragraph(words, []string{
		"Turn proof, front",
		"Print both pages at actual size (100 %), on plain paper, on both sides,",
		fmt.Sprintf("turned on the %s edge. Mark the edge that goes into the printer first.", p.Ask.Turn),
		"Then hold the sheet against the light, the other side towards you.",
	})
	return &d.canvas
}

// back draws stairs behind the lines. The step at zero lies where the back now thinks
// the line is; the step on which the line shows is where the back has to move.
func (p Proof) back() *canvas {
	d := &drawing{size: p.Ask.Sheet}
	for _, s := range p.corners() {
		d.cross(p.shown(s), p.step())
	}
	p.uprightStair(d, p.shown(p.at(36)))
	p.levelStair(d, p.shown(p.at(50)))
	p.arrow(d, false)
	words := p.at(61)
	if !p.Ask.Sideways() {
		words = p.at(12)
	}
	d.paragraph(words, p.instructions())
	return &d.canvas
}

// shown is where the back has what is at a place on the front, shift and all.
func (p Proof) shown(s spot) spot {
	s = p.behind(s)
	return spot{s.X + p.Ask.Shift.Right, s.Y + p.Ask.Shift.Down}
}

func (p Proof) instructions() []string {
	lines := []string{
		"Turn proof, back",
		"1  The arrows of both sides must lie on each other and point the same way. If they",
		"    do not, choose the other edge in the print dialog, or feed the sheet the other way.",
		"2  Read RIGHT at the step on which the upright line of the front lies, DOWN at the",
		"    step on which the level line lies.",
		"3  Give both to the sheet: --back-shift RIGHT,DOWN, or back-shift in the job ticket.",
		"4  The crosses in the corners should be off by the same amount. If one differs by a",
		"    step or more, the paper ran askew: try again.",
	}
	if p.Ask.Shift != (rules.Shift{}) {
		lines = append(lines, fmt.Sprintf("This proof is shifted by %s, %s already: add what you read to that.",
			p.Ask.Shift.Right.In(p.Ask.Unit), p.Ask.Shift.Down.In(p.Ask.Unit)))
	}
	return lines
}

// paragraph sets lines about a middle, the first one larger, in a size at which the
// longest fits between the outer crosses.
func (d *drawing) paragraph(at spot, lines []string) {
	const most, lead = 9.0, 1.45
	longest := 0.0
	for _, l := range lines[1:] {
		longest = max(longest, width(l))
	}
	size := min(most, (d.size.W-40*rules.Millimetre).Points()/longest)
	d.words(lines[0], size*1.4, at.X, at.Y)
	left := at.X.Points() - size*longest/2
	for i, l := range lines[1:] {
		base := toPage(d.size).At(0, float64(at.Y)).Y - size*lead*float64(i+2)
		d.set(l, pdf.Matrix{size, 0, 0, size, left, base})
	}
}

// arrow draws an arrow that both sides share: on a sheet turned right it points the
// same way, at the same place, on both.
func (p Proof) arrow(d *drawing, front bool) {
	tip, tail := p.at(14), p.at(21)
	word := "front"
	if !front {
		word = "back"
		tip, tail = p.behind(tip), p.behind(tail)
	}
	head := 7 * rules.Millimetre
	if tip.Y > tail.Y {
		head = -head
	}
	d.line(2, tail.X, tail.Y, tip.X, tip.Y+head)
	d.wedge(tip.X, tip.Y, head)
	off := 11 * rules.Millimetre
	if !front && p.Ask.Sideways() { // through the sheet right is left; the words stay clear of each other
		off = 14 * rules.Millimetre
	}
	d.words(word, 10, tip.X+off, (tip.Y+tail.Y)/2)
}

// uprightStair is read where an upright line crosses it: steps to the right, each with
// its number, one above the other.
func (p Proof) uprightStair(d *drawing, at spot) {
	_, tread := p.tread()
	for i := -steps; i <= steps; i++ {
		off := rules.Length(i) * p.step()
		y := at.Y + rules.Length(i)*tread
		d.line(weight(i), at.X+off, y-tread/2, at.X+off, y+tread/2)
		d.words(off.Number(p.Ask.Unit), smallType, at.X+10*rules.Millimetre, y+rules.Points(smallType/3))
	}
	d.words("RIGHT, "+string(p.Ask.Unit), 8, at.X-20*rules.Millimetre, at.Y)
}

// levelStair is read where a level line crosses it: steps down, side by side.
func (p Proof) levelStair(d *drawing, at spot) {
	tread, _ := p.tread()
	for i := -steps; i <= steps; i++ {
		off := rules.Length(i) * p.step()
		x := at.X + rules.Length(i)*tread
		d.line(weight(i), x-tread/2, at.Y+off, x+tread/2, at.Y+off)
		d.words(off.Number(p.Ask.Unit), smallType, x, at.Y+8*rules.Millimetre)
	}
	d.words("DOWN, "+string(p.Ask.Unit), 8, at.X, at.Y+13*rules.Millimetre)
}

// weight makes the step at zero stand out.
func weight(i int) float64 {
	if i == 0 {
		return 1
	}
	return hair
}

// cross is a pair of fine scales without numbers.
func (d *drawing) cross(at spot, step rules.Length) {
	for i := -steps; i <= steps; i++ {
		off := rules.Length(i) * step
		long := rules.Millimetre
		switch {
		case i == 0:
			long *= 3
		case i%2 == 0:
			long += long / 2
		}
		const clear = 500 * rules.Micrometre
		d.line(hair, at.X+off, at.Y-clear-long, at.X+off, at.Y-clear)
		d.line(hair, at.X-clear-long, at.Y+off, at.X-clear, at.Y+off)
	}
}

// step is how far a step lies from the next, as fine as an eye reads against the light.
func (p Proof) step() rules.Length {
	switch p.Ask.Unit {
	case rules.UnitIn:
		return rules.Inch / 50
	case rules.UnitPt:
		return rules.Points(1.5)
	}
	return rules.Millimetre / 2
}
