package checks

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stoneproof/checks/art/pdf"
)

// Colour spaces to set colours in.
func device(f pdf.Family, n int) *pdf.Space { return &pdf.Space{Family: f, N: n} }

func inkSpace(names ...string) *pdf.Space {
	return &pdf.Space{Family: pdf.DeviceN, N: len(names), Names: names}
}

func inCMYK(v ...float64) pdf.Colour { return pdf.Colour{Space: device(pdf.DeviceCMYK, 4), Values: v} }

func inks(c, m, y, k float64) lay { return lay{known: true, cmyk: [4]float64{c, m, y, k}} }

func TestLayOf(t *testing.T) {
	def := &pdf.Space{Family: pdf.DeviceCMYK, N: 4, Default: device(pdf.ICCBased, 4)}
	for name, tt := range map[string]struct {
		colour pdf.Colour
		want   string // inks in per cent; "" where nothing is known
	}{
		"CMYK":                       {inCMYK(0.2, 0.3, 0, 1), "C20 M30 Y0 K100"},
		"CMYK with a default":        {pdf.Colour{Space: def, Values: []float64{0.2, 0, 0, 0}}, "C20 M0 Y0 K0"},
		"CMYK beyond its range":      {inCMYK(2, -1, math.NaN(), math.Inf(1)), "C100 M0 Y0 K100"},
		"too few components":         {inCMYK(1, 1), ""},
		"grey":                       {pdf.Colour{Space: device(pdf.DeviceGray, 1), Values: []float64{0.25}}, "C0 M0 Y0 K75"},
		"RGB red":                    {pdf.Colour{Space: device(pdf.DeviceRGB, 3), Values: []float64{1, 0, 0}}, "C0 M100 Y100 K0"},
		"RGB black":                  {pdf.Colour{Space: device(pdf.DeviceRGB, 3), Values: []float64{0, 0, 0}}, "C0 M0 Y0 K100"},
		"Lab paper":                  {pdf.Colour{Space: device(pdf.Lab, 3), Values: []float64{100, 0, 0}}, "C0 M0 Y0 K0"},
		"ICC of four":                {pdf.Colour{Space: device(pdf.ICCBased, 4), Values: []float64{0, 0, 1, 0}}, "C0 M0 Y100 K0"},
		"Separation":                 {pdf.Colour{Space: inkSpace("Gold"), Values: []float64{0.5}}, "C0 M0 Y0 K0 Gold 50"},
		"Separation Black":           {pdf.Colour{Space: inkSpace("Black"), Values: []float64{1}}, "C0 M0 Y0 K100"},
		"two inks and none":          {pdf.Colour{Space: inkSpace("Cyan", "None", "Gold"), Values: []float64{0.1, 1, 1}}, "C10 M0 Y0 K0 Gold 100"},
		"registration":               {pdf.Colour{Space: inkSpace("All"), Values: []float64{1}}, "C100 M100 Y100 K100"},
		"an index":                   {pdf.Colour{Space: &pdf.Space{Family: pdf.Indexed, N: 1, Base: device(pdf.DeviceCMYK, 4), Table: []byte{0, 0, 0, 0, 255, 0, 51, 0}}, Values: []float64{1}}, "C100 M0 Y20 K0"},
		"an index past its table":    {pdf.Colour{Space: &pdf.Space{Family: pdf.Indexed, N: 1, Base: device(pdf.DeviceCMYK, 4), Table: []byte{0, 0, 0}}, Values: []float64{1}}, ""},
		"an index that is no number": {pdf.Colour{Space: &pdf.Space{Family: pdf.Indexed, N: 1, Base: device(pdf.DeviceGray, 1), Table: []byte{0}}, Values: []float64{math.NaN()}}, "C0 M0 Y0 K100"},
		"a pattern":                  {pdf.Colour{Space: device(pdf.PatternCS, 0), Pattern: &pdf.Pattern{}}, ""},
		"nothing":                    {pdf.Colour{}, ""},
		"registration beside an ink": {pdf.Colour{Space: inkSpace("Gold", "All"), Values: []float64{0, 0.5}}, "C50 M50 Y50 K50"},
	} {
		l := layOf(tt.colour)
		if got := l.String(); l.known != (tt.want != "") || l.known && got != tt.want {
			t.Errorf("%s: known %v, %s, want %q", name, l.known, got, tt.want)
		}
	}
}

// The order of darkness on paper, by the data set that dark cites.
func TestDark(t *testing.T) {
	order := []lay{inks(0, 0, 0, 0), inks(0, 0, 1, 0), inks(0, 0, 0, 0.3), inks(1, 0, 0, 0), inks(0, 1, 0, 0), inks(1, 1, 0, 0), inks(0, 0, 0, 1)}
	for i := range order[1:] {
		if a, b := order[i].dark(), order[i+1].dark(); a >= b {
			t.Errorf("%v is %.2f dark, %v %.2f", order[i], a, order[i+1], b)
		}
	}
}

