package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"stoneproof/cmd/stoneproof/internal/gate"
	"stoneproof/report"
	"stoneproof/rules"
)

// gateTeller tells what a gate does: a line for each file to out, the rest to errs, and
// on a terminal a line below that is always the last.
type gateTeller struct {
	s      *speaker
	mu     sync.Mutex
	status string // the line as it stands; empty where none does
	live   bool
}

func newGateTeller(s *speaker) *gateTeller {
	_, live := terminal(s.errs)
	return &gateTeller{s: s, live: live}
}

func (t *gateTeller) tell(e gate.Entry) {
	switch e.Event {
	case "moved":
		t.line(t.s.out, fmt.Sprintf("%-8s %s%s%s", e.Class, e.File, renamed(e), because(e)))
	case "looked":
		t.line(t.s.out, fmt.Sprintf("%-8s %s%s", e.Verdict, e.File, because(e)))
	case "ignored":
		t.note("%s is left alone: %s", e.File, e.Why)
	case "waits":
		t.note("%s waits in the intake: %s", e.File, e.Why)
	case "returned":
		t.note("%s is back in the intake: %s", e.File, e.Why)
	case "gone":
		t.note("%s is gone: %s", e.File, e.Why)
	case "trouble":
		t.note("%s", e.Why)
	case "taken-over":
		t.note("carries on for a gate that was stopped: %s", e.Claim)
	}
}

// renamed tells the name that a file got where its own was taken.
func renamed(e gate.Entry) string {
	if to := filepath.Base(e.To); to != filepath.Base(e.File) {
		return " as " + to
	}
	return ""
}

// because lists the rules that a file fails, or says that the other half fails.
func because(e gate.Entry) string {
	switch {
	case len(e.Failed) > 0:
		return ": " + strings.Join(e.Failed, ", ")
	case e.Class == gate.Held && e.Verdict != rules.Fail && e.With != "":
		return ": with " + filepath.Base(e.With)
	}
	return ""
}

// show prints the report of files that stay where they are.
func (t *gateTeller) show(r rules.Report) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.wipe()
	r.Version = version()
	report.Table(t.s.out, r, report.TableOptions{Width: width(t.s.out), Colour: inColour(t.s.out)})
	fmt.Fprintln(t.s.out)
	t.draw()
}

func (t *gateTeller) note(format string, args ...any) {
	t.line(t.s.errs, "stoneproof: "+fmt.Sprintf(format, args...))
}

func (t *gateTeller) line(w io.Writer, text string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.wipe()
	fmt.Fprintln(w, report.Visible(text))
	t.draw()
}

// statusLine keeps a line on the terminal up to date until the returned function is
// called. Elsewhere there is none.
func (t *gateTeller) statusLine(g *gate.Gate) (stop func()) {
	if !t.live {
		return func() {}
	}
	done, ended := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(ended)
		tick := time.NewTicker(500 * time.Millisecond)
		defer tick.Stop()
		for {
			select {
			case <-done:
				t.set("")
				return
			case <-tick.C:
				t.set(inOneLine(g.Status()))
			}
		}
	}()
	return func() { close(done); <-ended }
}

func inOneLine(s gate.Status) string {
	line := fmt.Sprintf("%d waiting, %d in hand, %d cleared, %d held", s.Waiting, s.InHand, s.Cleared, s.Held)
	if s.Stuck > 0 {
		line += fmt.Sprintf(", %d stuck", s.Stuck)
	}
	return line
}

func (t *gateTeller) set(status string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if status == t.status {
		return
	}
	t.wipe()
	t.status = status
	t.draw()
}

// wipe takes the line off the terminal, and draw puts it back.
func (t *gateTeller) wipe() {
	if t.status != "" {
		fmt.Fprint(t.s.errs, "\r\x1b[K")
	}
}

func (t *gateTeller) draw() {
	if t.status == "" {
		return
	}
	line := []rune(t.status)
	if columns := width(t.s.errs); columns > 1 && len(line) >= columns {
		line = line[:columns-1]
	}
	fmt.Fprint(t.s.errs, string(line))
}
