package brink_test

import (
	"flag"
	"fmt"
	"testing"

	"stoneproof/checks/brink"
)

var thorough = flag.Bool("thorough", false, "judge every drawing in every form at every resolution, and more seeds; takes minutes")

// eachForm runs f on a drawing as it comes in practice: at 300 ppi rendered and
// in one lossy or lossless form, each in turn; of every third one also coarser,
// and of every ninth finer, for those cost four times as much. In short mode it takes one
// drawing in three, in one form.
func eachForm(t *testing.T, turn int, draw func(ppi float64) *sheet, f func(t *testing.T, s *sheet, how form)) {
	at := func(ppi float64, forms ...form) {
		s := draw(ppi)
		for _, how := range forms {
			t.Run(fmt.Sprintf("%g/%s", ppi, how.name), func(t *testing.T) { f(t, s, how) })
		}
	}
	files := []form{q75, png, q90}
	if testing.Short() { // the race detector slows pixels tenfold, and finds nothing in one goroutine
		if turn%3 == 0 {
			at(300, append(files, rendered)[turn/3%4])
		}
		return
	}
	if *thorough {
		for _, ppi := range []float64{150, 300, 600} {
			at(ppi, append(files, rendered)...)
		}
		return
	}
	at(300, rendered, files[turn%3])
	if turn%3 == 0 {
		at(150, rendered, files[turn/3%3])
	}
	if turn%9 == 0 {
		at(600, rendered, files[turn/9%3])
	}
}

// TestSilent holds both measures to silence on cards with nothing wrong.
func TestSilent(t *testing.T) {
	for k, p := range quietPictures() {
		t.Run(p.name, func(t *testing.T) {
			t.Parallel()
			eachForm(t, k, p.once(uint64(k+1)), func(t *testing.T, s *sheet, how form) {
				c := s.canvas(how)
				checkSilentBleed(t, c)
				for _, in := range brink.ReadGround(c).Intruders(wantedBleed) {
					t.Errorf("%s %v from the %s told, sure %v, at %+v", in.Kind, in.Distance, in.Edge, in.Sure, in.Box)
				}
			})
		})
	}
}
