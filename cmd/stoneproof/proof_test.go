package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestProofNames(t *testing.T) {
	taken := map[string]bool{}
	for _, c := range []struct{ of, want string }{
		{"cards/potter.pdf", "potter-side-1.png"}, {"old/Potter.PDF", "Potter-2-side-1.png"}, {"potter-2.pdf", "potter-2-2-side-1.png"},
		{"Töpferei №3.tif", "Töpferei--3-side-1.png"}, {"..pdf", "card-side-1.png"}, {"a\nb\u202ec.png", "a-b-c-side-1.png"},
		{`c:\cards\baker.jpg`, "c--cards-baker-side-1.png"},
	} {
		if got := proofName(staged{of: c.of, side: 1}, taken); got != c.want {
			t.Errorf("the proof of %q is called %q, want %q", c.of, got, c.want)
		}
	}
}

// Whatever the artwork is called, its proof lies in its folder, and can be made.
func TestProofNamesAreHarmless(t *testing.T) {
	dir := t.TempDir()
	rapid.Check(t, func(t *rapid.T) {
		name := proofName(staged{of: rapid.String().Draw(t, "name"), side: 1}, map[string]bool{})
		if filepath.Base(name) != name || strings.HasPrefix(name, ".") || strings.HasPrefix(name, "-") || len(name) > 200 {
			t.Fatalf("the name is %q", name)
		}
		if err := os.WriteFile(filepath.Join(dir, name), nil, 0o600); err != nil {
			t.Fatal(err)
		}
	})
}
