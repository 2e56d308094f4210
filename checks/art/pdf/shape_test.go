package pdf

import "testing"

// A clip that is no upright rectangle lets less through than its bounds, and an
// item says so.
func TestShapedClip(t *testing.T) {
	for content, shaped := range map[string]bool{
		"0 0 50 50 re f":                                                false,
		"0 0 80 80 re W n 0 0 50 50 re f":                               false,
		"0 0 m 80 0 l 80 80 l 0 80 l h W n 0 0 50 50 re f":              false,
		"0 0 m 80 0 l 40 80 l h W n 0 0 50 50 re f":                     true,
		"q 0 0 m 80 0 l 40 80 l h W n Q 0 0 50 50 re f":                 false,
		"q .7 .7 -.7 .7 0 0 cm 0 0 80 80 re W n Q 0 0 50 50 re f":       false,
		".7 .7 -.7 .7 0 0 cm 0 0 80 80 re W n 0 0 50 50 re f":           true,
		"0 0 80 80 re W n 10 10 m 70 10 l 40 70 l h W n 0 0 50 50 re f": true,
		"0 0 m 0 80 40 80 80 80 c 80 0 l h W n 10 10 20 20 re f":        true,
	} {
		if got := onlyPath(t, onePage("", "", content)).Shaped; got != shaped {
			t.Errorf("%s: shaped %v, want %v", content, got, shaped)
		}
	}
}

// Single straight lines are told one by one, whatever else a path holds hides
// them.
func TestStrokes(t *testing.T) {
	for content, want := range map[string]int{
		"10 10 m 20 10 l S":                             1,
		"10 10 m 20 10 l 10 30 m 20 30 l S":             2,
		"10 10 m 20 10 l 20 30 l S":                     0,
		"10 10 m 20 10 l h S":                           0,
		"10 10 10 10 re S":                              0,
		"10 10 m 20 10 l f":                             0,
		"10 10 m 10 20 20 20 20 10 c S":                 0,
		"10 10 m 20 10 l 10 30 m 10 40 20 40 20 30 c S": 0,
	} {
		if got := len(onlyPath(t, onePage("", "", content)).Strokes); got != want {
			t.Errorf("%s: %d strokes, want %d", content, got, want)
		}
	}
}
