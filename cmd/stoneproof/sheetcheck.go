package main

import (
	"context"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"stoneproof/checks"
	"stoneproof/checks/art"
	"stoneproof/checks/art/render"
	"stoneproof/checks/gang"
	"stoneproof/report/sheet"
	"stoneproof/rules"
)

func sheetCheckCommand(s *speaker) *cobra.Command {
	var f sheetFlags
	var format string
	c := &cobra.Command{
		Use:   "check [flags] SHEET…",
		Short: "Judge a sheet that was laid out elsewhere",
		Long: `Check judges a gang sheet, whoever made it: whether the cards fit what the printer
reaches, lie two bleeds apart, have their cutting marks in place and off the cards,
and whether every back lies behind its front. It finds the cards by their marks,
else where sheet plan would put them. Each design is then judged as a card.

Exit status: 0 nothing failed, 1 a sheet failed, 2 the command could not run.`,
		Example: `  stoneproof sheet check sheet.pdf
  stoneproof sheet check --size eu-business --sheet a4 --turn short town.pdf`,
		RunE: func(c *cobra.Command, args []string) error { return runSheetCheck(c.Context(), s, &f, format, args) },
	}
	f.register(c.Flags())
	c.Flags().StringVar(&format, "format", "table", "`FORMAT` of the report, table or json")
	return c
}

func runSheetCheck(ctx context.Context, s *speaker, f *sheetFlags, format string, args []string) error {
	if len(args) == 0 {
		return withHint(errors.New("no sheet to check"), "stoneproof sheet check sheet.pdf")
	}
	if format != "table" && format != "json" {
		return withHint(fmt.Errorf("unknown format %q", format), "use table or json")
	}
	a, ticket, err := f.ask()
	if err != nil {
		return err
	}
	ticket.BackShift = a.Shift
	paths, missing := findFiles(args)
	for _, err := range missing {
		s.error(err)
	}
	if len(paths) == 0 {
		return exitStatus(exitCannot)
	}
	renderer := render.Start(render.Options{OnCompile: s.compiling})
	defer renderer.Close()
	bench := &workbench{ticket: ticket, renderer: renderer}
	r := rules.Report{Version: version(), Ticket: ticket}
	want := f.wanted(a, ticket)
	want.Renderer = renderer
	for _, path := range paths {
		sheet, cards := gang.Judge(ctx, path, want)
		r.Files = append(r.Files, sheet)
		for _, c := range cards {
			card, err := bench.card(ctx, sheet, c)
			if err != nil {
				return err
			}
			r.Files = append(r.Files, card)
		}
	}
	tell := checkFlags{format: format}
	if err := tell.write(s.out, r, nil); err != nil {
		return err
	}
	return status(r, missing)
}

// card judges one design of a sheet by the rules of cards.
func (b *workbench) card(ctx context.Context, sheet rules.FileReport, c gang.Card) (rules.FileReport, error) {
	chosen, err := chooseChecks(nil, c.Without)
	if err != nil {
		return rules.FileReport{}, err
	}
	judge := &checks.Judge{Ticket: b.ticket, Checks: chosen, Ceilings: art.DefaultCeilings(), Renderer: b.renderer}
	r := judge.Bytes(ctx, sheet.Path+", "+c.Name, c.PDF)
	for i := range r.Sides {
		r.Sides[i].Placing = "as it lies on the sheet"
	}
	r.Kind, r.SHA256, r.Within = sheet.Kind, sheet.SHA256, sheet.Path // it is known by the file it lies in
	return r, ctx.Err()
}

// wanted is what a sheet is judged against: the sheet's size only if it was asked for.
func (f *sheetFlags) wanted(a sheet.Ask, t rules.Ticket) gang.Want {
	w := gang.Want{Ticket: t, Margin: a.Margin,
		Sideways: func(size rules.Size) bool { return sheet.Ask{Sheet: size, Turn: a.Turn}.Sideways() },
		Places: func(size rules.Size) []rules.Box {
			a := a
			a.Sheet = size
			p, err := sheet.Lay(a)
			if err != nil {
				return nil
			}
			var places []rules.Box
			for _, c := range p.Front {
				places = append(places, c.Trim)
			}
			return places
		},
	}
	if f.paper != "" {
		w.Sheet = a.Sheet
	}
	return w
}
