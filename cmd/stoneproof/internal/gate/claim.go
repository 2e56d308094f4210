package gate

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

// claim is files that this gate alone may work on: one, or a front and its back. They
// lie in a folder of the claim's own under the path that they had in the intake, so
// that the way back needs no memory.
type claim struct {
	ID    string // claimer and number
	dir   string
	files []claimed
}

// claimed is a file as it was when it was claimed.
type claimed struct {
	rel  string // in the intake
	path string // where it lies now
	info fs.FileInfo
	sum  string
	seen time.Time // when it came
}

// artFolder holds a claim's files, apart from what is noted of them.
const artFolder = "art"

var (
	errAway    = errors.New("another gate was quicker, or it is gone")
	errChanged = errors.New("it changed while it was judged")
	errOpen    = errors.New("a program still has it open for writing")
	errElse    = errors.New("it lies on another file system than the intake, so it cannot be claimed")
)

// take claims the files of a job, in order; all or none.
func (g *Gate) take(j job) (*claim, error) {
	mine, me, err := g.registry.place()
	if err != nil {
		return nil, err
	}
	number := strconv.FormatInt(g.number.Add(1), 10)
	c := &claim{ID: me.ID + "/" + number, dir: filepath.Join(mine, number)}
	for _, f := range j.files {
		err = g.takeFile(c, f)
		g.step("claimed")
		if err != nil {
			return nil, errors.Join(err, g.giveBack(c))
		}
	}
	return c, nil
}

func (g *Gate) takeFile(c *claim, f *look) error {
	if err := stillWritten(g.at(f.rel)); err != nil {
		return err
	}
	path := filepath.Join(c.dir, artFolder, f.rel)
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		return err
	}
	if err := os.Rename(g.at(f.rel), path); err != nil {
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return errAway
		case isOtherDevice(err):
			return errElse
		}
		return err
	}
	// From here on nobody else writes to its name; a writer who has it open may.
	info, err := os.Lstat(path)
	if err != nil {
		return err
	}
	c.files = append(c.files, claimed{rel: f.rel, path: path, info: info, seen: f.first})
	if !sameState(info, f.info) {
		return errChanged
	}
	last := &c.files[len(c.files)-1]
	last.sum, err = hashOf(path)
	return err
}

// sameState reports whether a file is the same and as it was, as far as its entry
// tells.
func sameState(a, b fs.FileInfo) bool {
	return a.Mode().IsRegular() && os.SameFile(a, b) && a.Size() == b.Size() && a.ModTime().Equal(b.ModTime())
}

// stillWritten tells whether a writer is known to be at work on the file at path.
func stillWritten(path string) error {
	f, _, err := openArt(path)
	if err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			return errAway
		}
		return err
	}
	defer f.Close()
	if openForWriting(f) {
		return errOpen
	}
	return nil
}

// unchanged reports an error unless every file of the claim is as it was when it was
// claimed.
func (c *claim) unchanged() error {
	for i := range c.files {
		f := &c.files[i]
		if err := f.untouched(); err != nil {
			return err
		}
		sum, err := hashOf(f.path)
		if err != nil {
			return err
		}
		if sum != f.sum {
			return errChanged
		}
	}
	return nil
}

// untouched is the part of unchanged that does not read the file.
func (f *claimed) untouched() error {
	info, err := os.Lstat(f.path)
	if errors.Is(err, fs.ErrNotExist) {
		return errAway
	}
	if err != nil {
		return err
	}
	if !sameState(info, f.info) {
		return errChanged
	}
	return stillWritten(f.path)
}

// giveBack lays what is left of a claim back into the intake and takes the claim away.
// Where a newer file has the name, the older one gets a numbered name.
func (g *Gate) giveBack(c *claim) error {
	if gone(c.dir) {
		return nil // nothing was claimed, or it was taken over
	}
	art := filepath.Join(c.dir, artFolder)
	err := filepath.WalkDir(art, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			if errors.Is(err, fs.ErrNotExist) {
				return nil
			}
			return err
		}
		rel, err := filepath.Rel(art, path)
		if err != nil {
			return err
		}
		g.step("giving back")
		return g.returnTo(path, rel)
	})
	if err != nil {
		return fmt.Errorf("cannot give a claimed file back to the intake: %w", err)
	}
	return removeClaim(c.dir)
}

func (g *Gate) returnTo(path, rel string) error {
	if err := makeDirs(g.cfg.Intake, filepath.Dir(rel)); err != nil {
		return err
	}
	for n := 1; ; n++ {
		err := g.mover.move(path, g.at(numbered(rel, n, 0)))
		if !errors.Is(err, fs.ErrExist) {
			return err
		}
	}
}

// numbered is the name of the nth file of a name: card.pdf, card-2.pdf. Room is what
// must be left for endings of reports; a name that leaves less is cut short.
func numbered(rel string, n, room int) string {
	dir, base := filepath.Split(rel)
	ext := filepath.Ext(base)
	stem := strings.TrimSuffix(base, ext)
	mark := ""
	if n > 1 {
		mark = "-" + strconv.Itoa(n)
	}
	const longest = 255 // bytes of a name, on nearly every file system
	if over := len(stem) + len(mark) + len(ext) + room - longest; over > 0 && over < len(stem) {
		stem = strings.ToValidUTF8(stem[:len(stem)-over], "")
	}
	return dir + stem + mark + ext
}

// removeClaim takes away a claim's folder, in which no file may be left but its
// intent.
func removeClaim(dir string) error {
	if err := os.Remove(filepath.Join(dir, intentFile)); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	os.Remove(filepath.Join(dir, intentFile+".new"))
	return removeEmpty(dir)
}

// removeEmpty removes a folder and the folders in it; one that holds a file stays, and
// is an error.
func removeEmpty(dir string) error {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return err
	}
	for _, e := range entries {
		if e.IsDir() {
			if err := removeEmpty(filepath.Join(dir, e.Name())); err != nil {
				return err
			}
		}
	}
	return os.Remove(dir)
}
