package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"stoneproof/checks"
	"stoneproof/checks/art"
	"stoneproof/checks/art/render"
	"stoneproof/report/sheet"
	"stoneproof/report/sheet/impose"
	"stoneproof/rules"
)

// makeFlags say what is laid out, and where to.
type makeFlags struct {
	sheetFlags
	counts []int
	backs  []string
	output string
	anyway bool
}

func makeCommand(s *speaker) *cobra.Command {
	var f makeFlags
	c := &cobra.Command{
		Use:   "make [flags] FRONT [BACK] -o SHEET.pdf",
		Short: "Lay finished art out on a sheet, ready to print and cut",
		Long: `Make lays art out as sheet plan tells, with hairline cutting marks, and on a second
page the backs, arranged for the turn. The art is judged first; what fails is not
placed. It is placed as it is: nothing is drawn anew, scaled or given other colours.

A file of two pages has its back on the second. Several designs on one sheet take
their numbers from --count, and their backs from --back.

Exit status: 0 the sheet is made, 1 art fails its check, 2 the command could not run.`,
		Example: `  stoneproof sheet make card.pdf -o sheet.pdf
  stoneproof sheet make front.png back.png --sheet a4 --turn short -o sheet.pdf
  stoneproof sheet make potter.pdf baker.pdf --count 5,3 --back town.pdf -o sheet.pdf`,
		RunE: func(c *cobra.Command, args []string) error { return runMake(c.Context(), s, &f, args) },
	}
	set := c.Flags()
	f.register(set)
	set.IntSliceVar(&f.counts, "count", nil, "`NUMBERS` of cards of each design, with commas between them;\nevery file is a design then")
	set.StringSliceVar(&f.backs, "back", nil, "`FILES` of backs: one for all designs, or one for each")
	set.StringVarP(&f.output, "output", "o", "", "write the sheet to `FILE`")
	set.BoolVar(&f.anyway, "anyway", false, "place art that fails, too")
	return c
}

func runMake(ctx context.Context, s *speaker, f *makeFlags, args []string) error {
	fronts, backs, err := f.files(args)
	if err != nil {
		return err
	}
	ask, ticket, err := f.ask()
	if err != nil {
		return err
	}
	renderer := render.Start(render.Options{OnCompile: s.compiling})
	defer renderer.Close()
	bench := &workbench{ticket: ticket, renderer: renderer, open: map[string]*art.Art{}}
	defer bench.close()
	if !f.anyway {
		if err := bench.judge(ctx, s, fronts, backs); err != nil {
			return err
		}
	}
	designs, err := bench.designs(fronts, backs)
	if err != nil {
		return err
	}
	ask.Trim = ticket.TrimFor(designs[0].Front.Trim)
	plan, err := lay(ask)
	if err != nil {
		return err
	}
	if err := f.share(designs, plan); err != nil {
		return err
	}
	if err := f.mayButt(ctx, ask, designs); err != nil {
		return err
	}
	made, err := impose.Sheet{
		Plan: plan, Designs: designs, Slug: slug(designs, ticket, plan), Made: time.Now(), Program: "stoneproof " + version(),
	}.Draw()
	if err != nil {
		return err
	}
	for _, note := range made.Notes {
		s.note("%s", note)
	}
	if err := writeWhole(f.output, made.PDF); err != nil {
		return err
	}
	return f.tellMade(s, plan, designs)
}

