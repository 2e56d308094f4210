//go:build unix

package checks_test

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"stoneproof/checks/checktest"
	"stoneproof/rules"
)

// What stands where a file should be: a device, a pipe, a link to nothing, a
// folder. None may hang.
func TestFileOpensOddFiles(t *testing.T) {
	dir := t.TempDir()
	pipe, link, folder, loop := filepath.Join(dir, "pipe.pdf"), filepath.Join(dir, "link.pdf"), filepath.Join(dir, "card.pdf"), filepath.Join(dir, "loop.pdf")
	for _, err := range []error{syscall.Mkfifo(pipe, 0o644), os.Symlink(filepath.Join(dir, "nothing"), link), os.Mkdir(folder, 0o755), os.Symlink(loop, loop)} {
		if err != nil {
			t.Skip(err)
		}
	}
	for path, says := range map[string]string{
		pipe: "device or a pipe", link: "points to is not there", folder: "folder", loop: "links", "/dev/zero": "device or a pipe",
		filepath.Join(folder, "below.pdf"): "gone", strings.Repeat("a", 300) + ".pdf": "too long",
	} {
		r := checktest.Judge(t, path, rules.Order{})
		if verdicts(r, "file-opens") != "fail" || len(r.Findings) != 1 || !strings.Contains(words(r), says) {
			t.Errorf("%s: want it to speak of %q:\n%s", path, says, words(r))
		}
	}
}

func TestFileOpensForbidden(t *testing.T) {
	if os.Geteuid() == 0 {
		t.Skip("nothing is forbidden to the superuser")
	}
	path := kept(t, "card.pdf", card("").file())
	if err := os.Chmod(path, 0); err != nil {
		t.Fatal(err)
	}
	r := checktest.Judge(t, path, rules.Order{})
	if verdicts(r, "file-opens") != "fail" || !strings.Contains(words(r), "permission denied") {
		t.Errorf("says %s", words(r))
	}
}
