package apart

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"strings"
	"sync"
	"time"
	"unicode/utf8"

	"stoneproof/checks/art"
)

// faultOf is why a file is unjudged whose worker gave no report. The worker has been
// ended.
func (w *worker) faultOf(ctx context.Context, deadline time.Duration, err error) *art.Fault {
	switch {
	case errors.Is(context.Cause(ctx), errDeadline):
		return art.Overdue(deadline)
	case ctx.Err() != nil:
		return art.Interrupted()
	case errors.Is(err, errMemory):
		return &art.Fault{
			What: fmt.Sprintf("Judging the file took more than %d MB of memory: it asks for far more than a card should", w.memory>>20),
			Do:   "Flatten or simplify the artwork, or export it again as a picture at 300 ppi.",
		}
	}
	return &art.Fault{What: fmt.Sprintf("The judge of the file ended unexpectedly (%v)", err), Do: art.ExportAgain}
}

// unbegun is why a file is unjudged for which no child could be started.
func unbegun(ctx context.Context, err error) *art.Fault {
	if ctx.Err() != nil {
		return art.Interrupted()
	}
	return &art.Fault{What: fmt.Sprintf(unbegunWords+" (%v)", err), Do: "Check it again."}
}

// obituary ends a child that gave no answer, and is err with what is known of its
// end. One that ended by itself is given time for its last words.
func (w *worker) obituary(err error) error {
	defer w.end()
	for _, ours := range []error{errMemory, errGarbled, context.DeadlineExceeded, context.Canceled} {
		if errors.Is(err, ours) {
			return err
		}
	}
	if !errors.Is(err, errDying) && w.gone() {
		err = errors.New(w.cmd.ProcessState.String())
	}
	said := w.said.last()
	switch {
	case starved(said):
		return errMemory
	case said != "":
		return errors.New(said)
	}
	return err
}

// starved tells whether a process ended because the system refused it memory, by the
// words in which the Go runtime says so.
func starved(said string) bool {
	for _, sign := range []string{"out of memory", "cannot allocate memory", "cannot map pages", "failed to create new OS thread", "newosproc"} {
		if strings.Contains(said, sign) {
			return true
		}
	}
	return false
}

// words are the beginning of what a child says to its standard error. None of it
// reaches a person but what is told of its end.
type words struct {
	mu sync.Mutex
	b  []byte
}

const (
	mostWords = 16 << 10
	mostTold  = 200 // bytes of the line that is told
)

// Write keeps what there is room for and drops the rest.
func (s *words) Write(b []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.b = append(s.b, b[:min(len(b), mostWords-len(s.b))]...)
	return len(b), nil
}

// forget makes room for what is said of the next file.
func (s *words) forget() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.b = s.b[:0]
}

// fatal tells whether the Go runtime has said that it ends the program.
func (s *words) fatal() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return bytes.HasPrefix(s.b, []byte("fatal error: ")) || bytes.Contains(s.b, []byte("\nfatal error: "))
}

// last is what the Go runtime says of a program that it ends, without the word that
// comes before: empty, if it said no such thing.
func (s *words) last() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	for line := range bytes.Lines(s.b) {
		for _, sign := range []string{"fatal error: ", "panic: ", "stoneproof: "} {
			if rest, ok := bytes.CutPrefix(bytes.TrimSpace(line), []byte(sign)); ok {
				return short(string(rest))
			}
		}
	}
	return ""
}

func short(s string) string {
	s = strings.ToValidUTF8(s, "�")
	if len(s) <= mostTold {
		return s
	}
	for s = s[:mostTold]; !utf8.ValidString(s); {
		s = s[:len(s)-1]
	}
	return s + "…"
}
