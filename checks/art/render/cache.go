package render

import (
	"fmt"
	"hash/crc32"
	"io"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"
	"time"
)

// A cache is the folder in which the runtime keeps the renderer's machine code.
//
// The runtime checks the code it loads, but not the table of addresses beside
// it: a damaged table would end the whole process. So each file gets a seal, a
// small file with its length and a checksum of its ends, where the tables are.
type cache struct{ dir string }

// versions are those of the renderer and of its runtime: code made by one is
// nothing to another. A test compares them with go.mod.
const versions = "pdfium-1.21.4-wazero-1.12.0"

const (
	sealSuffix  = ".seal"
	draftSuffix = ".tmp"    // what the runtime is still writing
	draftAge    = time.Hour // or has left behind
	// sealedEnd is how much is checked at each end of a file. The tables take
	// 50 KB at the front and less than 1 KB at the back; the code between them
	// has the runtime's own checksum. TestDamagedCache guards this.
	sealedEnd = 1 << 20
)

// cacheName is the name of the folder. A binary that does not know the versions
// of its modules, as those of go test, has its code in a folder of its own,
// because the runtime then gives it another name.
func cacheName() string {
	if info, ok := debug.ReadBuildInfo(); ok {
		for _, module := range info.Deps {
			if module.Path == "github.com/tetratelabs/wazero" {
				return "renderer-" + versions
			}
		}
	}
	return "renderer-" + versions + "-dev"
}

// openCache names the cache folder below dir, or below the user's cache folder.
// Without one the cache stays empty.
func openCache(dir string) cache {
	if dir == "" {
		user, err := os.UserCacheDir()
		if err != nil {
			return cache{}
		}
		dir = filepath.Join(user, "stoneproof")
	}
	return cache{filepath.Join(dir, cacheName())}
}

// intact tells whether there is machine code, all of it sealed and unchanged.
func (c cache) intact() bool {
	files := c.files()
	for _, f := range files {
		sealed, err := os.ReadFile(f + sealSuffix)
		if err != nil {
			return false
		}
		if sum, err := checksum(f); err != nil || sum != string(sealed) {
			return false
		}
	}
	return len(files) > 0
}

// renew throws away the code, and tells whether new code can be written. What
// another process may be writing at this time is left alone.
func (c cache) renew() bool {
	if c.dir == "" || os.MkdirAll(c.dir, 0o700) != nil {
		return false
	}
	for _, f := range c.files() {
		_ = os.Remove(f + sealSuffix)
		if os.Remove(f) != nil {
			return false
		}
	}
	for _, f := range c.list() {
		if info, err := os.Stat(f); err == nil && strings.HasSuffix(f, draftSuffix) && time.Since(info.ModTime()) > draftAge {
			_ = os.Remove(f)
		}
	}
	probe, err := os.CreateTemp(c.dir, "probe")
	if err != nil {
		return false
	}
	return probe.Close() == nil && os.Remove(probe.Name()) == nil
}

// seal seals what the runtime has written. Without its seal a file is made
// again at the next start; that is all the harm of a failure here.
func (c cache) seal() {
	for _, f := range c.files() {
		if _, err := os.Stat(f + sealSuffix); err == nil {
			continue
		}
		if sum, err := checksum(f); err == nil {
			_ = os.WriteFile(f+sealSuffix, []byte(sum), 0o600)
		}
	}
}

// files are the files of code.
func (c cache) files() []string {
	return slices.DeleteFunc(c.list(), func(f string) bool {
		return strings.HasSuffix(f, sealSuffix) || strings.HasSuffix(f, draftSuffix)
	})
}

// list is all that lies in the folders that the runtime makes in the cache.
func (c cache) list() []string {
	if c.dir == "" {
		return nil
	}
	var files []string
	folders, _ := os.ReadDir(c.dir) // what cannot be read holds no code
	for _, folder := range folders {
		entries, _ := os.ReadDir(filepath.Join(c.dir, folder.Name()))
		for _, e := range entries {
			files = append(files, filepath.Join(c.dir, folder.Name(), e.Name()))
		}
	}
	return files
}

// checksum is the length of a file and the CRC-32C of both its ends.
func checksum(file string) (string, error) {
	f, err := os.Open(file)
	if err != nil {
		return "", err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return "", err
	}
	sum := crc32.New(crc32.MakeTable(crc32.Castagnoli))
	for _, from := range []int64{0, max(0, info.Size()-sealedEnd)} {
		if _, err := io.Copy(sum, io.NewSectionReader(f, from, sealedEnd)); err != nil {
			return "", err
		}
	}
	return fmt.Sprintf("%d %08x\n", info.Size(), sum.Sum32()), nil
}
