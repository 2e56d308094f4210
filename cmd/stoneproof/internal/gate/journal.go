package gate

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"stoneproof/rules"
)

// Entry is a line of the journal, and what is told to whoever watches.
type Entry struct {
	Time      time.Time     `json:"time"`
	Event     string        `json:"event"`
	Claim     string        `json:"claim,omitempty"`
	File      string        `json:"file,omitempty"` // in the intake
	Came      *time.Time    `json:"came,omitempty"` // when it was first seen
	Size      int64         `json:"size,omitempty"`
	SHA256    string        `json:"sha256,omitempty"`
	Verdict   rules.Verdict `json:"verdict,omitempty"`
	Failed    []string      `json:"failed,omitempty"` // rules
	Class     Class         `json:"class,omitempty"`
	To        string        `json:"to,omitempty"`
	Pages     []string      `json:"pages,omitempty"` // of the report
	With      string        `json:"with,omitempty"`  // the other half of a pair
	Why       string        `json:"why,omitempty"`
	Recovered bool          `json:"recovered,omitempty"` // carried on after a gate was stopped

	trouble bool // something that a person must put right
}

// Events of the journal.
const (
	eventStarted  = "started"
	eventStopped  = "stopped"
	eventClaimed  = "claimed"
	eventMoving   = "moving"
	eventMoved    = "moved"
	eventReturned = "returned"
	eventGone     = "gone"
	eventIgnored  = "ignored"
	eventWaits    = "waits"
	eventLooked   = "looked"
	eventTrouble  = "trouble"
	eventTaken    = "taken-over"
)

func (it *item) entry(event string, in *intent) Entry {
	e := Entry{
		Event: event, Claim: in.Claim, File: it.File, Came: &it.Seen, Size: it.Size, SHA256: it.SHA256,
		Verdict: it.Verdict, Failed: it.Failed, Class: in.Class, To: in.under(it.To), With: it.With,
	}
	for _, p := range it.Pages {
		e.Pages = append(e.Pages, in.under(p.To))
	}
	return e
}

// journal is a file of lines that only grows, until it is long enough to be put aside.
// Each line is one write at the file's end, so that gates on one machine may share it.
type journal struct {
	path string
	most int64 // bytes at which it is put aside

	mu   sync.Mutex
	file *os.File
}

// mostJournal holds some ten thousand files' lines.
const mostJournal = 8 << 20

func (j *journal) write(e Entry) error { return j.append(e, false) }

// writeSynced writes a line that outlasts a power failure once this returns.
func (j *journal) writeSynced(e Entry) error { return j.append(e, true) }

func (j *journal) append(e Entry, sync bool) error {
	if e.Time.IsZero() {
		e.Time = time.Now()
	}
	line, err := json.Marshal(e)
	if err != nil {
		return err
	}
	j.mu.Lock()
	defer j.mu.Unlock()
	if err := j.ready(); err != nil {
		return fmt.Errorf("cannot open the journal: %w", err)
	}
	_, err = j.file.Write(append(line, '\n'))
	if err == nil && sync {
		err = j.file.Sync()
	}
	if err != nil {
		// What may have been written of it is closed with a line's end when the
		// file is opened anew.
		j.shut()
		return fmt.Errorf("cannot write the journal: %w", err)
	}
	return nil
}

// ready opens the journal if need be: at first, after it was put aside, and when it
// has grown too long.
func (j *journal) ready() error {
	if j.file != nil {
		open, err := j.file.Stat()
		if err != nil {
			return err
		}
		named, err := os.Stat(j.path)
		switch {
		case err != nil || !os.SameFile(open, named):
			j.shut() // another gate put it aside
		case open.Size() >= j.most:
			j.shut()
			if err := j.putAside(); err != nil {
				return err
			}
		}
	}
	if j.file == nil {
		return j.open()
	}
	return nil
}

func (j *journal) open() error {
	f, err := os.OpenFile(j.path, os.O_CREATE|os.O_RDWR|os.O_APPEND, 0o644)
	if err != nil {
		return err
	}
	if err := seal(f); err != nil {
		f.Close()
		return err
	}
	j.file = f
	return nil
}

// seal ends a line that was torn when its gate was stopped, so that it spoils no other.
func seal(f *os.File) error {
	info, err := f.Stat()
	if err != nil || info.Size() == 0 {
		return err
	}
	last := make([]byte, 1)
	if _, err := f.ReadAt(last, info.Size()-1); err != nil && !errors.Is(err, io.EOF) {
		return err
	}
	if last[0] == '\n' {
		return nil
	}
	_, err = f.Write([]byte{'\n'})
	return err
}

// putAside gives a full journal a numbered name.
func (j *journal) putAside() error {
	ext := filepath.Ext(j.path)
	stem := strings.TrimSuffix(j.path, ext)
	for n := 1; ; n++ {
		err := systemMover().move(j.path, fmt.Sprintf("%s.%04d%s", stem, n, ext))
		switch {
		case errors.Is(err, fs.ErrExist):
		case errors.Is(err, fs.ErrNotExist):
			return nil
		default:
			return err
		}
	}
}

func (j *journal) shut() {
	if j.file != nil {
		j.file.Close()
		j.file = nil
	}
}

func (j *journal) close() {
	j.mu.Lock()
	defer j.mu.Unlock()
	j.shut()
}

// readJournal reads the lines of a journal; torn ones are counted.
func readJournal(path string) (entries []Entry, torn int, err error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, 0, err
	}
	for line := range bytes.Lines(text) {
		var e Entry
		switch {
		case len(bytes.TrimSpace(line)) == 0:
		case json.Unmarshal(line, &e) != nil:
			torn++
		default:
			entries = append(entries, e)
		}
	}
	return entries, torn, nil
}
