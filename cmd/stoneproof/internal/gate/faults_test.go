package gate

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// fault is something that happens to a gate's folders, and what puts it right.
type fault struct {
	name    string
	set     func(t *testing.T, s *site)
	breaks  func(t *testing.T, s site)
	mends   func(t *testing.T, s site)
	expects string // of what is told meanwhile
}

// TestFaults: while the held folder cannot be written to, bad files stay in the intake,
// with a word on why; good ones go on. Then all goes where it belongs.
func TestFaults(t *testing.T) {
	for _, f := range faults() {
		t.Run(f.name, func(t *testing.T) {
			s := newSite(t)
			if f.set != nil {
				f.set(t, &s)
			}
			want := map[string]string{"good END": "cleared/good.pdf"}
			var told []string
			tell := func(e Entry) {
				if e.Event == eventWaits || e.Event == eventTrouble {
					told = append(told, e.File+" "+e.Why)
				}
			}
			inTime(t, s, func(c *Config) { c.Tell = tell }, func(g *Gate) {
				s.drop(t, "before.pdf", "before BAD END")
				after(20 * time.Second)
				s.mustHave(t, "held/before.pdf")
				f.breaks(t, s)
				s.drop(t, "good.pdf", "good END")
				for _, name := range []string{"a.pdf", "sub/b.pdf", "c-front.pdf", "c-back.pdf"} {
					text := name + strings.Repeat(" large", 2000) + " BAD END"
					s.drop(t, name, text)
					want[text] = "held/" + name
				}
				after(10 * time.Minute)
				s.mustHave(t, "cleared/good.pdf", "intake/a.pdf", "intake/sub/b.pdf", "intake/c-front.pdf", "intake/c-back.pdf")
				if g.Status().Stuck == 0 {
					t.Error("the status says of no file that it is stuck")
				}
				s.count(t, false)
				f.mends(t, s)
				after(2 * time.Minute)
			})
			want["before BAD END"] = "held/before.pdf"
			s.count(t, true).wants(t, want)
			if all := strings.Join(told, "\n"); !strings.Contains(all, f.expects) || !strings.Contains(all, "a.pdf") {
				t.Errorf("it was told\n%s\nwant a word on %q", all, f.expects)
			}
			if len(told) > 20 {
				t.Errorf("%d complaints of one trouble", len(told))
			}
		})
	}
}

func faults() []fault {
	away := func(s site) string { return s.held + ".away" }
	return []fault{
		{
			name:   "destination vanished",
			breaks: func(t *testing.T, s site) { must(t, os.Rename(s.held, away(s))) },
			mends:  func(t *testing.T, s site) { must(t, os.Rename(away(s), s.held)) }, expects: "is not there",
		},
		{
			name: "destination became a file",
			breaks: func(t *testing.T, s site) {
				must(t, os.Rename(s.held, away(s)))
				must(t, os.WriteFile(s.held, nil, 0o666))
			},
			mends:   func(t *testing.T, s site) { must(t, os.Remove(s.held)); must(t, os.Rename(away(s), s.held)) },
			expects: "not a directory",
		},
		{
			name:   "permission denied",
			breaks: func(t *testing.T, s site) { deny(t, s.held, true) },
			mends:  func(t *testing.T, s site) { deny(t, s.held, false) }, expects: "permi",
		},
		{
			name:   "read-only",
			set:    func(t *testing.T, s *site) { mount(t, s.held, "size=1m") },
			breaks: func(t *testing.T, s site) { remount(t, s.held, "ro") },
			mends:  func(t *testing.T, s site) { remount(t, s.held, "rw") }, expects: "read-only file system",
		},
		{
			name:    "full disk",
			set:     func(t *testing.T, s *site) { mount(t, s.held, "size=200k") },
			breaks:  func(t *testing.T, s site) { fill(t, filepath.Join(s.held, ".ballast")) },
			mends:   func(t *testing.T, s site) { must(t, os.Remove(filepath.Join(s.held, ".ballast"))) },
			expects: "no space left on device",
		},
		{
			name:    "nearly full disk",
			set:     func(t *testing.T, s *site) { mount(t, s.held, "size=200k") },
			breaks:  func(t *testing.T, s site) { fill(t, filepath.Join(s.held, ".ballast")); shrink(t, s) },
			mends:   func(t *testing.T, s site) { must(t, os.Remove(filepath.Join(s.held, ".ballast"))) },
			expects: "no space left on device",
		},
		{
			name:    "unmounted",
			set:     func(t *testing.T, s *site) { mount(t, s.held, "size=1m") },
			breaks:  func(t *testing.T, s site) { unmountTo(t, s.held, away(s)) },
			mends:   func(t *testing.T, s site) { unmountTo(t, away(s), s.held) },
			expects: "was it unmounted?",
		},
	}
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// shrink leaves room for a report, but not for the art beside it.
func shrink(t *testing.T, s site) {
	path := filepath.Join(s.held, ".ballast")
	info, err := os.Stat(path)
	must(t, err)
	must(t, os.Truncate(path, info.Size()-8<<10))
}

// fill writes until a disk is full.
func fill(t *testing.T, path string) {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o666)
	must(t, err)
	defer f.Close()
	for block := make([]byte, 4096); ; {
		if _, err := f.Write(block); err != nil {
			return
		}
	}
}

