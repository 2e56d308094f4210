package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"stoneproof/checks"
	"stoneproof/checks/art"
	"stoneproof/cmd/stoneproof/internal/apart"
	"stoneproof/report"
	"stoneproof/report/page"
	"stoneproof/rules"
)

// checkFlags are the flags of the main job, as they were typed.
type checkFlags struct {
	job            ticketFlags
	format, output string
	only, without  []string
	strict, all    bool
	pair           bool
	proof          string
}

func (f *checkFlags) register(set *pflag.FlagSet) {
	set.SortFlags = false
	f.job.register(set)
	set.StringVar(&f.format, "format", "table", "`FORMAT` of the report, table, json or html")
	set.StringVar(&f.output, "output", "", "write the report to `FILE` instead")
	set.StringSliceVar(&f.only, "only", nil, "judge by `RULES` alone, with commas between them")
	set.StringSliceVar(&f.without, "without", nil, "leave `RULES` out, with commas between them")
	set.BoolVar(&f.pair, "pair", false, "the two files are front and back of one card, whatever\nthey are called")
	set.StringVar(&f.proof, "proof", "", "draw a proof of every side into `FOLDER`: the side as it\nwill look, with the numbered places of what was found")
	set.BoolVar(&f.strict, "strict", false, "let warnings count as failures")
	set.BoolVar(&f.all, "all", false, "show a row for every rule that passes, too")
}

func checkCommand(s *speaker) *cobra.Command {
	var f checkFlags
	c := &cobra.Command{
		Use:   "check [flags] FILE|FOLDER…",
		Short: "Judge card artwork before it is printed",
		Long: `Check judges card artwork: PDF, JPEG, PNG, TIFF, WebP, GIF and BMP. A folder
means all card files in it and below. The card may lie either way round.
Files named as front and back (pots-front.pdf, pots-back.pdf) are judged as one
card as well.

Exit status: 0 nothing failed, 1 at least one file failed, 2 the command could
not run. A damaged or unreadable file is a file that failed.`,
		Example: `  stoneproof check card.pdf
  stoneproof check --trim 90x50mm --bleed 2mm --process desktop front.png back.png
  stoneproof check --format html --output report.html card.pdf
  stoneproof check --ticket poker.toml --format json --output report.json deck/`,
		RunE: func(c *cobra.Command, args []string) error {
			return runCheck(c.Context(), s, &f, args)
		},
	}
	f.register(c.Flags())
	return c
}

func runCheck(ctx context.Context, s *speaker, f *checkFlags, args []string) error {
	if len(args) == 0 {
		return withHint(errors.New("no file to check"), "stoneproof check card.pdf")
	}
	if !slices.Contains([]string{"table", "json", "html"}, f.format) {
		return withHint(fmt.Errorf("unknown format %q", f.format), "use table, json or html")
	}
	ticket, err := f.job.ticket()
	if err != nil {
		return err
	}
	chosen, err := chooseChecks(f.only, f.without)
	if err != nil {
		return err
	}
	paths, missing := findFiles(args)
	for _, err := range missing {
		s.error(err)
	}
	if len(paths) == 0 {
		return exitStatus(exitCannot)
	}
	if f.pair && len(paths) != 2 {
		return withHint(fmt.Errorf("--pair wants a front and a back, not %s", rules.Counted(len(paths), "file")), "stoneproof check --pair front.pdf back.pdf")
	}
	judge := &checks.Judge{Ticket: ticket, Checks: chosen, Ceilings: art.DefaultCeilings(), Strict: f.strict}
	var drawn *proofs
	var shown *pageProofs
	var viewers []viewer
	if f.proof != "" {
		if drawn, err = startProofs(f.proof, ticket); err != nil {
			return err
		}
		defer drawn.close()
		viewers = append(viewers, drawn.view)
	}
	if f.format == "html" {
		shown = &pageProofs{ticket: ticket, paths: paths}
		viewers = append(viewers, shown.view)
	}
	pool := apart.Start(apart.Options{OnCompile: s.compiling})
	defer pool.Close()
	files := judgeAll(ctx, judging(pool, judge, viewers), paths, s.errs)
	if ctx.Err() != nil {
		return errors.New("stopped before all files were judged; nothing is reported")
	}
	for _, two := range pairsOf(paths, ticket, f.pair) {
		judge.Pair(&files[two[0]], &files[two[1]])
	}
	r := rules.Report{Version: version(), Ticket: ticket, Files: files}
	if err := f.write(s.out, r, shown); err != nil {
		return err
	}
	if drawn != nil {
		names, err := drawn.keep(paths)
		if err != nil {
			return err
		}
		s.proofs(names, f.proof)
	}
	return status(r, missing)
}