// files tells fronts from backs, and refuses what cannot be meant.
func (f *makeFlags) files(args []string) (fronts, backs []string, err error) {
	example := "stoneproof sheet make card.pdf -o sheet.pdf"
	switch {
	case len(args) == 0:
		return nil, nil, withHint(errors.New("no art to lay out"), example)
	case f.output == "":
		return nil, nil, withHint(errors.New("no file to write the sheet to"), example)
	case len(f.counts) > 0 && len(f.counts) != len(args):
		return nil, nil, withHint(fmt.Errorf("--count: %d files need %d numbers, not %d", len(args), len(args), len(f.counts)), "with --count every file is a design of its own")
	case len(f.counts) > 0 && slices.Min(f.counts) < 1:
		return nil, nil, fmt.Errorf("--count: %d cards of a design", slices.Min(f.counts))
	case len(f.counts) == 0 && len(args) > 2:
		return nil, nil, withHint(fmt.Errorf("%d files, but no count for each", len(args)), "for several designs: --count 4,4")
	}
	fronts, backs = args, f.backs
	if len(f.counts) == 0 && len(args) == 2 {
		if len(backs) > 0 {
			return nil, nil, errors.New("the back is told twice: as the second file, and by --back")
		}
		fronts, backs = args[:1], args[1:]
	}
	if len(backs) > 1 && len(backs) != len(fronts) {
		return nil, nil, fmt.Errorf("%d backs for %d designs: one for all, or one for each", len(backs), len(fronts))
	}
	for _, path := range slices.Concat(fronts, backs) {
		if sameFile(path, f.output) {
			return nil, nil, fmt.Errorf("the sheet would overwrite its own art %q", path)
		}
	}
	return fronts, backs, nil
}

func sameFile(a, b string) bool {
	x, errX := os.Stat(a)
	y, errY := os.Stat(b)
	return errX == nil && errY == nil && os.SameFile(x, y)
}

// share gives every design its number of cards.
func (f *makeFlags) share(designs []impose.Design, p sheet.Plan) error {
	if len(f.counts) == 0 {
		designs[0].Count = p.Count()
		return nil
	}
	all := 0
	for i, n := range f.counts {
		designs[i].Count = n
		all += n
	}
	if all > p.Count() {
		return withHint(fmt.Errorf("%d cards are asked for, but the sheet holds %d", all, p.Count()), "stoneproof sheet plan tells what would make more fit")
	}
	return nil
}

// mayButt refuses to share cuts where a cut that strays would show.
func (f *makeFlags) mayButt(ctx context.Context, a sheet.Ask, designs []impose.Design) error {
	if a.Gap.Kind != sheet.Butted || f.anyway {
		return nil
	}
	err := impose.Buttable(ctx, designs)
	var butt *impose.ButtError
	if errors.As(err, &butt) {
		return withHint(err, "leave --gap butted away, so that every card keeps its bleed; --anyway shares the cuts all the same")
	}
	return err
}

func (f *makeFlags) tellMade(s *speaker, p sheet.Plan, designs []impose.Design) error {
	placed, sides := 0, "fronts only"
	for _, d := range designs {
		placed += d.Count
		if d.Back != nil {
			sides = "fronts and backs"
		}
	}
	empty := ""
	switch n := p.Count() - placed; {
	case n == 1:
		empty = "; 1 place stays empty"
	case n > 1:
		empty = fmt.Sprintf("; %d places stay empty", n)
	}
	_, err := fmt.Fprintf(s.out, "%s: %d cards, %s, on %s%s\n", f.output, placed, sides, p.Sheet.In(p.Unit), empty)
	if err != nil || sides == "fronts only" {
		return err
	}
	_, err = fmt.Fprintf(s.out, "Print at actual size (100 %%), on both sides, turned on the %s edge.\nTry it on plain paper first: stoneproof sheet turn-proof shows how far backs are off.\n", p.Turn)
	return err
}

// slug is the line that names a sheet: the day, the ticket, and last the art, for
// names may be long and the room is short.
func slug(designs []impose.Design, t rules.Ticket, p sheet.Plan) string {
	var names []string
	for _, d := range designs {
		name := d.Name
		if len(designs) > 1 {
			name = fmt.Sprintf("%d × %s", d.Count, name)
		}
		names = append(names, name)
	}
	size := t.Trim.In(t.Unit)
	if t.Size != "" {
		size = t.Size + " " + size
	}
	return fmt.Sprintf("%s · %s, bleed %s · %s · %s edge · %s", time.Now().Format(time.DateOnly),
		size, t.Bleed.In(t.Unit), t.Process, p.Turn, strings.Join(names, ", "))
}

// workbench holds the art that goes onto a sheet.
type workbench struct {
	ticket   rules.Ticket
	renderer *render.Engine
	open     map[string]*art.Art
}

