//go:build !unix

package render

// A reservation is a slice that grows by copying, where the system has no
// portable way to reserve addresses.
type reservation struct {
	b     []byte
	limit uint64
}

func reserve(limit uint64) (reservation, error) { return reservation{limit: limit}, nil }

func (r *reservation) grow(size uint64) []byte {
	if size > r.limit {
		return nil
	}
	if size > uint64(cap(r.b)) {
		room := min(size+size/4, r.limit) // fewer copies for little waste
		grown := make([]byte, size, room)
		copy(grown, r.b)
		r.b = grown
	}
	r.b = r.b[:size]
	return r.b
}

func (r *reservation) release() { r.b = nil }
