package impose_test

import (
	"math"
	"testing"
	"time"

	"stoneproof/checks/art/pdf"
	"stoneproof/report/sheet"
	"stoneproof/report/sheet/impose"
	"stoneproof/rules"
)

// lines gives the boxes of a page's lines, by their weight in points.
func lines(t *testing.T, b []byte, page int) map[float64][]pdf.Rect {
	t.Helper()
	doc, err := pdf.Open(b, pdf.DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	p, err := doc.Page(page)
	if err != nil {
		t.Fatal(err)
	}
	c, err := p.Walk()
	if err != nil {
		t.Fatal(err)
	}
	found := map[float64][]pdf.Rect{}
	for _, path := range c.Paths {
		if path.Stroked {
			w := math.Round(min(path.Box.W(), path.Box.H())*100) / 100
			found[w] = append(found[w], path.Box)
		}
	}
	return found
}

func middle(r pdf.Rect) pdf.Point { return pdf.Point{X: (r.X0 + r.X1) / 2, Y: (r.Y0 + r.Y1) / 2} }

// On a printer without fault the steps at zero lie behind the lines of the front; a
// back that prints off by some way meets the lines at the steps that undo it; and a
// proof that is shifted already has its zero there.
func TestTurnProof(t *testing.T) {
	for _, turn := range []sheet.Turn{sheet.LongEdge, sheet.ShortEdge} {
		for _, shift := range []rules.Shift{{}, {Right: rules.MM(1), Down: rules.MM(-2)}} {
			a := ask()
			a.Turn, a.Shift, a.Unit = turn, shift, rules.UnitMM
			b, err := impose.Proof{Ask: a, Made: time.Unix(0, 0), Program: "stoneproof"}.Draw()
			if err != nil {
				t.Fatal(err)
			}
			var upright, level pdf.Rect // the longest lines of the front
			for _, r := range lines(t, b, 1)[.3] {
				if r.H() > upright.H() {
					upright = r
				}
				if r.W() > level.W() {
					level = r
				}
			}
			line := pdf.Point{X: middle(upright).X, Y: middle(level).Y}
			if a.Sideways() {
				line.X = a.Sheet.W.Points() - line.X
			} else {
				line.Y = a.Sheet.H.Points() - line.Y
			}
			for _, r := range lines(t, b, 2)[1] { // the two steps at zero are heavier than the rest
				off := middle(r).X - line.X - shift.Right.Points()
				if r.W() > r.H() {
					off = middle(r).Y - line.Y - shift.Down.Points()
				}
				if math.Abs(off) > .01 {
					t.Errorf("%s edge, shift %v: a zero is %.2f pt off its line", turn, shift, off)
				}
			}
			if n := len(lines(t, b, 2)[1]); n != 2 {
				t.Errorf("%d steps at zero, want 2", n)
			}
		}
	}
}

func TestTurnProofFits(t *testing.T) {
	small := ask()
	small.Sheet = rules.Size{W: rules.MM(80), H: rules.MM(120)}
	if _, err := (impose.Proof{Ask: small}).Draw(); err == nil {
		t.Error("a sheet too small for the stairs was taken")
	}
	for _, p := range sheet.Papers() {
		a := ask()
		a.Sheet = p.Size
		b, err := impose.Proof{Ask: a}.Draw()
		if err != nil {
			t.Fatal(err)
		}
		reach := a.Printable()
		in := pdf.Rect{X0: reach.X.Points(), Y0: reach.Y.Points(), X1: reach.Right().Points(), Y1: reach.Bottom().Points()}
		for page := 1; page <= 2; page++ {
			for _, list := range lines(t, b, page) {
				for _, r := range list {
					if !in.Contains(r, 0) {
						t.Errorf("%s, page %d: a line at %v is out of the printer's reach", p.Name, page, r)
					}
				}
			}
		}
	}
}
