package main

import (
	"context"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"time"

	"stoneproof/checks"
	"stoneproof/checks/art"
	"stoneproof/checks/art/render"
	"stoneproof/rules"
)

func run(o order) error {
	samples, missing := installed(o.samples())
	if len(missing) > 0 {
		fmt.Fprintln(os.Stderr, "bench: without files by", missing, "which are not installed")
	}
	dir, err := os.MkdirTemp("", "bench")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	if o.keep != "" {
		if err := os.MkdirAll(o.keep, 0o755); err != nil {
			return err
		}
	}
	engine := render.Start(render.Options{})
	defer engine.Close()
	b := bench{engine: engine, keep: o.keep}
	verdicts := make([]judged, len(samples))
	work := make(chan int)
	var wait sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for i := range work {
				verdicts[i] = b.judge(filepath.Join(dir, fmt.Sprint(i)), samples[i])
			}
		})
	}
	given := handOut(work, len(samples))
	close(work)
	wait.Wait()
	return tell(os.Stdout, verdicts[:given], o.list)
}

// handOut gives out the numbers of n samples, and tells how many it gave: fewer if the
// run is interrupted, and then the tables tell of these alone.
func handOut(work chan<- int, n int) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	for i := range n {
		select {
		case work <- i:
		case <-ctx.Done():
			return i
		}
	}
	return n
}

// bench judges samples.
type bench struct {
	engine *render.Engine
	keep   string // folder for the files of what was judged wrongly; empty for none
}

// patience is how long a sample may take: a busy machine is no fault of the rules.
const patience = 10 * time.Minute

// judged is what the checks made of a sample.
type judged struct {
	sample
	blamed  []string // rules that warn or fail
	skipped []string // rules that own that they cannot judge some of it, and blame nothing
	absent  bool     // the fault cannot be seen on this card: it is no sample
	err     error
}

// judge makes a sample's file and judges it.
func (b *bench) judge(path string, s sample) (j judged) {
	j.sample = s
	if j.absent = s.shows != nil && !s.shows(); j.absent {
		return j
	}
	path += filepath.Ext(s.name)
	if s.by != nil {
		path += "." + s.by.from
	}
	if j.err = os.WriteFile(path, s.bytes(), 0o600); j.err != nil {
		return j
	}
	defer os.Remove(path)
	if s.by != nil {
		if path, j.err = s.by.run(path); j.err != nil {
			return j
		}
		defer os.Remove(path)
	}
	ticket, err := s.order.Ticket()
	if err != nil {
		j.err = err
		return j
	}
	ceilings := art.DefaultCeilings()
	ceilings.Deadline = patience
	judge := checks.Judge{Ticket: ticket, Checks: checks.All(), Ceilings: ceilings, Renderer: b.engine}
	j.hear(judge.File(context.Background(), path).Findings)
	if j.wrong() {
		fmt.Fprintf(os.Stderr, "%s: told %v, skipped %v\n", s.name, j.blamed, j.skipped)
		if b.keep != "" {
			j.err = b.put(path, s.name)
		}
	}
	return j
}

// hear takes down which rules blame the sample, and which skip it.
func (j *judged) hear(findings []rules.Finding) {
	for _, f := range findings {
		if (f.Verdict == rules.Warn || f.Verdict == rules.Fail) && !slices.Contains(j.blamed, f.Rule) {
			j.blamed = append(j.blamed, f.Rule)
		}
	}
	for _, f := range findings {
		if f.Verdict == rules.Skip && !slices.Contains(j.blamed, f.Rule) && !slices.Contains(j.skipped, f.Rule) {
			j.skipped = append(j.skipped, f.Rule)
		}
	}
}

// put keeps a file under its sample's name.
func (b *bench) put(path, name string) error {
	made, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	name = strings.NewReplacer("/", "-", ", ", "-", " ", "-").Replace(name)
	return os.WriteFile(filepath.Join(b.keep, name), made, 0o600)
}

// wrong reports whether any rule misjudges the sample.
func (j *judged) wrong() bool {
	return slices.ContainsFunc(rules.RuleIDs(), func(id string) bool {
		told := slices.Contains(j.blamed, id)
		return j.fault == id && !told || j.fault != id && told && j.speaksTo(id)
	})
}

// speaksTo reports whether a sample that is not broken for a rule is a sound one to it.
func (s *sample) speaksTo(rule string) bool {
	return (s.fault == "" || !goesWith(s.fault, rule)) && (s.by == nil || !slices.Contains(s.by.upsets, rule))
}
