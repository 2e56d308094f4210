package render

import (
	"sync/atomic"

	"github.com/tetratelabs/wazero/experimental"
)

// A memory is the linear memory of one instance. It never grows past its limit,
// and remembers that it was asked to: the renderer passes over some failed
// allocations in silence, and the page then lacks what needed them.
type memory struct {
	pages   reservation
	refused atomic.Bool
}

var _ experimental.LinearMemory = (*memory)(nil)

// newMemory reserves room for limit bytes without taking them from the machine.
func newMemory(limit uint64) (*memory, error) {
	r, err := reserve(limit)
	if err != nil {
		return nil, err
	}
	return &memory{pages: r}, nil
}

// Reallocate makes the memory size bytes long, keeping what it holds, or
// returns nil when that is more than the limit.
func (m *memory) Reallocate(size uint64) []byte {
	b := m.pages.grow(size)
	if b == nil {
		m.refused.Store(true)
	}
	return b
}

// Free gives the memory back to the machine.
func (m *memory) Free() { m.pages.release() }
