package pdf

import (
	"bufio"
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// againstSFNT compares ink boxes with those of golang.org/x/image/font/sfnt, which
// takes the hull of the control points: ours, which are exact, lie within it, and
// reach its sides to within slack units.
func againstSFNT(t *testing.T, data []byte, ours outlines, slack float64) {
	t.Helper()
	ref, err := sfnt.Parse(data)
	if err != nil {
		t.Fatal(err)
	}
	var buf sfnt.Buffer
	em := float64(ref.UnitsPerEm())
	seen := 0
	for g := range ref.NumGlyphs() {
		b, _, err := ref.GlyphBounds(&buf, sfnt.GlyphIndex(g), fixed.Int26_6(ref.UnitsPerEm()), font.HintingNone)
		if err != nil {
			continue
		}
		want := Rect{float64(b.Min.X), -float64(b.Max.Y), float64(b.Max.X), -float64(b.Min.Y)}
		r, ok := ours.ink(g)
		got := Rect{r.X0 * em, r.Y0 * em, r.X1 * em, r.Y1 * em}
		if got.Empty() && want == (Rect{}) {
			continue
		}
		if !ok || !want.Contains(got, 1.01) || !got.Contains(want, slack) {
			t.Errorf("glyph %d: %v (%v), sfnt says %v", g, got, ok, want)
		}
		seen++
	}
	if seen < 200 {
		t.Errorf("only %d glyphs were compared", seen)
	}
}

func TestTrueTypeInkAgainstSFNT(t *testing.T) {
	againstSFNT(t, goitalic.TTF, newTrueType(goitalic.TTF), 1.01)
}

func TestCFFInkAgainstSFNT(t *testing.T) {
	for _, name := range []string{"Nimbus Sans:fontformat=CFF", "Nimbus Roman:italic:fontformat=CFF"} {
		data := loaded(t, command(t, "fc-match", "-f", "%{file}", name))
		if !bytes.HasPrefix(data, []byte("OTTO")) {
			t.Skipf("no CFF font is installed for %q", name)
		}
		againstSFNT(t, data, readProgram(data), 40)
	}
}

// The metrics file beside a Type 1 font states each glyph's box (Adobe Technical
// Note 5004, the B key), here around the control points of the outline: ours, which
// is exact, lies within it and stays short of it by a few units where a curve's
// extreme is between points.
func TestType1InkAgainstItsMetrics(t *testing.T) {
	path, metrics := type1WithMetrics(t)
	f := newType1(loaded(t, path))
	if f == nil {
		t.Fatal("the font cannot be read")
	}
	seen := 0
	lines := bufio.NewScanner(bytes.NewReader(metrics))
	for lines.Scan() {
		_, after, ok := strings.Cut(lines.Text(), "; N ")
		if !ok {
			continue
		}
		name, box, _ := strings.Cut(after, " ")
		var want Rect
		if n, _ := fmt.Sscanf(box, "; B %f %f %f %f", &want.X0, &want.Y0, &want.X1, &want.Y1); n != 4 {
			continue
		}
		r, ok := f.inkOf(name)
		got := Rect{r.X0 * 1000, r.Y0 * 1000, r.X1 * 1000, r.Y1 * 1000}
		if want.W() == 0 && got.Empty() {
			continue
		}
		if !ok || !want.Contains(got, 1.01) || !got.Contains(want, 8) {
			t.Errorf("%s: %v (%v), the metrics say %v", name, got, ok, want)
		}
		seen++
	}
	if seen < 200 {
		t.Errorf("only %d glyphs were compared", seen)
	}
}

func type1WithMetrics(t *testing.T) (path string, metrics []byte) {
	for _, path := range strings.Fields(command(t, "fc-list", ":fontformat=Type 1", "-f", "%{file}\n")) {
		b, err := os.ReadFile(strings.TrimSuffix(path, filepath.Ext(path)) + ".afm")
		if err == nil {
			return path, b
		}
	}
	t.Skip("no Type 1 font with metrics is installed")
	return "", nil
}

// Charstrings that call each other without end cost no more than their budget.
func TestCharstringBudget(t *testing.T) {
	steps := 100_000
	laugh := bytes.Repeat([]byte{139 - 107, 10}, 2000) // call subroutine 0, again and again
	c := charstring{local: [][]byte{laugh}, steps: &steps}
	if _, ok := c.bounds(laugh); ok {
		t.Error("it came to an end")
	}
	steps = 100_000
	wide := charstring{local: [][]byte{laugh}, type1: true, steps: &steps}
	if _, ok := wide.bounds(bytes.Repeat([]byte{139, 10}, 5000)); ok {
		t.Error("the Type 1 form came to an end")
	}
}

func TestFlexIsExact(t *testing.T) {
	// rmoveto 0 0; flex with a bump of 10 units up; endchar
	steps := 100
	c := charstring{steps: &steps}
	num := func(v ...int) (b []byte) {
		for _, n := range v {
			b = append(b, byte(139+n))
		}
		return b
	}
	code := append(num(0, 0), 21)
	code = append(append(code, num(10, 0, 10, 10, 10, 0, 10, 0, 10, -10, 10, 0, 50)...), 12, 35, 14)
	r, ok := c.bounds(code)
	if !ok || math.Abs(r.X1-60) > 1e-9 || math.Abs(r.Y1-10) > 1e-9 {
		t.Errorf("%v %v", r, ok)
	}
}

// The curves of hhcurveto and vvcurveto: the odd number goes for the first one only
// (Technical Note 5177, section 4.1).
func TestCurvesAlongAnAxis(t *testing.T) {
	for op, want := range map[byte]Rect{27: {0, 0, 60, 25}, 26: {0, 0, 25, 60}} {
		steps := 100
		c := charstring{steps: &steps}
		code := []byte{139, 139, 21, 139 + 5}
		for range 2 {
			code = append(code, 139+10, 139+10, 139+10, 139+10)
		}
		if r, ok := c.bounds(append(code, op, 14)); !ok || !near(r, want, 1e-9) {
			t.Errorf("operator %d: %v, want %v", op, r, want)
		}
	}
}

// A flex of Type 1 (Adobe Type 1 Font Format, section 8.3) between two lines: where
// it ends, the second line begins.
func TestType1Flex(t *testing.T) {
	num := func(v int) byte { return byte(139 + v) }
	move := func(x, y int) []byte { return []byte{num(x), num(y), 21, num(2), 10} } // rmoveto, Subrs 2
	code := []byte{num(0), num(50), 13, num(0), num(10), 21, num(1), 10}            // hsbw, rmoveto, Subrs 1
	for _, p := range [][2]int{{20, 0}, {-10, 0}, {0, 5}, {10, 0}, {10, 0}, {0, -5}, {10, 0}} {
		code = append(code, move(p[0], p[1])...)
	}
	code = append(code, num(50), num(40), num(10), num(0), 10) // Subrs 0
	code = append(code, num(30), num(7), 5, 9, 14)             // rlineto, closepath, endchar
	subrs := [][]byte{
		{num(3), num(0), 12, 16, 12, 17, 12, 17, 12, 33, 11}, // 3 0 callothersubr pop pop setcurrentpoint return
		{num(0), num(1), 12, 16, 11},
		{num(0), num(2), 12, 16, 11},
	}
	steps := 1000
	c := charstring{type1: true, local: subrs, steps: &steps}
	if r, ok := c.bounds(code); !ok || !near(r, Rect{0, 10, 70, 17}, 1e-9) {
		t.Errorf("%v %v", r, ok)
	}
}

func TestLatinTable(t *testing.T) {
	if n := len(strings.Fields(latinNames)); n != 228 || n != len([]rune(latinRunes)) {
		t.Fatalf("%d names, %d characters; CFF has 228 up to zcaron", n, len([]rune(latinRunes)))
	}
	// Annex D.2 of ISO 32000-1: name, STD, MAC, WIN in octal.
	for _, r := range []struct {
		name          string
		std, mac, win int
	}{
		{"A", 0o101, 0o101, 0o101}, {"AE", 0o341, 0o256, 0o306}, {"bullet", 0o267, 0o245, 0o225},
		{"germandbls", 0o373, 0o247, 0o337}, {"quoteleft", 0o140, 0o324, 0o221}, {"quoteright", 0o047, 0o325, 0o222},
		{"grave", 0o301, 0o140, 0o140}, {"fi", 0o256, 0o336, 0}, {"endash", 0o261, 0o320, 0o226},
		{"zcaron", 0, 0, 0o236}, {"ydieresis", 0, 0o330, 0o377}, {"quotesingle", 0o251, 0o047, 0o047},
		{"emdash", 0o320, 0o321, 0o227}, {"dotlessi", 0o365, 0o365, 0}, {"Lslash", 0o350, 0, 0},
	} {
		for enc, code := range map[string]int{"StandardEncoding": r.std, "MacRomanEncoding": r.mac, "WinAnsiEncoding": r.win} {
			if code > 0 && codeNames(enc)[code] != r.name {
				t.Errorf("%s %o is %q, want %q", enc, code, codeNames(enc)[code], r.name)
			}
		}
	}
}
