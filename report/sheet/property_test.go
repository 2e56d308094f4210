package sheet_test

import (
	"testing"

	"pgregory.net/rapid"

	"stoneproof/report/sheet"
	"stoneproof/rules"
)

func length(t *rapid.T, name string, least, most float64) rules.Length {
	return rules.Length(rapid.Int64Range(int64(rules.MM(least)), int64(rules.MM(most))).Draw(t, name))
}

func anyAsk(t *rapid.T) sheet.Ask {
	a := sheet.Ask{
		Sheet:  rules.Size{W: length(t, "sheet width", 100, 500), H: length(t, "sheet height", 100, 500)},
		Margin: length(t, "margin", 0, 12),
		Trim:   rules.Size{W: length(t, "card width", 40, 150), H: length(t, "card height", 40, 150)},
		Bleed:  length(t, "bleed", 0, 5),
		Gap:    sheet.Gap{Kind: sheet.GapKind(rapid.IntRange(0, 2).Draw(t, "kind of gap"))},
		Turn:   rapid.SampledFrom([]sheet.Turn{sheet.LongEdge, sheet.ShortEdge}).Draw(t, "turn"),
		Unit:   rapid.SampledFrom([]rules.Unit{"", rules.UnitMM, rules.UnitIn, rules.UnitPt}).Draw(t, "unit"),
	}
	if a.Gap.Kind == sheet.FixedGap {
		a.Gap.Wide = 2*a.Bleed + length(t, "gap", 0, 10)
	}
	return a
}

func planned(t *rapid.T) sheet.Plan {
	p, err := sheet.Lay(anyAsk(t))
	if err != nil {
		t.Skip(err)
	}
	return p
}

// boxOf is a mark with its weight.
func boxOf(m sheet.Mark) rules.Box {
	half := rules.Points(sheet.MarkPoints / 2)
	if m.Upright {
		return rules.Box{X: m.At - half, Y: m.From, W: 2 * half, H: m.To - m.From}
	}
	return rules.Box{X: m.From, Y: m.At - half, W: m.To - m.From, H: 2 * half}
}

// overlap reports whether two boxes share more than an edge.
func overlap(a, b rules.Box) bool { return !a.Intersect(b).Empty() }

func TestNothingOverlaps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := planned(t)
		reach := p.Printable()
		for _, side := range []struct {
			cells []sheet.Cell
			marks []sheet.Mark
		}{{p.Front, p.FrontMarks}, {p.Back, p.BackMarks}} {
			for i, c := range side.cells {
				if b := c.Painted(); b.Intersect(reach) != b {
					t.Fatalf("card %d reaches past what the printer reaches", i+1)
				}
				for j := range i {
					if overlap(c.Painted(), side.cells[j].Painted()) {
						t.Fatalf("the bleeds of cards %d and %d overlap", j+1, i+1)
					}
				}
				for _, m := range side.marks {
					if overlap(boxOf(m), c.Painted()) {
						t.Fatalf("a mark touches the bleed of card %d", i+1)
					}
				}
			}
			for _, m := range side.marks {
				if m.To-m.From < sheet.LeastMark || m.From < p.Margin {
					t.Fatalf("mark %+v is short or out of reach", m)
				}
			}
		}
	})
}

// Through the sheet, every back lies exactly behind its front, and so do the marks.
func TestBacksRegister(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := planned(t)
		for i, front := range p.Front {
			seen := p.Back[i].Trim // through the sheet, from the front
			if p.Sideways() {
				seen.X = p.Sheet.W - seen.Right()
			} else {
				seen.Y = p.Sheet.H - seen.Bottom()
			}
			if seen != front.Trim {
				t.Fatalf("card %d is at %v, its back at %v", i+1, front.Trim, seen)
			}
		}
		if len(p.BackMarks) != len(p.FrontMarks) {
			t.Fatalf("%d marks before, %d behind", len(p.FrontMarks), len(p.BackMarks))
		}
	})
}

