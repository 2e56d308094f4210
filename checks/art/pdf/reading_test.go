package pdf

import (
	"math"
	"testing"
)

// lettered is a text whose base line runs at an angle, clockwise as seen.
func lettered(words string, degrees float64, mirrored bool) *Text {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	along, up := Point{30 * cos, 30 * sin}, Point{8 * sin, -8 * cos}
	if mirrored {
		along = Point{-along.X, -along.Y}
	}
	return &Text{String: words, Quad: Quad{{}, along, {along.X + up.X, along.Y + up.Y}, up}}
}

func TestReading(t *testing.T) {
	for _, c := range []struct {
		name  string
		texts []*Text
		want  int
		words string
		ok    bool
	}{
		{"upright", []*Text{lettered("Kiln Yard", 0, false)}, 0, "Kiln Yard", true},
		{"up the side", []*Text{lettered("Kiln Yard", 270, false)}, 270, "Kiln Yard", true},
		{"upside down, a little askew", []*Text{lettered("Kiln Yard", 188, false)}, 180, "Kiln Yard", true},
		{"one word in five up the side", []*Text{lettered("Wendlebury Cross", 0, false), lettered("pot", 270, false)}, 0, "Wendlebury Cross", true},
		{"one in three up the side", []*Text{lettered("Kiln Yard", 0, false), lettered("pots", 270, false)}, 0, "", false},
		{"slanting", []*Text{lettered("Kiln Yard", 30, false)}, 0, "", false},
		{"mirrored", []*Text{lettered("Kiln Yard", 0, true)}, 0, "", false},
		{"a monogram", []*Text{lettered("KY", 180, false)}, 0, "", false},
		{"ornaments", []*Text{lettered("❦ ❦ ❦ ❦ ❦", 180, false)}, 0, "", false},
		{"a font that does not tell", []*Text{lettered("\ufffd\ufffd\ufffd\ufffd", 90, false)}, 90, "", true},
		{"none", nil, 0, "", false},
	} {
		var r Reading
		for _, text := range c.texts {
			r.Add(text)
		}
		if got, words, ok := r.Most(); got != c.want || words != c.words || ok != c.ok {
			t.Errorf("%s: %d %q %v, want %d %q %v", c.name, got, words, ok, c.want, c.words, c.ok)
		}
	}
}
