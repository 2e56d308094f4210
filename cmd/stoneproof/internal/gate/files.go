package gate

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
)

// writeStaged writes a file under a name that nobody looks at, and syncs it.
func writeStaged(path string, data []byte) (err error) {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_TRUNC|os.O_WRONLY, 0o644)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	if _, err := f.Write(data); err != nil {
		return err
	}
	return f.Sync()
}

// replaceFile writes beside, syncs and renames: a reader sees the old file or the new.
func replaceFile(path string, data []byte) error {
	beside := path + ".new"
	if err := writeStaged(beside, data); err != nil {
		return err
	}
	if err := os.Rename(beside, path); err != nil {
		return err
	}
	return syncDir(filepath.Dir(path))
}

// syncDir makes the names in a folder outlast a power failure, where the file system
// has a way to ask for it.
func syncDir(path string) error {
	d, err := os.Open(path)
	if err != nil {
		return err
	}
	defer d.Close()
	if err := d.Sync(); err != nil && !unsupported(err) && !errors.Is(err, fs.ErrPermission) && !errors.Is(err, syscall.EBADF) {
		return err
	}
	return nil
}

// makeDirs makes the folders of rel below root, but never root itself: where that is
// gone, something is wrong that a new folder would hide.
func makeDirs(root, rel string) error {
	if rel == "." || rel == "" {
		return nil
	}
	if err := makeDirs(root, filepath.Dir(rel)); err != nil {
		return err
	}
	path := filepath.Join(root, rel)
	err := os.Mkdir(path, 0o777)
	switch {
	case err == nil:
		return syncDir(filepath.Dir(path))
	case !errors.Is(err, fs.ErrExist):
		return err
	}
	if info, err := os.Stat(path); err != nil || !info.IsDir() {
		return &fs.PathError{Op: "mkdir", Path: path, Err: syscall.ENOTDIR}
	}
	return nil
}

// openArt opens a file to read it: no link is followed, no pipe waited for.
func openArt(path string) (*os.File, fs.FileInfo, error) {
	f, err := os.OpenFile(path, os.O_RDONLY|syscall.O_NONBLOCK|noFollow, 0)
	if err != nil {
		return nil, nil, err
	}
	info, err := f.Stat()
	if err == nil && !info.Mode().IsRegular() {
		err = &fs.PathError{Op: "open", Path: path, Err: errors.New("it is no ordinary file any more")}
	}
	if err != nil {
		f.Close()
		return nil, nil, err
	}
	return f, info, nil
}

// hashOf is the SHA-256 of a file.
func hashOf(path string) (string, error) {
	f, _, err := openArt(path)
	if err != nil {
		return "", err
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return "", err
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

// copyAcross copies a file to another file system, syncs it, and reads it again to
// compare.
func copyAcross(from, to, sum string) (err error) {
	in, info, err := openArt(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.OpenFile(to, os.O_CREATE|os.O_TRUNC|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	if err == nil {
		err = out.Chmod(info.Mode().Perm())
	}
	if err == nil {
		err = out.Sync()
	}
	if err = errors.Join(err, out.Close()); err != nil {
		return err
	}
	if err := os.Chtimes(to, info.ModTime(), info.ModTime()); err != nil {
		return err
	}
	if copied, err := hashOf(to); err != nil || copied != sum {
		return errors.Join(err, fmt.Errorf("the copy of %q differs from it", filepath.Base(from)))
	}
	return nil
}