func anyLay(t *rapid.T) lay {
	tintOf := rapid.SampledFrom([]float64{0, 0, 0.01, 0.05, 0.3, 0.5, 0.9, 1})
	l := lay{known: true}
	for i := range l.cmyk {
		l.cmyk[i] = tintOf.Draw(t, "tint")
	}
	for _, name := range []string{"Gold", "Slip"} {
		if rapid.Bool().Draw(t, name) {
			l.spots = append(l.spots, tint{name, tintOf.Draw(t, "tint")})
		}
	}
	return l
}

func TestDarkRangesAndGrows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := anyLay(t)
		d := l.dark()
		if d < 0 || d > 1 {
			t.Fatalf("%v is %v dark", l, d)
		}
		at := rapid.IntRange(0, 3).Draw(t, "ink")
		l.cmyk[at] = 1
		if more := l.dark(); more < d-1e-12 {
			t.Fatalf("more ink makes %v lighter: %v, %v", l, d, more)
		}
	})
}

func TestSame(t *testing.T) {
	gold := func(v float64) lay { l := inks(0, 0, 0, 0); l.spots = []tint{{"Gold", v}}; return l }
	for _, tt := range []struct {
		a, b lay
		want bool
	}{
		{inks(0, 0, 0, 1), inks(0, 0, 0, 1), true}, {inks(0, 0, 0, 1), inks(0, 0, 0, 0.99), true},
		{inks(0, 0, 0, 1), inks(0, 0, 0, 0.97), false}, {inks(0, 0, 0, 1), inks(0.6, 0.4, 0.4, 1), false},
		{gold(0), inks(0, 0, 0, 0), true}, {gold(0.5), inks(0, 0, 0, 0), false}, {gold(1), gold(1), true}, {gold(1), gold(0.5), false},
		{lay{}, lay{}, false}, {lay{}, inks(0, 0, 0, 0), false},
	} {
		if tt.a.same(tt.b) != tt.want || tt.b.same(tt.a) != tt.want {
			t.Errorf("%v and %v: want same %v", tt.a, tt.b, tt.want)
		}
	}
}

// ISO 32000-1, 8.6.7: the example of the clause is "0.2 0.3 0 1 k", which in mode 1
// leaves the yellow of the ground alone; the rest by Tables 148 and 149.
func TestOverprinted(t *testing.T) {
	ground := inks(0.9, 0.1, 0.5, 0)
	ground.spots = []tint{{"Gold", 1}}
	def := &pdf.Space{Family: pdf.DeviceCMYK, N: 4, Default: device(pdf.ICCBased, 4)}
	white := []float64{0, 0, 0, 0}
	for name, tt := range map[string]struct {
		colour pdf.Colour
		mode   int
		want   string
	}{
		"the clause's example":       {inCMYK(0.2, 0.3, 0, 1), 1, "C20 M30 Y50 K100 Gold 100"},
		"and in mode 0":              {inCMYK(0.2, 0.3, 0, 1), 0, "C20 M30 Y0 K100 Gold 100"},
		"white":                      {inCMYK(white...), 1, "C90 M10 Y50 K0 Gold 100"},
		"white in mode 0":            {inCMYK(white...), 0, "C0 M0 Y0 K0 Gold 100"},
		"white through a default":    {pdf.Colour{Space: def, Values: white}, 1, "C0 M0 Y0 K0 Gold 100"},
		"profiled white":             {pdf.Colour{Space: device(pdf.ICCBased, 4), Values: white}, 1, "C0 M0 Y0 K0 Gold 100"},
		"grey white":                 {pdf.Colour{Space: device(pdf.DeviceGray, 1), Values: []float64{1}}, 1, "C0 M0 Y0 K0 Gold 100"},
		"no gold":                    {pdf.Colour{Space: inkSpace("Gold"), Values: []float64{0}}, 0, "C90 M10 Y50 K0 Gold 0"},
		"no slip":                    {pdf.Colour{Space: inkSpace("Slip"), Values: []float64{0}}, 1, "C90 M10 Y50 K0 Gold 100 Slip 0"},
		"half slip":                  {pdf.Colour{Space: inkSpace("Slip"), Values: []float64{0.5}}, 0, "C90 M10 Y50 K0 Gold 100 Slip 50"},
		"an ink by name, none of it": {pdf.Colour{Space: inkSpace("Cyan"), Values: []float64{0}}, 1, "C0 M10 Y50 K0 Gold 100"},
		"registration, none of it":   {pdf.Colour{Space: inkSpace("All"), Values: []float64{0}}, 1, "C0 M0 Y0 K0"},
	} {
		if got := overprinted(tt.colour, tt.mode, ground).String(); got != tt.want {
			t.Errorf("%s: %s, want %s", name, got, tt.want)
		}
	}
}