// status is how the run ends: what could not run weighs more than what failed.
func status(r rules.Report, missing []error) error {
	if len(missing) > 0 {
		return exitStatus(exitCannot)
	}
	if _, _, failed := r.Count(); failed > 0 {
		return exitStatus(exitFailed)
	}
	return nil
}

// cause drops the operation and the path, which our own words name.
func cause(err error) error {
	var pe *os.PathError
	if errors.As(err, &pe) {
		return pe.Err
	}
	return err
}

// chooseChecks picks the checks of the rules asked for.
func chooseChecks(only, without []string) ([]*checks.Check, error) {
	for _, id := range slices.Concat(only, without) {
		if _, err := rules.RuleNamed(id); err != nil {
			return nil, err
		}
	}
	var chosen []*checks.Check
	for _, c := range checks.All() {
		if len(only) > 0 && !slices.Contains(only, c.Rule) || slices.Contains(without, c.Rule) {
			continue
		}
		chosen = append(chosen, c)
	}
	if len(chosen) == 0 {
		return nil, errors.New("no rule is left to judge by")
	}
	return chosen, nil
}

// write gives the report in the format asked for, to out or to a file.
func (f *checkFlags) write(out io.Writer, r rules.Report, shown *pageProofs) error {
	if f.output == "" {
		return f.render(out, r, shown, width(out), inColour(out))
	}
	var b bytes.Buffer
	if err := f.render(&b, r, shown, 0, false); err != nil {
		return err
	}
	return writeWhole(f.output, b.Bytes())
}

func (f *checkFlags) render(w io.Writer, r rules.Report, shown *pageProofs, columns int, colour bool) error {
	switch f.format {
	case "json":
		return report.JSON(w, r)
	case "html":
		return page.Write(w, r, page.Options{Strict: f.strict, Proof: shown.proof})
	}
	return report.Table(w, r, report.TableOptions{Width: columns, Colour: colour, All: f.all, Strict: f.strict, Proofs: f.proof != ""})
}

// writeWhole writes beside, syncs and renames, so that a failure leaves nothing
// half-written.
func writeWhole(path string, b []byte) (err error) {
	failed := func(err error) error { return fmt.Errorf("failed to write %q: %w", path, cause(err)) }
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		if info.IsDir() {
			return fmt.Errorf("failed to write %q: it is a folder", path)
		}
		// A device or a pipe takes the bytes as they come.
		if err := os.WriteFile(path, b, 0o666); err != nil {
			return failed(err)
		}
		return nil
	}
	tmp, err := os.CreateTemp(filepath.Dir(path), ".stoneproof-*")
	if err != nil {
		return failed(err)
	}
	defer func() {
		if err != nil {
			tmp.Close()
			os.Remove(tmp.Name())
		}
	}()
	if _, err = tmp.Write(b); err != nil {
		return failed(err)
	}
	if err = tmp.Chmod(0o644); err != nil {
		return failed(err)
	}
	if err = tmp.Sync(); err != nil {
		return failed(err)
	}
	if err = tmp.Close(); err != nil {
		return failed(err)
	}
	if err = os.Rename(tmp.Name(), path); err != nil {
		return failed(err)
	}
	return nil
}
