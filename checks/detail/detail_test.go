package detail

import (
	"flag"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"golang.org/x/image/draw"
)

// seeds counts the pictures that are drawn for each line of the curve. What is tuned is
// tuned on seeds from 1; tests use those from 800.
var seeds = flag.Int("seeds", 1, "pictures for each factor, method and treatment")

// treatments are what happens to a picture after it was enlarged.
var treatments = []struct {
	name  string
	least float64 // what must be found, all factors and methods together: a little under what is
	treat func(p Plane, k float64) Plane
}{
	{"as it is", 0.95, func(p Plane, _ float64) Plane { return p }},
	{"cut to a part", 0.95, func(p Plane, _ float64) Plane { return cut(p, 13, 22) }},
	{"sharpened", 0.9, func(p Plane, k float64) Plane { return sharpened(p, k, 1) }},
	{"grained", 0.65, func(p Plane, _ float64) Plane { return grained(p, 3, rand.New(rand.NewPCG(1, 1))) }},
	{"JPEG of 90", 0.85, func(p Plane, _ float64) Plane { return saved(p, 90) }},
	{"JPEG of 75", 0.7, func(p Plane, _ float64) Plane { return saved(p, 75) }},
	{"sharpened, JPEG of 80", 0.85, func(p Plane, k float64) Plane { return saved(sharpened(p, k, 1), 80) }},
}

// tells reports whether a finding has the right factor, to 4 in 100.
func tells(r Result, k float64) bool { return r.Kind == Enlarged && math.Abs(r.Factor/k-1) < 0.04 }

// TestCurve tells which enlargements are found, by treatment, method and factor.
func TestCurve(t *testing.T) {
	factors := []float64{1.5, 2, 2.5, 3, 4, 5.5, 8}
	if testing.Short() {
		t.Skip("looks at many pictures, in one goroutine")
	}
	for _, by := range treatments {
		found, wrong, all := 0, 0, 0
		for _, m := range methods() {
			line := fmt.Sprintf("| %s, %s |", m.name, by.name)
			for _, k := range factors {
				right := 0
				for seed := range *seeds {
					r := rand.New(rand.NewPCG(uint64(800+seed), uint64(100*k)))
					small := leaves(int(640/k), int(420/k), r)
					p := by.treat(scaled(small, int(math.Round(float64(small.W)*k)), int(math.Round(float64(small.H)*k)), m.scaler), k)
					switch got := Measure(p); {
					case tells(got, k):
						right++
					case got.Kind == Enlarged:
						wrong++
						t.Logf("%s %s %.1f: %+v", m.name, by.name, k, got)
					}
				}
				line += fmt.Sprintf(" %.2f |", float64(right)/float64(*seeds))
				found += right
				all += *seeds
			}
			t.Log(line)
		}
		t.Logf("%s: %d of %d found, %d with another factor", by.name, found, all, wrong)
		if share := float64(found) / float64(all); share < by.least || float64(wrong) > 0.04*float64(all) {
			t.Errorf("%s: %.2f found, %d with another factor", by.name, share, wrong)
		}
	}
}

const soundW, soundH = 640, 420

// sound are pictures that nobody enlarged and in which something is sharp.
func sound(r *rand.Rand) map[string]Plane {
	sharp := leaves(soundW, soundH, r)
	out := map[string]Plane{
		"sharp": sharp, "grain": grained(sharp, 6, r), "sharpened": sharpened(sharp, 1, 1),
		"smaller, sharpened": sharpened(scaled(sharp, 391, 257, methods()[2].scaler), 1, 0.5),
	}
	for _, m := range methods() {
		out["smaller by "+m.name] = scaled(sharp, 391, 257, m.scaler)
		out["half by "+m.name] = scaled(sharp, soundW/2, soundH/2, m.scaler)
	}
	return out
}

// smooth are pictures that nobody enlarged and in which nothing is sharp.
func smooth(r *rand.Rand) map[string]Plane {
	sharp := leaves(soundW, soundH, r)
	gradient := drawn(soundW, soundH, func(x, y float64) float64 { return 40 + 0.2*x + 0.1*y })
	out := map[string]Plane{
		"flat":     drawn(soundW, soundH, func(_, _ float64) float64 { return 180 }),
		"gradient": gradient,
		"sky":      blurred(grained(drawn(soundW, soundH, func(_, y float64) float64 { return 120 + y/5 }), 30, r), 12),
		"shadow":   drawn(soundW, soundH, func(x, y float64) float64 { return 230 - 120*math.Exp(-math.Pow(math.Hypot(x-300, y-200)/90, 2)) }),
		"grain":    grained(gradient, 8, r),
		"dither":   dithered(gradient),
	}
	for _, radius := range []float64{2.5, 4, 7} {
		name := fmt.Sprintf("out of focus by %.1f", radius)
		out[name] = blurred(sharp, radius)
		out[name+", grain"] = grained(out[name], 4, r)
		out[name+", made smaller"] = scaled(blurred(sharp, 1.6*radius), 391, 257, methods()[2].scaler)
		out[fmt.Sprintf("softened by %.1f", radius)] = softened(sharp, radius/2)
	}
	return out
}

