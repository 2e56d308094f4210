package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"sync"

	"stoneproof/checks"
	"stoneproof/checks/art"
	"stoneproof/checks/art/render"
	"stoneproof/rules"
)

func main() {
	seeds := flag.String("seeds", "40-43", "`RANGE` of seeds to draw")
	list := flag.Bool("list", true, "list misses and false alarms")
	flag.Parse()
	var from, to int
	if n, _ := fmt.Sscanf(*seeds, "%d-%d", &from, &to); n < 2 || from > to {
		fmt.Fprintln(os.Stderr, "bench: --seeds wants a range: 40-43")
		os.Exit(2)
	}
	if err := run(from, to, *list); err != nil {
		fmt.Fprintln(os.Stderr, "bench:", err)
		os.Exit(1)
	}
}

func run(from, to int, list bool) error {
	var samples []sample
	for seed := from; seed <= to; seed++ {
		drawn := append(sound(seed), broken(seed)...)
		samples = append(append(samples, drawn...), remade(drawn)...)
	}
	samples, missing := installed(samples)
	if len(missing) > 0 {
		fmt.Fprintln(os.Stderr, "bench: without files by", missing, "which are not installed")
	}
	dir, err := os.MkdirTemp("", "bench")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	engine := render.Start(render.Options{})
	defer engine.Close()
	verdicts := make([]judged, len(samples))
	work := make(chan int)
	var wait sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for i := range work {
				verdicts[i] = judge(engine, filepath.Join(dir, fmt.Sprint(i)), samples[i])
			}
		})
	}
	for i := range samples {
		work <- i
	}
	close(work)
	wait.Wait()
	return tell(os.Stdout, verdicts, list)
}

// judged is what the checks made of a sample.
type judged struct {
	sample
	blamed []string // rules that warn or fail
	err    error
}

func judge(engine *render.Engine, path string, s sample) judged {
	j := judged{sample: s}
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
	judge := checks.Judge{Ticket: ticket, Checks: checks.All(), Ceilings: art.DefaultCeilings(), Renderer: engine}
	told := map[string]bool{}
	for _, f := range judge.File(context.Background(), path).Findings {
		if (f.Verdict == rules.Warn || f.Verdict == rules.Fail) && !told[f.Rule] {
			told[f.Rule] = true
			j.blamed = append(j.blamed, f.Rule)
		}
	}
	return j
}
