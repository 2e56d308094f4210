package press

import (
	"bytes"
	"strings"
	"testing"
)

// TestCleanIsVaried counts what the clean cards show.
func TestCleanIsVaried(t *testing.T) {
	for seed := range 3 {
		names, of := map[string]bool{}, map[string]int{}
		for _, f := range Clean(seed) {
			names[f.Name] = true
			of[f.Size]++
			for _, s := range Styles() {
				if strings.Contains(f.Name, "-"+string(s)+"-") {
					of[string(s)]++
				}
			}
			of[f.Name[strings.LastIndex(f.Name, "."):]]++
		}
		if len(names) != 48 {
			t.Errorf("%d names", len(names))
		}
		for _, z := range Sizes() {
			if of[z] != 4 {
				t.Errorf("seed %d: size %s comes %d times", seed, z, of[z])
			}
		}
		for _, s := range Styles() {
			if of[string(s)] != 3 {
				t.Errorf("seed %d: style %s comes %d times", seed, s, of[string(s)])
			}
		}
		for _, kind := range []string{".pdf", ".jpg", ".png", ".tif"} {
			if of[kind] < 6 {
				t.Errorf("seed %d: %d files of kind %s", seed, of[kind], kind)
			}
		}
	}
}

// TestSameAgain makes a card of every container twice.
func TestSameAgain(t *testing.T) {
	c := Card{"candle-maker", Vignette, "id-1"}
	for _, way := range containers() {
		t.Run(way.name, func(t *testing.T) {
			t.Parallel()
			if !bytes.Equal(way.make(c), way.make(c)) {
				t.Error("the same card came out in other bytes")
			}
		})
	}
}
