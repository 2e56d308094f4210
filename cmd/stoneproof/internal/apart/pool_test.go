package apart

import (
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"stoneproof/checks/art"
	"stoneproof/checks/art/render"
	"stoneproof/rules"
)

// Every file of the shipped art is judged apart as it is in process, to the last
// field.
func TestJudgesAsInProcess(t *testing.T) {
	if testing.Short() {
		t.Skip("judges all shipped art twice")
	}
	p := start(t, Options{Files: 40}) // so that a child is replaced on the way
	here := judge(t, rules.Order{})
	here.Renderer = render.Start(render.Options{})
	defer here.Renderer.Close()
	there := p.Judge(here)
	for _, path := range shipped(t) {
		want, got := here.File(t.Context(), path), there(t.Context(), path)
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s (-in process +apart)\n%s", path, diff)
		}
	}
}

// What is shown of a file apart is what is shown in process.
func TestSeesAsInProcess(t *testing.T) {
	p := start(t, Options{Workers: 1})
	here := judge(t, rules.Order{})
	here.Renderer = render.Start(render.Options{})
	defer here.Renderer.Close()
	for _, path := range []string{goodCard, filepath.Join(t.TempDir(), "none.pdf")} {
		want, shown := here.SeeFile(t.Context(), path)
		got, seen := p.See(here)(t.Context(), path)
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s (-in process +apart)\n%s", path, diff)
		}
		if diff := cmp.Diff(shown, seen); diff != "" {
			t.Errorf("%s: pictures differ", path)
		}
	}
}

// shipped are the files of art under testdata.
func shipped(t *testing.T) []string {
	var paths []string
	err := filepath.WalkDir("../../../../testdata", func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && art.NamedLikeArt(path) {
			paths = append(paths, path)
		}
		return err
	})
	if err != nil || len(paths) < 50 {
		t.Fatalf("%d files (%v)", len(paths), err)
	}
	return paths
}

// The ticket, the rules and the strictness asked for are those that are judged by.
func TestJudgesByWhatIsAsked(t *testing.T) {
	p := start(t, Options{Workers: 1})
	j := judge(t, rules.Order{Size: "eu-business"})
	if r := p.Judge(j)(t.Context(), goodCard); !strings.Contains(told(r), "trim-size fail") {
		t.Errorf("a US card passes as a European one:\n%s", told(r))
	}
	j = judge(t, rules.Order{Process: "digital"})
	photo := "../../../../testdata/good/baker-photographic-us-business.jpg"
	lax := p.Judge(j)(t.Context(), photo)
	j.Strict = true
	if r := p.Judge(j)(t.Context(), photo); lax.Verdict != rules.Warn || r.Verdict != rules.Fail {
		t.Errorf("%s, and %s when strict", lax.Verdict, r.Verdict)
	}
	j.Checks = j.Checks[1:2]
	if r := p.Judge(j)(t.Context(), goodCard); len(r.Findings) != 1 || r.Findings[0].Rule != j.Checks[0].Rule {
		t.Errorf("want %s alone: %v", j.Checks[0].Rule, r.Findings)
	}
}

// Many at a time are judged by no more children than there are places.
func TestJudgesManyAtATime(t *testing.T) {
	p := start(t, Options{Workers: 2, Files: 3})
	judge := p.Judge(judge(t, rules.Order{}))
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			if r := judge(t.Context(), goodCard); r.Verdict != rules.Pass {
				t.Error(told(r))
			}
		})
	}
	wg.Wait()
}

// Whatever a child does instead of answering, its file fails with a cause.
func TestChildrenThatGoWrong(t *testing.T) {
	for kind, says := range map[string]string{
		"panics":   "ended unexpectedly (runtime error: index out of range [",
		"garbles":  "ended unexpectedly (garbled",
		"promises": "ended unexpectedly (garbled",
		"mistakes": "ended unexpectedly (garbled",
		"hangs":    "could not be judged within 1s",
		"dead":     "could not be started (cannot live)",
		"recurses": "ended unexpectedly (stack overflow)",
	} {
		t.Run(kind, func(t *testing.T) {
			p := start(t, Options{Workers: 1, Child: playing(kind)})
			j := judge(t, rules.Order{})
			j.Ceilings.Deadline = time.Minute
			if kind == "hangs" {
				j.Ceilings.Deadline = time.Second
			}
			unopened(t, p.Judge(j)(t.Context(), goodCard), says)
		})
	}
}

// The parent sees a child's memory where the system tells it.
func TestChildThatHoards(t *testing.T) {
	if resident(os.Getpid()) == 0 {
		t.Skip("this system does not tell a process's memory")
	}
	p := start(t, Options{Workers: 1, Memory: 200 << 20, Child: playing("hoards")})
	unopened(t, p.Judge(judge(t, rules.Order{}))(t.Context(), goodCard), "took more than 200 MB of memory")
}

// What a child says to its standard error is dropped but for its beginning.
func TestChildThatChatters(t *testing.T) {
	p := start(t, Options{Workers: 1, Child: playing("chatter")})
	stillSound(t, p)
	w := <-p.places
	defer func() { p.places <- w }()
	if n := len(w.said.b); n > mostWords {
		t.Errorf("%d bytes are kept", n)
	}
}

// A child that another file has spoilt does not cost the next file its judgement.
func TestFileDoesNotSufferForAnother(t *testing.T) {
	p := start(t, Options{Workers: 1})
	stillSound(t, p)
	w := <-p.places
	w.end()
	p.places <- w
	stillSound(t, p)
}

func TestStopped(t *testing.T) {
	p := start(t, Options{Workers: 1, Child: playing("hangs")})
	ctx, cancel := context.WithTimeout(t.Context(), 500*time.Millisecond)
	defer cancel()
	judge := p.Judge(judge(t, rules.Order{}))
	unopened(t, judge(ctx, goodCard), "stopped before")
	unopened(t, judge(ctx, goodCard), "stopped before")
}

// Close waits for what is in hand, ends the children, and refuses what comes.
func TestClose(t *testing.T) {
	p := start(t, Options{Workers: 1})
	judge := p.Judge(judge(t, rules.Order{}))
	stillSound(t, p)
	w := <-p.places
	p.places <- w
	done := make(chan rules.FileReport)
	go func() { done <- judge(context.Background(), goodCard) }()
	for len(p.places) > 0 {
		time.Sleep(time.Millisecond)
	}
	p.Close()
	if r := <-done; r.Verdict != rules.Pass {
		t.Errorf("what was in hand is not finished:\n%s", told(r))
	}
	<-w.exited
	unopened(t, judge(t.Context(), goodCard), "stopped before")
	p.Close()
}