func TestShiftMovesAllBacksAlike(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := anyAsk(t)
		still, err := sheet.Lay(a)
		if err != nil {
			t.Skip(err)
		}
		a.Shift = rules.Shift{Right: length(t, "right", -1, 1), Down: length(t, "down", -1, 1)}
		moved, err := sheet.Lay(a)
		if err != nil {
			t.Fatal(err) // a mark's length of room is always there
		}
		for i := range still.Back {
			want := still.Back[i].Trim
			want.X += a.Shift.Right
			want.Y += a.Shift.Down
			if moved.Back[i].Trim != want || moved.Front[i] != still.Front[i] {
				t.Fatalf("card %d: back at %v, want %v", i+1, moved.Back[i].Trim, want)
			}
		}
	})
}

// Every trim edge is cut, and no cut runs through a card.
func TestCutsFreeEveryCard(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := planned(t)
		at := map[bool]map[rules.Length]bool{true: {}, false: {}}
		for _, c := range p.Cuts {
			at[c.Upright][c.At] = true
			for i, card := range p.Front {
				near, far := card.Trim.Y, card.Trim.Bottom()
				if c.Upright {
					near, far = card.Trim.X, card.Trim.Right()
				}
				if near < c.At && c.At < far {
					t.Fatalf("cut %+v runs through card %d", c, i+1)
				}
			}
		}
		for i, card := range p.Front {
			b := card.Trim
			if !at[true][b.X] || !at[true][b.Right()] || !at[false][b.Y] || !at[false][b.Bottom()] {
				t.Fatalf("card %d is not cut on every edge", i+1)
			}
		}
	})
}

// bruteForce counts cards in the plainest way: as many in a line as fit with the
// narrowest gaps allowed, by adding one after the other.
func bruteForce(a sheet.Ask) int {
	outside := a.Margin + sheet.LeastMark + sheet.MarkClear + a.Bleed
	gap := max(2*a.Bleed, rules.MM(2))
	switch a.Gap.Kind {
	case sheet.FixedGap:
		gap = a.Gap.Wide
	case sheet.Butted:
		gap = 0
	}
	inLine := func(sheet, card rules.Length) (n int) {
		for at := outside; at+card <= sheet-outside; at += card + gap {
			n++
		}
		return n
	}
	return max(inLine(a.Sheet.W, a.Trim.W)*inLine(a.Sheet.H, a.Trim.H), inLine(a.Sheet.W, a.Trim.H)*inLine(a.Sheet.H, a.Trim.W))
}

func TestCountIsTheGreatest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := anyAsk(t)
		p, err := sheet.Lay(a)
		want := bruteForce(a)
		if err != nil && want > 0 || p.Count() != want {
			t.Fatalf("%d cards, brute force finds %d (%v)", p.Count(), want, err)
		}
	})
}

// with is the ask after a change.
func with(a sheet.Ask, c sheet.Change, to rules.Length) sheet.Ask {
	switch c.What {
	case sheet.BleedTo:
		a.Bleed = to
	case sheet.MarginTo:
		a.Margin = to
	case sheet.GapTo:
		a.Gap.Wide = to
	case sheet.WidthTo:
		a.Sheet.W = to
	case sheet.HeightTo:
		a.Sheet.H = to
	case sheet.Butting:
		a.Gap = sheet.Gap{Kind: sheet.Butted}
	}
	return a
}

// What is said to make more cards fit does, and a micrometre less of it does not.
func TestMoreIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := planned(t)
		changes := p.More()
		if len(changes) == 0 {
			t.Fatal("a larger sheet always holds more")
		}
		for _, c := range changes {
			q, err := sheet.Lay(with(p.Ask, c, c.To))
			if err != nil || q.Count() != c.Count || c.Count <= p.Count() {
				t.Fatalf("change %+v gives %d cards (%v), had %d", c, q.Count(), err, p.Count())
			}
			less := c.To + 1
			switch c.What {
			case sheet.Butting:
				continue
			case sheet.WidthTo, sheet.HeightTo:
				less = c.To - 1
			}
			if q, err := sheet.Lay(with(p.Ask, c, less)); err != nil || q.Count() != p.Count() {
				t.Fatalf("short of change %+v there are %d cards (%v), had %d", c, q.Count(), err, p.Count())
			}
		}
	})
}
