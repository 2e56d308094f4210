package pdf

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"stoneproof/checks/checktest/outside"
)

func command(t testing.TB, name string, args ...string) string {
	t.Helper()
	out, err := exec.Command(outside.Tool(t, name), args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s %q: %v\n%s", name, args, err, out)
	}
	return string(out)
}

// saved writes bytes to a file of the test.
func saved(t testing.TB, name string, b []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, b, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func loaded(t testing.TB, path string) []byte {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return b
}
