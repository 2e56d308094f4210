package checks

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"stoneproof/checks/art"
	"stoneproof/checks/art/pdf"
	"stoneproof/rules"
)

// filled is a flat opaque rectangle in black ink of a tint.
func filled(order int, box pdf.Rect, k float64) pdf.Path {
	return pdf.Path{Item: pdf.Item{Order: order, Box: box, Full: box, Look: pdf.Look{Fill: inCMYK(0, 0, 0, k), FillAlpha: 1, StrokeAlpha: 1, Blend: "Normal"}}, Filled: true, Rectangle: true}
}

func over(f pdf.Path, change func(*pdf.Path)) pdf.Path { change(&f); return f }

func box(x0, y0, x1, y1 float64) pdf.Rect { return pdf.Rect{X0: x0, Y0: y0, X1: x1, Y1: y1} }

func TestBeneath(t *testing.T) {
	all, spot := box(0, 0, 100, 100), box(40, 40, 60, 60)
	for name, tt := range map[string]struct {
		paths []pdf.Path
		want  string // inks of the ground, "?" where it is not known
	}{
		"paper":                  {nil, "C0 M0 Y0 K0"},
		"a ground":               {[]pdf.Path{filled(0, all, 0.5)}, "C0 M0 Y0 K50"},
		"a label on it":          {[]pdf.Path{filled(0, all, 0.5), filled(1, box(30, 30, 70, 70), 0)}, "C0 M0 Y0 K0"},
		"a label under it":       {[]pdf.Path{filled(1, all, 0.5), filled(0, box(30, 30, 70, 70), 0)}, "C0 M0 Y0 K50"},
		"a label beside it":      {[]pdf.Path{filled(0, all, 0.5), filled(1, box(70, 30, 90, 70), 0)}, "C0 M0 Y0 K50"},
		"half on a label":        {[]pdf.Path{filled(0, all, 0.5), filled(1, box(50, 30, 90, 70), 0)}, "C0 M0 Y0 K0"},
		"less than half":         {[]pdf.Path{filled(0, all, 0.5), filled(1, box(51, 30, 90, 70), 0)}, "C0 M0 Y0 K50"},
		"painted later":          {[]pdf.Path{filled(0, all, 0.5), filled(11, all, 1)}, "C0 M0 Y0 K50"},
		"hidden":                 {[]pdf.Path{over(filled(0, all, 0.5), func(f *pdf.Path) { f.Hidden = true })}, "C0 M0 Y0 K0"},
		"clear":                  {[]pdf.Path{over(filled(0, all, 0.5), func(f *pdf.Path) { f.FillAlpha = 0 })}, "C0 M0 Y0 K0"},
		"a veil":                 {[]pdf.Path{over(filled(0, all, 0.5), func(f *pdf.Path) { f.FillAlpha = 0.5 })}, "?"},
		"a blend":                {[]pdf.Path{over(filled(0, all, 0.5), func(f *pdf.Path) { f.Blend = "Multiply" })}, "?"},
		"another shape":          {[]pdf.Path{over(filled(0, all, 0.5), func(f *pdf.Path) { f.Rectangle = false })}, "?"},
		"a shape under a label":  {[]pdf.Path{over(filled(0, all, 0.5), func(f *pdf.Path) { f.Rectangle = false }), filled(1, all, 1)}, "C0 M0 Y0 K100"},
		"pieces":                 {[]pdf.Path{filled(0, all, 0.5), filled(1, box(30, 30, 70, 47), 1), filled(2, box(30, 47, 70, 54), 1)}, "?"},
		"pieces away from it":    {[]pdf.Path{filled(0, all, 0.5), filled(1, box(30, 30, 70, 49), 1), filled(2, box(30, 51, 70, 70), 1)}, "C0 M0 Y0 K50"},
		"a piece off its middle": {[]pdf.Path{filled(0, all, 0.5), filled(1, box(30, 30, 70, 43), 1), filled(2, box(30, 43, 70, 46), 1)}, "C0 M0 Y0 K50"},
		"cyan overprinted": {[]pdf.Path{filled(0, all, 0.5), over(filled(1, all, 0), func(f *pdf.Path) {
			f.Fill, f.FillOverprint, f.OverprintMode = inCMYK(1, 0, 0, 0), true, 1
		})}, "C100 M0 Y0 K50"},
	} {
		p := &Pass{Ctx: context.Background()}
		g := p.beneath(&pdf.Content{Paths: tt.paths}, 10, spot)
		if got := g.String(); g.known == (tt.want == "?") || g.known && got != tt.want {
			t.Errorf("%s: known %v, %s, want %s", name, g.known, got, tt.want)
		}
	}
	late, stop := context.WithCancel(context.Background())
	stop()
	if (&Pass{Ctx: late}).beneath(&pdf.Content{Paths: []pdf.Path{filled(0, all, 1)}}, 10, spot).known {
		t.Error("a ground is told to nobody")
	}
}

