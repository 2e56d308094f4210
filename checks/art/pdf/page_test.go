package pdf

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func near(a, b Rect, slack float64) bool {
	return a.Contains(b, slack) && b.Contains(a, slack)
}

func TestBoxesInDisplaySpace(t *testing.T) {
	trim := Rect{9, 9, 261, 153}
	cases := []struct {
		name, page  string
		media, trim Rect
		rotate      int
	}{
		{"plain", "/MediaBox [0 0 270 162] /TrimBox [9 9 261 153]", Rect{0, 0, 270, 162}, trim, 0},
		{"origin elsewhere", "/MediaBox [100 -50 370 112] /TrimBox [109 -41 361 103]", Rect{0, 0, 270, 162}, trim, 0},
		{"corners the other way round", "/MediaBox [270 162 0 0] /TrimBox [261 9 9 153]", Rect{0, 0, 270, 162}, trim, 0},
		{"two points a unit", "/MediaBox [0 0 135 81] /TrimBox [4.5 4.5 130.5 76.5] /UserUnit 2", Rect{0, 0, 270, 162}, trim, 0},
		{"quarter turn", "/MediaBox [0 0 162 270] /TrimBox [9 9 153 261] /Rotate 90", Rect{0, 0, 270, 162}, trim, 90},
		{"turned once and a quarter", "/MediaBox [0 0 162 270] /TrimBox [9 9 153 261] /Rotate 450", Rect{0, 0, 270, 162}, trim, 90},
		{"quarter turn back", "/MediaBox [0 0 162 270] /TrimBox [9 9 153 261] /Rotate -90", Rect{0, 0, 270, 162}, trim, 270},
		{"off centre, half turn", "/MediaBox [0 0 270 162] /TrimBox [0 0 252 144] /Rotate 180", Rect{0, 0, 270, 162}, Rect{18, 0, 270, 144}, 180},
		{"off centre, upright", "/MediaBox [0 0 270 162] /TrimBox [0 0 252 144]", Rect{0, 0, 270, 162}, Rect{0, 18, 252, 162}, 0},
		// A page turned clockwise brings its left edge to the top.
		{"off centre, quarter turn", "/MediaBox [0 0 270 162] /TrimBox [0 0 252 144] /Rotate 90", Rect{0, 0, 162, 270}, Rect{0, 0, 144, 252}, 90},
		{"off centre, quarter turn back", "/MediaBox [0 0 270 162] /TrimBox [0 0 252 144] /Rotate 270", Rect{0, 0, 162, 270}, Rect{18, 18, 162, 270}, 270},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			p := first(t, onePage(c.page, "", ""))
			if !near(p.Media, c.media, 1e-9) || p.Rotate != c.rotate || len(p.BoxTrouble) > 0 {
				t.Errorf("media %v, rotate %d, trouble %q", p.Media, p.Rotate, p.BoxTrouble)
			}
			if p.Trim == nil || !near(*p.Trim, c.trim, 1e-9) {
				t.Errorf("trim %v, want %v", p.Trim, c.trim)
			}
			if p.Crop != nil || p.Bleed != nil || p.Art != nil {
				t.Error("a box is there that the page does not have")
			}
		})
	}
}

func TestBoxTrouble(t *testing.T) {
	cases := []struct{ name, page, want string }{
		{"three numbers", "/MediaBox [0 0 270 162] /TrimBox [9 9 261]", "TrimBox has 3 numbers"},
		{"a word", "/MediaBox [0 0 270 162] /TrimBox [9 9 261 /x]", "TrimBox holds something"},
		{"no area", "/MediaBox [0 0 270 162] /BleedBox [9 9 9 153]", "BleedBox has no area"},
		{"outside", "/MediaBox [0 0 270 162] /BleedBox [-9 0 270 162]", "BleedBox reaches past"},
		{"missing MediaBox", "/TrimBox [9 9 261 153]", "no MediaBox"},
		{"MediaBox broken", "/MediaBox [0 0 270]", "MediaBox has 3 numbers"},
		{"odd rotation", "/MediaBox [0 0 270 162] /Rotate 45", "not a multiple of 90"},
		{"negative unit", "/MediaBox [0 0 270 162] /UserUnit -1", "UserUnit"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			p := first(t, onePage(c.page, "", ""))
			if len(p.BoxTrouble) != 1 || !strings.Contains(p.BoxTrouble[0], c.want) {
				t.Errorf("trouble %q, want %q", p.BoxTrouble, c.want)
			}
			if p.Media.W() <= 0 || p.Rotate != 0 || p.UserUnit != 1 {
				t.Errorf("not usable all the same: %+v", p.Media)
			}
		})
	}
}

// Only MediaBox, CropBox, Rotate and Resources are inherited (ISO 32000-1, Table 30).
func TestInheritance(t *testing.T) {
	w := &writer{}
	leaf := w.add("<< /Type /Page /Parent 3 0 R >>")
	own := w.add("<< /Type /Page /Parent 3 0 R /MediaBox [0 0 100 50] /Rotate 0 >>")
	node := w.add(fmt.Sprintf("<< /Type /Pages /Count 2 /Parent 4 0 R /Kids [%s %s] /Rotate 90 /TrimBox [1 1 2 2] /BleedBox [1 1 2 2] /ArtBox [1 1 2 2] /UserUnit 3 >>", ref(leaf), ref(own)))
	top := w.add(fmt.Sprintf("<< /Type /Pages /Count 2 /Kids [%s] /MediaBox [0 0 162 270] /CropBox [9 9 153 261] >>", ref(node)))
	w.root = w.add("<< /Type /Catalog /Pages " + ref(top) + " >>")
	d := open(t, w.bytes())
	p, _ := d.Page(1)
	if p.Media != (Rect{0, 0, 270, 162}) || p.Rotate != 90 || p.Crop == nil || *p.Crop != (Rect{9, 9, 261, 153}) {
		t.Errorf("not inherited: %+v", p)
	}
	if p.Trim != nil || p.Bleed != nil || p.Art != nil || p.UserUnit != 1 {
		t.Errorf("inherited what is not inheritable: %+v", p)
	}
	if q, _ := d.Page(2); q.Media != (Rect{0, 0, 100, 50}) || q.Rotate != 0 {
		t.Errorf("own values lose: %+v", q)
	}
}

