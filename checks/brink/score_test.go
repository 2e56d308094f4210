package brink_test

import (
	"testing"

	"stoneproof/checks/brink"
)

// score counts what came out over many drawings of the same kinds, drawn from
// seeds that the limits were not tuned on.
type score struct{ cards, bleedAlarms, safeAlarms, sureAlarms int }

// unseen is where the seeds begin that no limit was tuned on.
const unseen = 101

// TestUnseenSeeds guards the rates: of cards with nothing wrong at most one in
// fifty may be told to lack bleed, and one in fifty to have an intruder. It
// takes every third kind of card; with -thorough all, three times over.
func TestUnseenSeeds(t *testing.T) {
	if testing.Short() {
		t.Skip("draws many cards")
	}
	t.Parallel()
	var sc score
	times, stride := 1, 3
	if *thorough {
		times, stride = 3, 1
	}
	for n := range times {
		for k, p := range quietPictures() {
			if k%stride != 0 {
				continue
			}
			s := p.sheet(300, unseen+uint64(100*n+k))
			for _, how := range []form{rendered, q90} {
				sc.count(t, p.name+"/"+how.name, s.canvas(how))
			}
		}
	}
	t.Logf("false alarms: bleed %d of %d, safe zone %d of %d, %d of them sure",
		sc.bleedAlarms, sc.cards, sc.safeAlarms, sc.cards, sc.sureAlarms)
	if 50*max(sc.bleedAlarms, sc.safeAlarms) > sc.cards || 100*sc.sureAlarms > sc.cards {
		t.Errorf("too many false alarms: %+v", sc)
	}
}

func (sc *score) count(t *testing.T, name string, c brink.Canvas) {
	sc.cards++
	for _, f := range brink.Bleed(c, wantedBleed) {
		if f.From != f.To {
			sc.bleedAlarms++
			t.Logf("%s: %+v", name, f)
			break
		}
	}
	list := brink.ReadGround(c).Intruders(wantedBleed)
	if len(list) > 0 {
		sc.safeAlarms++
		t.Logf("%s: %+v", name, list)
	}
	for _, in := range list {
		if in.Sure {
			sc.sureAlarms++
			break
		}
	}
}

// recall counts what was found of what was drawn wrong.
type recall struct{ drawn, found int }

func (r recall) below(percent int) bool { return 100*r.found < percent*r.drawn }

// TestUnseenRecall guards what is found of cards that are wrong, again drawn
// from seeds that no limit was tuned on.
func TestUnseenRecall(t *testing.T) {
	if testing.Short() {
		t.Skip("draws many cards")
	}
	t.Parallel()
	var stops, calm, busy recall
	for k, p := range paints() {
		ground := p.sheet(300, unseen+uint64(k))
		for _, cut := range cuts() {
			s := ground.copied()
			cut.make(s)
			fills := brink.Bleed(s.canvas(q90), wantedBleed)
			for _, w := range cut.short {
				for _, f := range fills {
					if f.Edge == w.edge && w.from != w.to {
						stops.count(f.From != f.To && near(f.Extent.MM(), w.extent, .1))
					}
				}
			}
		}
	}
	for k, bd := range backdrops() {
		ground := picture{bd.name, business, bd.paint}.sheet(300, unseen+uint64(k))
		for _, in := range intrusions() {
			s := ground.copied()
			want := in.draw(s, bd.ink)
			list := brink.ReadGround(s.canvas(q90)).Intruders(wantedBleed)
			for _, w := range want {
				_, ok := find(list, w)
				if bd.busy {
					busy.count(ok)
				} else {
					calm.count(ok)
				}
			}
		}
	}
	t.Logf("found: stops %+v, intruders on calm grounds %+v, on photographs %+v", stops, calm, busy)
	if stops.below(97) || calm.below(97) || busy.below(50) {
		t.Error("too little found")
	}
}

func (r *recall) count(found bool) {
	r.drawn++
	if found {
		r.found++
	}
}
