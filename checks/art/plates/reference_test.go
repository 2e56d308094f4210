package plates

import (
	"fmt"
	"image"
	"math"
	"testing"
)

// A difference is how far a plate is from Ghostscript's.
type difference struct {
	mean     float64 // levels
	flat     int     // greatest where 5 × 5 pixels around are all alike in both
	at       image.Point
	coverage float64 // percentage points
}

func compare(ours []byte, ref *image.Gray) difference {
	var d difference
	w, h := ref.Rect.Dx(), ref.Rect.Dy()
	sum, cover := 0, 0
	for i, v := range ours {
		x := int(v) - int(ref.Pix[i])
		cover += x
		sum += max(x, -x)
		if a := max(x, -x); a > d.flat && isFlat(ours, w, h, i%w, i/w) && isFlat(ref.Pix, w, h, i%w, i/w) {
			d.flat, d.at = a, image.Pt(i%w, i/w)
		}
	}
	n := float64(len(ours))
	d.mean, d.coverage = float64(sum)/n, float64(cover)/n/2.55
	return d
}

func isFlat(pix []byte, w, h, x, y int) bool {
	if x < 2 || y < 2 || x >= w-2 || y >= h-2 {
		return false
	}
	v := pix[y*w+x]
	for dy := -2; dy <= 2; dy++ {
		for dx := -2; dx <= 2; dx++ {
			if pix[(y+dy)*w+x+dx] != v {
				return false
			}
		}
	}
	return true
}

// TestAgainstGhostscript compares each plate with those that Ghostscript makes.
func TestAgainstGhostscript(t *testing.T) {
	table := "greatest differences of a plate in levels, and of coverage in percentage points:\n"
	defer func() { t.Log(table) }()
	for _, s := range allSamples() {
		t.Run(s.name, func(t *testing.T) {
			w := &writer{}
			file := w.card(s.build(t, w))
			ref := ghostscript(t, file, 300, s.args...)
			job := separate(t, file)
			if len(job.Approximate) > 0 {
				t.Errorf("approximate: %q", job.Approximate)
			}
			p := job.draw(t, windowOf(t, file))
			if len(ref) != len(p.Names) {
				t.Errorf("Ghostscript has %d plates, we have %q", len(ref), p.Names)
			}
			var worst difference
			for name, m := range ref {
				ours := p.plate(name)
				if ours == nil || p.W != m.Rect.Dx() || p.H != m.Rect.Dy() {
					t.Fatalf("no plate %s of %v among %q of %d × %d", name, m.Rect, p.Names, p.W, p.H)
				}
				d := compare(ours, m)
				worst = difference{max(worst.mean, d.mean), max(worst.flat, d.flat), d.at, max(worst.coverage, math.Abs(d.coverage))}
				if d.mean > bound(s.mean, 1.2) || float64(d.flat) > bound(s.flat, 2) || math.Abs(d.coverage) > 0.5 {
					t.Errorf("%s is too far off: mean %.2f, flat %d at %v, coverage %+.2f", name, d.mean, d.flat, d.at, d.coverage)
				}
			}
			table += fmt.Sprintf("%-30s mean %5.2f  flat %2d  coverage %.2f\n", s.name, worst.mean, worst.flat, worst.coverage)
		})
	}
}

func bound(v, usual float64) float64 {
	if v == 0 {
		return usual
	}
	return v
}

// windowOf is the whole page at 300 pixels an inch.
func windowOf(t testing.TB, file []byte) Window {
	t.Helper()
	page, err := openDoc(t, file).Page(1)
	if err != nil {
		t.Fatal(err)
	}
	w := Window{W: page.Media.W(), H: page.Media.H()}
	w.PxW, w.PxH = int(math.Round(w.W*300/72)), int(math.Round(w.H*300/72))
	return w
}
