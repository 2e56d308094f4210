package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"stoneproof/checks"
	"stoneproof/checks/art"
	"stoneproof/checks/art/render"
	"stoneproof/cmd/stoneproof/internal/practice"
	"stoneproof/report"
	"stoneproof/report/lesson"
	"stoneproof/rules"
)

// primerFlags are the flags of primer, as they were typed.
type primerFlags struct {
	job                        ticketFlags
	format, output, pack, mark string
	seed                       uint64
	seeded                     bool
}

func primerCommand(s *speaker) *cobra.Command {
	var f primerFlags
	c := &cobra.Command{
		Use:   "primer [flags] [WORKSHEET]",
		Short: "Teach what trim, bleed and safe zone are, and give practice",
		Long: `Primer teaches the words of the trade by doing, with the numbers of your own card:
pass --size or --ticket as you would to check.

With --pack it writes a folder of practice cards, some sound and some with one
hidden fault, and a worksheet. With --mark it marks the worksheet, or another
that you name, against what it finds in the cards, and shows what you missed.

Exit status of --mark: 0 all answers are right, 1 some are wrong, 2 the command
could not run.`,
		Example: `  stoneproof primer
  stoneproof primer --size eu-business --format html --output primer.html
  stoneproof primer --pack practice --seed 7
  stoneproof primer --mark practice`,
		RunE: func(c *cobra.Command, args []string) error {
			f.seeded = c.Flags().Changed("seed")
			return runPrimer(c.Context(), s, &f, args)
		},
	}
	set := c.Flags()
	set.SortFlags = false
	set.StringVar(&f.pack, "pack", "", "write practice cards and a worksheet into `FOLDER`")
	set.Uint64Var(&f.seed, "seed", 0, "deal practice pack `N`; without it chance picks one")
	set.StringVar(&f.mark, "mark", "", "mark the worksheet of the practice pack in `FOLDER`")
	set.StringVar(&f.format, "format", "text", "`FORMAT` of the lessons, text or html")
	set.StringVar(&f.output, "output", "", "write the lessons to `FILE` instead")
	f.job.register(set)
	return c
}

func runPrimer(ctx context.Context, s *speaker, f *primerFlags, args []string) error {
	switch {
	case f.pack != "" && f.mark != "":
		return withHint(errors.New("--pack and --mark do not go together"), "write a pack first, fill in its worksheet, then mark it")
	case f.mark == "" && len(args) > 0:
		return withHint(fmt.Errorf("primer takes no %q by itself", args[0]), "stoneproof primer --mark FOLDER "+args[0])
	case len(args) > 1:
		return fmt.Errorf("--mark takes one worksheet, not %d", len(args))
	case f.seeded && f.pack == "":
		return withHint(errors.New("--seed goes with --pack"), fmt.Sprintf("stoneproof primer --pack practice --seed %d", f.seed))
	case f.mark != "":
		return f.marked(ctx, s, args)
	case f.pack != "":
		return f.dealt(ctx, s)
	}
	return f.taught(s)
}

// commonSeeds is how many packs chance picks from: their numbers are short enough
// to be told to somebody.
const commonSeeds = 10_000

// dealt writes a practice pack.
func (f *primerFlags) dealt(ctx context.Context, s *speaker) error {
	if f.job != (ticketFlags{size: f.job.size}) {
		return withHint(errors.New("a practice pack has a ticket of its own"), "of the ticket's flags, --pack takes --size alone")
	}
	ticket, err := f.job.ticket()
	if err != nil {
		return err
	}
	if !f.seeded {
		f.seed = rand.Uint64N(commonSeeds)
	}
	pack, err := practice.Deal(ticket.Size, f.seed)
	if err != nil {
		return withHint(err, "packs come as "+strings.Join(practice.Sizes(), ", "))
	}
	err = pack.Write(ctx, f.pack)
	switch {
	case errors.Is(err, practice.ErrNotEmpty):
		return withHint(fmt.Errorf("the folder %q is not empty", f.pack), "nothing is ever overwritten: name a folder that is not there yet")
	case err != nil:
		return fmt.Errorf("failed to write practice pack %q: %w", f.pack, cause(err))
	}
	_, err = fmt.Fprintf(s.out, `Practice pack %d: %d cards in %s.

Fill in %s. Then: stoneproof primer --mark %[3]s
`, f.seed, len(pack.Cards), plain(f.pack), plain(filepath.Join(f.pack, practice.SheetName)))
	return err
}

