package render

import (
	"context"
	"fmt"
	"io"
	"runtime"

	"github.com/klippa-app/go-pdfium"
	"github.com/klippa-app/go-pdfium/webassembly"
	"github.com/tetratelabs/wazero"
	"github.com/tetratelabs/wazero/api"
	"github.com/tetratelabs/wazero/experimental"
)

// startPool loads the renderer's machine code from the cache, or makes it and
// keeps it there, or makes it for this run alone.
func (e *Engine) startPool() (pdfium.Pool, error) {
	kept := openCache(e.options.CacheDir)
	if kept.intact() {
		if pool, err := e.newPool(kept.dir); err == nil {
			kept.seal() // code made beside the old, if that was for another processor
			return pool, nil
		}
	}
	if e.options.OnCompile != nil {
		e.options.OnCompile()
	}
	if kept.renew() {
		if pool, err := e.newPool(kept.dir); err == nil {
			kept.seal()
			return pool, nil
		}
	}
	return e.newPool("")
}

// newPool starts the runtime with its machine code in dir, or nowhere. It makes
// no instance yet.
func (e *Engine) newPool(dir string) (pool pdfium.Pool, err error) {
	defer func() {
		if r := recover(); r != nil {
			pool, err = nil, fmt.Errorf("the runtime broke down: %v", r)
		}
	}()
	config := wazero.NewRuntimeConfig().
		WithCoreFeatures(api.CoreFeaturesV2 | experimental.CoreFeaturesExceptionHandling) // the module uses exceptions
	if dir != "" {
		cache, err := wazero.NewCompilationCacheWithDir(dir)
		if err != nil {
			return nil, err
		}
		config = config.WithCompilationCache(cache)
	}
	ctx := experimental.WithCompilationWorkers(context.Background(), runtime.GOMAXPROCS(0))
	return webassembly.Init(webassembly.Config{
		Context:       experimental.WithMemoryAllocator(ctx, experimental.MemoryAllocatorFunc(e.allocate)),
		MaxTotal:      -1, // the engine's slots keep the count
		RuntimeConfig: config,
		FSConfig:      wazero.NewFSConfig(), // no files; nil would mean all of them
		Stdout:        io.Discard,
		Stderr:        io.Discard,
	})
}

// allocate is called by the runtime while it makes an instance. The limit is
// kept here and not by the runtime, so that refusals are known.
func (e *Engine) allocate(_, most uint64) experimental.LinearMemory {
	m, err := newMemory(min(most, uint64(e.options.MemoryPages)*pageSize))
	if err != nil {
		panic(err) // the interface has no error; newInstance recovers
	}
	e.newborn = m
	return m
}

// newInstance makes a renderer with a memory of its own.
func (e *Engine) newInstance() (in pdfium.Pdfium, m *memory, err error) {
	e.birth.Lock()
	defer e.birth.Unlock()
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("%w: no memory for the renderer: %v", ErrStart, r)
		}
	}()
	in, err = e.pool.GetInstanceWithContext(context.Background())
	if err != nil {
		return nil, nil, fmt.Errorf("%w: %w", ErrStart, err)
	}
	return in, e.newborn, nil
}
