package gate

import (
	"path/filepath"
	"strings"

	"github.com/fsnotify/fsnotify"
)

// Watcher wakes a gate when something comes, so that it need not look around all the
// time. What counts is what the gate sees when it looks: where a file system tells of
// nothing, as network folders do, the gate is only slower.
type Watcher struct {
	events *fsnotify.Watcher
	wake   chan struct{}
	done   chan struct{}
}

// Watch begins to watch; Follow says what. An error tells that this system cannot.
func Watch() (*Watcher, error) {
	events, err := fsnotify.NewWatcher()
	if err != nil {
		return nil, err
	}
	w := &Watcher{events, make(chan struct{}, 1), make(chan struct{})}
	go w.run()
	return w, nil
}

// Wake tells that something came.
func (w *Watcher) Wake() <-chan struct{} { return w.wake }

// Follow watches a folder, if that can be: there is a limit to their number.
func (w *Watcher) Follow(path string) { w.events.Add(path) }

// Close ends the watching.
func (w *Watcher) Close() {
	w.events.Close()
	<-w.done
}

func (w *Watcher) run() {
	defer close(w.done)
	for {
		select {
		case e, ok := <-w.events.Events:
			if !ok {
				return
			}
			if strings.HasPrefix(filepath.Base(e.Name), ".") || e.Op == fsnotify.Chmod {
				continue
			}
		case _, ok := <-w.events.Errors:
			if !ok {
				return
			}
		}
		select {
		case w.wake <- struct{}{}:
		default: // it has been told already
		}
	}
}
