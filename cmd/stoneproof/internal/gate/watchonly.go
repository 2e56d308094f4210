package gate

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"

	"stoneproof/rules"
)

// looked remembers a file that was judged where it lies.
type looked struct{ info fs.FileInfo }

// looked reports whether a file that is not moved has been judged as it is now.
func (g *Gate) looked(l *look) bool {
	was, ok := g.memory[l.rel]
	return ok && l.info != nil && sameState(was.info, l.info)
}

// lookOnly judges a job's files where they lie. Its reports go where the files would
// have gone, or are shown.
func (g *Gate) lookOnly(ctx context.Context, j job) (Class, error) {
	c := &claim{}
	for _, l := range j.files {
		f := claimed{rel: l.rel, path: g.at(l.rel), info: l.info, seen: l.first}
		if err := f.untouched(); err != nil {
			return "", err
		}
		var err error
		if f.sum, err = hashOf(f.path); err != nil {
			return "", err
		}
		c.files = append(c.files, f)
	}
	v, err := g.judge(ctx, c, j.ticket)
	if err != nil {
		return "", err
	}
	for i, f := range c.files {
		r := v.files[i]
		e := Entry{Event: eventLooked, File: f.rel, Came: &f.seen, Size: f.info.Size(), SHA256: f.sum,
			Verdict: r.Verdict, Failed: failed(r), Class: v.class}
		if root := g.root(v.class); root != "" {
			if e.Pages, err = g.reportOnly(root, f, v, i); err != nil {
				return "", err
			}
		}
		g.note(e)
	}
	if g.cfg.Show != nil {
		g.telling.Lock()
		defer g.telling.Unlock()
		g.cfg.Show(rules.Report{Ticket: v.ticket, Files: v.files})
	}
	return v.class, nil
}

// reportOnly lays the pages of a file that stays where it is into a destination, under
// the first number that is free.
func (g *Gate) reportOnly(root string, f claimed, v verdict, i int) ([]string, error) {
	if err := errors.Join(g.destination(root), makeDirs(root, filepath.Dir(f.rel))); err != nil {
		return nil, err
	}
	for n := 1; ; n++ {
		to := filepath.Join(root, numbered(f.rel, n, roomForPages))
		if !gone(to) {
			continue
		}
		pages, err := g.cfg.Reports(Judged{Name: filepath.Base(to), Path: f.path, Report: reportFor(v, i)})
		if err != nil {
			return nil, err
		}
		names, err := g.layLoose(to, pages)
		if !errors.Is(err, fs.ErrExist) {
			return names, err
		}
	}
}

// layLoose writes pages beside a name that no art will have; none or all.
func (g *Gate) layLoose(to string, pages []Page) (names []string, err error) {
	defer func() {
		if err != nil {
			for _, name := range names {
				os.Remove(name)
			}
			names = nil
		}
	}()
	for _, p := range pages {
		staged := filepath.Join(filepath.Dir(to), ours+"-"+randomHex()+strconv.Itoa(len(names)))
		if err := writeStaged(staged, p.Data); err != nil {
			os.Remove(staged)
			return names, err
		}
		if err := g.mover.move(staged, to+p.Suffix); err != nil {
			os.Remove(staged)
			return names, err
		}
		names = append(names, to+p.Suffix)
	}
	return names, syncDir(filepath.Dir(to))
}
