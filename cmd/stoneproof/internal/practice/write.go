package practice

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// Names of what lies beside the cards of a pack.
const (
	SheetName  = "worksheet.txt"
	ticketName = "ticket.toml"
)

// TicketIn is where the ticket of the pack in a folder lies.
func TicketIn(dir string) string { return filepath.Join(dir, ticketName) }

// ErrNotEmpty is told of a folder that holds something already.
var ErrNotEmpty = errors.New("the folder is not empty")

// Write writes the pack into a folder that is empty or is not there yet. The
// worksheet comes last; on failure nothing is left behind.
func (p Pack) Write(ctx context.Context, dir string) (err error) {
	made, err := makeRoom(dir)
	if err != nil {
		return err
	}
	beside, err := os.MkdirTemp(dir, ".stoneproof-*")
	if err != nil {
		return err
	}
	var moved []string
	defer func() {
		os.RemoveAll(beside)
		if err == nil {
			return
		}
		for _, path := range moved {
			os.Remove(path)
		}
		if made {
			os.Remove(dir)
		}
	}()
	names, err := p.fill(ctx, beside)
	for _, name := range names {
		if err != nil {
			return err
		}
		to := filepath.Join(dir, name)
		if err = os.Rename(filepath.Join(beside, name), to); err == nil {
			moved = append(moved, to)
		}
	}
	return err
}

// makeRoom makes the folder if it is not there, and refuses one that holds
// anything.
func makeRoom(dir string) (made bool, err error) {
	err = os.Mkdir(dir, 0o755)
	if err == nil || !errors.Is(err, fs.ErrExist) {
		return err == nil, err
	}
	held, err := os.ReadDir(dir)
	if err == nil && len(held) > 0 {
		err = ErrNotEmpty
	}
	return false, err
}

// fill writes the pack's files into a folder of its own, and lists them.
func (p Pack) fill(ctx context.Context, dir string) (names []string, err error) {
	write := func(name string, b []byte) error {
		names = append(names, name)
		return os.WriteFile(filepath.Join(dir, name), b, 0o644)
	}
	for _, c := range p.Cards {
		if ctx.Err() != nil {
			return names, fmt.Errorf("stopped: %w", ctx.Err())
		}
		if err := write(c.Name, c.Bytes()); err != nil {
			return names, err
		}
	}
	if err := write(ticketName, []byte(p.ticket())); err != nil {
		return names, err
	}
	return names, write(SheetName, []byte(p.sheet()))
}
