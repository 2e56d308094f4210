//go:build !linux

package gate

import "testing"

const notHere = "file systems are mounted on Linux alone"

func mount(t *testing.T, _, _ string)     { t.Skip(notHere) }
func remount(t *testing.T, _, _ string)   { t.Skip(notHere) }
func unmountTo(t *testing.T, _, _ string) { t.Skip(notHere) }
func deny(t *testing.T, _ string, _ bool) { t.Skip(notHere) }
