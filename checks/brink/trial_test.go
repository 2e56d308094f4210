package brink_test

import (
	"image/color"
	"slices"
	"testing"

	"stoneproof/checks/brink"
	"stoneproof/rules"
)

// weave is a texture of black and white a third of a millimetre fine, never twice alike.
func weave(x, y int) color.NRGBA {
	h := uint64(x/4)*0x9E3779B97F4A7C15 ^ uint64(y/4)*0xC2B2AE3D27D4EB4F
	h ^= h >> 29
	h *= 0xBF58476D1CE4E5B9
	if h>>40&1 == 0 {
		return white
	}
	return color.NRGBA{A: 255}
}

// Trials are found on calm ground, light or dark, and lost where it is as fine and as
// strong as they are.
func TestTrials(t *testing.T) {
	all := rules.AllEdges[:]
	dark := color.NRGBA{20, 30, 40, 255}
	for _, tt := range []struct {
		name                string
		at                  func(x, y int) color.NRGBA
		safe, border, marks []rules.Edge
	}{
		{"paper", func(_, _ int) color.NRGBA { return white }, nil, nil, nil},
		{"a dark ground", func(_, _ int) color.NRGBA { return dark }, nil, nil, nil},
		{"a gradient", func(x, _ int) color.NRGBA { return mix(teal, white, float64(x)/1125) }, nil, nil, nil},
		{"a weave", weave, all, all, all},
		{"a weave along the foot", func(x, y int) color.NRGBA {
			if y < 560 {
				return teal
			}
			return weave(x, y)
		}, []rules.Edge{rules.Bottom}, []rules.Edge{rules.Bottom}, []rules.Edge{rules.Right, rules.Bottom}}, // one mark shows by chance
		{"a weave well inside", func(x, y int) color.NRGBA {
			if x < 150 || x > 975 || y < 150 || y > 525 {
				return teal
			}
			return weave(x, y)
		}, nil, nil, nil},
	} {
		c := usCanvas(tt.at)
		before := slices.Clone(c.Pix)
		for _, trial := range []struct {
			name      string
			got, want []rules.Edge
		}{
			{"safe", brink.ReadGround(c).Blind(wantedBleed), tt.safe},
			{"border", brink.ReadMargins(c).Blind(3 * rules.Millimetre), tt.border},
			{"marks", brink.CutMarksBlind(c, wantedBleed), tt.marks},
		} {
			if !slices.Equal(trial.got, trial.want) {
				t.Errorf("%s: %s blind along %v, want %v", tt.name, trial.name, trial.got, trial.want)
			}
		}
		if !slices.Equal(before, c.Pix) {
			t.Errorf("%s: a trial was left in the pixels", tt.name)
		}
	}
}

// Little bleed leaves little room for marks, which is no blindness.
func TestTrialsWithLittleBleed(t *testing.T) {
	c := usCanvas(func(_, _ int) color.NRGBA { return teal })
	for _, bleed := range []float64{0, 0.5, 1, 1.1, 1.6, 2} {
		if got := brink.CutMarksBlind(c, rules.MM(bleed)); len(got) > 0 {
			t.Errorf("a bleed of %v mm: blind along %v", bleed, got)
		}
	}
}

func FuzzTrials(f *testing.F) {
	seedFuzz(f)
	f.Fuzz(func(t *testing.T, pix []byte, w, h uint8, x, y int32, px, py float64, tw, th, limit int32) {
		c := fuzzCanvas(pix, w, h, x, y, px, py, tw, th)
		for _, edges := range [][]rules.Edge{
			brink.ReadGround(c).Blind(rules.Length(limit)), brink.ReadMargins(c).Blind(rules.Length(limit)), brink.CutMarksBlind(c, rules.Length(limit)),
		} {
			if len(edges) > len(rules.AllEdges) {
				t.Errorf("blind along %v", edges)
			}
		}
	})
}
