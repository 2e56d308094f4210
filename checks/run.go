package checks

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"

	"stoneproof/checks/art"
	"stoneproof/checks/art/render"
	"stoneproof/rules"
)

// Judge judges files against one ticket.
type Judge struct {
	Ticket   rules.Ticket
	Checks   []*Check // which to run, of All
	Ceilings art.Ceilings
	Renderer *render.Engine
	Strict   bool // a warning makes the file fail
}

// FileJudge judges the file at path. The caller does not see whether that
// happens here or in another process.
type FileJudge func(ctx context.Context, path string) rules.FileReport

// File judges the file at path, within its deadline. It always returns a
// report: a file that cannot be opened, or takes too long, fails file-opens.
func (j *Judge) File(ctx context.Context, path string) rules.FileReport {
	return j.within(ctx, onDisk(path), &album{}).report
}

// Bytes is File for what is not on disk; the report calls it by the name.
func (j *Judge) Bytes(ctx context.Context, name string, b []byte) rules.FileReport {
	return j.within(ctx, inMemory(name, b), &album{}).report
}

// within judges and sees a file, within the deadline and the time for pictures.
func (j *Judge) within(ctx context.Context, from source, see *album) judged {
	ctx, cancel := context.WithTimeoutCause(ctx, j.Ceilings.Deadline+see.time, errDeadline)
	done := make(chan judged, 1)
	go func() {
		defer cancel()
		r := j.file(ctx, from, see)
		done <- judged{r, see.pictures}
	}()
	select {
	case r := <-done:
		return r
	case <-ctx.Done():
	}
	// What is still at work cannot be stopped from outside; it is left behind
	// and its result unread. The process ends it.
	select {
	case r := <-done:
		return r
	default:
		return judged{report: j.late(ctx, from.name)}
	}
}

// judged is a report with the pictures that were asked for.
type judged struct {
	report   rules.FileReport
	pictures []rules.Picture
}

var errDeadline = errors.New("deadline")

func (j *Judge) late(ctx context.Context, path string) rules.FileReport {
	if errors.Is(context.Cause(ctx), errDeadline) {
		return Unjudged(path, art.Overdue(j.Ceilings.Deadline))
	}
	return Unjudged(path, art.Interrupted())
}

// Unjudged is the report of a file that could not be judged, and fails for it.
func Unjudged(path string, why *art.Fault) rules.FileReport {
	return rules.FileReport{
		Path: path, Kind: art.KindUnknown, Verdict: rules.Fail, Findings: []rules.Finding{why.Finding()},
	}
}

func (j *Judge) file(ctx context.Context, from source, see *album) (r rules.FileReport) {
	a, err := from.open(art.Opener{Ceilings: j.Ceilings, Renderer: j.Renderer})
	r = rules.FileReport{Path: from.name, Kind: a.Kind, SHA256: a.SHA256}
	if err != nil {
		r.Findings = []rules.Finding{art.AsFault(err).Finding()}
	} else {
		defer a.Close()
		a.Place(j.Ticket)
		if j.needsPaint() || see.most > 0 {
			a.Warm()
		}
		for _, s := range a.Sides {
			r.Sides = append(r.Sides, s.Facts())
		}
		r.Findings = j.judge(ctx, a, r.Sides, see)
	}
	sortFindings(r.Findings)
	r.Verdict = j.verdict(r.Findings)
	return r
}

func (j *Judge) verdict(findings []rules.Finding) rules.Verdict {
	v := rules.Worst(findings)
	if j.Strict && v == rules.Warn {
		return rules.Fail
	}
	return v
}

func (j *Judge) needsPaint() bool {
	return slices.ContainsFunc(j.Checks, func(c *Check) bool { return c.Needs >= Paint })
}

// judge runs the checks. It adds to the sides' facts what sides of one card must
// have in common, where a check asks for it.
func (j *Judge) judge(ctx context.Context, a *art.Art, facts []rules.SideFacts, see *album) []rules.Finding {
	var findings []rules.Finding
	pass := func(c *Check, s *art.Side) *Pass {
		return &Pass{Ctx: ctx, Ticket: j.Ticket, Art: a, Side: s, rule: c.Rule, findings: &findings, facts: facts}
	}
	compared := slices.ContainsFunc(j.Checks, func(c *Check) bool { return c.Pair != nil })
	// Side by side, so that no more than one side's pixels are held at a time.
	for k, s := range a.Sides {
		for _, c := range j.Checks {
			if c.Side != nil {
				pass(c, s).side(c)
			}
		}
		if compared {
			facts[k].Face = pass(PairSize, s).face()
		}
		see.add(ctx, a, s)
		s.Release()
	}
	for _, c := range j.Checks {
		switch {
		case c.File != nil:
			pass(c, nil).run(c.File)
		case c.Pair != nil:
			pass(c, nil).run(onPair(c.Pair))
		}
	}
	return findings
}

// side calls a check on its side, if there is a trim to judge by.
func (p *Pass) side(c *Check) {
	before := len(*p.findings)
	if c.Placed && !p.Side.Placed() {
		p.Skip("The trim could not be placed, so this cannot be judged: see trim-size.")
		return
	}
	p.run(c.Side)
	if len(*p.findings) == before && c.File == nil {
		p.Skip(unsaid)
	}
}

// unsaid is told where a check said nothing at all: a mistake of ours.
const unsaid = "Not judged: the check said nothing; please report it."

// found lists what this check has said of the file so far.
func (p *Pass) found() []rules.Finding {
	var list []rules.Finding
	for _, f := range *p.findings {
		if f.Rule == p.rule {
			list = append(list, f)
		}
	}
	return list
}

// run calls a check. One that panics is "not judged", named, and the run goes on.
func (p *Pass) run(check func(*Pass)) {
	before := len(*p.findings)
	defer func() {
		if v := recover(); v != nil {
			*p.findings = (*p.findings)[:before]
			p.Skip(fmt.Sprintf("Not judged: the check itself failed (%v); please report it.", v))
		}
	}()
	check(p)
	if p.Side == nil && len(p.found()) == 0 {
		p.Skip(unsaid)
	}
}

// sortFindings puts findings in a fixed order: by side, then place, those
// without one first and then from the top left, then rule, then as found.
func sortFindings(findings []rules.Finding) {
	order := map[string]int{}
	for i, id := range rules.RuleIDs() {
		order[id] = i
	}
	slices.SortStableFunc(findings, func(a, b rules.Finding) int {
		return cmp.Or(
			cmp.Compare(a.Side, b.Side),
			comparePlaces(a.Where, b.Where),
			cmp.Compare(order[a.Rule], order[b.Rule]),
		)
	})
}

func comparePlaces(a, b *rules.Box) int {
	switch {
	case a == nil && b == nil:
		return 0
	case a == nil:
		return -1
	case b == nil:
		return 1
	}
	return cmp.Or(cmp.Compare(a.Y, b.Y), cmp.Compare(a.X, b.X))
}
