package gang

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"stoneproof/checks/art"
	"stoneproof/rules"
)

// Judge judges a sheet by the rules of rules.SheetCatalogue, and gives its designs for
// the rules of cards. It always returns a report: a file that cannot be opened, or takes
// too long, fails file-opens.
func Judge(ctx context.Context, path string, w Want) (rules.FileReport, []Card) {
	return judgeWithin(ctx, path, w, art.DefaultCeilings())
}

func judgeWithin(ctx context.Context, path string, w Want, ceilings art.Ceilings) (rules.FileReport, []Card) {
	type judged struct {
		report rules.FileReport
		cards  []Card
	}
	within, cancel := context.WithTimeout(ctx, ceilings.Deadline)
	done := make(chan judged, 1)
	go func() {
		defer cancel()
		r, cards := open(within, path, w, ceilings)
		done <- judged{r, cards}
	}()
	late := art.Overdue(ceilings.Deadline)
	select {
	case v := <-done:
		return v.report, v.cards
	case <-ctx.Done():
		late = art.Interrupted()
	case <-time.After(ceilings.Deadline):
	}
	return rules.FileReport{Path: path, Kind: art.KindUnknown, Verdict: rules.Fail, Findings: []rules.Finding{late.Finding()}}, nil
}

func open(ctx context.Context, path string, w Want, ceilings art.Ceilings) (r rules.FileReport, cards []Card) {
	r = rules.FileReport{Path: path, Kind: art.KindUnknown, Verdict: rules.Fail}
	defer func() { // a reader of the file may panic over what it holds
		if v := recover(); v != nil {
			r.Findings = []rules.Finding{art.Unbearable(v).Finding()}
		}
	}()
	a, err := art.Opener{Ceilings: ceilings, Renderer: w.Renderer}.Open(path)
	r.Kind, r.SHA256 = a.Kind, a.SHA256
	if err != nil {
		r.Findings = []rules.Finding{art.AsFault(err).Finding()}
		return r, nil
	}
	defer a.Close()
	a.PlaceWhole()
	j := &judge{want: w, unit: w.Ticket.Unit}
	if j.sheet(ctx, a) {
		cards = j.cards(a)
		for _, f := range j.faces {
			r.Sides = append(r.Sides, rules.SideFacts{Number: f.number, Trim: f.size, Bleed: f.bleed(w.Ticket.Bleed),
				Basis: rules.Read, Placing: "as a sheet of " + rules.Counted(len(f.cells), "card")})
		}
	}
	r.Findings = j.findings
	r.Verdict = rules.Worst(r.Findings)
	return r, cards
}

// judge is a sheet being judged.
type judge struct {
	want     Want
	unit     rules.Unit
	faces    []*face
	groups   [][]group // of each face
	findings []rules.Finding
}

func (j *judge) add(f rules.Finding) { j.findings = append(j.findings, f) }

func (j *judge) skipAll(why string) {
	for _, id := range rules.SheetRuleIDs() {
		j.add(rules.Finding{Rule: id, Verdict: rules.Skip, Message: why})
	}
}

// sheet reads both sides and runs the rules in the order of the catalogue. It is false
// where the sheet cannot be judged at all, and why is told.
func (j *judge) sheet(ctx context.Context, a *art.Art) bool {
	if len(a.Sides) > 2 {
		j.skipAll(fmt.Sprintf("The file has %d pages: a sheet has a front, and perhaps a back. Give one sheet at a time.", len(a.Sides)))
		return false
	}
	for _, s := range a.Sides {
		f, why := j.face(ctx, s)
		if f == nil {
			j.skipAll(why)
			return false
		}
		f.limits = j.want.Ticket.Limits
		f.find(j.want)
		j.faces = append(j.faces, f)
		if f.picture != nil {
			j.groups = append(j.groups, pixelGroups(f.picture, f.cells))
		} else {
			j.groups = append(j.groups, groups(f.cells))
		}
	}
	if len(j.faces[0].cells) == 0 {
		j.skipAll("No cards could be told on the sheet: there are no cutting marks a card's size apart, and no plan puts cards on a sheet of this size.")
		return false
	}
	j.numberBacks()
	for _, rule := range []struct {
		id    string
		judge func(*judge, string)
	}{{"sheet-fit", (*judge).fit}, {"sheet-gaps", (*judge).gaps}, {"sheet-marks", (*judge).marks}, {"sheet-turn", (*judge).turn}} {
		before := len(j.findings)
		rule.judge(j, rule.id)
		if len(j.findings) == before {
			j.add(rules.Finding{Rule: rule.id, Verdict: rules.Skip, Message: "Not judged: the check said nothing; please report it."})
		}
	}
	return true
}

