package render

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

// compiled makes the renderer's code in the scratch folder, once, and tells how
// often the engine said so. In its place lies a file without a seal.
var compiled = sync.OnceValue(func() (announced int) {
	place := filepath.Join(openCache(scratch).dir, "runtime")
	if err := errors.Join(os.MkdirAll(place, 0o700), os.WriteFile(filepath.Join(place, "code"), nil, 0o600)); err != nil {
		panic(err)
	}
	e := Start(Options{CacheDir: scratch, OnCompile: func() { announced++ }})
	defer e.Close()
	e.Warm()
	<-e.ready
	return announced
})

// ownCache is a copy of the scratch folder for one test, and its one file of
// code.
func ownCache(t *testing.T) (dir, code string) {
	t.Helper()
	compiled()
	dir = t.TempDir()
	if err := os.CopyFS(dir, os.DirFS(scratch)); err != nil {
		t.Fatal(err)
	}
	files := openCache(dir).files()
	if len(files) != 1 {
		t.Fatalf("files of code: %q", files)
	}
	return dir, files[0]
}

// works starts an engine on a cache folder, draws with it, and counts the times
// that it said it would compile.
func works(t *testing.T, dir string) (compilations int) {
	t.Helper()
	e := Start(Options{CacheDir: dir, OnCompile: func() { compilations++ }})
	defer e.Close()
	d, err := e.Open(t.Context(), pdf("", nil, card("1 0 0 rg 0 0 270 162 re f")))
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	img, err := d.Render(t.Context(), 1, whole(cardMedia, 1))
	if err != nil {
		t.Fatal(err)
	}
	sameEverywhere(t, img, img.Rect, red)
	return compilations
}

// The code is made once, and kept in a folder of the engine's own.
func TestCacheIsKept(t *testing.T) {
	if got := compiled(); got != 1 {
		t.Errorf("the first start compiles %d times", got)
	}
	for range 2 {
		if got := works(t, scratch); got != 0 {
			t.Errorf("a later start compiles %d times", got)
		}
	}
	entries, err := os.ReadDir(scratch)
	if err != nil || len(entries) != 1 || entries[0].Name() != cacheName() {
		t.Errorf("the cache folder holds %v (%v)", entries, err)
	}
}

// Code that only the runtime finds damaged is thrown away and made again. What
// else lies in the folder stays.
func TestCacheIsMendedAfterDamage(t *testing.T) {
	if testing.Short() {
		t.Skip("compiles the renderer")
	}
	dir, code := ownCache(t)
	other := filepath.Join(dir, "of somebody else")
	if err := os.WriteFile(other, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	f, err := os.OpenFile(code, os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.WriteAt([]byte("damage"), 10<<20); err != nil {
		t.Fatal(err)
	}
	f.Close()
	if !openCache(dir).intact() {
		t.Fatal("the seal covers the middle: let the damage be elsewhere")
	}
	for start, want := range []int{1, 0} {
		if got := works(t, dir); got != want {
			t.Errorf("start %d compiles %d times, not %d", start, got, want)
		}
	}
	if _, err := os.Stat(other); err != nil {
		t.Error(err)
	}
}

// No cache folder can be made below a file.
func TestCacheThatCannotBeWritten(t *testing.T) {
	if testing.Short() {
		t.Skip("compiles the renderer")
	}
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if got := works(t, filepath.Join(file, "cache")); got != 1 {
		t.Errorf("it compiles %d times, not once", got)
	}
}

// Every kind of damage is noticed, by the seal or by the runtime, before any of
// the code runs.
func TestDamagedCache(t *testing.T) {
	dir, code := ownCache(t)
	kept := openCache(dir)
	good, err := os.ReadFile(code)
	if err != nil {
		t.Fatal(err)
	}
	unnoticed := func() bool {
		if !kept.intact() {
			return false
		}
		e := Start(Options{CacheDir: dir})
		defer e.Close()
		pool, err := e.newPool(kept.dir)
		if err != nil {
			return false
		}
		pool.Close()
		return true
	}
	if !unnoticed() {
		t.Fatal("the undamaged code is refused")
	}
	size := len(good)
	places := []int{0, 10, 20, 1000, 50_000, sealedEnd - 1, sealedEnd, sealedEnd + 1, size - sealedEnd - 1, size - sealedEnd, size - 100, size - 1}
	for at := sealedEnd; at < size; at += size / 8 {
		places = append(places, at)
	}
	f, err := os.OpenFile(code, os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for _, at := range places {
		f.WriteAt([]byte{good[at] ^ 4}, int64(at))
		if unnoticed() {
			t.Errorf("a flipped bit at %d of %d is not noticed", at, size)
		}
		f.WriteAt(good[at:at+1], int64(at))
	}
	for _, length := range []int{0, 1, 100, 50_000, size / 2, size - 10, size - 1} {
		f.Truncate(int64(length))
		if unnoticed() {
			t.Errorf("a file cut to %d of %d bytes is not noticed", length, size)
		}
		f.WriteAt(good, 0)
	}
	if !unnoticed() {
		t.Error("the code put right is refused")
	}
	if err := os.Remove(code + sealSuffix); err != nil {
		t.Fatal(err)
	}
	if unnoticed() {
		t.Error("code without a seal is taken")
	}
}

// What another process is writing is left alone, what one has left behind is not.
func TestDraftsInCache(t *testing.T) {
	dir, code := ownCache(t)
	fresh, old := code+".1.tmp", code+".2.tmp"
	for _, f := range []string{fresh, old} {
		if err := os.WriteFile(f, nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	long := time.Now().Add(-2 * draftAge)
	if err := os.Chtimes(old, long, long); err != nil {
		t.Fatal(err)
	}
	kept := openCache(dir)
	if !kept.intact() {
		t.Error("a draft makes the cache useless")
	}
	if !kept.renew() {
		t.Fatal("the cache cannot be renewed")
	}
	if got := kept.list(); len(got) != 1 || got[0] != fresh {
		t.Errorf("after renewal the cache holds %q", got)
	}
}

// The folder's name tells the versions of the renderer and its runtime.
func TestCacheName(t *testing.T) {
	mod, err := os.ReadFile("../../../go.mod")
	if err != nil {
		t.Fatal(err)
	}
	var pdfium, wazero string
	if _, err := fmt.Sscanf(strings.ReplaceAll(versions, "-", " "), "pdfium %s wazero %s", &pdfium, &wazero); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"klippa-app/go-pdfium v" + pdfium, "tetratelabs/wazero v" + wazero} {
		if !strings.Contains(string(mod), want) {
			t.Errorf("go.mod has no %q: change versions with it", want)
		}
	}
}
