package icc

import (
	"bufio"
	"errors"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
)

func transformOf(t testing.TB, w way) *Transform {
	t.Helper()
	tr, err := w.transform()
	if err != nil {
		t.Fatalf("%s: %v", w, err)
	}
	return tr
}

func near(got []float64, want [3]float64, slack float64) bool {
	for i, w := range want {
		if !(math.Abs(got[i]-w) <= slack) {
			return false
		}
	}
	return true
}

// Measured colours of the FOGRA39L data set: X, Y, Z (of 100) and L*, a*, b*.
// And the connection space's encodings there and back (6.3.4.2: FF00h and 8000h
// in the encoding of version 2 are 100 and 0).
func TestConnection(t *testing.T) {
	for xyz, lab := range map[[3]float64][3]float64{
		{84.48, 87.62, 74.57}: {95, 0, -2}, {15.02, 22.93, 52.85}: {55, -37, -50}, {33.03, 16.79, 15.01}: {48, 74, -3},
	} {
		c := colour{xyz[0] / 100, xyz[1] / 100, xyz[2] / 100}
		xyzToLab(&c)
		if !near(c[:], lab, 0.05) {
			t.Errorf("%v is %v, not %v", xyz, c, lab)
		}
		labToXYZ(&c)
		if !near([]float64{100 * c[0], 100 * c[1], 100 * c[2]}, xyz, 1e-9) {
			t.Errorf("%v comes back as %v", xyz, c)
		}
	}
	white := colour{float64(0xff00) / 0xffff, float64(0x8000) / 0xffff, float64(0x8000) / 0xffff}
	run(unpackTo(Lab, true), &white)
	if !near(white[:3], d50, 1e-9) {
		t.Errorf("the white of version 2 is %v", white)
	}
	full := colour{float64(0x8000) / 0xffff, 0, 1}
	run(unpackTo(XYZ, false), &full)
	if !near(full[:3], [3]float64{1, 0, 1 + 32767.0/32768}, 1e-9) {
		t.Errorf("8000h 0 FFFFh in XYZ is %v", full)
	}
}

// sRGB in Lab against D50, by the numbers of IEC 61966-2-1.
func TestStandardRGBInLab(t *testing.T) {
	tr := transformOf(t, way{from: end{profile: StandardRGB()}, to: labEnd, intent: RelativeColorimetric})
	for rgb, lab := range map[[3]byte][3]float64{
		{255, 255, 255}: {100, 0, 0}, {0, 0, 0}: {0, 0, 0}, {128, 128, 128}: {53.585, 0, 0},
		{255, 0, 0}: {54.29, 80.80, 69.89}, {0, 255, 0}: {87.82, -79.27, 80.99}, {0, 0, 255}: {29.57, 68.29, -112.03},
	} {
		got := make([]float64, 3)
		tr.Floats(got, []float64{float64(rgb[0]) / 255, float64(rgb[1]) / 255, float64(rgb[2]) / 255})
		if !near(got, lab, 0.05) {
			t.Errorf("%v is %.3f, not %v", rgb, got, lab)
		}
	}
	if p := StandardRGB(); !p.SRGB() {
		t.Error("StandardRGB is not sRGB")
	}
}

// What the carried press profile gives for paper, single inks and overprints on
// paper's own white: ISO 12647-2:2004/Amd 1 by the FOGRA39L data set. A profile
// is a smooth fit to the data, so each is met within the press's own tolerance
// of a solid (ΔE 5) and not to the digit.
func TestCoatedSolids(t *testing.T) {
	tr := transformOf(t, way{from: fileEnd(t, coatedFile), to: labEnd, intent: AbsoluteColorimetric})
	for ink, lab := range map[[4]float64][3]float64{
		{}: {95, 0, -2}, {0, 0, 0, 1}: {16, 0, 0}, {1}: {55, -37, -50}, {0, 1}: {48, 74, -3}, {0, 0, 1}: {89, -5, 93},
		{0, 1, 1}: {47, 68, 48}, {1, 0, 1}: {50, -65, 27}, {1, 1}: {24, 22, -46},
	} {
		got := make([]float64, 3)
		tr.Floats(got, ink[:])
		if d := math.Hypot(math.Hypot(got[0]-lab[0], got[1]-lab[1]), got[2]-lab[2]); d > 2 {
			t.Errorf("%v is %.2f, %.2f from %v", ink, got, d, lab)
		}
	}
}

