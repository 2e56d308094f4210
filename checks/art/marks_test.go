package art

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"stoneproof/checks/art/pdf"
	"stoneproof/rules"
)

// stroke is a path of one straight line, w points wide.
func stroke(w, x0, y0, x1, y1 float64) pdf.Path {
	a, b := pdf.Point{X: x0, Y: y0}, pdf.Point{X: x1, Y: y1}
	return pdf.Path{Stroked: true, WidthMax: w, Strokes: [][2]pdf.Point{{a, b}}}
}

// cropMarks draws the eight marks of a card at r: off points away, long points
// long. Joined puts them into one path, as some programs write them.
func cropMarks(r pdf.Rect, off, long float64, joined bool) []pdf.Path {
	var list []pdf.Path
	for _, x := range []float64{r.X0, r.X1} {
		list = append(list, stroke(0.25, x, r.Y0-off, x, r.Y0-off-long), stroke(0.25, x, r.Y1+off, x, r.Y1+off+long))
	}
	for _, y := range []float64{r.Y0, r.Y1} {
		list = append(list, stroke(0.25, r.X0-off, y, r.X0-off-long, y), stroke(0.25, r.X1+off, y, r.X1+off+long, y))
	}
	if !joined {
		return list
	}
	one := pdf.Path{Stroked: true, WidthMax: 0.25}
	for _, p := range list {
		one.Strokes = append(one.Strokes, p.Strokes...)
	}
	return []pdf.Path{one}
}

func card(x, y float64, size rules.Size) pdf.Rect {
	return pdf.Rect{X0: x, Y0: y, X1: x + size.W.Points(), Y1: y + size.H.Points()}
}

var usBusiness = rules.Size{W: rules.Inches(3.5), H: rules.Inches(2)}

func TestMarksPlaceTheTrim(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := card(rapid.Float64Range(30, 200).Draw(t, "x"), rapid.Float64Range(30, 400).Draw(t, "y"), usBusiness)
		off := rapid.Float64Range(3, 14).Draw(t, "offset")
		c := &pdf.Content{Paths: cropMarks(want, off, rapid.Float64Range(6, 20).Draw(t, "length"), rapid.Bool().Draw(t, "joined"))}
		// Art on the card: rules, a frame, and lines of the same length inside.
		c.Paths = append(c.Paths,
			stroke(0.5, want.X0+20, want.Y0+30, want.X0+34, want.Y0+30),
			stroke(0.5, want.X0+20, want.Y0+60, want.X0+34, want.Y0+60),
			stroke(1, want.X0, want.Y0+100, want.X1, want.Y0+100))
		if rapid.Bool().Draw(t, "bleed marks") {
			b := rules.Inches(0.125).Points()
			c.Paths = append(c.Paths, cropMarks(pdf.Rect{X0: want.X0 - b, Y0: want.Y0 - b, X1: want.X1 + b, Y1: want.Y1 + b}, off, 8, false)...)
		}
		got, ok := marksOf(c).around(usBusiness, rules.MM(0.25))
		if !ok || math.Abs(got.X0-want.X0) > 0.01 || math.Abs(got.Y1-want.Y1) > 0.01 {
			t.Fatalf("got %v %v, want %v", got, ok, want)
		}
	})
}

// What looks like marks and is none must not place a card.
func TestNoMarks(t *testing.T) {
	r := card(50, 50, usBusiness)
	marks := cropMarks(r, 9, 14, false)
	inside := []pdf.Path{}
	for _, x := range []float64{r.X0, r.X1} {
		inside = append(inside, stroke(0.25, x, r.Y0+5, x, r.Y0+20), stroke(0.25, x, r.Y1-20, x, r.Y1-5))
	}
	for name, paths := range map[string][]pdf.Path{
		"nothing":            nil,
		"marks at one end":   {marks[0], marks[2], marks[4], marks[6]},
		"another card":       cropMarks(card(50, 50, rules.Size{W: rules.MM(85), H: rules.MM(55)}), 9, 14, false),
		"upright lines only": marks[:4],
		"inside the card":    append(inside, marks[4:]...),
		"thick bars":         {stroke(4, 0, 0, 0, 20), stroke(4, 0, 200, 0, 220)},
	} {
		if got, ok := marksOf(&pdf.Content{Paths: paths}).around(usBusiness, rules.MM(0.25)); ok {
			t.Errorf("%s: placed a card at %v", name, got)
		}
	}
}
