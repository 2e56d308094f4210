package compression_test

import (
	"fmt"
	"testing"

	"stoneproof/checks/checktest/press"
	"stoneproof/checks/compression"
)

// The figures of DEVELOPERS.md: cards of makers that nothing was tuned on, saved at a
// quality and cut by some pixels; and the same cards sound. Tuned on: the baker's.
func TestFoundByQuality(t *testing.T) {
	if !*thorough {
		t.Skip("takes minutes: -thorough")
	}
	qualities := []int{10, 15, 20, 25, 30, 35, 40, 50, 60, 70, 75, 80, 85, 90, 95}
	saves, damages := make([]int, len(qualities)), make([]int, len(qualities))
	cards, alarms := 0, 0
	for m, maker := range []string{"potter", "ferryman", "weaver", "seed-merchant"} {
		for s, style := range press.Styles() {
			img := cardOf(t, maker, style)
			cards++
			if got := compression.Measure(plane(img), nil); damaged(got) {
				alarms++
				t.Logf("%s, %s: sound, %+v", maker, style, got)
			}
			for i, q := range qualities {
				left, top := (m+3*s+i)%8, (5*m+s+3*i)%8
				got := compression.Measure(plane(cropped(saved(t, img, q), left, top)), nil)
				if got.Earlier && got.Quality >= q-max(3, q/10) && got.Quality <= q+max(3, q/10) {
					saves[i]++
				} else if q <= 40 {
					t.Logf("%s, %s, quality %d cut by %d, %d: %+v", maker, style, q, left, top, got)
				}
				if damaged(got) {
					damages[i]++
				}
			}
		}
	}
	table := "| quality | save found | damage told |\n|---|---|---|\n"
	for i, q := range qualities {
		table += fmt.Sprintf("| %d | %.2f | %.2f |\n", q, float64(saves[i])/float64(cards), float64(damages[i])/float64(cards))
		if q >= 85 && damages[i] > 0 {
			t.Errorf("%d alarms at quality %d", damages[i], q)
		}
	}
	t.Logf("%d cards, %d alarms where never saved\n%s", cards, alarms, table)
	if alarms > 0 {
		t.Errorf("%d alarms", alarms)
	}
}
