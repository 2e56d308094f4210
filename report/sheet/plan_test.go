package sheet_test

import (
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stoneproof/report/sheet"
	"stoneproof/rules"
)

var (
	letter = rules.Size{W: rules.Inches(8.5), H: rules.Inches(11)}
	a4     = rules.Size{W: rules.MM(210), H: rules.MM(297)}
)

func usBusiness() sheet.Ask {
	return sheet.Ask{Sheet: letter, Margin: sheet.PrinterMargin, Turn: sheet.LongEdge,
		Trim: rules.Size{W: rules.Inches(3.5), H: rules.Inches(2)}, Bleed: rules.Inches(.125), Safe: rules.Inches(.125)}
}

func lay(t *testing.T, a sheet.Ask) sheet.Plan {
	t.Helper()
	p, err := sheet.Lay(a)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func cutsAt(p sheet.Plan, upright bool) []rules.Length {
	var at []rules.Length
	for _, c := range p.Cuts {
		if c.Upright == upright {
			at = append(at, c.At)
		}
	}
	return at
}

func inches(v ...float64) []rules.Length {
	var l []rules.Length
	for _, x := range v {
		l = append(l, rules.Inches(x))
	}
	return l
}

// Eight-up on Letter (common practice, arithmetic): gaps (8.5−7)/3 = 0.5 in across
// and (11−8)/5 = 0.6 in down, lower left corners in points x 36, 324, y 43.2, 230.4,
// 417.6, 604.8.
func TestEightUpOnLetter(t *testing.T) {
	p := lay(t, usBusiness())
	if p.Columns != 2 || p.Rows != 4 || p.Turned {
		t.Fatalf("%d × %d, turned %v", p.Columns, p.Rows, p.Turned)
	}
	if want := (rules.Size{W: rules.Inches(.5), H: rules.Inches(.6)}); p.Gaps != want || p.Start != want {
		t.Errorf("gaps %v, start %v, want both %v", p.Gaps, p.Start, want)
	}
	if diff := cmp.Diff(inches(.5, 4, 4.5, 8), cutsAt(p, true)); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff(inches(.6, 2.6, 3.2, 5.2, 5.8, 7.8, 8.4, 10.4), cutsAt(p, false)); diff != "" {
		t.Error(diff)
	}
	var corners [][2]rules.Length
	for _, c := range p.Front {
		corners = append(corners, [2]rules.Length{c.Trim.X, letter.H - c.Trim.Bottom()})
	}
	var want [][2]rules.Length
	for _, y := range []float64{604.8, 417.6, 230.4, 43.2} {
		for _, x := range []float64{36, 324} {
			want = append(want, [2]rules.Length{rules.Points(x), rules.Points(y)})
		}
	}
	if diff := cmp.Diff(want, corners); diff != "" {
		t.Error(diff)
	}
}

// Ten-up butted on Letter (arithmetic): margins 0.75 in at the sides, 0.5 in at top
// and bottom. On A4, 85 × 55 mm: 20 mm and 11 mm.
func TestTenUpButted(t *testing.T) {
	us := usBusiness()
	us.Gap.Kind = sheet.Butted
	eu := sheet.Ask{Sheet: a4, Margin: sheet.PrinterMargin, Turn: sheet.LongEdge, Gap: sheet.Gap{Kind: sheet.Butted},
		Trim: rules.Size{W: rules.MM(85), H: rules.MM(55)}, Bleed: rules.MM(3), Safe: rules.MM(3)}
	for _, c := range []struct {
		ask   sheet.Ask
		start rules.Size
	}{
		{us, rules.Size{W: rules.Inches(.75), H: rules.Inches(.5)}},
		{eu, rules.Size{W: rules.MM(20), H: rules.MM(11)}},
	} {
		p := lay(t, c.ask)
		if p.Count() != 10 || p.Columns != 2 || p.Start != c.start || p.Gaps != (rules.Size{}) {
			t.Errorf("%d × %d from %v with gaps %v, want 2 × 5 from %v", p.Columns, p.Rows, p.Start, p.Gaps, c.start)
		}
		if n := len(p.Cuts); n != 3+6 {
			t.Errorf("%d cuts; neighbours share theirs, so 3 and 6 are enough", n)
		}
		if b := p.Front[0].Bleed; b.Right != 0 || b.Bottom != 0 || b.Left != c.ask.Bleed || b.Top != c.ask.Bleed {
			t.Errorf("the first card bleeds %+v: onto a neighbour, or not outside", b)
		}
	}
}

// A portrait sheet W × H turned on its long edge shows a cell at (x, y) at
// (W−x−w, y), on its short edge at (x, H−y−h) (RFC 8011, 5.2.8, and geometry); on a
// landscape sheet the edges change places.
func TestTurns(t *testing.T) {
	for _, c := range []struct {
		name     string
		sheet    rules.Size
		turn     sheet.Turn
		sideways bool
	}{
		{"portrait, long edge", letter, sheet.LongEdge, true},
		{"portrait, short edge", letter, sheet.ShortEdge, false},
		{"landscape, long edge", letter.Turned(), sheet.LongEdge, false},
		{"landscape, short edge", letter.Turned(), sheet.ShortEdge, true},
	} {
		a := usBusiness()
		a.Sheet, a.Turn = c.sheet, c.turn
		p := lay(t, a)
		for i, front := range p.Front {
			want := front.Trim
			if c.sideways {
				want.X = p.Sheet.W - front.Trim.X - front.Trim.W
			} else {
				want.Y = p.Sheet.H - front.Trim.Y - front.Trim.H
			}
			if got := p.Back[i].Trim; got != want {
				t.Errorf("%s: the back of %v is at %v, want %v", c.name, front.Trim, got, want)
			}
		}
	}
}

// Up on the back must point to where up on the front does once the sheet is turned.
func TestBacksStandUpright(t *testing.T) {
	tall := usBusiness()
	tall.Up = sheet.Up{Columns: 3, Rows: 2} // fits lying only
	short := func(a sheet.Ask) sheet.Ask { a.Turn = sheet.ShortEdge; return a }
	for _, c := range []struct {
		name        string
		ask         sheet.Ask
		front, back int
	}{
		{"upright, turned like a page", usBusiness(), 0, 0},
		{"upright, turned over its head", short(usBusiness()), 0, 180},
		{"lying, turned like a page", tall, 90, 270},
		{"lying, turned over its head", short(tall), 90, 90},
	} {
		p := lay(t, c.ask)
		if p.Front[0].Turn != c.front || p.Back[0].Turn != c.back {
			t.Errorf("%s: front %d°, back %d°, want %d°, %d°", c.name, p.Front[0].Turn, p.Back[0].Turn, c.front, c.back)
		}
	}
}

// Equal gaps are whole halves of a millimetre where lengths are told so: on SRA3, 320 ×
// 450 mm, six lying cards of 63 mm leave 72 mm, which is 10.28 mm a strip and told as 10,
// with 11 mm outside (arithmetic).
func TestGapsCanBeReadOnARule(t *testing.T) {
	a := sheet.Ask{Sheet: rules.Size{W: rules.MM(320), H: rules.MM(450)}, Margin: sheet.PrinterMargin, Turn: sheet.LongEdge,
		Trim: rules.Size{W: rules.MM(63), H: rules.MM(88)}, Bleed: rules.MM(3), Unit: rules.UnitMM}
	if p := lay(t, a); p.Rows != 6 || p.Gaps.H != rules.MM(10) || p.Start.H != rules.MM(11) {
		t.Errorf("%d rows, gaps %s, first at %s", p.Rows, p.Gaps.H, p.Start.H)
	}
}

func TestWhatCannotBe(t *testing.T) {
	narrow := usBusiness()
	narrow.Gap = sheet.Gap{Kind: sheet.FixedGap, Wide: rules.Inches(.2)}
	var gap *sheet.GapError
	if _, err := sheet.Lay(narrow); !errors.As(err, &gap) || gap.Least != rules.Inches(.25) {
		t.Errorf("a gap under two bleeds: %v", err)
	}
	many := usBusiness()
	many.Up = sheet.Up{Columns: 3, Rows: 4}
	var fit *sheet.FitError
	if _, err := sheet.Lay(many); !errors.As(err, &fit) {
		t.Fatalf("three columns: %v", err)
	}
	many.Sheet = fit.Needs
	if p := lay(t, many); p.Count() != 12 {
		t.Errorf("the sheet said to be needed holds %d", p.Count())
	}
	many.Sheet.W--
	if _, err := sheet.Lay(many); err == nil {
		t.Error("a micrometre less than needed was enough")
	}
	far := usBusiness()
	far.Shift.Right = rules.Inches(.4)
	var shift *sheet.ShiftError
	if _, err := sheet.Lay(far); !errors.As(err, &shift) {
		t.Errorf("backs out of the printer's reach: %v", err)
	}
}

func TestSheets(t *testing.T) {
	for _, c := range []struct {
		quantity    int
		spoil       float64
		all, spoilt int
	}{{0, 5, 0, 0}, {1, 0, 1, 0}, {8, 0, 1, 0}, {9, 0, 2, 0}, {100, 5, 14, 1}, {160, 5, 21, 1}, {1000, 10, 138, 13}} {
		a := usBusiness()
		a.Quantity, a.Spoil = c.quantity, c.spoil
		if p := lay(t, a); p.Sheets != c.all || p.Spoilt != c.spoilt {
			t.Errorf("%d cards at %g %%: %d sheets, %d spoilt, want %d, %d", c.quantity, c.spoil, p.Sheets, p.Spoilt, c.all, c.spoilt)
		}
	}
}

// A steel rule in 64ths: 0.6 in lies nearest to 38/64 = 19/32 in = 0.59375 in, which
// is 0.00625 in = 159 µm short.
func TestRuler(t *testing.T) {
	for _, c := range []struct {
		at   float64
		mark string
		over rules.Length
	}{{.5, "1/2", 0}, {4, "4", 0}, {4.5, "4 1/2", 0}, {.6, "19/32", 159}, {5.2, "5 13/64", -79}, {-.25, "-1/4", 0}, {0, "0", 0}} {
		if mark, over := sheet.Ruler(rules.Inches(c.at)); mark != c.mark || over != c.over {
			t.Errorf("%g in: %q, %d µm over, want %q, %d", c.at, mark, over, c.mark, c.over)
		}
	}
}