// The same card, whatever its rotation, unit and origin, has the same boxes on
// display, and so has what is painted on it.
func TestDisplaySpaceIsWhatTheReaderSees(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rotate := rapid.SampledFrom([]int{0, 90, 180, 270}).Draw(t, "rotate")
		unit := rapid.SampledFrom([]float64{0.5, 1, 2, 2.8346}).Draw(t, "unit")
		ox, oy := rapid.Float64Range(-500, 500).Draw(t, "x"), rapid.Float64Range(-500, 500).Draw(t, "y")
		seen := Rect{30, 20, 110, 70} // painted, as the reader sees it
		// Build the page backwards: user space is the inverse of what the reader sees.
		w, h := 270/unit, 162/unit
		back := func(p Point) Point {
			x, y := p.X/unit, p.Y/unit
			switch rotate {
			case 90:
				return Point{ox + y, oy + x}
			case 180:
				return Point{ox + w - x, oy + y}
			case 270:
				return Point{ox + h - y, oy + w - x}
			}
			return Point{ox + x, oy + h - y}
		}
		box := func(r Rect) string {
			a, b := back(Point{r.X0, r.Y0}), back(Point{r.X1, r.Y1})
			return fmt.Sprintf("%.6f %.6f %.6f %.6f", a.X, a.Y, b.X, b.Y)
		}
		a, b := back(Point{seen.X0, seen.Y0}), back(Point{seen.X1, seen.Y1})
		page := fmt.Sprintf("/MediaBox [%s] /TrimBox [%s] /Rotate %d /UserUnit %g",
			box(Rect{0, 0, 270, 162}), box(Rect{9, 9, 261, 153}), rotate, unit)
		paint := fmt.Sprintf("%.6f %.6f %.6f %.6f re f", a.X, a.Y, b.X-a.X, b.Y-a.Y)
		doc, err := Open(onePage(page, "", paint), DefaultLimits())
		if err != nil {
			t.Fatal(err)
		}
		p, err := doc.Page(1)
		if err != nil {
			t.Fatal(err)
		}
		if !near(p.Media, Rect{0, 0, 270, 162}, 1e-3) || !near(*p.Trim, Rect{9, 9, 261, 153}, 1e-3) {
			t.Fatalf("media %v trim %v", p.Media, *p.Trim)
		}
		c, err := p.Walk()
		if err != nil || len(c.Paths) != 1 || !near(c.Paths[0].Box, seen, 1e-3) || !c.Paths[0].Rectangle {
			t.Fatalf("painted %+v, want %v (%v)", c.Paths, seen, err)
		}
	})
}

// pdfinfo prints boxes in the file's own units, not turned; it knows nothing of
// UserUnit, and gives a missing box the value of the next larger one.
func TestBoxesAgainstPdfinfo(t *testing.T) {
	for _, page := range []string{
		"/MediaBox [0 0 270 162] /TrimBox [9 9 261 153] /BleedBox [0 0 270 162]",
		"/MediaBox [10 20 280 182] /CropBox [12 22 278 180] /TrimBox [19 29 271 173] /ArtBox [30 40 200 150]",
		"/MediaBox [270 162 0 0] /TrimBox [261 153 9 9] /Rotate 90",
		"/MediaBox [-9 -9 261 153] /TrimBox [0 0 252 144] /Rotate 270",
	} {
		b := onePage(page, "", "")
		out := command(t, "pdfinfo", "-box", saved(t, "a.pdf", b))
		p := first(t, b)
		for name, r := range map[string]*Rect{"MediaBox": &p.Media, "CropBox": p.Crop, "BleedBox": p.Bleed, "TrimBox": p.Trim, "ArtBox": p.Art} {
			if r == nil {
				continue
			}
			want := p.display.quad(pdfinfoBox(t, out, name)).Bounds()
			if !near(*r, want, 0.006) {
				t.Errorf("%s: %s is %v, pdfinfo says %v", page, name, *r, want)
			}
		}
		if !strings.Contains(out, fmt.Sprintf("Page rot:        %d\n", p.Rotate)) {
			t.Errorf("%s: rotation %d is not pdfinfo's", page, p.Rotate)
		}
	}
}

func pdfinfoBox(t *testing.T, out, name string) Rect {
	m := regexp.MustCompile(name + `:\s+(\S+)\s+(\S+)\s+(\S+)\s+(\S+)`).FindStringSubmatch(out)
	if m == nil {
		t.Fatalf("no %s in %s", name, out)
	}
	var v [4]float64
	for i := range v {
		v[i], _ = strconv.ParseFloat(m[i+1], 64)
	}
	return Rect{math.Min(v[0], v[2]), math.Min(v[1], v[3]), math.Max(v[0], v[2]), math.Max(v[1], v[3])}
}
