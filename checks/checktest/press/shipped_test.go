package press

import (
	"bytes"
	"flag"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the shipped art anew")

// TestShippedIsWhatIsMade keeps the committed art and its recipe together.
func TestShippedIsWhatIsMade(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long, in one goroutine")
	}
	for _, f := range Shipped() {
		t.Run(f.Name, func(t *testing.T) {
			path := filepath.Join(Testdata(), filepath.FromSlash(f.Name))
			made := f.Bytes()
			if *update {
				write(t, path, made)
			}
			kept, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			// Elsewhere a multiplication and an addition may be one step, rounded
			// once, so pictures differ in single bits.
			if runtime.GOARCH == "amd64" && !bytes.Equal(kept, made) {
				t.Errorf("%s: kept %d bytes, made %d: run this test with -update and look at the file", f.Name, len(kept), len(made))
			}
			if len(made) > 310<<10 {
				t.Errorf("%s has %d bytes: too heavy to ship", f.Name, len(made))
			}
		})
	}
}

func write(t *testing.T, path string, b []byte) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, b, 0o644); err != nil {
		t.Fatal(err)
	}
}

// TestShippedIsToldOf finds every file of testdata in its README, and no file
// in good or broken that no recipe makes.
func TestShippedIsToldOf(t *testing.T) {
	told, err := os.ReadFile(filepath.Join(Testdata(), "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, f := range Shipped() {
		names = append(names, f.Name)
	}
	total := 0
	for _, folder := range []string{"good", "sizes", "broken", "foreign"} {
		err := fs.WalkDir(os.DirFS(Testdata()), folder, func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || d.Name() == "want.txt" { // the cases' expectations
				return err
			}
			info, err := d.Info()
			if err != nil {
				return err
			}
			total += int(info.Size())
			if !strings.Contains(string(told), "`"+path+"`") {
				t.Errorf("testdata/README.md does not tell of %s", path)
			}
			if folder != "foreign" && !slices.Contains(names, path) {
				t.Errorf("nothing makes testdata/%s", path)
			}
			return nil
		})
		if err != nil {
			t.Error(err)
		}
	}
	if total > 4<<20 {
		t.Errorf("testdata weighs %d bytes: keep it under 4 MB", total)
	}
}
