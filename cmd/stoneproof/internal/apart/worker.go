package apart

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"time"
)

const (
	// A start that compiles the renderer takes some ten seconds.
	mostStart = 5 * time.Minute
	// How often a child's memory is looked at. It can fill some 100 MB meanwhile.
	watchEvery = 25 * time.Millisecond
	// How long to wait for what a child leaves when it ends: its status and words.
	lastWords = 2 * time.Second
)

// Why a child gave no answer.
var (
	errMemory = errors.New("too much memory")
	errDying  = errors.New("dying") // it says so itself; its tale of a deep stack can take longer than a file may
)

// A worker is a child process, asked one thing at a time.
type worker struct {
	cmd    *exec.Cmd
	in     io.WriteCloser
	out    *os.File
	said   *words
	exited chan struct{} // closed when the process is gone
	memory int64         // that it may hold
	judged int           // files so far
}

// newWorker starts a child and waits until it is ready.
func (p *Pool) newWorker(ctx context.Context) (*worker, error) {
	w, err := p.launch()
	if err != nil {
		return nil, err
	}
	ctx, cancel := context.WithTimeout(ctx, mostStart)
	defer cancel()
	var message any = settings{Memory: p.options.Memory}
	for {
		a, err := w.ask(ctx, message)
		switch {
		case err != nil:
			return nil, w.obituary(err)
		case a.Ready:
			return w, nil
		case a.Compiling && p.options.OnCompile != nil:
			p.options.OnCompile()
		}
		message = nil
	}
}

// launch starts the process with pipes to it.
func (p *Pool) launch() (*worker, error) {
	cmd, err := p.options.Child()
	if err != nil {
		return nil, err
	}
	tie(cmd)
	w := &worker{cmd: cmd, said: &words{}, exited: make(chan struct{}), memory: p.options.Memory}
	cmd.Stderr = w.said
	cmd.WaitDelay = lastWords
	if w.in, err = cmd.StdinPipe(); err != nil {
		return nil, err
	}
	// A pipe of our own: that of cmd is closed with answers in it.
	out, theirs, err := os.Pipe()
	if err != nil {
		return nil, err
	}
	defer theirs.Close()
	w.out, cmd.Stdout = out, theirs
	started := make(chan error)
	p.starts <- func() { started <- cmd.Start() }
	if err := <-started; err != nil {
		out.Close()
		return nil, err
	}
	go func() {
		_ = cmd.Wait() // the status is read from the process's state
		close(w.exited)
	}()
	return w, nil
}

// judge has the child judge a file, and draw it if that was asked for.
func (w *worker) judge(ctx context.Context, q request) (seen, error) {
	w.said.forget()
	a, err := w.ask(ctx, q)
	if err != nil {
		return seen{}, err
	}
	if a.Report == nil || a.Report.Path != q.Path {
		return seen{}, fmt.Errorf("%w: no report of this file", errGarbled)
	}
	s := seen{report: *a.Report}
	for _, p := range a.Pictures {
		s.pictures = append(s.pictures, p.received())
	}
	return s, nil
}

// ask sends a message, if there is one, and waits for the answer: while ctx lasts
// and the child keeps its ceiling of memory. After an error the child is of no more
// use.
func (w *worker) ask(ctx context.Context, message any) (answer, error) {
	type result struct {
		answer answer
		err    error
	}
	done := make(chan result, 1)
	go func() {
		var r result
		if message != nil {
			r.err = send(w.in, message)
		}
		if r.err == nil {
			r.err = receive(w.out, &r.answer)
		}
		done <- r
	}()
	tick := time.NewTicker(watchEvery)
	defer tick.Stop()
	for {
		select {
		case r := <-done:
			return r.answer, r.err
		case <-ctx.Done():
			return answer{}, ctx.Err()
		case <-tick.C:
			switch {
			case resident(w.cmd.Process.Pid) > w.memory:
				return answer{}, errMemory
			case w.said.fatal():
				return answer{}, errDying
			}
		}
	}
}

// end ends the child at once: between files it has nothing to lose, and over one
// nothing that is wanted. It does not wait: a process that hangs in the system, on
// a disk that does not answer, dies when that does.
func (w *worker) end() {
	_ = w.cmd.Process.Kill() // fails only if it is gone
	w.in.Close()
	w.out.Close()
}

// gone waits until the process is gone, but not for one that hangs in the system.
func (w *worker) gone() bool {
	select {
	case <-w.exited:
		return true
	case <-time.After(lastWords):
		return false
	}
}
