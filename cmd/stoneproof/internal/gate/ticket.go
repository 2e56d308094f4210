package gate

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"stoneproof/rules"
)

// folderTicket is the ticket by which a folder's files are judged.
type folderTicket struct {
	ticket rules.Ticket
	err    error // it cannot be read: nothing is judged by it
}

// ticketFor is the nearest ticket upward from a folder of the intake: the folder's own,
// or that of a folder it lies in, or the gate's.
//
// A ticket that cannot be read is not passed over for one further up: cards would be
// judged by the wrong one. Nor are its files held, for that is no fault of theirs: they
// wait until it is put right.
func (g *Gate) ticketFor(dir string) folderTicket {
	if t, known := g.tickets[dir]; known {
		return t
	}
	t := g.findTicket(dir)
	g.tickets[dir] = t
	return t
}

func (g *Gate) findTicket(dir string) folderTicket {
	path := filepath.Join(g.at(dir), TicketName)
	info, err := os.Lstat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist) && dir == ".":
		return folderTicket{ticket: g.cfg.Ticket}
	case errors.Is(err, fs.ErrNotExist):
		return g.ticketFor(filepath.Dir(dir))
	case err == nil && !info.Mode().IsRegular():
		return folderTicket{err: errors.New(filepath.Join(dir, TicketName) + ": " + oddity(info.Mode()))}
	case err != nil:
		return folderTicket{err: err}
	}
	t, err := g.cfg.ReadTicket(path)
	return folderTicket{t, err}
}

// waitsForTicket tells once of a ticket that keeps files waiting.
func (g *Gate) waitsForTicket(files []*look, err error) {
	for _, l := range files {
		g.stuck(l, "its ticket cannot be read: "+err.Error())
	}
}
