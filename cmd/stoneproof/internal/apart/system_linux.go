package apart

import (
	"fmt"
	"os"
	"os/exec"
	"syscall"
)

// self is this very program, also after another was put in its place: parent and
// child must be one build to understand each other.
func self() (string, error) { return "/proc/self/exe", nil }

// tie has the kernel end the child when the thread that started it dies.
func tie(cmd *exec.Cmd) {
	cmd.SysProcAttr = &syscall.SysProcAttr{Pdeathsig: syscall.SIGKILL}
}

// refuseMemory has the system refuse this process more than so many bytes of data,
// reserved or used (getrlimit(2), RLIMIT_DATA). RLIMIT_AS would not do: a Go program
// reserves addresses without end.
func refuseMemory(most int64) {
	limit := syscall.Rlimit{Cur: uint64(most), Max: uint64(most)}
	_ = syscall.Setrlimit(syscall.RLIMIT_DATA, &limit) // the parent watches all the same
}

// resident is how many bytes of memory a process holds (proc(5), statm); 0 where it
// is gone.
func resident(pid int) int64 {
	statm, err := os.ReadFile(fmt.Sprintf("/proc/%d/statm", pid))
	if err != nil {
		return 0
	}
	var size, pages int64
	fmt.Sscan(string(statm), &size, &pages)
	return pages * int64(os.Getpagesize())
}
