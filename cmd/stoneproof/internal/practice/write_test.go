package practice

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stoneproof/rules"
)

// pots is a small pack that costs nothing to write.
func pots(t *testing.T, last func() []byte) Pack {
	t.Helper()
	ticket, err := rules.Order{Process: Process}.Ticket()
	if err != nil {
		t.Fatal(err)
	}
	one := func() []byte { return []byte("one") }
	return Pack{Seed: 3, Ticket: ticket, Cards: []Card{{Name: "01.pdf", Bytes: one}, {Name: "02.pdf", Bytes: last}}}
}

func names(t *testing.T, dir string) string {
	t.Helper()
	held, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	for _, e := range held {
		list = append(list, e.Name())
	}
	return strings.Join(list, " ")
}

func TestWriteIntoNewAndEmptyFolders(t *testing.T) {
	dir := t.TempDir()
	fresh := filepath.Join(dir, "fresh")
	p := pots(t, func() []byte { return nil })
	for _, d := range []string{fresh, t.TempDir()} {
		if err := p.Write(context.Background(), d); err != nil {
			t.Fatal(err)
		}
		if got := names(t, d); got != "01.pdf 02.pdf ticket.toml worksheet.txt" {
			t.Errorf("the folder holds %s", got)
		}
	}
	if err := p.Write(context.Background(), fresh); !errors.Is(err, ErrNotEmpty) {
		t.Errorf("a pack was written over another: %v", err)
	}
	if err := p.Write(context.Background(), filepath.Join(dir, "no", "such")); err == nil {
		t.Error("a folder was made in a folder that is not there")
	}
	if err := p.Write(context.Background(), filepath.Join(fresh, "01.pdf")); err == nil {
		t.Error("a file was taken for a folder")
	}
}

func TestNothingIsLeftOnFailure(t *testing.T) {
	dir := t.TempDir()
	ctx, stop := context.WithCancel(context.Background())
	p := pots(t, nil)
	p.Cards[0].Bytes = func() []byte { stop(); return nil }
	for _, d := range []string{filepath.Join(dir, "fresh"), t.TempDir()} {
		if err := p.Write(ctx, d); err == nil {
			t.Fatal("a pack was written after the stop")
		}
		if held, _ := os.ReadDir(d); len(held) > 0 {
			t.Errorf("left behind: %s", names(t, d))
		}
	}
	if got := names(t, dir); got != "" {
		t.Errorf("left behind: %s", got)
	}
}