func (b *workbench) close() {
	for _, a := range b.open {
		a.Close()
	}
}

// judge refuses art that fails, alone or as front and back of one card, and says by
// which rules.
func (b *workbench) judge(ctx context.Context, s *speaker, fronts, backs []string) error {
	judge := &checks.Judge{Ticket: b.ticket, Checks: checks.All(), Ceilings: art.DefaultCeilings(), Renderer: b.renderer}
	files := map[string]rules.FileReport{}
	failed := false
	refuse := func(r rules.FileReport, check string) {
		if r.Verdict == rules.Fail {
			failed = true
			s.error(withHint(fmt.Errorf("%q fails %s", r.Path, failedRules(r)), check+" tells what to put right; --anyway places it all the same"))
		}
	}
	for _, path := range slices.Concat(fronts, backs) {
		if _, met := files[path]; met {
			continue
		}
		if _, err := os.Stat(path); err != nil {
			return fmt.Errorf("cannot read %q: %w", path, cause(err))
		}
		files[path] = judge.File(ctx, path)
		refuse(files[path], "stoneproof check")
	}
	for i, path := range fronts {
		if len(backs) == 0 {
			break
		}
		front, back := files[path], files[backOf(backs, i)]
		if front.Verdict != rules.Fail && back.Verdict != rules.Fail {
			back.Findings = slices.Clone(back.Findings) // it may be the back of other designs, too
			judge.Pair(&front, &back)
			refuse(back, fmt.Sprintf("stoneproof check --pair %s %s", front.Path, back.Path))
		}
	}
	if failed {
		return exitStatus(exitFailed)
	}
	return ctx.Err()
}

// backOf is the back of a design: one for all, or one for each.
func backOf(backs []string, design int) string { return backs[min(design, len(backs)-1)] }

func failedRules(r rules.FileReport) string {
	var ids []string
	for _, f := range r.Findings {
		if f.Verdict == rules.Fail && !slices.Contains(ids, f.Rule) {
			ids = append(ids, f.Rule)
		}
	}
	return strings.Join(ids, ", ")
}

// designs opens the art and finds fronts and backs.
func (b *workbench) designs(fronts, backs []string) ([]impose.Design, error) {
	var designs []impose.Design
	for i, path := range fronts {
		a, err := b.art(path)
		if err != nil {
			return nil, err
		}
		d := impose.Design{Name: filepath.Base(path), Front: a.Sides[0]}
		switch {
		case len(backs) > 0 && len(a.Sides) > 1:
			return nil, fmt.Errorf("%q has a back of its own, beside %q", path, backOf(backs, i))
		case len(backs) > 0:
			back, err := b.art(backOf(backs, i))
			if err != nil {
				return nil, err
			}
			d.Back = back.Sides[0]
		case len(a.Sides) > 1:
			d.Back = a.Sides[1]
		}
		if err := fitTogether(d); err != nil {
			return nil, err
		}
		designs = append(designs, d)
	}
	return designs, nil
}

// fitTogether refuses what has no place on a sheet.
func fitTogether(d impose.Design) error {
	sides := []*art.Side{d.Front}
	if d.Back != nil {
		sides = append(sides, d.Back)
	}
	for _, side := range sides {
		if !side.Placed() {
			return withHint(fmt.Errorf("where %q is to be cut cannot be told", d.Name), "stoneproof check tells what its size is")
		}
	}
	if d.Back != nil && d.Front.Trim.Landscape() != d.Back.Trim.Landscape() {
		return withHint(fmt.Errorf("front and back of %q do not lie the same way: one is upright, one is wide", d.Name), "turn the back by a quarter in the program that made it")
	}
	return nil
}

func (b *workbench) art(path string) (*art.Art, error) {
	if a := b.open[path]; a != nil {
		return a, nil
	}
	a, err := art.Opener{Ceilings: art.DefaultCeilings(), Renderer: b.renderer}.Open(path)
	b.open[path] = a
	if err != nil {
		return a, fmt.Errorf("cannot place %q: %w", path, err)
	}
	a.Place(b.ticket)
	return a, nil
}
