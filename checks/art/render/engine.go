package render

import (
	"context"
	"fmt"
	"runtime"
	"sync"

	"github.com/klippa-app/go-pdfium"
)

// Options are the ceilings and places of an engine. The zero value is meant for
// use.
type Options struct {
	// CacheDir is the folder under which the renderer's machine code is kept,
	// in a folder of its own; "" is stoneproof's folder in the user's cache
	// folder. Where it cannot be written, each start compiles anew.
	CacheDir string
	// MemoryPages is the most memory of one instance, in units of 64 KiB;
	// 0 is 4096 (256 MiB). The renderer does not start with less than 512.
	MemoryPages uint32
	// Pixels is the most pixels of one picture; 0 is 40 million, an A4 page at
	// 600 pixels an inch.
	Pixels int64
	// OnCompile, if set, is called once when there is no usable machine code
	// and several seconds of making it begin. It is called on a goroutine of
	// the engine.
	OnCompile func()
}

const (
	leastPages    = 512
	defaultPages  = 4096
	defaultPixels = 40_000_000
	pageSize      = 1 << 16
)

// An Engine is a pool of sandboxed renderers. Its methods may be called from
// any goroutine.
type Engine struct {
	options Options
	slots   chan struct{} // one for each document that may be open

	boot  sync.Once
	ready chan struct{} // closed when pool and fault are set
	pool  pdfium.Pool
	fault error // why the pool is nil

	birth   sync.Mutex // held while an instance is made
	newborn *memory    // memory of the instance being made

	mu     sync.Mutex
	open   int // documents not yet closed
	closed bool
}

// Start returns an engine at once. The renderer itself starts in the background
// when it is first needed, or with [Engine.Warm].
func Start(o Options) *Engine {
	if o.MemoryPages == 0 {
		o.MemoryPages = defaultPages
	}
	o.MemoryPages = max(o.MemoryPages, leastPages)
	if o.Pixels == 0 {
		o.Pixels = defaultPixels
	}
	return &Engine{
		options: o,
		slots:   make(chan struct{}, runtime.GOMAXPROCS(0)),
		ready:   make(chan struct{}),
	}
}

// Warm starts the renderer in the background and returns at once: time to read
// the file's structure meanwhile.
func (e *Engine) Warm() {
	e.boot.Do(func() {
		go func() {
			defer close(e.ready)
			e.pool, e.fault = e.startPool()
		}()
	})
}

// Prepare makes the renderer's machine code, if none is kept, and waits for that:
// from then on a start takes a fraction of a second.
func (e *Engine) Prepare(ctx context.Context) {
	if openCache(e.options.CacheDir).intact() {
		return
	}
	e.Warm()
	select {
	case <-e.ready:
	case <-ctx.Done():
	}
}

// Open reads a PDF into a renderer of its own. Not more documents than the
// machine has processors are open at a time, and Open waits for one to be
// closed: do not wait for a second one while holding a first. Open keeps b,
// which must not change until the document is closed.
//
// Errors wrap [ErrUnreadable], [ErrMemory], [ErrStart] or [ErrClosed], or are
// that of ctx.
func (e *Engine) Open(ctx context.Context, b []byte) (*Doc, error) {
	if err := e.enter(ctx); err != nil {
		return nil, err
	}
	d := &Doc{engine: e, file: b, turn: make(chan struct{}, 1)}
	if err := d.run(ctx, d.reopen); err != nil {
		d.Close()
		return nil, err
	}
	return d, nil
}

// enter waits for the renderer and for a slot, and takes the slot.
func (e *Engine) enter(ctx context.Context) error {
	e.mu.Lock()
	if e.closed {
		e.mu.Unlock()
		return ErrClosed
	}
	e.open++
	e.mu.Unlock()

	e.Warm()
	select {
	case <-e.ready:
	case <-ctx.Done():
		e.leave()
		return ctx.Err()
	}
	if e.fault != nil {
		e.leave()
		return fmt.Errorf("%w: %w", ErrStart, e.fault)
	}
	select {
	case e.slots <- struct{}{}:
		return nil
	case <-ctx.Done():
		e.leave()
		return ctx.Err()
	}
}

// leave is told when a document is gone for good; the last one of a closed
// engine takes the renderer down.
func (e *Engine) leave() {
	e.mu.Lock()
	e.open--
	last := e.closed && e.open == 0
	e.mu.Unlock()
	if last {
		e.stop()
	}
}

// Close takes the renderer down, or leaves that to the last open document. It
// waits for nothing.
func (e *Engine) Close() {
	e.mu.Lock()
	last := !e.closed && e.open == 0
	e.closed = true
	e.mu.Unlock()
	if last {
		e.stop()
	}
}

func (e *Engine) stop() {
	e.boot.Do(func() { close(e.ready) }) // never started: nothing to wait for
	end := func() {
		if e.pool != nil {
			_ = e.pool.Close() // nothing is left to lose
		}
	}
	select {
	case <-e.ready:
		end()
	default:
		go func() {
			<-e.ready
			end()
		}()
	}
}