// In mode 1 a DeviceCMYK colour takes nothing away, whatever the ground; on paper
// overprint changes nothing; and the ground itself is left as it was.
func TestOverprintAddsOnly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, l := anyLay(t), anyLay(t)
		before := g.String()
		c := inCMYK(l.cmyk[:]...)
		out := overprinted(c, 1, g)
		for i, v := range out.cmyk {
			if v != l.cmyk[i] && v != g.cmyk[i] {
				t.Fatalf("%v on %v gives %v", l, g, out)
			}
		}
		if l.cmyk == [4]float64{} && !out.same(g) {
			t.Fatalf("white on %v gives %v", g, out)
		}
		if on := overprinted(c, rapid.IntRange(0, 1).Draw(t, "mode"), inks(0, 0, 0, 0)); !on.same(layOf(c)) {
			t.Fatalf("%v on paper gives %v", l, on)
		}
		if g.String() != before {
			t.Fatalf("the ground was %s and is %v", before, g)
		}
	})
}

func TestRichBlackColours(t *testing.T) {
	for _, tt := range []struct {
		c, m, y, k float64
		want       bool
	}{
		{60, 40, 40, 100, true}, {75, 68, 67, 90, true}, {91, 79, 62, 97, true}, {100, 100, 100, 0, true}, {100, 100, 100, 100, true},
		{0, 0, 0, 100, false}, {3, 0, 2, 100, false}, {5, 0, 0, 100, true}, {10, 0, 0, 80, true}, {20, 15, 15, 60, true},
		// Colours, however dark.
		{90, 30, 95, 30, false}, {100, 80, 0, 50, false}, {50, 70, 80, 70, false}, {40, 0, 0, 50, false}, {48, 59, 52, 28, false}, {0, 100, 100, 40, false},
		// Light greys are no black.
		{20, 15, 15, 20, false}, {0, 0, 0, 0, false}, {60, 50, 50, 0, false},
	} {
		if l := inks(tt.c/100, tt.m/100, tt.y/100, tt.k/100); l.richBlack() != tt.want {
			t.Errorf("%v: want %v", l, tt.want)
		}
	}
	withGold := inks(0, 0, 0, 1)
	withGold.spots = []tint{{"Gold", 1}}
	if !withGold.richBlack() {
		t.Error("black and gold are two inks")
	}
	withGold.cmyk[3] = 0.5
	if withGold.richBlack() {
		t.Error("gold with half of black is a gold")
	}
	if got := inks(0.1, 0.1, 0.1, 0.6).oneInk().String(); got != "C0 M0 Y0 K64" {
		t.Errorf("one ink for a grey is %s", got)
	}
}

func TestAlike(t *testing.T) {
	for _, pair := range []string{"Gold|gold", "Gold|GOLD ", "Slip Blue|SlipBlue", "Brick C|Brick U", "Gold|Gold copy", "Black|Process Black", "black |Black", "Brick 12 C|Brick 12"} {
		if a, b, _ := strings.Cut(pair, "|"); !alike(a, b) {
			t.Errorf("%q and %q are alike", a, b)
		}
	}
	for _, pair := range []string{"Gold|Silver", "Brick 12|Brick 13", "Blue 2|Blue 23", "Gold|Gold Leaf", "Black|Blackthorn"} {
		if a, b, _ := strings.Cut(pair, "|"); alike(a, b) {
			t.Errorf("%q and %q are two inks", a, b)
		}
	}
	rapid.Check(t, func(t *rapid.T) { // names come from files
		a, b := rapid.String().Draw(t, "a"), rapid.String().Draw(t, "b")
		if !alike(a, a) || alike(a, b) != alike(b, a) {
			t.Fatalf("%q %q", a, b)
		}
	})
}

// A shape is a strip whichever way it is drawn, turned or slanted.
func TestStripOf(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		long := rapid.Float64Range(2, 200).Draw(t, "long")
		wide := rapid.Float64Range(0, 1).Draw(t, "wide")
		turn := rapid.Float64Range(0, 2*math.Pi).Draw(t, "turn")
		x, y := rapid.Float64Range(-100, 100).Draw(t, "x"), rapid.Float64Range(-100, 100).Draw(t, "y")
		m := pdf.Matrix{math.Cos(turn), math.Sin(turn), -math.Sin(turn), math.Cos(turn), x, y}
		q := pdf.Quad{m.At(0, 0), m.At(long, 0), m.At(long, wide), m.At(0, wide)}
		if rapid.Bool().Draw(t, "other way") {
			slices.Reverse(q[:])
		}
		from := rapid.IntRange(0, 3).Draw(t, "from")
		q = pdf.Quad(slices.Concat(q[from:], q[:from]))
		it := pdf.Item{Box: q.Bounds()}
		s, ok := stripOf(q, mark{Item: &it})
		if !ok || math.Abs(s.width-wide) > 1e-6 || math.Abs(s.length()-long) > 1e-6 {
			t.Fatalf("%v × %v is read as %v × %v, %v", long, wide, s.length(), s.width, ok)
		}
		if s.touches(s) {
			t.Fatal("a strip is not its own neighbour")
		}
		next := m.Mul(pdf.Matrix{1, 0, 0, 1, 0, 0})
		off := pdf.Quad{next.At(0, wide), next.At(long, wide), next.At(long, 2*wide), next.At(0, 2*wide)}
		n, _ := stripOf(off, mark{Item: &it})
		if wide > 0.01 && (!s.touches(n) || !n.touches(s)) {
			t.Fatal("strips edge to edge touch")
		}
	})
}
