//go:build !linux

package gate

import (
	"errors"
	"os"
)

// renameNew would rename, but not onto something; here link and remove do that.
func renameNew(string, string) error { return errors.ErrUnsupported }

// openForWriting would tell whether some process has the file open for writing; here
// that is not known.
func openForWriting(*os.File) bool { return false }

// machine and processStart would tell whether another gate's process still runs; here
// its heartbeat alone does.
func machine() string { return "" }

func processStart(int) string { return "" }
