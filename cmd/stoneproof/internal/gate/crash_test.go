package gate

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"testing"
)

// crash stops a gate as a power failure does: nothing is tidied up.
type crash struct{ at string }

// runUntilCrash runs a gate and lets it die at its nth step; it tells at which, and ""
// where it came to its end before.
func runUntilCrash(t *testing.T, g *Gate, n int) (at string) {
	defer func() {
		if v := recover(); v != nil {
			c, ok := v.(crash)
			if !ok {
				panic(v)
			}
			at = c.at
		}
	}()
	g.step = func(name string) {
		if n--; n == 0 {
			panic(crash{name})
		}
	}
	if err := g.registry.join(); err != nil {
		t.Fatal(err)
	}
	defer g.journal.close()
	// Twice: what was given back is judged in the second round.
	g.passOnce(t)
	g.passOnce(t)
	g.leave()
	return ""
}

// scene is what a gate meets.
type scene struct {
	name  string
	drops map[string]string
	set   func(g *Gate, s site)
}

func scenes() []scene {
	single := map[string]string{"a.pdf": "good END", "shop/b.pdf": "BAD END"}
	pair := map[string]string{"jug-front.pdf": "front END", "jug-back.pdf": "back END"}
	unfit := map[string]string{"unfit-front.pdf": "front2 END", "unfit-back.pdf": "back2 END"}
	far := func(g *Gate, s site) { g.far[s.cleared], g.far[s.held] = true, true }
	byLink := func(g *Gate, s site) {
		g.mover.exclusive = func(string, string) error { return errors.ErrUnsupported }
	}
	return []scene{
		{"files", single, nil},
		{"pair", pair, nil},
		{"pair held", unfit, nil},
		{"files to another disk", single, far},
		{"pair to another disk", unfit, far},
		{"files by link", single, byLink},
		{"pair by link, to another disk", pair, func(g *Gate, s site) { far(g, s); byLink(g, s) }},
	}
}

func (sc scene) want() map[string]string {
	want := map[string]string{}
	for rel, text := range sc.drops {
		switch {
		case text == "BAD END" || rel[:3] == "unf":
			want[text] = "held/" + rel
		default:
			want[text] = "cleared/" + rel
		}
	}
	return want
}

func (sc scene) gate(t *testing.T, s site) *Gate {
	cfg := s.config()
	cfg.Settle, cfg.Rescan, cfg.Once = 0, 0, true
	g := newGate(t, cfg)
	// Whoever was here before is dead.
	g.registry.running = func(claimer) (alive, known bool) { return false, true }
	if sc.set != nil {
		sc.set(g, s)
	}
	return g
}

// TestCrashAnywhere lets a gate die at each of its steps, and its successor at each of
// its own: the third always ends with every file where it belongs, once.
func TestCrashAnywhere(t *testing.T) {
	for _, sc := range scenes() {
		t.Run(sc.name, func(t *testing.T) {
			t.Parallel()
			stops := map[string]int{}
			defer func() { t.Logf("stopped at %v", stops) }()
			stride := 3 // each step is a second stop for every third first one
			if testing.Short() {
				stride = 9
			}
			for first := 1; ; first++ {
				ended := false
				for second := 1 + first%stride; ; second += stride {
					at, again := sc.crashTwice(t, first, second)
					stops[at]++
					if t.Failed() {
						t.Fatalf("stopped at %q, then at %q", at, again)
					}
					if ended = at == ""; ended || again == "" {
						break
					}
				}
				if ended {
					break
				}
			}
		})
	}
}

func (sc scene) crashTwice(t *testing.T, first, second int) (at, again string) {
	s := newSite(t)
	for rel, text := range sc.drops {
		s.drop(t, rel, text)
	}
	at = runUntilCrash(t, sc.gate(t, s), first)
	s.count(t, false)
	if at != "" {
		again = runUntilCrash(t, sc.gate(t, s), second)
		s.count(t, false)
	}
	if end := runUntilCrash(t, sc.gate(t, s), 0); end != "" {
		t.Fatalf("the last run stopped at %q", end)
	}
	s.count(t, true).wants(t, sc.want())
	moved, torn := s.moves(t)
	if len(moved) != len(sc.drops) || torn > 0 {
		t.Errorf("the journal tells of %d files moved and has %d torn lines", len(moved), torn)
	}
	for sum, places := range moved {
		if len(places) != 1 {
			t.Errorf("the journal says that %s was moved to %s", sum, fmt.Sprint(places))
		}
	}
	return at, again
}

// TestFoundOtherwise: what somebody does between a gate's death and its successor.
func TestFoundOtherwise(t *testing.T) {
	single := map[string]string{"a.pdf": "a END"}
	far := func(g *Gate, s site) { g.far[s.cleared], g.far[s.held] = true, true }
	claims := func(s site) string {
		found, _ := filepath.Glob(filepath.Join(s.intake, ours, "claims", "*", "*", artFolder, "a.pdf"))
		if len(found) != 1 {
			t.Fatalf("claimed: %q", found)
		}
		return found[0]
	}
	for _, tt := range []struct {
		name  string
		scene scene
		at    string
		does  func(s site)
		want  map[string]string
	}{
		{"the claimed file is written to", scene{drops: single}, "intent saved",
			func(s site) { must(t, os.WriteFile(claims(s), []byte("a BAD END"), 0o666)) },
			map[string]string{"a BAD END": "held/a.pdf"}},
		{"the claimed file is deleted", scene{drops: single}, "intent saved",
			func(s site) { must(t, os.Remove(claims(s))) }, map[string]string{}},
		{"the report is taken away", scene{drops: single}, "moving",
			func(s site) { must(t, os.Remove(filepath.Join(s.cleared, "a.pdf"+jsonPage))) },
			map[string]string{"a END": "cleared/a.pdf"}},
		{"the name is taken", scene{drops: single}, "intent saved",
			func(s site) {
				must(t, os.WriteFile(filepath.Join(s.cleared, "a.pdf"), []byte("theirs"), 0o666))
				plant(t, filepath.Join(s.cleared, "a.pdf"))
			},
			map[string]string{"a END": "cleared/a-2.pdf", "theirs": "cleared/a.pdf"}},
		// Better twice than lost: whether the copy was good nobody can tell any more.
		{"the copy is taken away", scene{drops: single, set: far}, "art laid",
			func(s site) { must(t, os.Remove(filepath.Join(s.cleared, "a.pdf"))) },
			map[string]string{"a END": "cleared/a.pdf"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var s site
			for n, at := 1, ""; at != tt.at; n++ {
				s = newSite(t)
				s.drop(t, "a.pdf", "a END")
				if at = runUntilCrash(t, tt.scene.gate(t, s), n); at == "" {
					t.Fatalf("it never stops at %q", tt.at)
				}
			}
			tt.does(s)
			runUntilCrash(t, tt.scene.gate(t, s), 0)
			s.count(t, true).wants(t, tt.want)
		})
	}
}

// plant lays a report beside art that is not the gate's.
func plant(t *testing.T, path string) {
	for _, suffix := range []string{jsonPage, textPage} {
		must(t, os.WriteFile(path+suffix, []byte(endOfPage), 0o666))
	}
}
