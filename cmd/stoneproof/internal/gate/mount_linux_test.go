package gate

import (
	"os"
	"testing"

	"golang.org/x/sys/unix"
)

// mount lays a file system in memory onto a folder; only root may.
func mount(t *testing.T, path, options string) {
	t.Helper()
	if os.Getuid() != 0 {
		t.Skip("only root may mount a file system")
	}
	if err := unix.Mount("none", path, "tmpfs", 0, options); err != nil {
		t.Skip("no file system can be mounted here: ", err)
	}
	t.Cleanup(func() { unix.Unmount(path, unix.MNT_DETACH) })
}

func remount(t *testing.T, path, how string) {
	flags := uintptr(unix.MS_REMOUNT)
	if how == "ro" {
		flags |= unix.MS_RDONLY
	}
	must(t, unix.Mount("none", path, "tmpfs", flags, ""))
}

// unmountTo takes a file system from one folder and mounts it on another.
func unmountTo(t *testing.T, from, to string) {
	must(t, os.MkdirAll(to, 0o777))
	must(t, unix.Mount(from, to, "", unix.MS_MOVE, ""))
	t.Cleanup(func() { unix.Unmount(to, unix.MNT_DETACH) })
}

// deny makes a folder refuse new names to everybody: by its permissions, or for root,
// whom they do not stop, by the flag of immutable files.
func deny(t *testing.T, path string, yes bool) {
	t.Helper()
	if os.Getuid() != 0 {
		mode := os.FileMode(0o777)
		if yes {
			mode = 0o555
		}
		must(t, os.Chmod(path, mode))
		return
	}
	d, err := os.Open(path)
	must(t, err)
	defer d.Close()
	const immutable = 0x10 // FS_IMMUTABLE_FL of linux/fs.h
	flags, err := unix.IoctlGetInt(int(d.Fd()), unix.FS_IOC_GETFLAGS)
	if err == nil {
		flags &^= immutable
		if yes {
			flags |= immutable
		}
		err = unix.IoctlSetPointerInt(int(d.Fd()), unix.FS_IOC_SETFLAGS, flags)
	}
	if err != nil {
		t.Skip("root cannot be denied here: ", err)
	}
}
