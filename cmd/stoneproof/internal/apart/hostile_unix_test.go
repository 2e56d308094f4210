//go:build unix

package apart

import (
	"net"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// What is no file, or not the one it seems: pipes, devices, sockets, links out of
// the folder, links and folders in a ring. None may hang, and none be read that is
// no artwork.
func TestHostileNoFiles(t *testing.T) {
	dir := t.TempDir()
	in := func(name string) string { return filepath.Join(dir, name) }
	for _, err := range []error{
		syscall.Mkfifo(in("pipe.pdf"), 0o644),
		os.Symlink(in("pipe.pdf"), in("to-pipe.pdf")),
		os.Symlink("/dev/zero", in("to-zero.pdf")),
		os.Symlink("/etc/passwd", in("out.pdf")),
		os.Symlink("../../../../../nowhere.pdf", in("nowhere.pdf")),
		os.Symlink(in("ring.pdf"), in("ring.pdf")),
		os.Mkdir(in("folder.pdf"), 0o755),
		os.Symlink(dir, in("loop")),
		os.Symlink("/proc/self/mem", in("memory.pdf")),
	} {
		if err != nil {
			t.Skip(err)
		}
	}
	if l, err := net.Listen("unix", in("socket.pdf")); err == nil {
		defer l.Close()
	}
	p := start(t, Options{Workers: 2})
	for path, says := range map[string]string{
		in("pipe.pdf"):    "not a file but a device or a pipe",
		in("to-pipe.pdf"): "not a file but a device or a pipe",
		in("to-zero.pdf"): "not a file but a device or a pipe",
		in("socket.pdf"):  "not a file but a device or a pipe",
		in("out.pdf"):     "the content is not a PDF",
		in("nowhere.pdf"): "what it points to is not there",
		in("ring.pdf"):    "links",
		in("folder.pdf"):  "folder with the name of a file",
		in("memory.pdf"):  "",
		filepath.Join(dir, strings.Repeat("loop/", 60), "card.pdf"): "links",
		"/dev/zero": "not a file but a device or a pipe",
	} {
		parade(t, p, path, says)
	}
	stillSound(t, p)
}
