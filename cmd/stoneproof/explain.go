package main

import (
	"context"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"stoneproof/checks"
	"stoneproof/checks/art"
	"stoneproof/checks/art/render"
	"stoneproof/report"
	"stoneproof/rules"
)

func explainCommand(s *speaker) *cobra.Command {
	var job ticketFlags
	var files []string
	c := &cobra.Command{
		Use:   "explain [flags] [RULE]",
		Short: "Tell what a rule is for, and how to put it right",
		Long: `Explain tells of a rule what it asks, why it matters on a card, how it is
measured, its limits and where they come from, and how to put a card right in
any editor. Without a rule it lists them all.

With --in it also tells what the rule makes of your own file, by your ticket.`,
		Example: `  stoneproof explain
  stoneproof explain bleed-fill
  stoneproof explain --in card.pdf --size eu-business safe-zone
  stoneproof explain --in front.png --in back.png pair-size`,
		RunE: func(c *cobra.Command, args []string) error {
			return runExplain(c.Context(), s, &job, files, args)
		},
	}
	c.Flags().SortFlags = false
	c.Flags().StringArrayVar(&files, "in", nil, "explain it in this `FILE`, too; twice for front and back")
	job.register(c.Flags())
	return c
}

func runExplain(ctx context.Context, s *speaker, job *ticketFlags, files, args []string) error {
	o := report.ProseOptions{Width: width(s.out), Colour: inColour(s.out)}
	switch {
	case len(args) > 1:
		return withHint(fmt.Errorf("explain takes one rule, not %d", len(args)), "stoneproof explain "+args[0])
	case len(args) == 0 && len(files) > 0:
		return withHint(errors.New("--in wants a rule to explain"), "stoneproof explain --in card.pdf bleed-fill; stoneproof check judges by all rules")
	case len(args) == 0:
		if err := report.Rules(s.out, o); err != nil {
			return err
		}
		_, err := fmt.Fprintln(s.out, "stoneproof explain RULE tells why, how it is measured, and how to put it right.")
		return err
	}
	rule, err := rules.AnyRuleNamed(args[0])
	if err != nil {
		return withHint(err, "stoneproof explain lists the rules")
	}
	if len(files) == 0 {
		return report.Explain(s.out, rule, o)
	}
	r, err := judgeBy(ctx, s, rule, job, files)
	if err != nil {
		return err
	}
	if err := report.Explain(s.out, rule, o); err != nil {
		return err
	}
	return report.ExplainOn(s.out, rule, r, o)
}

// judgeBy judges the files by one rule.
func judgeBy(ctx context.Context, s *speaker, rule rules.Rule, job *ticketFlags, files []string) (r rules.Report, err error) {
	if rule.OfSheets() {
		return r, withHint(fmt.Errorf("%s judges a sheet of cards, and --in takes a card", rule.ID), "stoneproof sheet check "+files[0])
	}
	if len(files) > 2 {
		return r, fmt.Errorf("--in takes a file, or a front and a back, not %d files", len(files))
	}
	ticket, err := job.ticket()
	if err != nil {
		return r, err
	}
	paths, missing := findFiles(files)
	if len(missing) > 0 {
		return r, missing[0]
	}
	if len(paths) != len(files) {
		return r, withHint(errors.New("--in takes a file, not a folder"), "stoneproof check judges a folder")
	}
	chosen, err := chooseChecks([]string{rule.ID}, nil)
	if err != nil {
		return r, err
	}
	renderer := render.Start(render.Options{OnCompile: s.compiling})
	defer renderer.Close()
	judge := &checks.Judge{Ticket: ticket, Checks: chosen, Ceilings: art.DefaultCeilings(), Renderer: renderer}
	r = rules.Report{Version: version(), Ticket: ticket, Files: judgeAll(ctx, judge.File, paths, s.errs)}
	if len(paths) == 2 {
		judge.Pair(&r.Files[0], &r.Files[1])
	}
	if ctx.Err() != nil {
		return r, errors.New("stopped before the file was judged; nothing is told")
	}
	return r, nil
}
