package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"
	"unicode"

	"golang.org/x/term"

	"stoneproof/cmd/stoneproof/internal/gate"
	"stoneproof/rules"
)

// All speech to a person goes through this file.
//
// Results go to out; everything else, errors, hints and progress, to errs. An
// error says what is wrong, in lower case and without a full stop, with names
// in quotes; a hint, on a line of its own, says what to do. Colour is used on a
// terminal only, and never where NO_COLOR is set.

// Exit statuses.
const (
	exitGood   = 0 // nothing failed
	exitFailed = 1 // at least one file failed
	exitCannot = 2 // the command could not run
)

// exitStatus ends the program with a status and no further word.
type exitStatus int

func (e exitStatus) Error() string { return "exit status " + strconv.Itoa(int(e)) }

type speaker struct{ out, errs io.Writer }

// hinted is an error with a word on what to do.
type hinted struct {
	err  error
	hint string
}

func (h *hinted) Error() string { return h.err.Error() }
func (h *hinted) Unwrap() error { return h.err }

func withHint(err error, hint string) error { return &hinted{err, hint} }

// error tells what is wrong, and what to do where that is known.
func (s *speaker) error(err error) {
	fmt.Fprintf(s.errs, "stoneproof: %s\n", plain(err.Error()))
	if hint := hintFor(err); hint != "" {
		fmt.Fprintf(s.errs, "hint: %s\n", hint)
	}
}

func hintFor(err error) string {
	var h *hinted
	if errors.As(err, &h) {
		return h.hint
	}
	var n *gate.NoFolderError
	if errors.As(err, &n) {
		return "make it first, or mount it: a gate makes no folders"
	}
	var u *rules.UnknownError
	if errors.As(err, &u) {
		switch u.What {
		case "card size":
			return "stoneproof sizes lists the sizes; --trim WxH takes any other"
		case "process":
			return "the processes are " + strings.Join(rules.Processes(), ", ")
		case "rule":
			return "the rules are " + strings.Join(rules.RuleIDs(), ", ")
		}
	}
	return ""
}

// plain makes a text harmless for a terminal: what would move the cursor or
// turn the writing round is shown as an escape.
func plain(s string) string {
	var b strings.Builder
	for _, r := range s {
		if r == '\n' || unicode.IsPrint(r) {
			b.WriteRune(r)
			continue
		}
		q := strconv.QuoteRuneToASCII(r)
		b.WriteString(q[1 : len(q)-1])
	}
	return b.String()
}

// note tells something by the way.
func (s *speaker) note(format string, args ...any) {
	fmt.Fprintf(s.errs, "stoneproof: "+format+"\n", args...)
}

// proofs tells where the proofs of a run are.
func (s *speaker) proofs(names []string, folder string) {
	switch len(names) {
	case 0:
		s.note("no side could be shown: there is no proof")
	case 1:
		s.note("proof written: %s", plain(names[0]))
	default:
		s.note("%d proofs written in %s", len(names), plain(folder))
	}
}

// compiling tells why the first run of all takes its time.
func (s *speaker) compiling() {
	s.note("preparing the page renderer: only the first run takes these seconds")
}

// terminal is w's file if w is a terminal.
func terminal(w io.Writer) (*os.File, bool) {
	f, ok := w.(*os.File)
	return f, ok && term.IsTerminal(int(f.Fd()))
}

// width is the number of columns that w has; 0 where it is no terminal.
func width(w io.Writer) int {
	f, ok := terminal(w)
	if !ok {
		return 0
	}
	columns, _, err := term.GetSize(int(f.Fd()))
	if err != nil {
		return 0
	}
	return columns
}

// inColour reports whether w may be written to in colour (no-color.org).
func inColour(w io.Writer) bool {
	_, ok := terminal(w)
	return ok && os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
}

// deskIsOpen tells where the desk is, and how to end it.
func (s *speaker) deskIsOpen(address string) {
	fmt.Fprintln(s.out, address)
	s.note("the desk is open at this address: open it in a browser; Ctrl-C ends it")
}
