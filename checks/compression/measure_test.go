package compression_test

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"testing"

	"stoneproof/checks/checktest/press"
	"stoneproof/checks/compression"
)

// damaged reports whether marks are those of damage that is seen: the limits are those
// of the tickets.
func damaged(m compression.Marks) bool { return m.Blocks.Levels > 4 || m.Specks.Levels > 7 }

// An earlier save is found wherever its grid begins, with the quality that it had.
func TestEarlierSave(t *testing.T) {
	for _, style := range []press.Style{press.Light, press.Photographic, press.Broadside} {
		img := cardOf(t, "baker", style)
		for i, q := range []int{8, 15, 25, 35} {
			left, top := (3+5*i)%8, (5*i+2)%8
			m := compression.Measure(plane(cropped(saved(t, img, q), left, top)), nil)
			if !m.Earlier || math.Abs(float64(m.Quality-q)) > 3 {
				t.Errorf("%s, quality %d cut by %d, %d: %+v", style, q, left, top, m)
			}
			if q < 30 && !damaged(m) {
				t.Errorf("%s, quality %d: no damage: %+v", style, q, m)
			}
		}
		if m := compression.Measure(plane(img), nil); m != (compression.Marks{}) {
			t.Errorf("%s, never saved: %+v", style, m)
		}
	}
}

// A second save, well made, does not hide the first.
func TestSavedAgain(t *testing.T) {
	img := cardOf(t, "potter", press.Framed)
	for _, by := range [][2]int{{0, 0}, {5, 2}} {
		again := saved(t, cropped(saved(t, img, 15), by[0], by[1]), 95)
		own := compression.TableAt(95)
		m := compression.Measure(plane(again), &own)
		if !m.Earlier || math.Abs(float64(m.Quality-15)) > 3 || !damaged(m) {
			t.Errorf("cut by %v: %+v", by, m)
		}
	}
}

// Where the table is known the grid is, too.
func TestOwnTable(t *testing.T) {
	img := cardOf(t, "potter", press.White)
	for _, tt := range []struct {
		quality int
		damaged bool
	}{{10, true}, {60, false}, {85, false}, {95, false}} {
		own := compression.TableAt(tt.quality)
		m := compression.Measure(plane(saved(t, img, tt.quality)), &own)
		if m.Earlier || m.Quality != tt.quality || damaged(m) != tt.damaged {
			t.Errorf("quality %d: %+v", tt.quality, m)
		}
	}
}

// A low quality does no harm where there is nothing to harm.
func TestLowQualityUnseen(t *testing.T) {
	flat := painted(400, 300, func(x, y int) float64 { return 200 })
	own := compression.TableAt(20)
	if m := compression.Measure(plane(saved(t, flat, 20)), &own); m.Quality != 20 || damaged(m) {
		t.Errorf("%+v", m)
	}
}

// Sound art never alarms: as it is, and as a good JPEG.
func TestSoundPatterns(t *testing.T) {
	seeds := uint64(2)
	if *thorough {
		seeds = 40
	}
	n := 0
	for seed := range seeds {
		all := patterns(seed)
		for _, name := range slices.Sorted(maps.Keys(all)) {
			for _, quality := range []int{0, 85, 95} {
				img := saved(t, all[name], quality)
				for _, own := range []bool{false, true} {
					m := compression.Measure(plane(img), nil)
					if own && quality > 0 {
						table := compression.TableAt(quality)
						m = compression.Measure(plane(img), &table)
					}
					n++
					if damaged(m) {
						t.Errorf("%s, seed %d, quality %d: %+v", name, seed, quality, m)
					}
				}
			}
		}
	}
	t.Logf("%d pictures", n)
}

// Whatever a picture holds, measuring it ends.
func FuzzMeasure(f *testing.F) {
	f.Add([]byte("\x00\x10 light"), uint16(40), uint8(3))
	f.Add([]byte{0, 255, 3}, uint16(33), uint8(100))
	f.Add([]byte{}, uint16(0), uint8(0))
	f.Fuzz(func(t *testing.T, seed []byte, width uint16, step uint8) {
		p := compression.Plane{W: int(width) % 200, H: 64}
		for i := range p.W * p.H {
			v := byte(i * int(step))
			if len(seed) > 0 {
				v += seed[i%len(seed)]
			}
			p.Pix = append(p.Pix, v)
		}
		own := compression.Table{}
		for i := range own {
			own[i] = uint16(step) + 1
		}
		m := compression.Measure(p, &own)
		if b, s := m.Blocks.Levels, m.Specks.Levels; !(b >= 0 && b <= 255 && s >= 0 && s <= 255) {
			t.Errorf("%+v", m)
		}
		for _, at := range []compression.Place{m.Blocks.Place, m.Specks.Place} {
			if at.X0 < 0 || at.Y0 < 0 || at.X1 > p.W || at.Y1 > p.H {
				t.Errorf("place %+v of %d × %d", at, p.W, p.H)
			}
		}
	})
}

// A plane that is not what it says is not looked at.
func TestUnsound(t *testing.T) {
	for _, p := range []compression.Plane{{}, {W: -8, H: 40}, {W: 64, H: 64, Pix: make([]byte, 100)}, {W: math.MaxInt, H: math.MaxInt}, {W: 16, H: 1000, Pix: make([]byte, 16000)}} {
		if m := compression.Measure(p, nil); m != (compression.Marks{}) {
			t.Errorf("%d × %d: %s", p.W, p.H, fmt.Sprint(m))
		}
	}
}
