package gate

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stoneproof/rules"
)

// The judge of these tests reads plain words: art ends in "END" or is cut off, and is
// bad if it says so.
func plainJudge(rules.Ticket) Judge {
	return Judge{File: plainFile, Pair: plainPair}
}

func plainFile(_ context.Context, path string) rules.FileReport {
	text, err := os.ReadFile(path)
	r := rules.FileReport{Path: path, Kind: "pdf", Verdict: rules.Pass}
	fail := func(rule, why string) {
		r.Verdict = rules.Fail
		r.Findings = append(r.Findings, rules.Finding{Rule: rule, Verdict: rules.Fail, Message: why})
	}
	switch {
	case err != nil:
		fail("file-opens", err.Error())
	case !bytes.HasSuffix(text, []byte("END")):
		fail("file-opens", "cut off")
	case bytes.Contains(text, []byte("BAD")):
		fail("trim-size", "bad")
	}
	if err == nil {
		sum := sha256.Sum256(text)
		r.SHA256 = hex.EncodeToString(sum[:])
	}
	return r
}

// plainPair fails a back that says that it does not fit.
func plainPair(front, back *rules.FileReport) {
	if strings.Contains(back.Path, "unfit") {
		back.Verdict = rules.Fail
		back.Findings = append(back.Findings, rules.Finding{Rule: "pair-size", Verdict: rules.Fail})
	}
}

const (
	endOfPage = "whole page\n"
	jsonPage  = ".report.json"
	textPage  = ".report.txt"
)

// plainPages is a report that shows whether it is whole.
func plainPages(j Judged) ([]Page, error) {
	text, err := json.Marshal(map[string]any{"name": j.Name, "files": j.Report.Files})
	if err != nil {
		return nil, err
	}
	return []Page{{jsonPage, append(text, "\n"+endOfPage...)}, {textPage, []byte(endOfPage)}}, nil
}

// site is a gate's folders.
type site struct{ intake, cleared, held string }

// newSite makes folders in memory if there is such a place, for a disk under a busy
// machine makes these tests slow without making them better.
func newSite(t testing.TB) site {
	t.Helper()
	root := t.TempDir()
	if dir, err := os.MkdirTemp("/dev/shm", "stoneproof-gate-"); err == nil {
		root = dir
		t.Cleanup(func() { os.RemoveAll(dir) })
	}
	s := site{filepath.Join(root, "intake"), filepath.Join(root, "cleared"), filepath.Join(root, "held")}
	for _, dir := range []string{s.intake, s.cleared, s.held} {
		if err := os.Mkdir(dir, 0o777); err != nil {
			t.Fatal(err)
		}
	}
	return s
}

func (s site) config() Config {
	return Config{
		Intake: s.intake, Cleared: s.cleared, Held: s.held, Ticket: rules.Ticket{PairNames: []string{"front", "back"}},
		ReadTicket: func(path string) (rules.Ticket, error) {
			text, err := os.ReadFile(path)
			if err == nil && strings.Contains(string(text), "nonsense") {
				err = fmt.Errorf("%s: line 1: nonsense", path)
			}
			return rules.Ticket{Size: string(text), PairNames: []string{"front", "back"}}, err
		},
		Judge: plainJudge, Reports: plainPages, Workers: 2,
		Settle: DefaultSettle, PairWait: DefaultPairWait, Rescan: DefaultRescan, Beat: DefaultBeat,
	}
}

// drop lays a file into the intake at once, as a rename does.
func (s site) drop(t testing.TB, rel, text string) {
	t.Helper()
	path := filepath.Join(s.intake, rel)
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		t.Fatal(err)
	}
	beside := filepath.Join(filepath.Dir(path), ".dropping-"+filepath.Base(path))
	if err := os.WriteFile(beside, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(beside, path); err != nil {
		t.Fatal(err)
	}
}

func sumOf(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:])
}

// tally is every piece of art by its hash, with the places where it lies.
type tally map[string][]string