// face lists what a side shows, or says why that cannot be told.
func (j *judge) face(ctx context.Context, s *art.Side) (f *face, why string) {
	if s.Page == nil {
		p, why := pictureOf(s, j.want.Sheet)
		if p == nil {
			return nil, why
		}
		return facePixels(s.Number, p), ""
	}
	c, err := s.Content()
	switch {
	case err != nil:
		return nil, "What the page draws could not be read: " + err.Error() + "."
	case c.Truncated:
		return nil, "The page asks for far more work than a sheet should: " + strings.Join(c.Notes, "; ") + "."
	}
	if f = faceOf(s.Page, c); f.onePicture() {
		// A flattened sheet: what lies on it only its pixels tell.
		p, why := pictureOfPage(ctx, s)
		if p == nil {
			return nil, why
		}
		return facePixels(s.Number, p), ""
	}
	return f, ""
}

// pass reports that a rule found nothing wrong, if it has said nothing yet.
func (j *judge) pass(rule, message string) {
	if !slices.ContainsFunc(j.findings, func(f rules.Finding) bool { return f.Rule == rule }) {
		j.add(rules.Finding{Rule: rule, Verdict: rules.Pass, Basis: rules.Measured, Message: message})
	}
}

func (j *judge) in(l rules.Length) string { return l.About(j.unit).In(j.unit) }

// bleed is how far the cards at the rim of the block are painted outwards, up to what
// is wanted: inside, butted cards have none.
func (f *face) bleed(want rules.Length) rules.Edges {
	least := rules.Even(want)
	block, painted := rules.Box{}, false
	for _, c := range f.cells {
		block = block.Union(c.trim)
	}
	for _, c := range f.cells {
		if f.picture == nil && len(c.items) == 0 {
			continue
		}
		painted = true
		z := f.zone(c, want)
		for _, e := range []struct {
			outer bool
			least *rules.Length
			have  rules.Length
		}{
			{c.trim.Y == block.Y, &least.Top, c.trim.Y - z.Y}, {c.trim.X == block.X, &least.Left, c.trim.X - z.X},
			{c.trim.Right() == block.Right(), &least.Right, z.Right() - c.trim.Right()},
			{c.trim.Bottom() == block.Bottom(), &least.Bottom, z.Bottom() - c.trim.Bottom()},
		} {
			if e.outer {
				*e.least = min(*e.least, e.have)
			}
		}
	}
	if !painted {
		return rules.Edges{}
	}
	return least
}

// zone is the finished card with what is painted of its bleed.
func (f *face) zone(c *cell, bleed rules.Length) rules.Box {
	if f.picture != nil {
		return f.picture.zone(c.trim, bleed)
	}
	return c.zone(bleed)
}

// nth names a card of a side of the sheet.
func (f *face) nth(c *cell) string {
	if f.number == 2 {
		return fmt.Sprintf("Back %d", c.number)
	}
	return fmt.Sprintf("Card %d", c.number)
}

// numberBacks gives every back the number of the card that it lies behind, as the
// plan does. Backs that lie behind no card, or two behind one, keep their own.
func (j *judge) numberBacks() {
	if len(j.faces) < 2 || len(j.faces[0].cells) != len(j.faces[1].cells) {
		return
	}
	front, back := j.faces[0], j.faces[1]
	numbers := map[*cell]int{}
	for _, c := range front.cells {
		place := j.mirrored(c.trim, front.size, j.want.Sideways(front.size))
		if b := back.nearest(centre(place)); !place.Intersect(b.trim).Empty() {
			numbers[b] = c.number
		}
	}
	if len(numbers) == len(back.cells) {
		for b, n := range numbers {
			b.number = n
		}
	}
}

// where is a place of the sheet as a finding tells it.
func where(b rules.Box) *rules.Box { return &b }
