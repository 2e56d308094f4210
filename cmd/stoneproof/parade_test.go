//go:build unix

package main

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// TestGateParade sends files made to harm through the gate, and good ones behind them:
// each is held or left alone with its reason, and the good ones are cleared.
func TestGateParade(t *testing.T) {
	if testing.Short() {
		t.Skip("makes and reads bombs")
	}
	good, err := os.ReadFile("../../testdata/good/beekeeper-engraved-us-business.pdf")
	if err != nil {
		t.Fatal(err)
	}
	root := t.TempDir()
	in := filepath.Join(root, "in")
	for _, dir := range []string{"in/loop/deep", "ready", "back"} {
		if err := os.MkdirAll(filepath.Join(root, dir), 0o777); err != nil {
			t.Fatal(err)
		}
	}
	held := map[string][]byte{
		"ring.pdf":          pagesInARing(),
		"bomb.pdf":          streamOf(bytes.Repeat([]byte(" "), 128<<20)),
		"endless.pdf":       append([]byte("%PDF-1.7\n1 0 obj\n<< /Length 2000000000 >>\nstream\n"), bytes.Repeat([]byte("0 0 9 9 re f "), 1<<16)...),
		"huge.png":          pngHeader(60_000, 60_000),
		"cut.pdf":           good[:len(good)/2],
		"cut.png":           pngHeader(1050, 600),
		"nothing.tif":       nil,
		"words.docx":        []byte("words"),
		"\xff\xfe name.gif": []byte("GIF89a\xff\xff\xff\xff\xff"),
	}
	for name, text := range held {
		writeFile(t, filepath.Join(in, name), text)
	}
	for n := range 3 {
		writeFile(t, filepath.Join(in, fmt.Sprintf("zz-good-%d.pdf", n)), good)
	}
	left := []string{"out.pdf", "loop/deep/back", "pipe.pdf", "device.pdf"}
	for name, to := range map[string]string{"out.pdf": "/etc/passwd", "loop/deep/back": "../../loop"} {
		if err := os.Symlink(to, filepath.Join(in, name)); err != nil {
			t.Fatal(err)
		}
	}
	if err := syscall.Mkfifo(filepath.Join(in, "pipe.pdf"), 0o666); err != nil {
		t.Fatal(err)
	}
	const zero = 1<<8 | 5 // /dev/zero
	if err := syscall.Mknod(filepath.Join(in, "device.pdf"), syscall.S_IFCHR|0o666, zero); err != nil {
		left = left[:3] // only root may make one
	}
	var out, errs bytes.Buffer
	status := run([]string{"gate", in, "--cleared", filepath.Join(root, "ready"), "--held", filepath.Join(root, "back"), "--once", "--settle", "200ms"},
		strings.NewReader(""), &out, &errs)
	if status != exitFailed {
		t.Errorf("exit status %d\n%s\n%s", status, &out, &errs)
	}
	for name, text := range held {
		if got, err := os.ReadFile(filepath.Join(root, "back", name)); err != nil || !bytes.Equal(got, text) {
			t.Errorf("%q is not held as it came: %v", name, err)
		}
		told, _ := os.ReadFile(filepath.Join(root, "back", name+".report.html"))
		if !bytes.Contains(told, []byte("file-opens")) {
			t.Errorf("%q is held without its reason:\n%.400s", name, told)
		}
	}
	for n := range 3 {
		if got, err := os.ReadFile(filepath.Join(root, "ready", fmt.Sprintf("zz-good-%d.pdf", n))); err != nil || !bytes.Equal(got, good) {
			t.Errorf("a good card was not cleared: %v", err)
		}
	}
	for _, name := range left {
		if _, err := os.Lstat(filepath.Join(in, name)); err != nil || !strings.Contains(errs.String(), name+" is left alone: a ") {
			t.Errorf("%s is not left alone with a word: %v\n%s", name, err, &errs)
		}
	}
}

func writeFile(t *testing.T, path string, text []byte) {
	t.Helper()
	if err := os.WriteFile(path, text, 0o666); err != nil {
		t.Fatal(err)
	}
}

func pagesInARing() []byte {
	return []byte("%PDF-1.7\n1 0 obj\n<< /Type /Catalog /Pages 2 0 R >>\nendobj\n" +
		"2 0 obj\n<< /Type /Pages /Kids [2 0 R 2 0 R] /Count 2 >>\nendobj\ntrailer\n<< /Size 3 /Root 1 0 R >>\n%%EOF\n")
}

// streamOf is a card whose content is text, packed very small.
func streamOf(text []byte) []byte {
	var packed bytes.Buffer
	w := zlib.NewWriter(&packed)
	w.Write(text)
	w.Close()
	return fmt.Appendf(nil, "%%PDF-1.7\n1 0 obj\n<< /Type /Catalog /Pages 2 0 R >>\nendobj\n"+
		"2 0 obj\n<< /Type /Pages /Kids [3 0 R] /Count 1 >>\nendobj\n"+
		"3 0 obj\n<< /Type /Page /Parent 2 0 R /MediaBox [0 0 270 162] /Contents 4 0 R >>\nendobj\n"+
		"4 0 obj\n<< /Length %d /Filter /FlateDecode >>\nstream\n%s\nendstream\nendobj\ntrailer\n<< /Size 5 /Root 1 0 R >>\n%%%%EOF\n",
		packed.Len(), packed.Bytes())
}

// pngHeader is a PNG that is cut off behind its header.
func pngHeader(w, h uint32) []byte {
	chunk := append([]byte("IHDR"), binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, w), h)...)
	chunk = append(chunk, 8, 2, 0, 0, 0)
	b := append([]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\x0d"), chunk...)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(chunk))
}
