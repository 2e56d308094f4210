package icc

import (
	"errors"
	"math"
	"testing"
	"unicode"
	"unicode/utf8"
)

// Whatever the bytes: no panic, an error of a known kind, or a profile that
// keeps its promises.
func FuzzParse(f *testing.F) {
	f.Add(screen().bytes())
	f.Add(press().bytes())
	f.Add(screen().with(map[string][]byte{"rTRC": paraTag(3, 2.4, .95, .05, .08, .04), "gTRC": gammaTag(2.2)}).bytes())
	f.Add(screen().with(map[string][]byte{"desc": descTag("", "Töpferin"), "cprt": mlucTag("deDEa", "enUSb")}).bytes())
	f.Add(draft{version: 0x04200000, class: "link", space: "RGB ", pcs: "CMYK", tags: map[string][]byte{"A2B0": tableTag("mAB ", 3, 4)}}.bytes())
	f.Add(press().bytes()[:200])
	limits := Limits{Bytes: 1 << 16, Tags: 100, TextRunes: 20, Locales: 4}
	f.Fuzz(func(t *testing.T, b []byte) {
		p, err := limits.Parse(b)
		if err != nil {
			var format FormatError
			var unsupported UnsupportedError
			if p != nil || !errors.As(err, &format) && !errors.As(err, &unsupported) {
				t.Fatalf("profile %v with error %v", p, err)
			}
			return
		}
		if p.Size > len(b) || p.Size > limits.Bytes || p.Space.Components() == 0 || !p.Class.Known() {
			t.Fatalf("a profile of %d bytes: %+v", len(b), p)
		}
		for _, s := range []string{p.Description, p.Copyright} {
			if utf8.RuneCountInString(s) > limits.TextRunes || !utf8.ValidString(s) {
				t.Fatalf("text %q", s)
			}
			for _, r := range s {
				if !unicode.IsGraphic(r) {
					t.Fatalf("text %q", s)
				}
			}
		}
		if p.SRGB() && p.Space != RGB {
			t.Fatal("sRGB in " + p.Space.String())
		}
	})
}

// Whatever the bytes, if they parse: transforms to and from the profile by every
// intent end, with numbers that their space has, or are refused in a known way.
func FuzzTransform(f *testing.F) {
	f.Add(screen().bytes())
	f.Add(press().bytes())
	f.Add(grey("XYZ ", paraTag(4, 2, -1, .5, .5, .5, 1, -1)).bytes())
	f.Add(grey("Lab ", sampledTag(4, decodeSRGB)).bytes())
	for _, d := range tables() {
		f.Add(d.bytes())
	}
	limits := Limits{Bytes: 1 << 18, Tags: 100, TextRunes: 20, Locales: 4}
	others := []*Profile{StandardRGB(), ConnectionLab()}
	f.Fuzz(func(t *testing.T, b []byte) {
		p, err := limits.Parse(b)
		if err != nil {
			return
		}
		for _, q := range others {
			for intent := range AbsoluteColorimetric + 2 {
				try(t, p, q, intent)
				try(t, q, p, intent)
			}
		}
	})
}

// try links two profiles, compensated for want of a fifth intent, and uses both
// paths, the one of bytes with the coarsest of lattices.
func try(t *testing.T, from, to *Profile, intent Intent) {
	w := way{end{profile: from}, end{profile: to}, intent, intent > AbsoluteColorimetric}
	tr, err := w.transform()
	if err != nil {
		var format FormatError
		var unsupported UnsupportedError
		if tr != nil || !errors.As(err, &format) && !errors.As(err, &unsupported) {
			t.Fatalf("transform %v with error %v", tr, err)
		}
		return
	}
	got := make([]float64, to.Space.Components())
	for _, in := range []float64{-1, 0, 0.3, 1, 200, math.NaN(), math.Inf(1)} {
		tr.Floats(got, []float64{in, 1 - in, in, in}[:from.Space.Components()])
		for _, v := range got {
			if to.Space != Lab && !(v >= 0 && v <= 1) || to.Space == Lab && math.IsNaN(v) && !math.IsNaN(in) && !math.IsInf(in, 0) {
				t.Fatalf("%v from %s to %s: %v", in, from.Space, to.Space, got)
			}
		}
	}
	points := 2
	if from.Space == Gray {
		points = 256
	}
	l := newLattice(tr, points)
	for _, in := range []uint32{0, 0x80, 0xff, 0x12f03c, 0xffffff, 0xffffffff, 0x80402010} {
		if from.Space == Gray {
			in &= 0xff
		}
		l.pixel(in, from.Space.Components())
	}
}

func BenchmarkParse(b *testing.B) {
	profile := press().bytes()
	for b.Loop() {
		if _, err := Parse(profile); err != nil {
			b.Fatal(err)
		}
	}
}