// neither are pictures that nobody enlarged, where either may be said.
func neither(r *rand.Rand) map[string]Plane {
	sharp := leaves(soundW, soundH, r)
	out := map[string]Plane{
		"dithered": dithered(sharp), "moved": moved(sharp, 5), "a little soft": softened(sharp, 0.7),
		"halftone": drawn(soundW, soundH, func(x, y float64) float64 {
			return 128 + 4*(x/soundW*127+128*math.Sin((x+y)*0.9)*math.Sin((x-y)*0.9))
		}),
		"soft stripes": drawn(soundW, soundH, func(x, _ float64) float64 { return 128 + 90*math.Sin(x*2*math.Pi/8) }),
		"soft checks": drawn(soundW, soundH, func(x, y float64) float64 {
			return 128 + 60*math.Sin(x*2*math.Pi/8) + 60*math.Sin(y*2*math.Pi/8)
		}),
		"hard checks": drawn(soundW, soundH, func(x, y float64) float64 {
			return 60 + 130*float64((int(x)/6+int(y)/6)%2) + x/20
		}),
		"squares of 8 pixels": drawn(soundW, soundH, func(x, y float64) float64 {
			return 255 * float64(rand.New(rand.NewPCG(uint64(x)/8, uint64(y)/8)).IntN(2))
		}),
	}
	for _, degrees := range []float64{0.1, 1, 3, 6, 7.2} {
		out[fmt.Sprintf("turned by %.1f", degrees)] = rotated(sharp, degrees)
	}
	for _, radius := range []float64{1, 1.3, 1.6, 2} {
		out[fmt.Sprintf("out of focus by %.1f", radius)] = blurred(sharp, radius)
	}
	return out
}

// Of what nobody enlarged nothing is said to be, not after a JPEG either; and what is
// sharp and what is smooth are known apart.
func TestSound(t *testing.T) {
	qualities := []int{0, 90, 75, 50}
	if testing.Short() {
		qualities = qualities[:1]
	}
	n, alarms := 0, 0
	for seed := range *seeds {
		r := rand.New(rand.NewPCG(uint64(900+seed), 0))
		for want, set := range map[Kind]map[string]Plane{Fine: sound(r), Soft: smooth(r), Enlarged: neither(r)} {
			for _, name := range slices.Sorted(maps.Keys(set)) {
				for _, q := range qualities {
					p := set[name]
					if q > 0 {
						p = saved(p, q)
					}
					n++
					got := Measure(p)
					if got.Kind == Enlarged {
						alarms++
						t.Errorf("%s, JPEG of %d, seed %d: %+v", name, q, seed, got)
					}
					if q != 50 && want != Enlarged && got.Kind != want {
						t.Errorf("%s, JPEG of %d, seed %d: kind %d, not %d", name, q, seed, got.Kind, want)
					}
				}
			}
		}
	}
	t.Logf("%d alarms on %d pictures", alarms, n)
}

// TestCopied: pixels repeated in flat art, which has steps in few places and very many in
// some of them, by whole factors, by others, and by one that skips a place in its middle.
func TestCopied(t *testing.T) {
	sharp := blocks(rand.New(rand.NewPCG(1000, 0)))
	if got := Measure(sharp); got.Kind != Fine {
		t.Errorf("as it was drawn: %+v", got)
	}
	for _, w := range []int{200, 240, 280, 321, 399} {
		small := scaled(sharp, w, w*2/3, draw.BiLinear)
		k := 800. / float64(w)
		if got := Measure(scaled(small, 800, 533, draw.NearestNeighbor)); !tells(got, k) || !got.Sure {
			t.Errorf("%.3f times: %+v", k, got)
		}
	}
}

// blocks are slanting bars of a few tones on flat ground, in some parts of it alone.
func blocks(r *rand.Rand) Plane {
	var bars [30][3]float64
	for i := range bars {
		bars[i] = [3]float64{80 + 200*r.Float64(), 60 + 300*r.Float64(), 40 * float64(r.IntN(5))}
	}
	return drawn(800, 533, func(x, y float64) float64 {
		light := 230.
		for _, b := range bars {
			u, v := 0.9*(x-b[0])+0.43*(y-b[1]), 0.9*(y-b[1])-0.43*(x-b[0])
			cover := min(1, max(0, 30.5-math.Abs(u))) * min(1, max(0, 6.5-math.Abs(v)))
			light += cover * (b[2] - light)
		}
		return light
	})
}

// Pictures too small to say anything say nothing.
func TestTiny(t *testing.T) {
	for _, size := range [][2]int{{0, 0}, {1, 1}, {3, 400}, {66, 8}, {70, 70}, {96, 96}} {
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
