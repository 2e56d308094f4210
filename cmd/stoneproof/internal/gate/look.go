package gate

import (
	"cmp"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"time"

	"stoneproof/rules"
)

// look is what is known of a file in the intake.
type look struct {
	rel   string
	info  fs.FileInfo
	first time.Time // when it was first seen
	since time.Time // since when it has been seen as it is now
	retry time.Time // not to be tried before
	fails int       // how often it could not be dealt with in a row
	why   string    // what was told of it last, so that it is told once
	stuck bool      // it waits for a person, or for something to come back
	busy  bool      // a worker has it
	mark  int       // the round of looking in which it was last seen
}

// deepest bounds how deep folders of the intake are looked through: nobody sorts cards
// in more, and a loop of mounts ends.
const deepest = 24

// emptyLonger is how many times longer an empty file must lie still: no card is empty,
// but many a file is, for a moment, before its bytes come.
const emptyLonger = 10

// settled tells when a file will have lain still for long enough.
func (g *Gate) settles(l *look) time.Time {
	wait := g.cfg.Settle
	if l.info.Size() == 0 {
		wait *= emptyLonger
	}
	return l.since.Add(wait)
}

// lookAround looks at everything in the intake once.
func (g *Gate) lookAround(now time.Time) error {
	root, err := os.Stat(g.cfg.Intake)
	if err != nil {
		return err
	}
	g.round++
	g.tickets = map[string]folderTicket{}
	g.folders = map[string][]*look{}
	if err := g.lookThrough("", []fs.FileInfo{root}, now); err != nil {
		return err
	}
	for rel, l := range g.looks {
		if l.mark != g.round && !l.busy {
			delete(g.looks, rel)
		}
	}
	for rel, round := range g.oddities {
		if round != g.round {
			delete(g.oddities, rel)
		}
	}
	return nil
}

// lookThrough looks at a folder; above are the folders on the way to it.
func (g *Gate) lookThrough(rel string, above []fs.FileInfo, now time.Time) error {
	if g.cfg.Follow != nil {
		g.cfg.Follow(g.at(rel)) // first, so that nothing comes between watching and looking
	}
	entries, err := os.ReadDir(g.at(rel))
	if err != nil {
		if rel == "" {
			return err
		}
		g.ignore(rel, "it cannot be looked through: "+plainCause(err))
		return nil
	}
	for _, e := range entries {
		if g.leftAlone(e.Name()) {
			continue
		}
		path := filepath.Join(rel, e.Name())
		info, err := e.Info()
		switch {
		case err != nil: // gone since
		case !info.IsDir():
			g.lookAt(path, info, now)
		case len(above) >= deepest:
			g.ignore(path, "it lies too deep: folders are looked through to a depth of 24")
		case slices.ContainsFunc(above, func(a fs.FileInfo) bool { return os.SameFile(a, info) }):
			g.ignore(path, "it leads back to a folder that it lies in")
		default:
			if err := g.lookThrough(path, append(slices.Clip(above), info), now); err != nil {
				return err
			}
		}
	}
	return nil
}

func (g *Gate) lookAt(rel string, info fs.FileInfo, now time.Time) {
	if why := oddity(info.Mode()); why != "" {
		g.ignore(rel, why)
		return
	}
	l := g.looks[rel]
	if l == nil {
		l = &look{rel: rel, first: now}
		g.looks[rel] = l
	}
	l.mark = g.round
	if l.busy {
		return
	}
	if l.info == nil || !sameState(l.info, info) {
		if l.info != nil && !os.SameFile(l.info, info) {
			l.first = now
		}
		l.info, l.since = info, now
		l.retry, l.fails, l.why, l.stuck = time.Time{}, 0, "", false
	}
	dir := filepath.Dir(rel)
	g.folders[dir] = append(g.folders[dir], l)
}

// ignore tells once why something is not judged.
func (g *Gate) ignore(rel, why string) {
	if _, told := g.oddities[rel]; !told {
		g.note(Entry{Event: eventIgnored, File: rel, Why: why})
	}
	g.oddities[rel] = g.round
}

// job is what one worker does: judge a file, or a front and its back.
type job struct {
	files  []*look
	ticket rules.Ticket
}

// ready lists the jobs that can be begun, the oldest first, and tells when there may
// be more.
func (g *Gate) ready(now time.Time) (jobs []job, next time.Time) {
	soon := func(t time.Time) {
		if next.IsZero() || t.Before(next) {
			next = t
		}
	}
	for dir, files := range g.folders {
		t := g.ticketFor(dir)
		if t.err != nil {
			g.waitsForTicket(files, t.err)
			continue
		}
		pairs := g.halves(files, t.ticket)
		for _, l := range files {
			j, when := g.jobFor(l, pairs[l], now)
			if when.After(now) {
				soon(when)
				continue
			}
			if j != nil {
				jobs = append(jobs, job{j, t.ticket})
			}
		}
	}
	slices.SortFunc(jobs, func(a, b job) int {
		return cmp.Or(a.files[0].first.Compare(b.files[0].first), cmp.Compare(a.files[0].rel, b.files[0].rel))
	})
	return jobs, next
}

// jobFor tells what is to be done with a file now, or when to ask again. A half waits
// for its other half, but not for ever.
func (g *Gate) jobFor(l *look, h half, now time.Time) (files []*look, when time.Time) {
	single := []*look{l}
	if l.busy || g.looked(l) && (h.other == nil || g.looked(h.other)) {
		return nil, time.Time{}
	}
	when = later(g.settles(l), l.retry)
	if !h.is || h.other == nil && g.cfg.Once {
		return single, when
	}
	alone := later(when, l.since.Add(g.cfg.Settle+g.cfg.PairWait))
	if h.other == nil || h.other.busy {
		return single, alone
	}
	other := later(g.settles(h.other), h.other.retry)
	switch {
	case other.After(now) && alone.After(now):
		return single, earlier(alone, later(when, other))
	case other.After(now):
		return single, alone
	case h.back:
		return nil, time.Time{} // the front's job
	}
	return []*look{l, h.other}, when
}

func later(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}

func earlier(a, b time.Time) time.Time {
	if b.Before(a) {
		return b
	}
	return a
}
