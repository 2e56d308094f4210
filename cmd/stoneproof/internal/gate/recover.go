package gate

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// takeOver brings to an end what dead gates left, and what this one could not finish
// before. What cannot be ended now is told, and tried again in another round.
func (g *Gate) takeOver(now time.Time) error {
	dead, unsure, err := g.registry.dead(now)
	g.unsure = unsure
	if err != nil {
		return err
	}
	for _, name := range dead {
		if err := g.registry.take(name); err != nil {
			return err
		}
		if !strings.HasPrefix(name, ".") {
			g.note(Entry{Event: eventTaken, Claim: name})
		}
	}
	if now.Before(g.resumeAt) && len(dead) == 0 {
		return g.unfinished
	}
	g.resumeAt = now.Add(g.cfg.Rescan)
	g.unfinished = g.resumeAll()
	return g.unfinished
}

func (g *Gate) resumeAll() error {
	var errs []error
	left := g.pending[:0]
	for _, dir := range g.pending {
		if err := g.resume(dir); err != nil {
			errs = append(errs, err)
			left = append(left, dir)
		}
	}
	g.pending = left
	taken, err := g.registry.taken()
	errs = append(errs, err)
	for _, dir := range taken {
		errs = append(errs, g.resolve(dir))
	}
	return errors.Join(errs...)
}

// resolve ends every claim of a gate that was taken over, and then takes its folders
// away.
func (g *Gate) resolve(dir string) error {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return err
	}
	var errs []error
	for _, e := range entries {
		if e.IsDir() {
			errs = append(errs, g.resume(filepath.Join(dir, e.Name())))
		}
	}
	if err := errors.Join(errs...); err != nil {
		return err
	}
	id := strings.TrimPrefix(filepath.Base(dir), takenPrefix)
	for root := range g.destinations {
		os.RemoveAll(filepath.Join(root, ours, id)) // reports of which no intent was written
	}
	return removeClaimer(dir)
}

// resume ends one claim: on, if its intent can be carried out, else back to the intake.
func (g *Gate) resume(dir string) error {
	in, err := loadIntent(dir)
	if err != nil {
		return err
	}
	id := strings.TrimPrefix(filepath.Base(filepath.Dir(dir)), takenPrefix) + "/" + filepath.Base(dir)
	c := &claim{ID: id, dir: dir}
	if in == nil {
		return g.returnAll(c, "the gate was stopped before it was judged")
	}
	if gone(in.under(in.Staged)) && !in.anyMoved(c) && g.root(in.Class) != in.Root {
		return g.returnAll(c, "the gate was stopped, and its destination is out of reach from here")
	}
	err = in.intact(c)
	for err == nil {
		if err = g.carryOut(c, in); err == nil {
			return g.close(c, in, true)
		}
		if errors.Is(err, errTaken) && in.anyMoved(c) {
			err = g.renumber(c, in)
		}
	}
	switch {
	case errors.Is(err, errLost):
		return nil
	case !errors.Is(err, errTaken) && !errors.Is(err, errTorn) && !errors.Is(err, errChanged) && !errors.Is(err, errAway):
		return err
	case !in.anyMoved(c):
		if err := g.withdraw(c, in); err != nil {
			return err
		}
	}
	return g.returnAll(c, g.say(err))
}

// returnAll gives back whatever files a claim still holds, and writes it down.
func (g *Gate) returnAll(c *claim, why string) error {
	art := filepath.Join(c.dir, artFolder)
	filepath.WalkDir(art, func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			rel, _ := filepath.Rel(art, path)
			g.note(Entry{Event: eventReturned, Claim: c.ID, File: rel, Why: why, Recovered: true})
		}
		return nil
	})
	return g.giveBack(c)
}

// intact reports an error unless the art that has not been moved yet is what was judged.
func (in *intent) intact(c *claim) error {
	for i := range in.Items {
		it := &in.Items[i]
		if in.moved(c, it) {
			continue
		}
		path := c.art(it)
		if gone(path) {
			path = in.inStage(it.Copy)
		}
		sum, err := hashOf(path)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return errAway
		case err != nil:
			return err
		case sum != it.SHA256:
			return errChanged
		}
	}
	return nil
}

// renumber gives the next free names to what has not been moved yet: for a pair of
// which one half is in place while somebody else took the other's name.
func (g *Gate) renumber(c *claim, in *intent) error {
	for i := range in.Items {
		it := &in.Items[i]
		if in.moved(c, it) {
			continue
		}
		old := it.To
		for n := 2; it.To == old || !gone(in.under(it.To)); n++ {
			it.To = numbered(it.File, n, roomForPages)
		}
		for k := range it.Pages {
			p := &it.Pages[k]
			if gone(in.inStage(p.Staged)) {
				if err := g.mover.move(in.under(p.To), in.inStage(p.Staged)); err != nil {
					return err
				}
			}
			p.To = it.To + strings.TrimPrefix(p.To, old)
		}
	}
	return in.save(c)
}
