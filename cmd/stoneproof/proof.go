package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"unicode"

	"stoneproof/report/proof"
	"stoneproof/rules"
)

// proofs are the proof pictures of a run. They are drawn as files are judged, into a
// hidden folder beside their places, and put there together at the end: a run that
// breaks off leaves nothing behind.
type proofs struct {
	folder, stage string
	ticket        rules.Ticket

	mu    sync.Mutex
	drawn []staged
	err   error // the first that kept one from being drawn
}

// staged is a proof that waits for its name.
type staged struct {
	of, at string // the artwork, the picture
	side   int
}

func startProofs(folder string, t rules.Ticket) (*proofs, error) {
	if err := os.MkdirAll(folder, 0o777); err != nil {
		return nil, fmt.Errorf("failed to make %q: %w", folder, cause(err))
	}
	stage, err := os.MkdirTemp(folder, ".stoneproof-*")
	if err != nil {
		return nil, fmt.Errorf("failed to write in %q: %w", folder, cause(err))
	}
	return &proofs{folder: folder, stage: stage, ticket: t}, nil
}

// close takes away what was not put in its place.
func (p *proofs) close() { os.RemoveAll(p.stage) }

// view draws the proofs of a file.
func (p *proofs) view(ctx context.Context, r rules.FileReport, pictures []rules.Picture) {
	for _, picture := range pictures {
		if ctx.Err() == nil {
			p.draw(r, picture)
		}
	}
}

func (p *proofs) draw(r rules.FileReport, picture rules.Picture) {
	f, err := os.CreateTemp(p.stage, "*.png")
	if err == nil {
		err = proof.Draw(r, p.ticket, picture).WritePNG(f)
		err = errors.Join(err, f.Chmod(0o644), f.Sync(), f.Close())
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if err != nil {
		if p.err == nil {
			p.err = fmt.Errorf("failed to write a proof of %q: %w", r.Path, cause(err))
		}
		return
	}
	p.drawn = append(p.drawn, staged{r.Path, f.Name(), picture.Side})
}

// keep gives the proofs their names in the order of the paths. Where a file that is no
// proof has one of the names, nothing is put anywhere.
func (p *proofs) keep(paths []string) (names []string, err error) {
	if p.err != nil {
		return nil, p.err
	}
	slices.SortStableFunc(p.drawn, func(a, b staged) int {
		if a.of != b.of {
			return slices.Index(paths, a.of) - slices.Index(paths, b.of)
		}
		return a.side - b.side
	})
	taken := map[string]bool{}
	for _, s := range p.drawn {
		name := filepath.Join(p.folder, proofName(s, taken))
		if err := mayReplace(name); err != nil {
			return nil, err
		}
		names = append(names, name)
	}
	for i, s := range p.drawn {
		if err := os.Rename(s.at, names[i]); err != nil {
			return nil, fmt.Errorf("failed to write %q: %w", names[i], cause(err))
		}
	}
	return names, nil
}

// mayReplace refuses a name that anything but a proof of ours has.
func mayReplace(name string) error {
	info, err := os.Lstat(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return fmt.Errorf("failed to write %q: %w", name, cause(err))
	}
	if info.Mode().IsRegular() {
		f, err := os.Open(name)
		if err != nil {
			return fmt.Errorf("failed to write %q: %w", name, cause(err))
		}
		defer f.Close()
		if proof.Ours(f) {
			return nil
		}
	}
	return withHint(fmt.Errorf("failed to write %q: there is something of that name that is no proof of ours", name),
		"name another folder for the proofs, or move that away")
}

// proofName is a name that no other proof of the run has: card-side-1.png. Names are
// compared as a disk does that takes capitals for small letters.
func proofName(s staged, taken map[string]bool) string {
	base := filepath.Base(s.of)
	stem := safeStem(strings.TrimSuffix(base, filepath.Ext(base)))
	name := fmt.Sprintf("%s-side-%d.png", stem, s.side)
	for n := 2; taken[strings.ToLower(name)]; n++ {
		name = fmt.Sprintf("%s-%d-side-%d.png", stem, n, s.side)
	}
	taken[strings.ToLower(name)] = true
	return name
}

// safeStem makes a file's name fit for one of ours: letters and digits of any script,
// dots and dashes inside; anything else becomes a dash.
func safeStem(name string) string {
	const most = 120 // bytes; file systems take 255
	safe := strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) || r == '_' || r == '.' {
			return r
		}
		return '-'
	}, strings.ToValidUTF8(name, "-"))
	if len(safe) > most {
		safe = strings.ToValidUTF8(safe[:most], "")
	}
	if safe = strings.Trim(safe, ".-"); safe == "" {
		return "card"
	}
	return safe
}
