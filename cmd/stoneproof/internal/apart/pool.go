package apart

import (
	"context"
	"errors"
	"os"
	"os/exec"
	"runtime"
	"sync"

	"stoneproof/checks"
	"stoneproof/checks/art"
	"stoneproof/rules"
)

// Options of a pool. The zero value is meant for use.
type Options struct {
	// Workers is how many files are judged at a time; 0 is one for each core.
	Workers int
	// Memory is how many bytes a child may hold; 0 is 2 GB: a picture may take
	// half of that by the ceilings of the reader.
	Memory int64
	// Files is after how many files a child is replaced; 0 is 200.
	Files int
	// OnCompile, if set, is called when the first child has to make the
	// renderer's machine code, which takes seconds.
	OnCompile func()
	// Child makes the command that runs [Serve]; nil is this program with
	// [Command].
	Child func() (*exec.Cmd, error)
}

const (
	usualMemory = 2 << 30
	usualFiles  = 200
)

// A Pool judges files in children. Its methods may be called from any goroutine.
type Pool struct {
	options Options
	places  chan *worker  // one for each worker; nil where it is yet to be started
	closing chan struct{} // closed when the pool is
	close   sync.Once
	first   chan struct{} // held by who starts the first child, alone
	begun   chan struct{} // closed when a child was once ready
	once    sync.Once     // closes begun
	starts  chan func()   // done by one thread: see starter
}

// Start makes a pool at once. Children are started as files need them.
func Start(o Options) *Pool {
	if o.Workers <= 0 {
		o.Workers = runtime.GOMAXPROCS(0)
	}
	if o.Memory <= 0 {
		o.Memory = usualMemory
	}
	if o.Files <= 0 {
		o.Files = usualFiles
	}
	if o.Child == nil {
		o.Child = again
	}
	p := &Pool{
		options: o, places: make(chan *worker, o.Workers), closing: make(chan struct{}),
		first: make(chan struct{}, 1), begun: make(chan struct{}), starts: make(chan func()),
	}
	for range o.Workers {
		p.places <- nil
	}
	go p.starter()
	return p
}

// again is the command that runs this program as a child. Its name stays, in case
// the program goes by it.
func again() (*exec.Cmd, error) {
	program, err := self()
	if err != nil {
		return nil, err
	}
	cmd := exec.Command(program, Command)
	cmd.Args[0] = os.Args[0]
	return cmd, nil
}

// starter starts children, all from one thread that lasts as long as the pool: the
// kernel ends a tied child when the thread that started it is gone.
func (p *Pool) starter() {
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	for start := range p.starts {
		start()
	}
}

// Judge judges files as j does, but in a child. The renderer of j is not used.
func (p *Pool) Judge(j *checks.Judge) checks.FileJudge {
	return func(ctx context.Context, path string) rules.FileReport {
		return p.file(ctx, requestOf(j, path)).report
	}
}

// See judges and sees a file as j.SeeFile does, but in a child.
func (p *Pool) See(j *checks.Judge) func(ctx context.Context, path string) (rules.FileReport, []rules.Picture) {
	return func(ctx context.Context, path string) (rules.FileReport, []rules.Picture) {
		q := requestOf(j, path)
		q.See = true
		s := p.file(ctx, q)
		return s.report, s.pictures
	}
}

// seen is a report, with the pictures that were asked for.
type seen struct {
	report   rules.FileReport
	pictures []rules.Picture
}

func unseen(path string, why *art.Fault) seen { return seen{report: checks.Unjudged(path, why)} }

// Close lets what is in hand be finished, refuses what comes, and ends all children.
func (p *Pool) Close() {
	p.close.Do(func() {
		close(p.closing)
		for range p.options.Workers {
			if w := <-p.places; w != nil {
				w.end()
				w.gone()
			}
		}
		close(p.starts)
	})
}

// file waits for a place and judges there.
func (p *Pool) file(ctx context.Context, q request) seen {
	if ctx.Err() != nil || p.closed() {
		return unseen(q.Path, art.Interrupted())
	}
	select {
	case w := <-p.places:
		r, w := p.judge(ctx, w, q)
		p.places <- w
		return r
	case <-ctx.Done():
	case <-p.closing:
	}
	return unseen(q.Path, art.Interrupted())
}

func (p *Pool) closed() bool {
	select {
	case <-p.closing:
		return true
	default:
		return false
	}
}

var errDeadline = errors.New("deadline")

// judge has w judge a file, or a new worker where w is nil, and tells which worker
// is there for the next one: nil, if none can be trusted. A file whose worker ends
// over it, though it had judged others before, gets one that is fresh: it may have
// suffered for those.
func (p *Pool) judge(ctx context.Context, w *worker, q request) (seen, *worker) {
	fresh := w == nil
	if fresh {
		var err error
		if w, err = p.begin(ctx); err != nil {
			return unseen(q.Path, unbegun(ctx, err)), nil
		}
	}
	limited, cancel := context.WithTimeoutCause(ctx, q.time(), errDeadline)
	defer cancel()
	r, err := w.judge(limited, q)
	if err == nil {
		if w.judged++; w.judged >= p.options.Files {
			w.end()
			w = nil
		}
		return r, w
	}
	err = w.obituary(err)
	if !fresh && limited.Err() == nil {
		return p.judge(ctx, nil, q)
	}
	return unseen(q.Path, w.faultOf(limited, q.time(), err)), nil
}

// begin starts a worker. The first of a pool starts alone: if the renderer's machine
// code has to be made, it makes it for all.
func (p *Pool) begin(ctx context.Context) (*worker, error) {
	select {
	case <-p.begun:
	case p.first <- struct{}{}:
		defer func() { <-p.first }()
	case <-ctx.Done():
		return nil, ctx.Err()
	}
	w, err := p.newWorker(ctx)
	if err == nil {
		p.once.Do(func() { close(p.begun) })
	}
	return w, err
}
