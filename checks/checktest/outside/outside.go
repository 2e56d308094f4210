// Package outside finds the independent programs that tests compare with.
package outside

import (
	"os"
	"os/exec"
	"testing"
)

// Tool is the path of an independent program. Without the program a test is
// skipped, but fails where STONEPROOF_CI is 1 and all of them must be there. Short runs
// compare with no other program: under the race detector that takes long and shows
// nothing that the whole run does not.
func Tool(t testing.TB, name string) string {
	t.Helper()
	if testing.Short() {
		t.Skip("compares with ", name)
	}
	path, err := exec.LookPath(name)
	if err == nil {
		return path
	}
	if os.Getenv("STONEPROOF_CI") == "1" {
		t.Fatalf("%s is not installed", name)
	}
	t.Skipf("%s is not installed", name)
	return ""
}