// TestJournalFirst: nothing moves that cannot be written down.
func TestJournalFirst(t *testing.T) {
	s := newSite(t)
	book := filepath.Join(filepath.Dir(s.intake), "book")
	must(t, os.Mkdir(book, 0o777))
	s.drop(t, "a.pdf", "a END")
	inTime(t, s, func(c *Config) { c.Journal = filepath.Join(book, "journal.jsonl") }, func(*Gate) {
		must(t, os.Rename(book, book+".away"))
		after(time.Minute)
		s.mustHave(t, "intake/a.pdf")
		must(t, os.Rename(book+".away", book))
		after(2 * time.Minute)
		s.mustHave(t, "cleared/a.pdf")
	})
}

// TestIntakeVanishes: a gate whose intake goes and comes back goes on.
func TestIntakeVanishes(t *testing.T) {
	s := newSite(t)
	inTime(t, s, nil, func(g *Gate) {
		must(t, os.Rename(s.intake, s.intake+".away"))
		after(time.Minute)
		if g.ill(time.Now()) == "" {
			t.Error("a gate without its intake calls itself well")
		}
		must(t, os.Rename(s.intake+".away", s.intake))
		s.drop(t, "a.pdf", "a END")
		after(time.Minute)
		s.mustHave(t, "cleared/a.pdf")
		if why := g.ill(time.Now()); why != "" {
			t.Errorf("ill: %s", why)
		}
	})
}

// TestFullIntake: a gate that cannot even write down what it means to do does nothing.
func TestFullIntake(t *testing.T) {
	s := newSite(t)
	mount(t, s.intake, "size=200k")
	inTime(t, s, nil, func(*Gate) {
		fill(t, filepath.Join(s.intake, ".ballast"))
		must(t, os.Truncate(filepath.Join(s.intake, ".ballast"), 180<<10))
		s.drop(t, "a.pdf", "a END")
		s.drop(t, "b-front.pdf", "b END")
		s.drop(t, "b-back.pdf", "c BAD END")
		fill(t, filepath.Join(s.intake, ".ballast"))
		after(5 * time.Minute)
		s.mustHave(t, "intake/a.pdf", "intake/b-front.pdf", "intake/b-back.pdf")
		s.count(t, false)
		must(t, os.Remove(filepath.Join(s.intake, ".ballast")))
		after(2 * time.Minute)
	})
	s.count(t, true).wants(t, map[string]string{"a END": "cleared/", "b END": "held/", "c BAD END": "held/"})
}
