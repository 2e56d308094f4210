package gate

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"stoneproof/rules"
)

// inTime runs a gate beside a script, under a false clock, and stops it in the end. The
// gate has come to rest whenever the script goes on.
func inTime(t *testing.T, s site, set func(*Config), script func(g *Gate)) Outcome {
	t.Helper()
	var o Outcome
	synctest.Test(t, func(t *testing.T) {
		cfg := s.config()
		if set != nil {
			set(&cfg)
		}
		g := newGate(t, cfg)
		ctx, stop := context.WithCancel(context.Background())
		var run sync.WaitGroup
		run.Go(func() {
			var err error
			if o, err = g.Run(ctx); err != nil {
				t.Error(err)
			}
		})
		defer run.Wait()
		defer stop()
		time.Sleep(time.Millisecond) // so that the script never acts at the instant of a look
		script(g)
	})
	return o
}

// after lets time pass, and the gate come to rest.
func after(d time.Duration) {
	time.Sleep(d)
	synctest.Wait()
}

func (s site) has(t *testing.T, rel string) bool {
	t.Helper()
	return exists(filepath.Join(filepath.Dir(s.intake), rel))
}

func (s site) mustHave(t *testing.T, rels ...string) {
	t.Helper()
	for _, rel := range rels {
		if !s.has(t, rel) {
			t.Errorf("%s is not there", rel)
		}
	}
}

func (s site) write(t *testing.T, rel, text string) {
	t.Helper()
	f, err := os.OpenFile(filepath.Join(s.intake, rel), os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o666)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if _, err := f.WriteString(text); err != nil {
		t.Fatal(err)
	}
}

func TestSettles(t *testing.T) {
	s := newSite(t)
	inTime(t, s, nil, func(*Gate) {
		// A kilobyte a second is never still for two.
		for range 20 {
			s.write(t, "slow.pdf", "more ")
			after(time.Second)
			s.mustHave(t, "intake/slow.pdf")
		}
		s.write(t, "slow.pdf", "END")
		after(DefaultSettle + DefaultRescan)
		s.mustHave(t, "cleared/slow.pdf")
	})
}

// TestPausesLonger: a writer that pauses longer than the settle time is known by its
// open file; one that closes it leaves a file that is cut off, and that is held.
func TestPausesLonger(t *testing.T) {
	s := newSite(t)
	inTime(t, s, nil, func(*Gate) {
		f, err := os.Create(filepath.Join(s.intake, "open.pdf"))
		if err != nil {
			t.Fatal(err)
		}
		for range 5 {
			f.WriteString("more ")
			after(20 * time.Second)
		}
		if machine() != "" {
			s.mustHave(t, "intake/open.pdf")
		}
		f.WriteString("END")
		f.Close()
		s.write(t, "shut.pdf", "half")
		after(20 * time.Second)
		s.write(t, "shut.pdf", "END")
		after(20 * time.Second)
	})
	got := s.count(t, true)
	for _, place := range got[sumOf("half")] {
		if strings.HasPrefix(place, "cleared") {
			t.Errorf("a file that is cut off was cleared: %s", place)
		}
	}
	if machine() != "" {
		s.mustHave(t, "cleared/open.pdf", "held/shut.pdf")
	}
}

func TestEmptyFileWaits(t *testing.T) {
	s := newSite(t)
	inTime(t, s, nil, func(*Gate) {
		s.write(t, "late.pdf", "")
		after(15 * time.Second)
		s.mustHave(t, "intake/late.pdf")
		s.write(t, "late.pdf", "END")
		after(10 * time.Second)
		s.mustHave(t, "cleared/late.pdf")
		s.write(t, "empty.pdf", "")
		after(40 * time.Second)
		s.mustHave(t, "held/empty.pdf")
	})
}

func TestPairWaits(t *testing.T) {
	s := newSite(t)
	inTime(t, s, nil, func(*Gate) {
		s.drop(t, "unfit-front.pdf", "front END")
		after(20 * time.Second)
		s.mustHave(t, "intake/unfit-front.pdf")
		s.drop(t, "unfit-back.pdf", "back END")
		after(10 * time.Second)
		// Each is good by itself, but not the two together.
		s.mustHave(t, "held/unfit-front.pdf", "held/unfit-back.pdf")

		s.drop(t, "lone-front.pdf", "lone END")
		after(25 * time.Second)
		s.mustHave(t, "intake/lone-front.pdf")
		after(20 * time.Second)
		s.mustHave(t, "cleared/lone-front.pdf")

		// Its other half never comes to an end.
		s.drop(t, "long-back.pdf", "long END")
		for range 60 {
			s.write(t, "long-front.pdf", "more ")
			after(time.Second)
		}
		s.mustHave(t, "cleared/long-back.pdf", "intake/long-front.pdf")
	})
}