// marked marks a worksheet.
func (f *primerFlags) marked(ctx context.Context, s *speaker, args []string) error {
	sheet := filepath.Join(f.mark, practice.SheetName)
	if len(args) == 1 {
		sheet = args[0]
	}
	answers, err := readAnswers(sheet)
	if err != nil {
		return err
	}
	paths, err := practice.Cards(answers, f.mark)
	if err != nil {
		return withHint(fmt.Errorf("worksheet %q, %w", sheet, err), "the cards lie in "+f.mark+", and a worksheet names them without their ending: 03 = good")
	}
	files, err := judgePack(ctx, s, f.mark, paths)
	if err != nil {
		return err
	}
	marks := practice.Mark(answers, files)
	if err := report.Marks(s.out, marks, report.ProseOptions{Width: width(s.out), Colour: inColour(s.out)}); err != nil {
		return err
	}
	for _, m := range marks {
		if m.Said != "" && !m.Right {
			return exitStatus(exitFailed)
		}
	}
	return nil
}

func readAnswers(path string) ([]practice.Answer, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, withHint(fmt.Errorf("failed to open worksheet %q: %w", path, cause(err)), "stoneproof primer --pack FOLDER writes one, with its cards")
	}
	defer file.Close()
	text, err := io.ReadAll(io.LimitReader(file, practice.MostSheet+1))
	if err != nil {
		return nil, fmt.Errorf("failed to read worksheet %q: %w", path, cause(err))
	}
	answers, err := practice.ReadAnswers(text)
	if err != nil {
		return nil, withHint(fmt.Errorf("worksheet %q, %w", path, err), "an answer is a rule that stoneproof explain lists, good, or nothing")
	}
	return answers, nil
}

// judgePack judges cards of a practice pack by its own ticket.
func judgePack(ctx context.Context, s *speaker, dir string, paths []string) ([]rules.FileReport, error) {
	job := ticketFlags{file: practice.TicketIn(dir)}
	ticket, err := job.ticket()
	if err != nil {
		return nil, withHint(err, "--mark takes the folder that --pack wrote")
	}
	renderer := render.Start(render.Options{OnCompile: s.compiling})
	defer renderer.Close()
	judge := &checks.Judge{Ticket: ticket, Checks: checks.All(), Ceilings: art.DefaultCeilings(), Renderer: renderer}
	files := judgeAll(ctx, judge.File, paths, s.errs)
	if ctx.Err() != nil {
		return nil, errors.New("stopped before all cards were judged; nothing is marked")
	}
	return files, nil
}

// taught tells the lessons.
func (f *primerFlags) taught(s *speaker) error {
	if f.format != "text" && f.format != "html" {
		return withHint(fmt.Errorf("unknown format %q", f.format), "use text or html")
	}
	ticket, err := f.job.ticket()
	if err != nil {
		return err
	}
	if f.output == "" {
		return f.teach(s.out, ticket, report.ProseOptions{Width: width(s.out), Colour: inColour(s.out)})
	}
	var b bytes.Buffer
	if err := f.teach(&b, ticket, report.ProseOptions{}); err != nil {
		return err
	}
	return writeWhole(f.output, b.Bytes())
}

func (f *primerFlags) teach(w io.Writer, ticket rules.Ticket, o report.ProseOptions) error {
	if f.format == "html" {
		return lesson.Page(w, ticket)
	}
	return lesson.Text(w, ticket, o)
}
