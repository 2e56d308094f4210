package sheet

import (
	"fmt"
	"math"
	"strings"

	"stoneproof/rules"
)

// drawingWidth is how many columns of text one side of the sheet takes: two of them
// stand side by side on a terminal of 80.
const drawingWidth = 36

// Drawing shows both sides of the sheet in text: each card with its number, and an
// arrow that points to its upper edge.
func (p Plan) Drawing() string {
	front := p.draw(p.Front, p.FrontMarks)
	back := p.draw(p.Back, p.BackMarks)
	var b strings.Builder
	fmt.Fprintf(&b, "  %-*s  %s\n", drawingWidth, "front", "back, as seen once the sheet is turned")
	for i := range front {
		fmt.Fprintf(&b, "  %s  %s\n", front[i], back[i])
	}
	return b.String()
}

// sketch is a grid of letters on which lines join. A cell holds the ways in which
// lines leave it.
type sketch struct {
	rows  [][]rune
	lines [][]way
	perX  float64 // letters a micrometre
	perY  float64
}

// way is a set of directions.
type way uint8

const (
	up way = 1 << iota
	right
	down
	left
)

func (p Plan) draw(cells []Cell, marks []Mark) []string {
	// A letter is about twice as high as wide.
	height := max(4, int(math.Round(drawingWidth/2*float64(p.Sheet.H)/float64(p.Sheet.W))))
	s := &sketch{perX: (drawingWidth - 1) / float64(p.Sheet.W), perY: float64(height-1) / float64(p.Sheet.H)}
	for range height {
		s.rows = append(s.rows, []rune(strings.Repeat(" ", drawingWidth)))
		s.lines = append(s.lines, make([]way, drawingWidth))
	}
	for _, m := range marks {
		s.mark(m)
	}
	s.box(rules.Box{W: p.Sheet.W, H: p.Sheet.H})
	for _, c := range cells {
		s.box(c.Trim)
	}
	for i, c := range cells {
		s.label(c, fmt.Sprint(i+1)+arrow(c.Turn))
	}
	return s.text()
}

// arrow points to the upper edge of art that lies so.
func arrow(turn int) string {
	return map[int]string{0: "↑", 90: "→", 180: "↓", 270: "←"}[turn]
}

func (s *sketch) x(l rules.Length) int { return int(math.Round(float64(l) * s.perX)) }
func (s *sketch) y(l rules.Length) int { return int(math.Round(float64(l) * s.perY)) }

func (s *sketch) box(b rules.Box) {
	x0, y0, x1, y1 := s.x(b.X), s.y(b.Y), s.x(b.Right()), s.y(b.Bottom())
	for x := x0; x < x1; x++ {
		for _, y := range []int{y0, y1} {
			s.lines[y][x] |= right
			s.lines[y][x+1] |= left
		}
	}
	for y := y0; y < y1; y++ {
		for _, x := range []int{x0, x1} {
			s.lines[y][x] |= down
			s.lines[y+1][x] |= up
		}
	}
}

// mark puts one letter where a mark is, if the sheet's own outline leaves room.
func (s *sketch) mark(m Mark) {
	middle := (m.From + m.To) / 2
	x, y, letter := s.x(middle), s.y(m.At), '╶'
	if m.Upright {
		x, y, letter = s.x(m.At), s.y(middle), '╷'
	}
	s.rows[y][x] = letter
}

// label writes in the middle of a card, if it is wide enough.
func (s *sketch) label(c Cell, word string) {
	letters := []rune(word)
	y := (s.y(c.Trim.Y) + s.y(c.Trim.Bottom())) / 2
	x := (s.x(c.Trim.X) + s.x(c.Trim.Right()) + 1 - len(letters)) / 2
	if x <= s.x(c.Trim.X) || s.lines[y][x] != 0 {
		return
	}
	copy(s.rows[y][x:], letters)
}

func (s *sketch) text() []string {
	var lines []string
	for y, row := range s.rows {
		for x, w := range s.lines[y] {
			if w != 0 {
				row[x] = joints[w]
			}
		}
		lines = append(lines, string(row))
	}
	return lines
}

// joints are the letters for lines that leave in these ways.
var joints = [16]rune{
	up: '│', down: '│', up | down: '│', left: '─', right: '─', left | right: '─',
	down | right: '┌', down | left: '┐', up | right: '└', up | left: '┘',
	up | down | right: '├', up | down | left: '┤', left | right | down: '┬', left | right | up: '┴',
	up | down | left | right: '┼',
}
