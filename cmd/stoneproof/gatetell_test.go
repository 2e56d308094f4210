package main

import (
	"bytes"
	"testing"

	"stoneproof/cmd/stoneproof/internal/gate"
)

// A name with a line end in it must not look like a second file.
func TestGateTellsAFileInOneLine(t *testing.T) {
	var out, errs bytes.Buffer
	teller := newGateTeller(&speaker{out: &out, errs: &errs})
	name := "a\ncleared  b.pdf"
	teller.tell(gate.Entry{Event: "moved", Class: gate.Held, File: name, To: "/held/" + name})
	teller.tell(gate.Entry{Event: "ignored", File: name, Why: "a link"})
	if got, want := out.String(), `held     a\ncleared  b.pdf`+"\n"; got != want {
		t.Errorf("told %q, want %q", got, want)
	}
	if got, want := errs.String(), `stoneproof: a\ncleared  b.pdf is left alone: a link`+"\n"; got != want {
		t.Errorf("noted %q, want %q", got, want)
	}
}