// count finds all art, and reports reports that are torn or missing and, where the gate
// has come to rest, what it left behind.
func (s site) count(t testing.TB, atRest bool) tally {
	t.Helper()
	found := tally{}
	for _, root := range []string{s.intake, s.cleared, s.held} {
		err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
			if !atRest && path == root && (err != nil || !d.IsDir()) {
				return nil // a test took the folder away
			}
			if err != nil || d.IsDir() || d.Type()&fs.ModeType != 0 {
				return err
			}
			rel, _ := filepath.Rel(filepath.Dir(root), path)
			inOurs := strings.Contains(rel, ours)
			inClaim := inOurs && strings.Contains(rel, "/"+artFolder+"/")
			switch {
			case inOurs && !inClaim:
				if atRest && !strings.Contains(rel, "journal-") && !inUnnamedPlace(rel) {
					t.Errorf("left behind: %s", rel)
				}
				return nil
			case d.Name() == TicketName, d.Name() == ".ballast":
				return nil
			case strings.HasSuffix(path, jsonPage), strings.HasSuffix(path, textPage):
				text, err := os.ReadFile(path)
				if err != nil || !strings.HasSuffix(string(text), endOfPage) {
					t.Errorf("half a page: %s", rel)
				}
				if atRest && gone(strings.TrimSuffix(strings.TrimSuffix(path, jsonPage), textPage)) {
					t.Errorf("a report without its art: %s", rel)
				}
				return nil
			}
			sum, err := hashOf(path)
			if err != nil {
				return err
			}
			found[sum] = append(found[sum], rel)
			if root != s.intake && (gone(path+jsonPage) || gone(path+textPage)) {
				t.Errorf("art without its report: %s", rel)
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return found
}

// inUnnamedPlace reports whether a file lies in the place of a gate that was killed
// before it could claim anything. It stays for half a minute, for its gate may be slow.
func inUnnamedPlace(rel string) bool {
	return strings.HasPrefix(filepath.Base(filepath.Dir(rel)), ".") && filepath.Base(filepath.Dir(filepath.Dir(rel))) == "claims"
}

// wants reports an error unless each of the texts is in exactly one place, below the
// folder that is wanted.
func (got tally) wants(t testing.TB, want map[string]string) {
	t.Helper()
	for text, place := range want {
		places := got[sumOf(text)]
		if len(places) != 1 || !strings.HasPrefix(places[0], place) {
			t.Errorf("%.30q lies in %q, want it once in %q", text, places, place)
		}
		delete(got, sumOf(text))
	}
	for sum, places := range got {
		t.Errorf("nobody laid %s here: %q", sum, places)
	}
}

// moves reads the journal: what was moved, by hash, and how often claims were told.
func (s site) moves(t testing.TB) (moved map[string]map[string]bool, torn int) {
	t.Helper()
	names, _ := filepath.Glob(filepath.Join(s.intake, ours, "journal-*.jsonl"))
	moved = map[string]map[string]bool{}
	for _, name := range names {
		entries, bad, err := readJournal(name)
		if err != nil {
			t.Fatal(err)
		}
		torn += bad
		for _, e := range entries {
			if e.Event == eventMoved {
				if moved[e.SHA256] == nil {
					moved[e.SHA256] = map[string]bool{}
				}
				moved[e.SHA256][e.To] = true
			}
		}
	}
	return moved, torn
}

func newGate(t testing.TB, cfg Config) *Gate {
	t.Helper()
	g, err := New(cfg)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// step by step: a gate without a loop, whose every look finds files settled.
func (g *Gate) passOnce(t testing.TB) {
	t.Helper()
	if _, err := g.roundOf(time.Now()); err != nil {
		t.Fatal(err)
	}
	for _, j := range g.queue {
		if !anyBusy(j.files) {
			r := g.work(context.Background(), j)
			g.busy++
			g.settleResult(r)
		}
	}
}
