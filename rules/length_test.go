package rules

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestParseLength(t *testing.T) {
	for text, want := range map[string]Length{
		"3mm": 3000, "3 mm": 3000, " 3mm ": 3000, "3MM": 3000, "0.3cm": 3000, "3000um": 3000, "3000µm": 3000,
		"3.0mm": 3000, "3.mm": 3000, ".5mm": 500, "0mm": 0, "-3mm": -3000, "-0mm": 0,
		// One inch is 25.4 mm is 72 pt.
		"1in": 25400, "72pt": 25400, "1inch": 25400, `1"`: 25400, "25.4mm": 25400,
		"0.125in": 3175, "1/8in": 3175, "1/8 in": 3175, `1/8"`: 3175, "9pt": 3175, " 1 / 8 in": 3175,
		"1/16in": 1588, "0.35pt": 123, "10000mm": 10_000_000,
	} {
		if got, err := ParseLength(text); err != nil || got != want {
			t.Errorf("ParseLength(%q) = %d µm, %v; want %d µm", text, got, err, want)
		}
	}
}

func TestParseLengthRefuses(t *testing.T) {
	for text, hint := range map[string]string{
		"": "has no unit", "3": "has no unit", "0.125": "has no unit", "3mm 4": "has no unit",
		"mm": "not a number", "x3mm": "not a number", "1e3mm": "not a number", "infmm": "unknown unit", "nanin": "unknown unit",
		"0x10mm": "not a number", "+3mm": "not a number", "1_000mm": "not a number", "1.2.3mm": "not a number", "3,5mm": "not a number",
		"1/0in": "not a number", "/8in": "not a number", "1/in": "unknown unit", "1/2/4in": "not a number", "--3mm": "not a number",
		"3furlongs": "unknown unit", "3px": "unknown unit", "3mm.": "no unit",
		"10000.1mm": "over 10 m", "-10001mm": "over 10 m", strings.Repeat("9", 400) + "mm": "not a number",
		"1/0." + strings.Repeat("0", 330) + "1in": "not a number", "1/0." + strings.Repeat("0", 300) + "1in": "over 10 m",
	} {
		got, err := ParseLength(text)
		if err == nil || !strings.Contains(err.Error(), hint) {
			t.Errorf("ParseLength(%.40q) = %d µm, %v; want an error with %q", text, got, err, hint)
		}
	}
}

func TestParseSize(t *testing.T) {
	for text, want := range map[string]Size{
		"85x55mm": {85000, 55000}, "85mmx55mm": {85000, 55000}, "85 × 55 mm": {85000, 55000}, "85X55mm": {85000, 55000},
		"85*55mm": {85000, 55000}, "3.5x2in": {88900, 50800}, `3.5"x2"`: {88900, 50800}, "3 1/2x2in": {},
		"3.5inx50.8mm": {88900, 50800}, "252x144pt": {88900, 50800}, "7/2x2in": {88900, 50800},
	} {
		got, err := ParseSize(text)
		if (err != nil) != (want == Size{}) || got != want {
			t.Errorf("ParseSize(%q) = %v, %v; want %v", text, got, err, want)
		}
	}
}

func TestParseSizeRefuses(t *testing.T) {
	for text, hint := range map[string]string{
		"": "is not WIDTHxHEIGHT", "85mm": "is not WIDTHxHEIGHT", "85x55": "has no unit", "85mmx55": "has no unit",
		"0x55mm": "empty side", "-85x55mm": "empty side", "85x0mm": "empty side", "0.0001x1mm": "empty side",
		"x55mm": "not a number", "85xmm": "not a number", "85x55x5mm": "not a number", "85qx55mm": "unknown unit", "85x20000mm": "over 10 m",
	} {
		got, err := ParseSize(text)
		if err == nil || !strings.Contains(err.Error(), hint) {
			t.Errorf("ParseSize(%q) = %v, %v; want an error with %q", text, got, err, hint)
		} else if !strings.Contains(err.Error(), `"`+text+`"`) {
			t.Errorf("ParseSize(%q): %v does not tell what was written", text, err)
		}
	}
}

func TestLengthsAreTold(t *testing.T) {
	for _, c := range []struct {
		length Length
		unit   Unit
		want   string
	}{
		{3000, UnitMM, "3 mm"}, {3000, "", "3 mm"}, {3175, UnitIn, "0.125 in"}, {3175, UnitPt, "9 pt"},
		{3175, UnitMM, "3.18 mm"}, {-3175, UnitMM, "-3.18 mm"}, {53975, UnitMM, "53.98 mm"},
		{0, UnitMM, "0 mm"}, {-1, UnitMM, "0 mm"}, {4, UnitMM, "0 mm"}, {5, UnitMM, "0.01 mm"},
		{100_000, UnitMM, "100 mm"}, {254_000, UnitIn, "10 in"}, {1588, UnitIn, "0.0625 in"},
	} {
		if got := c.length.In(c.unit); got != c.want {
			t.Errorf("%d µm in %q is told as %q, want %q", c.length, c.unit, got, c.want)
		}
	}
	if got := (Size{88900, 50800}).String(); got != "88.9 × 50.8 mm" {
		t.Errorf("size is told as %q", got)
	}
	if got := (Size{88900, 50800}).In(UnitIn); got != "3.5 × 2 in" {
		t.Errorf("size is told as %q", got)
	}
}

