//go:build unix

package gate

import (
	"errors"
	"os"
	"syscall"
)

const noFollow = syscall.O_NOFOLLOW

// deviceOf is the number of the file system that a folder lies on.
func deviceOf(path string) (uint64, error) {
	info, err := os.Stat(path)
	if err != nil {
		return 0, err
	}
	if s, ok := info.Sys().(*syscall.Stat_t); ok {
		return uint64(s.Dev), nil
	}
	return 0, nil
}

func isOtherDevice(err error) bool { return errors.Is(err, syscall.EXDEV) }
