//go:build !unix

package gate

import (
	"errors"
	"os"
	"syscall"
)

const noFollow = 0

// deviceOf would be the number of the file system that a folder lies on.
func deviceOf(path string) (uint64, error) {
	_, err := os.Stat(path)
	return 0, err
}

// isOtherDevice: ERROR_NOT_SAME_DEVICE of Windows.
func isOtherDevice(err error) bool { return errors.Is(err, syscall.Errno(17)) }