func TestNearestTicket(t *testing.T) {
	s := newSite(t)
	var mu sync.Mutex
	by := map[string]string{}
	judge := func(tk rules.Ticket) Judge {
		return Judge{File: func(ctx context.Context, path string) rules.FileReport {
			mu.Lock()
			defer mu.Unlock()
			by[filepath.Base(path)] = tk.Size
			return plainFile(ctx, path)
		}}
	}
	inTime(t, s, func(c *Config) { c.Judge = judge; c.Ticket.Size = "gate's" }, func(*Gate) {
		s.drop(t, "a.pdf", "a END")
		s.drop(t, "deep/ticket.toml", "deep's")
		s.drop(t, "deep/b.pdf", "b END")
		s.drop(t, "deep/er/c.pdf", "c END")
		s.drop(t, "broken/ticket.toml", "nonsense")
		s.drop(t, "broken/sub/d.pdf", "d END")
		after(20 * time.Second)
		s.mustHave(t, "cleared/a.pdf", "cleared/deep/er/c.pdf", "intake/broken/sub/d.pdf", "intake/deep/ticket.toml")
		s.drop(t, "broken/ticket.toml", "mended")
		after(20 * time.Second)
		s.mustHave(t, "cleared/broken/sub/d.pdf")
	})
	for name, want := range map[string]string{"a.pdf": "gate's", "b.pdf": "deep's", "c.pdf": "deep's", "d.pdf": "mended"} {
		if by[name] != want {
			t.Errorf("%s was judged by the ticket %q, want %q", name, by[name], want)
		}
	}
}

// TestStopFinishesWhatIsInHand: what is being judged is moved, what waits stays.
func TestStopFinishesWhatIsInHand(t *testing.T) {
	s := newSite(t)
	slow := func(rules.Ticket) Judge {
		return Judge{File: func(ctx context.Context, path string) rules.FileReport {
			time.Sleep(20 * time.Second)
			if ctx.Err() != nil {
				t.Error("judging was broken off")
			}
			return plainFile(ctx, path)
		}}
	}
	for _, name := range []string{"a.pdf", "b.pdf", "c.pdf"} {
		s.drop(t, name, name+" END")
	}
	inTime(t, s, func(c *Config) { c.Judge = slow }, func(*Gate) { after(10 * time.Second) })
	s.count(t, true).wants(t, map[string]string{"a.pdf END": "cleared/a.pdf", "b.pdf END": "cleared/b.pdf", "c.pdf END": "intake/c.pdf"})
}

// TestMeddling: what happens to a claimed file while it is judged.
func TestMeddling(t *testing.T) {
	s := newSite(t)
	meddle := map[string]func(path string){
		"deleted.pdf": func(path string) { os.Remove(path) },
		"written.pdf": func(path string) { // by a writer that still has it open
			f, err := os.OpenFile(path, os.O_APPEND|os.O_WRONLY, 0)
			if err != nil {
				t.Error(err)
				return
			}
			f.WriteString(" and more END")
			f.Close()
		},
		"sly.pdf": func(path string) { // as large as before, and as old
			was, err := os.Stat(path)
			if err != nil {
				t.Error(err)
				return
			}
			os.WriteFile(path, []byte("SLY.pdf END"), 0)
			os.Chtimes(path, was.ModTime(), was.ModTime())
		},
		"replaced.pdf": func(string) { s.drop(t, "replaced.pdf", "new END") },
		"panics.pdf":   func(string) { panic("a judge's mistake") },
	}
	var mu sync.Mutex
	judge := func(rules.Ticket) Judge {
		return Judge{File: func(ctx context.Context, path string) rules.FileReport {
			r := plainFile(ctx, path)
			mu.Lock()
			do := meddle[filepath.Base(path)]
			delete(meddle, filepath.Base(path))
			mu.Unlock()
			if do != nil {
				do(path)
			}
			return r
		}}
	}
	var back []string
	tell := func(e Entry) {
		if e.Event == eventReturned {
			back = append(back, e.File)
		}
	}
	inTime(t, s, func(c *Config) { c.Judge = judge; c.Tell = tell }, func(*Gate) {
		for _, name := range []string{"deleted.pdf", "written.pdf", "sly.pdf", "replaced.pdf", "panics.pdf"} {
			s.drop(t, name, name+" END")
		}
		after(time.Minute)
	})
	if slices.Sort(back); !slices.Equal(back, []string{"sly.pdf", "written.pdf"}) {
		t.Errorf("given back: %q", back)
	}
	s.count(t, true).wants(t, map[string]string{
		"written.pdf END and more END": "cleared/written.pdf",
		"SLY.pdf END":                  "cleared/sly.pdf",
		"replaced.pdf END":             "cleared/replaced.pdf",
		"new END":                      "cleared/replaced-2.pdf",
		"panics.pdf END":               "held/panics.pdf",
	})
}