// mostTold leaves room to round up below the longest length that is read.
const mostTold = int64(maxLength) - 5

var (
	someLength = rapid.Map(rapid.Int64Range(-mostTold, mostTold), func(v int64) Length { return Length(v) })
	someUnit   = rapid.SampledFrom([]Unit{UnitMM, UnitIn, UnitPt})
	// What is told is rounded: to 10 µm, to 2.54 µm, to 3.53 µm.
	rounding = map[Unit]Length{UnitMM: 5, UnitIn: 2, UnitPt: 2}
)

func TestWhatIsToldCanBeReadAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, u := someLength.Draw(t, "length"), someUnit.Draw(t, "unit")
		got, err := ParseLength(l.In(u))
		if err != nil {
			t.Fatal(err)
		}
		if off := (got - l).Abs(); off > rounding[u] {
			t.Fatalf("%d µm is told as %s, which is %d µm", l, l.In(u), got)
		}
		if again := got.In(u); again != l.In(u) {
			t.Fatalf("%s reads as %s", l.In(u), again)
		}
	})
}

func TestSizesToldCanBeReadAgain(t *testing.T) {
	positive := rapid.Map(rapid.Int64Range(10, mostTold), func(v int64) Length { return Length(v) })
	rapid.Check(t, func(t *rapid.T) {
		s, u := Size{positive.Draw(t, "w"), positive.Draw(t, "h")}, someUnit.Draw(t, "unit")
		got, err := ParseSize(s.In(u))
		if err != nil {
			t.Fatal(err)
		}
		if max((got.W-s.W).Abs(), (got.H-s.H).Abs()) > rounding[u] {
			t.Fatalf("%v is told as %s, which is %v", s, s.In(u), got)
		}
	})
}

func TestUnitsAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := someLength.Draw(t, "length")
		if MM(l.MM()) != l || Inches(l.Inches()) != l || Points(l.Points()) != l {
			t.Fatalf("%d µm does not come back from mm, in or pt", l)
		}
	})
	// 3.75 × 2.25 in at 300 ppi is 1125 × 675 px; A6 is 1240.2 × 1748.0 px.
	// Arithmetic: px = mm / 25.4 × ppi.
	for l, want := range map[Length]float64{Inches(3.75): 1125, Inches(2.25): 675, MM(105): 1240.157, MM(148): 1748.031} {
		if got := tidy(l.Pixels(300)); got != want {
			t.Errorf("%s is %v px at 300 ppi, want %v", l, got, want)
		}
	}
}

func TestEdges(t *testing.T) {
	e := Edges{Top: 1, Right: 2, Bottom: 3, Left: 4}
	for i, edge := range AllEdges {
		if got := e.Of(edge); got != Length(i+1) {
			t.Errorf("%s is %d, want %d", edge, got, i+1)
		}
	}
	if e.Least() != 1 || Even(7) != (Edges{7, 7, 7, 7}) {
		t.Error("Least or Even is wrong")
	}
}

func TestBoxes(t *testing.T) {
	some := rapid.Custom(func(t *rapid.T) Box {
		at, long := rapid.Int64Range(-100, 100), rapid.Int64Range(1, 100)
		return Box{Length(at.Draw(t, "x")), Length(at.Draw(t, "y")), Length(long.Draw(t, "w")), Length(long.Draw(t, "h"))}
	})
	inside := func(b Box, x, y Length) bool { return b.X <= x && x < b.Right() && b.Y <= y && y < b.Bottom() }
	rapid.Check(t, func(t *rapid.T) {
		a, b := some.Draw(t, "a"), some.Draw(t, "b")
		x, y := Length(rapid.Int64Range(-100, 200).Draw(t, "x")), Length(rapid.Int64Range(-100, 200).Draw(t, "y"))
		shared := a.Intersect(b)
		if got, want := inside(shared, x, y), inside(a, x, y) && inside(b, x, y); got != want {
			t.Fatalf("%v is the intersection of %v and %v, but (%d, %d) is in it: %v", shared, a, b, x, y, got)
		}
		if shared != b.Intersect(a) || a.Intersect(a) != a || shared.Empty() != (shared == Box{}) {
			t.Fatalf("the intersection of %v and %v is odd: %v", a, b, shared)
		}
		if e := Length(rapid.Int64Range(-50, 50).Draw(t, "e")); a.Inset(e).Inset(-e) != a {
			t.Fatalf("%v inset by %d does not come back", a, e)
		}
	})
}

// TestBleedIsToldPerEdge guards the trade's old trap: 1/8 in of bleed is an
// amount for each edge, so 3.5 × 2 in grows to 3.75 × 2.25 in, not to
// 3.625 × 2.125 in.
func TestBleedIsToldPerEdge(t *testing.T) {
	us, err := SizeNamed("us-business")
	if err != nil {
		t.Fatal(err)
	}
	if got := us.Trim.Grow(us.Bleed).In(UnitIn); got != "3.75 × 2.25 in" {
		t.Errorf("the card with its bleed is %s", got)
	}
}
