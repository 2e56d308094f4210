package gate

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// checkFolders makes the folders' paths plain and refuses those that cannot be meant.
func (g *Gate) checkFolders() error {
	var err error
	if g.cfg.Intake, err = realFolder("intake", g.cfg.Intake); err != nil {
		return err
	}
	named := []struct {
		word string
		path *string
	}{{"cleared", &g.cfg.Cleared}, {"held", &g.cfg.Held}}
	taken := map[string]string{g.cfg.Intake: "the intake"}
	for _, n := range named {
		if *n.path == "" && g.cfg.WatchOnly {
			continue
		}
		if *n.path, err = realFolder(n.word, *n.path); err != nil {
			return err
		}
		if other, twice := taken[*n.path]; twice {
			return fmt.Errorf("the folder for %s files %q is %s as well", n.word, *n.path, other)
		}
		taken[*n.path] = "the folder for " + n.word + " files"
		if within(*n.path, g.cfg.Intake) {
			return fmt.Errorf("the folder for %s files %q lies in the intake %q: its files would come in again", n.word, *n.path, g.cfg.Intake)
		}
		if within(g.cfg.Intake, *n.path) {
			return fmt.Errorf("the intake %q lies in the folder for %s files %q", g.cfg.Intake, n.word, *n.path)
		}
		device, err := deviceOf(*n.path)
		if err != nil {
			return err
		}
		g.destinations[*n.path] = device
	}
	return nil
}

// NoFolderError tells of a folder that is not there. A gate makes none: a network
// folder that is not mounted would be filled on the wrong disk.
type NoFolderError struct{ Word, Path string }

func (e *NoFolderError) Error() string {
	return fmt.Sprintf("the folder for %s files %q is not there", e.Word, e.Path)
}

func realFolder(word, path string) (string, error) {
	info, err := os.Stat(path)
	if errors.Is(err, fs.ErrNotExist) {
		return "", &NoFolderError{Word: word, Path: path}
	}
	if err != nil {
		return "", fmt.Errorf("cannot use %q as the folder for %s files: %s", path, word, plainCause(err))
	}
	if !info.IsDir() {
		return "", fmt.Errorf("cannot use %q as the folder for %s files: it is no folder", path, word)
	}
	if path, err = filepath.Abs(path); err != nil {
		return "", err
	}
	return filepath.EvalSymlinks(path)
}

// within reports whether a lies in b.
func within(a, b string) bool {
	rel, err := filepath.Rel(b, a)
	return err == nil && rel != ".." && !strings.HasPrefix(rel, ".."+string(filepath.Separator))
}

// destination makes sure that a destination is what it was when the gate began: a
// network folder that was unmounted leaves an empty folder behind, on another disk.
func (g *Gate) destination(root string) error {
	device, err := deviceOf(root)
	if err != nil {
		return fmt.Errorf("the destination %q is not there: %s", root, plainCause(err))
	}
	if at, known := g.destinations[root]; known && at != device {
		return fmt.Errorf("the destination %q is on another disk than it was: was it unmounted?", root)
	}
	return nil
}
