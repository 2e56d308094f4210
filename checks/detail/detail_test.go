package detail

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// seeds counts the pictures that are drawn for each line of the curve. What is tuned is
// tuned on seeds from 1; tests use those from 500.
var seeds = flag.Int("seeds", 1, "pictures for each factor, method and treatment")

// treatments are what happens to a picture after it was enlarged.
func treatments() map[string]func(p Plane, k float64) Plane {
	return map[string]func(p Plane, k float64) Plane{
		"as it is":      func(p Plane, _ float64) Plane { return p },
		"sharpened":     func(p Plane, k float64) Plane { return sharpened(p, k, 1) },
		"JPEG of 90":    func(p Plane, _ float64) Plane { return saved(p, 90) },
		"JPEG of 75":    func(p Plane, _ float64) Plane { return saved(p, 75) },
		"both, JPEG 80": func(p Plane, k float64) Plane { return saved(sharpened(p, k, 1), 80) },
	}
}

// TestCurve prints which enlargements are found, by method, treatment and factor.
func TestCurve(t *testing.T) {
	factors := []float64{1.5, 2, 2.5, 3, 4, 5.5, 8}
	order := []string{"as it is", "sharpened", "JPEG of 90", "JPEG of 75", "both, JPEG 80"}
	// What must be found of each treatment at the least, all factors and methods together:
	// a little under what was measured, so that it does not get worse.
	least := map[string]float64{"as it is": 0.8, "sharpened": 0.8, "JPEG of 90": 0.5, "JPEG of 75": 0.45, "both, JPEG 80": 0.5}
	if testing.Short() {
		t.Skip("looks at many pictures, in one goroutine")
	}
	for _, treatment := range order {
		found, wrong, all := 0, 0, 0
		for _, m := range methods() {
			line := fmt.Sprintf("| %s, %s |", m.name, treatment)
			for _, k := range factors {
				right := 0
				for seed := range *seeds {
					r := rand.New(rand.NewPCG(uint64(500+seed), uint64(100*k)))
					small := leaves(int(640/k), int(420/k), r)
					p := treatments()[treatment](scaled(small, int(math.Round(float64(small.W)*k)), int(math.Round(float64(small.H)*k)), m.scaler), k)
					switch got := Measure(p); {
					case got.Kind == Enlarged && math.Abs(got.Factor/k-1) < 0.04:
						right++
					case got.Kind == Enlarged:
						wrong++
						t.Logf("%s %s %.1f: %+v", m.name, treatment, k, got)
					}
				}
				line += fmt.Sprintf(" %d/%d |", right, *seeds)
				found += right
				all += *seeds
			}
			t.Log(line)
		}
		if share := float64(found) / float64(all); share < least[treatment] || float64(wrong) > 0.1*float64(all) {
			t.Errorf("%s: %d of %d found, %d with another factor", treatment, found, all, wrong)
		}
	}
}

// sound are pictures that nobody enlarged, and whether nothing in them is sharp.
func sound(r *rand.Rand) map[string]Plane {
	const w, h = 640, 420
	sharp := leaves(w, h, r)
	out := map[string]Plane{
		"sharp": sharp, "JPEG of 75": saved(sharp, 75), "JPEG of 50": saved(sharp, 50),
		"grain": grained(sharp, 6, r), "sharpened": sharpened(sharp, 1, 1), "dithered": dithered(sharp),
		"smaller, sharpened": sharpened(scaled(sharp, 391, 257, methods()[2].scaler), 1, 0.5),
		"halftone": drawn(w, h, func(x, y float64) float64 {
			return 128 + 4*(x/w*127+128*math.Sin((x+y)*0.9)*math.Sin((x-y)*0.9))
		}),
		"soft stripes": drawn(w, h, func(x, _ float64) float64 { return 128 + 90*math.Sin(x*2*math.Pi/8) }),
		"soft checks": drawn(w, h, func(x, y float64) float64 {
			return 128 + 60*math.Sin(x*2*math.Pi/8) + 60*math.Sin(y*2*math.Pi/8)
		}),
		"squares of 8 pixels": drawn(w, h, func(x, y float64) float64 {
			return 255 * float64(rand.New(rand.NewPCG(uint64(x)/8, uint64(y)/8)).IntN(2))
		}),
	}
	for _, m := range methods()[1:] {
		out["smaller by "+m.name] = scaled(sharp, 391, 257, m.scaler)
	}
	return out
}

// smooth are pictures with nothing sharp in them.
func smooth(r *rand.Rand) map[string]Plane {
	const w, h = 640, 420
	sharp := leaves(w, h, r)
	out := map[string]Plane{
		"flat":     drawn(w, h, func(_, _ float64) float64 { return 180 }),
		"gradient": drawn(w, h, func(x, y float64) float64 { return 40 + 0.2*x + 0.1*y }),
		"sky":      blurred(grained(drawn(w, h, func(_, y float64) float64 { return 120 + y/5 }), 30, r), 12),
		"shadow":   drawn(w, h, func(x, y float64) float64 { return 230 - 120*math.Exp(-math.Pow(math.Hypot(x-300, y-200)/90, 2)) }),
	}
	for _, radius := range []float64{2.5, 4, 7} {
		soft := blurred(sharp, radius)
		out[fmt.Sprintf("out of focus by %.1f", radius)] = soft
		out[fmt.Sprintf("out of focus by %.1f, JPEG of 85", radius)] = saved(soft, 85)
		out[fmt.Sprintf("out of focus by %.1f, JPEG of 60", radius)] = saved(soft, 60)
		out[fmt.Sprintf("out of focus by %.1f, made smaller", radius)] = scaled(blurred(sharp, 1.6*radius), 391, 257, methods()[2].scaler)
	}
	return out
}

func TestSound(t *testing.T) {
	n, alarms := 0, 0
	for seed := range *seeds {
		r := rand.New(rand.NewPCG(uint64(600+seed), 0))
		for name, p := range sound(r) {
			n++
			if got := Measure(p); got.Kind == Enlarged {
				alarms++
				t.Errorf("%s, seed %d: %+v", name, seed, got)
			}
		}
		for name, p := range smooth(r) {
			n++
			if got := Measure(p); got.Kind == Enlarged {
				alarms++
				t.Errorf("%s, seed %d: %+v", name, seed, got)
			} else if got.Kind != Soft {
				t.Logf("%s, seed %d: counts as sharp", name, seed)
			}
		}
	}
	t.Logf("%d alarms on %d sound pictures", alarms, n)
}

// A sharp picture is known as one.
func TestFine(t *testing.T) {
	r := rand.New(rand.NewPCG(300, 0))
	if got := Measure(leaves(640, 420, r)); got.Kind != Fine {
		t.Errorf("%+v", got)
	}
}

// Pictures too small to say anything say nothing.
func TestTiny(t *testing.T) {
	for _, size := range [][2]int{{0, 0}, {1, 1}, {3, 400}, {66, 8}, {70, 70}} {
		p := drawn(size[0], size[1], func(x, y float64) float64 { return 255 * math.Mod(x+y, 2) })
		if got := Measure(p); got.Kind == Enlarged {
			t.Errorf("%v: %+v", size, got)
		}
	}
}

func BenchmarkMeasure(b *testing.B) {
	p := leaves(1125, 675, rand.New(rand.NewPCG(1, 1)))
	for b.Loop() {
		Measure(p)
	}
}
