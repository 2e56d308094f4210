package gate

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"strings"

	"golang.org/x/sys/unix"
)

// renameNew renames, but not onto something: fs.ErrExist.
func renameNew(from, to string) error {
	err := unix.Renameat2(unix.AT_FDCWD, from, unix.AT_FDCWD, to, unix.RENAME_NOREPLACE)
	if err != nil {
		return &os.LinkError{Op: "rename", Old: from, New: to, Err: err}
	}
	return nil
}

// openForWriting reports whether some process on this machine has the file open for
// writing. The kernel grants a read lease only where none has (fcntl(2), F_SETLEASE);
// where it grants none for another reason, such as a network file system, nothing is
// known and the answer is no.
func openForWriting(f *os.File) bool {
	_, err := unix.FcntlInt(f.Fd(), unix.F_SETLEASE, unix.F_RDLCK)
	if err == nil {
		unix.FcntlInt(f.Fd(), unix.F_SETLEASE, unix.F_UNLCK)
	}
	return errors.Is(err, unix.EAGAIN)
}

// machine names the kernel's run and the process namespace: within them a process is
// known by its number and its start. It is empty where the system does not tell.
func machine() string {
	boot, errBoot := os.ReadFile("/proc/sys/kernel/random/boot_id")
	space, errSpace := os.Readlink("/proc/self/ns/pid")
	if errBoot != nil || errSpace != nil {
		return ""
	}
	return strings.TrimSpace(string(boot)) + " " + space
}

// processStart is when a process was started, in the kernel's ticks, and empty where
// there is none of that number (proc(5), /proc/PID/stat, fields 3 and 22).
func processStart(pid int) string {
	stat, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	if err != nil {
		return ""
	}
	// The name in brackets may hold anything, brackets too.
	fields := bytes.Fields(stat[bytes.LastIndexByte(stat, ')')+1:])
	const state, start = 0, 22 - 3
	if len(fields) <= start || bytes.ContainsAny(fields[state], "ZXx") {
		return "" // a zombie does nothing any more
	}
	return string(fields[start])
}