func TestBuried(t *testing.T) {
	spot := box(40, 40, 60, 60)
	content := &pdf.Content{Paths: []pdf.Path{filled(5, box(30, 30, 70, 70), 1)},
		Images: []pdf.Image{{Item: pdf.Item{Order: 8, Box: box(0, 0, 30, 30), Look: pdf.Look{FillAlpha: 1, Blend: "Normal"}}, Matrix: pdf.Matrix{30, 0, 0, 30, 0, 0}}}}
	p := &Pass{Ctx: context.Background()}
	for _, tt := range []struct {
		order int
		box   pdf.Rect
		want  bool
	}{{4, spot, true}, {6, spot, false}, {4, box(60, 60, 80, 80), false}, {7, box(10, 10, 20, 10), true}, {9, box(10, 10, 20, 10), false}} {
		if got := p.buried(content, tt.order, tt.box); got != tt.want {
			t.Errorf("order %d, %v: %v", tt.order, tt.box, got)
		}
	}
}

// Whatever lies on the page, the areas at a point are those found by looking at
// each, the last one first.
func TestAreasAtAPoint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.OneOf(rapid.Float64Range(-50, 100), rapid.SampledFrom([]float64{0, 16, 32, 1e7, -1e7, 1e300}))
		size := rapid.OneOf(rapid.Float64Range(0, 60), rapid.SampledFrom([]float64{0, 1, 16, 1e8}))
		n := rapid.IntRange(0, 12).Draw(t, "n")
		var paths []pdf.Path
		for i := range n {
			x, y := at.Draw(t, "x"), at.Draw(t, "y")
			paths = append(paths, filled(i, box(x, y, x+size.Draw(t, "w"), y+size.Draw(t, "h")), 1))
		}
		pt, order := pdf.Point{X: at.Draw(t, "px"), Y: at.Draw(t, "py")}, rapid.IntRange(0, n).Draw(t, "order")
		var want, got []int
		for i := order - 1; i >= 0; i-- {
			if b := paths[i].Box; b.X0 <= pt.X && pt.X <= b.X1 && b.Y0 <= pt.Y && pt.Y <= b.Y1 {
				want = append(want, i)
			}
		}
		shuffled := slices.Clone(paths)
		rand.New(rand.NewPCG(1, uint64(n))).Shuffle(n, func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
		p := &Pass{Ctx: context.Background()}
		g := p.areasOf(&pdf.Content{Paths: shuffled})
		for a := range g.at(pt, order, g.all) {
			got = append(got, a.Order)
		}
		if !slices.Equal(got, want) {
			t.Fatalf("at %v: %v, want %v", pt, got, want)
		}
	})
}

// A picture of 10 × 10 px of 0.1 mm: dark but for what the test paints white.
func TestDarkAround(t *testing.T) {
	paint := &art.Paint{Pix: make([]byte, 400), W: 10, H: 10, PxW: 100, PxH: 100}
	for i := 3; i < 400; i += 4 {
		paint.Pix[i] = 255
	}
	mid := rules.Box{X: 400, Y: 400, W: 200, H: 200}
	if dark, known := darkAround(paint, mid); !known || dark != 1 {
		t.Errorf("on black: %v, %v", dark, known)
	}
	clear(paint.Pix[4*50:]) // the lower half is clear: paper
	for name, tt := range map[string]struct {
		box  rules.Box
		want float64
	}{
		"in the upper half":                     {rules.Box{X: 400, Y: 100, W: 100, H: 100}, 1},
		"in the lower half":                     {rules.Box{X: 400, Y: 800, W: 100, H: 100}, 0},
		"a line of no height in the upper half": {rules.Box{X: 200, Y: 200, W: 600}, 1},
	} {
		if dark, known := darkAround(paint, tt.box); !known || dark != tt.want {
			t.Errorf("%s: %v, %v", name, dark, known)
		}
	}
	if _, known := darkAround(paint, rules.Box{X: 9000, Y: 9000, W: 100, H: 100}); known {
		t.Error("beyond the picture nothing is known")
	}
}
