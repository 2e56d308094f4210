package compression

import (
	"bytes"
	"math"
	"math/rand/v2"
	"testing"
)

// inverse turns coefficients back into light, by the definition (T.81, A.3.3).
func (b *block) inverse() {
	var lines block
	wave := func(u, x int) float32 {
		if u == 0 {
			return c4
		}
		return float32(math.Cos(float64(2*x+1)*float64(u)*math.Pi/16) / 2)
	}
	for i := range 64 {
		y, x := i/8, i%8
		for u := range 8 {
			lines[i] += wave(u, x) * b[8*y+u]
		}
	}
	*b = block{}
	for i := range 64 {
		y, x := i/8, i%8
		for v := range 8 {
			b[i] += wave(v, y) * lines[8*v+x]
		}
	}
}

// kept is what a table leaves of a picture.
func (p Plane) kept(t *Table) Plane {
	out := Plane{W: p.W, H: p.H, Pix: bytes.Clone(p.Pix)}
	var b block
	for y := 0; y+8 <= p.H; y += 8 {
		for x := 0; x+8 <= p.W; x += 8 {
			p.read(&b, x, y)
			b.transform()
			for i, q := range t {
				b[i] = float32(math.Round(float64(b[i])/float64(q))) * float32(q)
			}
			b.inverse()
			for i, v := range b {
				out.Pix[(y+i/8)*p.W+x+i%8] = byte(max(0, min(255, math.Round(float64(v)+128))))
			}
		}
	}
	return out
}

// letters is a pale picture with dark bars and arcs of all slants.
func letters(seed uint64) Plane {
	r := rand.New(rand.NewPCG(seed, 3))
	p := Plane{W: 520, H: 360}
	angle := make([]float64, 8*6)
	for i := range angle {
		angle[i] = r.Float64() * math.Pi
	}
	for y := range p.H {
		for x := range p.W {
			a := angle[min(7, x/65)+8*min(5, y/60)]
			u, v := float64(x%65)-32, float64(y%60)-30
			d := math.Abs(u*math.Sin(a) + v*math.Cos(a))
			d = min(d, math.Abs(math.Hypot(u, v)-20-4*math.Cos(a)))
			ground := 215 + 25*math.Sin(float64(x)/140)*math.Cos(float64(y)/90)
			p.Pix = append(p.Pix, byte(ground-150*max(0, min(1, 3.5-d))))
		}
	}
	return p
}

// An earlier save by a table near the standard's is found, too, and what it did.
func TestOtherTables(t *testing.T) {
	for seed := range uint64(3) {
		r := rand.New(rand.NewPCG(seed, 4))
		art := letters(seed)
		if m := Measure(art, nil); m != (Marks{}) {
			t.Errorf("seed %d: never saved: %+v", seed, m)
		}
		for _, q := range []int{10, 20} {
			near, flat := TableAt(q), TableAt(q)
			for i, v := range near {
				near[i] = uint16(math.Round(float64(v) * (0.85 + 0.3*r.Float64())))
				flat[i] = uint16(math.Sqrt(float64(v) * float64(TableAt(q)[0])))
			}
			for name, table := range map[string]Table{"near": near, "flat": flat} {
				m := Measure(art.kept(&table), nil)
				if m.Quality < q-5 || m.Quality > q+5 || m.Specks.Levels < 6 {
					t.Errorf("seed %d, %s the table at %d: %+v", seed, name, q, m)
				}
			}
		}
	}
}