// All 1617 patches of the data set that the profile was made from (Debian
// icc-profiles-free), as inks, X, Y, Z and L*, a*, b*.
func TestCoatedDataSet(t *testing.T) {
	f, err := os.Open("/usr/share/color/icc/FOGRA39L.ti3")
	if err != nil {
		t.Skip("the data set is not installed: ", err)
	}
	defer f.Close()
	tr := transformOf(t, way{from: fileEnd(t, coatedFile), to: labEnd, intent: AbsoluteColorimetric})
	rows, sum, worst, worstLab := 0, 0.0, 0.0, 0.0
	for lines := bufio.NewScanner(f); lines.Scan(); {
		var id string
		var ink [4]float64
		var xyz, lab [3]float64
		if n, _ := fmt.Sscan(lines.Text(), &id, &ink[0], &ink[1], &ink[2], &ink[3], &xyz[0], &xyz[1], &xyz[2], &lab[0], &lab[1], &lab[2]); n < 11 {
			continue
		}
		rows++
		for i := range ink {
			ink[i] /= 100
		}
		got := make([]float64, 3)
		tr.Floats(got, ink[:])
		d := math.Hypot(math.Hypot(got[0]-lab[0], got[1]-lab[1]), got[2]-lab[2])
		sum += d
		worst = max(worst, d)
		c := colour{xyz[0] / 100, xyz[1] / 100, xyz[2] / 100}
		if xyzToLab(&c); xyz[1] > 20 { // in the dark two decimals of X, Y, Z are too few
			for i := range lab {
				worstLab = max(worstLab, math.Abs(c[i]-lab[i]))
			}
		}
	}
	t.Logf("%d patches: ΔE mean %.3f, largest %.3f; X, Y, Z to L*, a*, b* off by %.3f at most", rows, sum/float64(rows), worst, worstLab)
	if rows != 1617 || sum/float64(rows) > 0.7 || worst > 5 || worstLab > 0.06 {
		t.Error("the profile does not give what it was made from")
	}
}

// grey is a display of one channel.
func grey(pcs string, curve []byte) draft {
	d := screen().with(map[string][]byte{"kTRC": curve}, "rXYZ", "gXYZ", "bXYZ", "rTRC", "gTRC", "bTRC")
	d.space, d.pcs = "GRAY", pcs
	return d
}

// Grey by light and by L*, there and back, by floats and by bytes.
func TestGrey(t *testing.T) {
	light, even := end{profile: parse(t, grey("XYZ ", gammaTag(2)).bytes())}, end{profile: parse(t, grey("Lab ", gammaTag(1)).bytes())}
	lab := make([]float64, 3)
	transformOf(t, way{from: light, to: labEnd}).Floats(lab, []float64{0.5}) // Y = 1/4: L* = 116 ∛¼ − 16
	if !near(lab, [3]float64{116*math.Cbrt(0.25) - 16, 0, 0}, 1e-9) {
		t.Errorf("half of gamma 2 is %v", lab)
	}
	var back [1]float64
	transformOf(t, way{from: labEnd, to: even}).Floats(back[:], []float64{42, 9, 9})
	if math.Abs(back[0]-0.42) > 1e-9 {
		t.Errorf("L* 42 is %v", back)
	}
	transformOf(t, way{from: labEnd, to: light}).Floats(back[:], lab)
	if math.Abs(back[0]-0.5) > 1e-6 {
		t.Errorf("half comes back as %v", back)
	}
	tr := transformOf(t, way{from: light, to: end{profile: StandardRGB()}, intent: RelativeColorimetric})
	if a := compare(bytes8(tr, colours(Gray)), exact(tr, colours(Gray)), RGB); a.largest > 0.51 {
		t.Errorf("bytes: %s", a)
	}
}

// Black point compensation leaves white and takes the press's black to the
// screen's, and back.
func TestCompensated(t *testing.T) {
	rgb, coated := end{profile: StandardRGB()}, fileEnd(t, coatedFile)
	ink, light := make([]float64, 4), make([]float64, 3)
	there, back := transformOf(t, way{from: rgb, to: coated, compensated: true}), transformOf(t, way{from: coated, to: rgb, compensated: true})
	for _, grey := range []float64{0, 0.02, 0.5, 1} {
		there.Floats(ink, []float64{grey, grey, grey})
		back.Floats(light, ink)
		if !near(light, [3]float64{grey, grey, grey}, 0.02) {
			t.Errorf("grey %v becomes %.3f and then %.3f", grey, ink, light)
		}
	}
	transformOf(t, way{from: coated, to: rgb, intent: RelativeColorimetric}).Floats(light, []float64{0, 0, 0, 1})
	if light[0] < 0.1 {
		t.Errorf("black ink alone, not compensated, is as dark as %v", light)
	}
}

