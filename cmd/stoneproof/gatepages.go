package main

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"sync"

	"stoneproof/cmd/stoneproof/internal/gate"
	"stoneproof/report"
	"stoneproof/report/page"
	"stoneproof/rules"
)

// shelf holds the pictures of files that are judged until their reports are written,
// and makes those. What is never asked for, because a file changed or went away
// meanwhile, makes room for others.
type shelf struct {
	most   int
	strict bool

	mu   sync.Mutex
	held []shelvedFile // the last put is the last
}

type shelvedFile struct {
	path     string
	pictures []rules.Picture
}

// shelved is for how many files more than are in hand pictures are held.
const shelved = 8

func (s *shelf) put(_ context.Context, r rules.FileReport, pictures []rules.Picture) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.held = append(s.held, shelvedFile{r.Path, pictures})
	if len(s.held) > s.most {
		s.held = slices.Delete(s.held, 0, 1)
	}
}

// take gives the pictures of a file, once.
func (s *shelf) take(path string) []rules.Picture {
	s.mu.Lock()
	defer s.mu.Unlock()
	for i, f := range slices.Backward(s.held) {
		if f.path == path {
			s.held = slices.Delete(s.held, i, i+1)
			return f.pictures
		}
	}
	return nil
}

// pages are what lies beside a judged file: for whoever made it a page that holds all,
// for programs its facts, and for a quick look its proofs.
func (s *shelf) pages(j gate.Judged) ([]gate.Page, error) {
	r := j.Report
	r.Version = version()
	proofs := proofsForPage(r.Files[0], r.Ticket, s.take(j.Path))
	var person, program bytes.Buffer
	err := page.Write(&person, r, page.Options{Strict: s.strict, Proof: func(file, side int) *page.Proof {
		if file > 0 || side < 1 || side > len(proofs) {
			return nil // the other half of a pair has a page of its own
		}
		return &proofs[side-1]
	}})
	if err != nil {
		return nil, err
	}
	if err := report.JSON(&program, r); err != nil {
		return nil, err
	}
	all := []gate.Page{{Suffix: ".report.html", Data: person.Bytes()}, {Suffix: ".report.json", Data: program.Bytes()}}
	for i, p := range proofs {
		if len(p.PNG) > 0 && i < mostProofs {
			all = append(all, gate.Page{Suffix: fmt.Sprintf(".proof-%d.png", i+1), Data: p.PNG})
		}
	}
	return all, nil
}

// mostProofs is of how many sides a proof is laid beside the art: a deck has all of its
// proofs in its page.
const mostProofs = 4
