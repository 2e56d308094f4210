package render

import "testing"

// A memory keeps what it holds when it grows, and knows when it was refused.
func TestMemory(t *testing.T) {
	m, err := newMemory(8 * pageSize)
	if err != nil {
		t.Fatal(err)
	}
	defer m.Free()
	b := m.Reallocate(pageSize)
	b[0], b[pageSize-1] = 1, 2
	for pages := uint64(2); pages <= 8; pages++ {
		b = m.Reallocate(pages * pageSize)
		if uint64(len(b)) != pages*pageSize || b[0] != 1 || b[pageSize-1] != 2 || b[len(b)-1] != 0 {
			t.Fatalf("%d pages: %d bytes, or not what was there", pages, len(b))
		}
	}
	if m.refused.Load() {
		t.Error("refused within the limit")
	}
	if m.Reallocate(9*pageSize) != nil || !m.refused.Load() {
		t.Error("not refused beyond the limit")
	}
}
