package apart

import (
	"context"
	"fmt"
	"io"
	"runtime"
	"runtime/debug"
	"time"

	"stoneproof/checks"
	"stoneproof/checks/art/render"
	"stoneproof/rules"
)

// Command is the word by which the program is told to be a child.
const Command = "judge-apart"

// childCores is how many cores a child uses: one judges, and the other collects
// what is thrown away.
const childCores = 2

// Serve is a child's whole life: it judges what in asks for and answers to out,
// until in ends.
func Serve(in io.Reader, out io.Writer) error {
	var s settings
	switch err := receive(in, &s); {
	case err == io.EOF:
		return nil // nobody is there
	case err != nil:
		return err
	}
	holdMemory(s.Memory)
	c := child{out: out}
	c.renderer = render.Start(render.Options{OnCompile: func() { _ = send(out, answer{Compiling: true}) }})
	defer c.renderer.Close()
	ctx, cancel := context.WithCancelCause(context.Background())
	defer cancel(nil)
	requests := make(chan request)
	go listen(ctx, cancel, in, requests)
	c.renderer.Prepare(ctx) // on all cores, and on no file's time
	runtime.GOMAXPROCS(min(childCores, runtime.GOMAXPROCS(0)))
	if err := send(out, answer{Ready: true}); err != nil {
		return err
	}
	for {
		select {
		case q := <-requests:
			if err := c.serve(ctx, q); err != nil {
				return err
			}
		case <-ctx.Done():
			return ended(ctx)
		}
	}
}

// listen reads requests also while one is judged, to hear when the parent is gone.
func listen(ctx context.Context, cancel context.CancelCauseFunc, in io.Reader, requests chan<- request) {
	for {
		var q request
		if err := receive(in, &q); err != nil {
			cancel(err)
			return
		}
		select {
		case requests <- q:
		case <-ctx.Done():
			return
		}
	}
}

// ended is how a child's life ends: well, if its input did.
func ended(ctx context.Context) error {
	if err := context.Cause(ctx); err != io.EOF {
		return err
	}
	return nil
}

type child struct {
	out      io.Writer
	renderer *render.Engine
}

func (c child) serve(ctx context.Context, q request) error {
	chosen, err := q.checks()
	if err != nil {
		return err
	}
	j := &checks.Judge{Ticket: q.Ticket, Checks: chosen, Ceilings: q.Ceilings, Renderer: c.renderer, Strict: q.Strict}
	j.Ceilings.Deadline += parentsWatch
	var report rules.FileReport
	var pictures []rules.Picture
	if q.See {
		report, pictures = j.SeeFile(ctx, q.Path)
	} else {
		report = j.File(ctx, q.Path)
	}
	if ctx.Err() != nil {
		return ended(ctx)
	}
	if err := c.answer(report, pictures); err != nil {
		return err
	}
	tidy()
	return nil
}

// parentsWatch is by how much a child's own deadline is later than its parent's,
// who keeps it. It serves where a parent is stopped but not gone.
const parentsWatch = time.Minute

// answer sends a report with its pictures, or says why it is too large to be sent.
func (c child) answer(r rules.FileReport, pictures []rules.Picture) error {
	a := answer{Report: &r}
	for _, p := range pictures {
		a.Pictures = append(a.Pictures, sent(p))
	}
	if err := send(c.out, a); err != nil {
		return fmt.Errorf("report of %q: %w", r.Path, err)
	}
	return nil
}

// mostStack is how deep a child may call: a fourth of what Go would allow, and far
// under the ceiling of memory, that the cause is told rightly.
const mostStack = 256 << 20

// holdMemory makes this process collect what is thrown away before the ceiling is
// reached, and has the system refuse it much more. The parent's eye is on what lies
// between.
func holdMemory(ceiling int64) {
	debug.SetMemoryLimit(ceiling / 4 * 3) // the renderer's memory is no part of it
	debug.SetMaxStack(mostStack)
	refuseMemory(ceiling + reserved)
}

// reserved is what a child reserves and does not use: 256 MB for an instance of the
// renderer, and what the heap has mapped and given back.
const reserved = 1 << 30

// keptFree is how much free memory a child may keep for the next file.
const keptFree = 128 << 20

// tidy gives memory back to the system after a large file, that the next one is not
// taken for a large one.
func tidy() {
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	if m.HeapAlloc > keptFree || m.HeapIdle-m.HeapReleased > keptFree {
		debug.FreeOSMemory()
	}
}
