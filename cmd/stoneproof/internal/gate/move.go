package gate

import (
	"errors"
	"io/fs"
	"os"
	"syscall"
)

// mover gives files new names, never one that is taken. Its parts are fields so that
// a test can take one away.
type mover struct {
	exclusive func(from, to string) error // a rename that refuses to replace
	link      func(from, to string) error
}

func systemMover() mover { return mover{renameNew, os.Link} }

// move renames a file; fs.ErrExist tells that the name is taken. Where the system has
// no rename that refuses to replace, the file has both names for a moment: if that is
// where the power fails, moving again ends it.
func (m mover) move(from, to string) error {
	err := m.exclusive(from, to)
	if !unsupported(err) {
		return err
	}
	err = m.link(from, to)
	if errors.Is(err, fs.ErrExist) && isSame(from, to) || err == nil {
		return os.Remove(from)
	}
	if unsupported(err) || errors.Is(err, syscall.EPERM) {
		return &os.LinkError{Op: "move", Old: from, New: to, Err: errNoSafeMove}
	}
	return err
}

var errNoSafeMove = errors.New("its file system can neither rename without replacing nor link, so that files could be overwritten there")

// unsupported tells a call that the file system does not know from one that failed.
func unsupported(err error) bool {
	return errors.Is(err, errors.ErrUnsupported) || errors.Is(err, syscall.EINVAL) || errors.Is(err, syscall.ENOSYS)
}

func isSame(a, b string) bool {
	x, errX := os.Lstat(a)
	y, errY := os.Lstat(b)
	return errX == nil && errY == nil && os.SameFile(x, y)
}

func exists(path string) bool {
	_, err := os.Lstat(path)
	return err == nil
}

// gone reports whether there is certainly nothing at path.
func gone(path string) bool {
	_, err := os.Lstat(path)
	return errors.Is(err, fs.ErrNotExist)
}
