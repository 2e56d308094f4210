package gate

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"time"

	"stoneproof/rules"
)

// result is what became of a job.
type result struct {
	job     job
	class   Class // where its files went; empty where they did not
	err     error
	pending string // the claim's folder, where it could go neither on nor back
	took    time.Duration
}

// work does one job: claim, judge, deliver.
func (g *Gate) work(ctx context.Context, j job) result {
	start := time.Now()
	r := result{job: j}
	if g.cfg.WatchOnly {
		r.class, r.err = g.lookOnly(ctx, j)
		r.took = time.Since(start)
		return r
	}
	c, err := g.take(j)
	if err != nil {
		r.err = err
		return r
	}
	if err := g.noteClaim(c); err != nil {
		return g.abandon(c, r, err)
	}
	v, err := g.judge(ctx, c, j.ticket)
	r.took = time.Since(start)
	if err != nil {
		return g.abandon(c, r, err)
	}
	r.class = v.class
	if err := g.deliver(c, v); err != nil {
		r.class = ""
		return g.abandon(c, r, err)
	}
	return r
}

// noteClaim writes down that files came in: before they are judged, so that whatever
// becomes of a gate tells of the file it was at.
func (g *Gate) noteClaim(c *claim) error {
	for _, f := range c.files {
		e := Entry{Event: eventClaimed, Claim: c.ID, File: f.rel, Came: &f.seen, Size: f.info.Size(), SHA256: f.sum}
		if err := g.journal.write(e); err != nil {
			return err
		}
	}
	return nil
}

// abandon gives a claim's files back to the intake, as far as they are still the gate's
// to give.
func (g *Gate) abandon(c *claim, r result, err error) result {
	r.err = err
	var pending *pendingError
	switch {
	case errors.Is(err, errLost):
		return r
	case errors.As(err, &pending):
		r.pending = c.dir
		return r
	}
	for _, f := range c.files {
		e := Entry{Event: eventReturned, Claim: c.ID, File: f.rel, SHA256: f.sum, Why: g.say(err)}
		if gone(f.path) {
			e.Event, e.Why = eventGone, "it was deleted while it was judged"
		}
		if isWriter(err) {
			g.note(e)
		} else { // it waits, and why is told once
			g.journal.write(e)
			g.counts.count(e)
		}
	}
	if failed := g.giveBack(c); failed != nil {
		r.pending, r.err = c.dir, errors.Join(err, failed)
	}
	return r
}

// judge judges the claim's files, and reports an error where that says nothing: they
// changed meanwhile, or the run was broken off.
func (g *Gate) judge(ctx context.Context, c *claim, t rules.Ticket) (verdict, error) {
	judge := g.cfg.Judge(t)
	v := verdict{class: Cleared, ticket: t}
	for _, f := range c.files {
		r := judged(ctx, judge, f.path)
		if judge.Unjudged != nil && judge.Unjudged(r) {
			return v, errors.New(r.Findings[0].Message)
		}
		v.files = append(v.files, r)
	}
	if err := ctx.Err(); err != nil {
		return v, errors.New("the gate was stopped before it was judged")
	}
	if len(v.files) == 2 && judge.Pair != nil {
		judge.Pair(&v.files[0], &v.files[1])
	}
	g.step("judged")
	if err := c.unchanged(); err != nil {
		return v, err
	}
	for i := range v.files {
		r := &v.files[i]
		if r.SHA256 != "" && r.SHA256 != c.files[i].sum {
			return v, errChanged
		}
		r.Path, r.SHA256 = c.files[i].rel, c.files[i].sum
		// A card goes as a whole: its front does not go to print without its back.
		if r.Verdict != rules.Pass && r.Verdict != rules.Warn {
			v.class = Held
		}
	}
	return v, nil
}

// judged judges a file. A judge that panics has not judged it: the file is held, or it
// would bring every gate down that tries it.
func judged(ctx context.Context, j Judge, path string) (r rules.FileReport) {
	defer func() {
		if v := recover(); v != nil {
			r = rules.FileReport{Path: path, Kind: "unknown", Verdict: rules.Fail, Findings: []rules.Finding{{
				Rule: "file-opens", Verdict: rules.Fail, Basis: rules.Read,
				Message: fmt.Sprintf("The file could not be judged: the judge itself failed (%v); please report it.", v),
				Fix:     "Export it again from the program that made it, and check the new file.",
			}}}
		}
	}()
	return j.File(ctx, path)
}

// reportFor is the report of the claim's ith file, told with the other half if there
// is one: the file's own comes first.
func reportFor(v verdict, i int) rules.Report {
	files := []rules.FileReport{v.files[i]}
	for k, f := range v.files {
		if k != i {
			files = append(files, f)
		}
	}
	return rules.Report{Ticket: v.ticket, Files: files}
}

// settleResult takes in what became of a job.
func (g *Gate) settleResult(r result) {
	now := time.Now()
	g.busy--
	g.counts.inHand(-len(r.job.files))
	if r.pending != "" {
		g.pending = append(g.pending, r.pending)
	}
	if r.err == nil {
		g.counts.judged(len(r.job.files), r.took)
		g.passed(r.class, len(r.job.files))
	}
	for _, l := range r.job.files {
		l.busy = false
		switch {
		case r.err == nil && g.cfg.WatchOnly:
			g.memory[l.rel] = looked{l.info}
		case r.err == nil, errors.Is(r.err, errAway), errors.Is(r.err, errLost), r.pending != "":
			delete(g.looks, l.rel)
		case isWriter(r.err):
			l.since = now // it settles anew
		default:
			l.fails++
			l.retry = now.Add(backoff(l.fails))
			g.stuck(l, g.say(r.err))
		}
	}
}

// isWriter reports whether a file was not dealt with because it is still being written.
func isWriter(err error) bool { return errors.Is(err, errOpen) || errors.Is(err, errChanged) }

func (g *Gate) passed(c Class, n int) {
	if c == Cleared {
		g.outcome.Cleared += n
	} else {
		g.outcome.Held += n
	}
}

// backoff is how long to wait after so many failures in a row.
func backoff(fails int) time.Duration {
	d := backoffLeast << min(fails-1, 10)
	return min(d, backoffMost)
}

// stuck keeps a file waiting for something that a person must do, and tells so once.
func (g *Gate) stuck(l *look, why string) {
	l.stuck = true
	if l.why != why {
		l.why = why
		g.note(Entry{Event: eventWaits, File: l.rel, Why: why, trouble: true})
	}
}

// say tells an error in the words of the folders that a person knows: not of the names
// within them that only the gate gives.
func (g *Gate) say(err error) string {
	path, cause := "", err
	var pe *fs.PathError
	var le *os.LinkError
	switch {
	case errors.As(err, &pe):
		path, cause = pe.Path, pe.Err
	case errors.As(err, &le):
		path, cause = le.New, le.Err
	default:
		text, _, _ := strings.Cut(err.Error(), "\n")
		return text
	}
	for _, root := range []string{g.cfg.Held, g.cfg.Cleared, g.cfg.Intake} {
		if root != "" && within(path, root) {
			path = root
			break
		}
	}
	return fmt.Sprintf("cannot work in %q: %v", path, cause)
}

// plainCause drops the operation and the path from a file system's error.
func plainCause(err error) string {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return pe.Err.Error()
	}
	return err.Error()
}
