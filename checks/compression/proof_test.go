package compression_test

import (
	"fmt"
	"testing"

	"stoneproof/checks/checktest/press"
	"stoneproof/checks/compression"
)

// The figures of DEVELOPERS.md: cards of makers that nothing was tuned on, saved at a
// quality and cut by some pixels; and the same cards sound. Tuned on: those of
// the baker, the potter, the ferryman, the weaver and the seed merchant.
func TestFoundByQuality(t *testing.T) {
	if !*thorough {
		t.Skip("takes minutes: -thorough")
	}
	qualities := []int{10, 15, 20, 25, 30, 40, 50, 60, 70, 75, 80, 85, 90, 95}
	saves, damages, again := make([]int, len(qualities)), make([]int, len(qualities)), make([]int, len(qualities))
	cards, alarms := 0, 0
	for m, maker := range []string{"beekeeper", "clock-mender", "paper-marbler", "candle-maker"} {
		for s, style := range press.Styles() {
			img := cardOf(t, maker, style)
			cards++
			if got := compression.Measure(plane(img), nil); damaged(got) {
				alarms++
				t.Logf("%s, %s: sound, %+v", maker, style, got)
			}
			for i, q := range qualities {
				left, top := (m+3*s+i)%8, (5*m+s+3*i)%8
				cut := cropped(saved(t, img, q), left, top)
				got := compression.Measure(plane(cut), nil)
				if got.Earlier && got.Quality >= q-max(3, q/10) && got.Quality <= q+max(3, q/10) {
					saves[i]++
				} else if q <= 40 {
					t.Logf("%s, %s, quality %d cut by %d, %d: %+v", maker, style, q, left, top, got)
				}
				if damaged(got) {
					damages[i]++
				}
				good := compression.TableAt(95)
				if damaged(compression.Measure(plane(saved(t, cut, 95)), &good)) {
					again[i]++
				}
			}
		}
	}
	table := "| quality | save found | damage told | after a second save at 95 |\n|---|---|---|---|\n"
	for i, q := range qualities {
		share := func(n []int) float64 { return float64(n[i]) / float64(cards) }
		table += fmt.Sprintf("| %d | %.2f | %.2f | %.2f |\n", q, share(saves), share(damages), share(again))
		if q >= 85 && damages[i]+again[i] > 0 {
			t.Errorf("%d and %d alarms at quality %d", damages[i], again[i], q)
		}
	}
	t.Logf("%d cards, %d alarms where never saved\n%s", cards, alarms, table)
	if alarms > 0 {
		t.Errorf("%d alarms", alarms)
	}
}