// elsewhere makes a claim of a gate on another machine.
func (s site) elsewhere(t *testing.T, id, rel, text string) (beat string) {
	t.Helper()
	dir := filepath.Join(s.intake, ours, "claims", id)
	art := filepath.Join(dir, "1", artFolder, rel)
	if err := os.MkdirAll(filepath.Dir(art), 0o777); err != nil {
		t.Fatal(err)
	}
	card, _ := json.Marshal(claimer{ID: id, Host: "elsewhere", PID: 1, Machine: "another", Started: "1", Beat: DefaultBeat.Seconds()})
	beat = filepath.Join(dir, beatFile)
	for path, data := range map[string]string{art: text, filepath.Join(dir, claimerFile): string(card), beat: ""} {
		if err := os.WriteFile(path, []byte(data), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return beat
}

// TestOtherMachines: a gate elsewhere lives as long as its heart beats, whatever its
// clock says; then its files come back, and replace no newer ones.
func TestOtherMachines(t *testing.T) {
	s := newSite(t)
	s.elsewhere(t, "dead-1-a", "sub/old.pdf", "old END")
	beat := s.elsewhere(t, "live-1-a", "theirs.pdf", "theirs END")
	s.drop(t, "sub/old.pdf", "newer END")
	inTime(t, s, nil, func(*Gate) {
		wrong := time.Date(1999, 1, 1, 0, 0, 0, 0, time.UTC)
		for n := range 30 {
			os.Chtimes(beat, wrong.Add(time.Duration(n)*time.Second), wrong.Add(time.Duration(n)*time.Second))
			after(DefaultBeat)
			if n == 4 {
				s.mustHave(t, "cleared/sub/old.pdf", "intake/.stoneproof/claims/dead-1-a/1/art/sub/old.pdf")
				after(DefaultBeat - time.Second)
				s.drop(t, "sub/old.pdf", "newest END") // just before the dead one's comes back
			}
		}
		s.mustHave(t, "cleared/sub/old-2.pdf", "intake/.stoneproof/claims/live-1-a/1/art/theirs.pdf")
		after(beatsToDie*DefaultBeat + 15*time.Second)
		s.mustHave(t, "cleared/theirs.pdf")
	})
	s.count(t, true).wants(t, map[string]string{
		"newer END": "cleared/sub/old.pdf", "newest END": "cleared/sub/old-", "old END": "cleared/sub/old-", "theirs END": "cleared/theirs.pdf",
	})
}

// TestDiedWhileJoining: the folder of a gate that died before it had told who it was is
// taken away when it is old, by a gate that runs but once as well; a young one may be of
// a gate that is slow.
func TestDiedWhileJoining(t *testing.T) {
	s := newSite(t)
	claims := filepath.Join(s.intake, ours, "claims")
	for name, age := range map[string]time.Duration{".old-1-a": beatsToDie * DefaultBeat, ".young-1-a": time.Second} {
		dir := filepath.Join(claims, name)
		if err := os.MkdirAll(dir, 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, beatFile), nil, 0o666); err != nil {
			t.Fatal(err)
		}
		then := time.Now().Add(-age)
		if err := os.Chtimes(dir, then, then); err != nil {
			t.Fatal(err)
		}
	}
	g := newGate(t, s.config())
	if err := g.registry.join(); err != nil {
		t.Fatal(err)
	}
	g.passOnce(t)
	g.leave()
	g.journal.close()
	left, _ := filepath.Glob(filepath.Join(claims, ".*"))
	if len(left) != 1 || filepath.Base(left[0]) != ".young-1-a" {
		t.Errorf("left: %q", left)
	}
}

// TestTakenForDead: a gate that slept too long finds its claim gone, and neither moves
// the file a second time nor leaves a report of it.
func TestTakenForDead(t *testing.T) {
	s := newSite(t)
	s.drop(t, "a.pdf", "a END")
	inTime(t, s, func(c *Config) {
		c.Judge = func(rules.Ticket) Judge {
			return Judge{File: func(ctx context.Context, path string) rules.FileReport {
				r := plainFile(ctx, path)
				time.Sleep(5 * time.Minute) // the machine sleeps, while another gate:
				place := filepath.Dir(filepath.Dir(filepath.Dir(path)))
				if exists(filepath.Join(s.cleared, "a.pdf")) || filepath.Base(filepath.Dir(place)) != "claims" {
					return r
				}
				other := newGate(t, s.config())
				other.registry.running = func(claimer) (alive, known bool) { return false, true }
				if err := other.registry.join(); err != nil {
					t.Error(err)
				}
				other.passOnce(t)
				time.Sleep(DefaultSettle)
				other.passOnce(t)
				other.leave()
				other.journal.close()
				return r
			}}
		}
	}, func(*Gate) { after(30 * time.Minute) })
	s.count(t, true).wants(t, map[string]string{"a END": "cleared/a.pdf"})
}

func TestTwoGates(t *testing.T) {
	s := newSite(t)
	want := map[string]string{}
	judge := func(rules.Ticket) Judge {
		return Judge{Pair: plainPair, File: func(ctx context.Context, path string) rules.FileReport {
			time.Sleep(time.Second)
			return plainFile(ctx, path)
		}}
	}
	inTime(t, s, func(c *Config) { c.Judge = judge }, func(*Gate) {
		second := newGate(t, func() Config { c := s.config(); c.Judge = judge; return c }())
		ctx, stop := context.WithCancel(context.Background())
		var run sync.WaitGroup
		run.Go(func() { second.Run(ctx) })
		for n := range 60 {
			name := string(rune('a'+n%20)) + ".pdf"
			text := name + time.Duration(n).String() + " END"
			s.drop(t, name, text)
			want[text] = "cleared/"
			if n%20 == 19 {
				after(time.Minute)
			}
		}
		after(time.Minute)
		stop()
		run.Wait()
	})
	s.count(t, true).wants(t, want)
}

func TestOnceWaitsForOtherMachines(t *testing.T) {
	s := newSite(t)
	s.elsewhere(t, "dead-1-a", "a.pdf", "a END")
	inTime(t, s, func(c *Config) { c.Once = true }, func(*Gate) { after(2 * time.Minute) })
	s.count(t, true).wants(t, map[string]string{"a END": "cleared/a.pdf"})
}

func TestOnceLeaves(t *testing.T) {
	s := newSite(t)
	s.drop(t, "ticket.toml", "nonsense")
	s.drop(t, "a.pdf", "a END")
	o := inTime(t, s, func(c *Config) { c.Once = true }, func(*Gate) { after(time.Minute) })
	if len(o.Left) != 1 || !strings.Contains(o.Left[0], "its ticket cannot be read") {
		t.Errorf("left: %q", o.Left)
	}
}

// TestJudgedLater: what cannot be judged for now is neither cleared nor held.
func TestJudgedLater(t *testing.T) {
	s := newSite(t)
	s.drop(t, "a.pdf", "a END")
	var short atomic.Bool
	short.Store(true)
	judge := func(rules.Ticket) Judge {
		return Judge{
			File: func(ctx context.Context, path string) rules.FileReport {
				if short.Load() {
					return rules.FileReport{Verdict: rules.Fail, Findings: []rules.Finding{{Message: "no more processes"}}}
				}
				return plainFile(ctx, path)
			},
			Unjudged: func(r rules.FileReport) bool {
				return len(r.Findings) > 0 && r.Findings[0].Message == "no more processes"
			},
		}
	}
	inTime(t, s, func(c *Config) { c.Judge = judge }, func(*Gate) {
		after(3 * time.Minute)
		s.mustHave(t, "intake/a.pdf")
		short.Store(false)
		after(2 * time.Minute)
	})
	s.count(t, true).wants(t, map[string]string{"a END": "cleared/a.pdf"})
}
