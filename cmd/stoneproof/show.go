package main

import (
	"bytes"
	"context"
	"slices"
	"sync"

	"stoneproof/checks"
	"stoneproof/cmd/stoneproof/internal/apart"
	"stoneproof/report/page"
	"stoneproof/report/proof"
	"stoneproof/rules"
)

// viewer is shown the sides of a file that was judged.
type viewer func(ctx context.Context, r rules.FileReport, pictures []rules.Picture)

// judging gives a judge of files in processes apart, who shows what he judges if there
// is anybody to show it to.
func judging(pool *apart.Pool, j *checks.Judge, to []viewer) checks.FileJudge {
	if len(to) == 0 {
		return pool.Judge(j)
	}
	see := pool.See(j)
	return func(ctx context.Context, path string) rules.FileReport {
		r, pictures := see(ctx, path)
		for _, view := range to {
			view(ctx, r, pictures)
		}
		return r
	}
}

// pageProofs are the proofs that a page shows of a run.
type pageProofs struct {
	ticket rules.Ticket
	paths  []string // of the run

	mu sync.Mutex
	of map[string][]page.Proof
}

// mostShown bounds how many files of a run have their proofs in its page, which must
// still open in a browser: the proofs of a card with two sides have some 500 kB.
const mostShown = 60

// notShown is told of the others.
const notShown = "A page shows the proofs of its first 60 files; --proof FOLDER draws them all."

func (p *pageProofs) view(_ context.Context, r rules.FileReport, pictures []rules.Picture) {
	var drawn []page.Proof
	if slices.Index(p.paths, r.Path) < mostShown {
		drawn = proofsForPage(r, p.ticket, pictures)
	} else {
		for range pictures {
			drawn = append(drawn, page.Proof{Why: notShown})
		}
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.of == nil {
		p.of = map[string][]page.Proof{}
	}
	p.of[r.Path] = drawn
}

// proof is the proof of a side of the run's n-th file.
func (p *pageProofs) proof(file, side int) *page.Proof {
	p.mu.Lock()
	defer p.mu.Unlock()
	if sides := p.of[p.paths[file]]; 0 < side && side <= len(sides) {
		return &sides[side-1]
	}
	return nil
}

// proofsForPage draws the proofs of a file's sides as a page shows them.
func proofsForPage(r rules.FileReport, t rules.Ticket, pictures []rules.Picture) []page.Proof {
	var all []page.Proof
	for _, picture := range pictures {
		if picture.Image == nil {
			all = append(all, page.Proof{Why: picture.Why})
			continue
		}
		all = append(all, proofForPage(proof.Draw(r, t, picture)))
	}
	return all
}

func proofForPage(drawn proof.Proof) page.Proof {
	var b bytes.Buffer
	if err := drawn.WritePNG(&b); err != nil {
		return page.Proof{Why: "The proof could not be written: " + err.Error() + "."}
	}
	p := page.Proof{PNG: b.Bytes(), Size: drawn.Image.Bounds().Size()}
	for _, at := range drawn.Places {
		p.Places = append(p.Places, page.Place{Number: at.Number, Tag: at.Tag, Frame: at.Frame})
	}
	return p
}