// Bytes of many pixels are those of each pixel alone, also where neighbours are
// alike, and nothing beyond them is written.
func TestBytesOfManyPixels(t *testing.T) {
	tr := transformOf(t, way{from: end{profile: StandardRGB()}, to: fileEnd(t, coatedFile)})
	src := []byte{0, 0, 0, 0, 0, 0, 9, 8, 7, 9, 8, 7, 0, 0, 0, 255, 255, 255, 1}
	all := append(make([]byte, 24), 77)
	tr.Bytes(all, src)
	for i := range 6 {
		var one [4]byte
		tr.Bytes(one[:], src[3*i:3*i+3])
		if one != [4]byte(all[4*i:]) {
			t.Errorf("pixel %d is %v among others and %v alone", i, all[4*i:4*i+4], one)
		}
	}
	if all[24] != 77 {
		t.Error("a part of a pixel was written")
	}
}

// What a transform cannot go by is told apart: no such kind, or damaged.
func TestTransformRefuses(t *testing.T) {
	rgb, lab := StandardRGB(), ConnectionLab()
	odd := func(d draft, class, space, pcs string) *Profile {
		d.class, d.space, d.pcs, d.withID = class, space, pcs, false
		return parse(t, d.bytes())
	}
	both := press().with(map[string][]byte{"A2B0": tableTag("mft2", 3, 3), "B2A0": tableTag("mft2", 3, 3)})
	flat := parse(t, screen().with(map[string][]byte{"gXYZ": xyzTag(srgbColorants[0])}).bytes())
	dark := press().with(map[string][]byte{"wtpt": xyzTag([3]float64{0.9, 0, 0.8})})
	scan := screen().with(map[string][]byte{"A2B0": oldDraft{kind: "mft1", in: 3, out: 3, points: 2, bend: 1, f: labToRGB}.bytes()}, "rXYZ")
	for name, c := range map[string]struct {
		from, to    *Profile
		intent      Intent
		unsupported bool
		says        string
	}{
		"an intent":          {rgb, lab, 4, true, "unknown intent 4"},
		"a link":             {odd(both, "link", "RGB ", "Lab "), lab, 0, true, "class device link"},
		"abstract":           {rgb, odd(both, "abst", "Lab ", "Lab "), 0, true, "class abstract"},
		"a space":            {odd(both, "spac", "HSV ", "Lab "), lab, 0, true, "HSV"},
		"no way back":        {lab, odd(scan, "scnr", "RGB ", "Lab "), 0, true, "no table and no matrix to RGB"},
		"flat colorants":     {lab, flat, 0, false, "do not span"},
		"an empty table":     {parse(t, press().bytes()), lab, 0, false, "curves of 0 samples"},
		"an empty way back":  {lab, parse(t, press().bytes()), 0, false, "curves of 0 samples"},
		"a black medium":     {parse(t, dark.bytes()), lab, AbsoluteColorimetric, false, "medium's white"},
		"onto a black one":   {lab, parse(t, dark.bytes()), AbsoluteColorimetric, false, "medium's white"},
		"nothing but a name": {&Profile{Class: Display, Space: RGB, PCS: XYZ}, lab, 0, false, "cut off"},
	} {
		_, err := NewTransform(c.from, c.to, c.intent)
		var format FormatError
		var unsupported UnsupportedError
		if !errors.As(err, &format) && !c.unsupported || !errors.As(err, &unsupported) && c.unsupported || !strings.Contains(fmt.Sprint(err), c.says) {
			t.Errorf("%s: %v; want %q in it", name, err, c.says)
		}
		if c.intent == 0 {
			if _, err := NewCompensated(c.from, c.to); err == nil {
				t.Errorf("%s, compensated: no error", name)
			}
		}
	}
}

func BenchmarkBytes(b *testing.B) {
	rgb, coated := end{profile: StandardRGB()}, fileEnd(b, coatedFile)
	for name, w := range map[string]way{"RGBToCMYK": {from: rgb, to: coated, compensated: true}, "CMYKToRGB": {from: coated, to: rgb, intent: RelativeColorimetric}} {
		tr := transformOf(b, w)
		const pixels = 1 << 18
		src, dst := make([]byte, pixels*tr.from.Components()), make([]byte, pixels*tr.to.Components())
		seed := uint32(1)
		for i := range src { // no two neighbours alike
			seed = seed*1664525 + 1013904223
			src[i] = byte(seed >> 24)
		}
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				tr.Bytes(dst, src)
			}
			b.ReportMetric(float64(b.N)*pixels/1e6/b.Elapsed().Seconds(), "MPix/s")
		})
		b.Run(name+"Lattice", func(b *testing.B) {
			for b.Loop() {
				newLattice(tr, latticePoints[tr.from.Components()])
			}
		})
		b.Run(name+"Floats", func(b *testing.B) {
			in, out := []float64{0.2, 0.4, 0.6, 0.1}[:tr.from.Components()], make([]float64, 4)
			for b.Loop() {
				tr.Floats(out, in)
			}
		})
	}
}
