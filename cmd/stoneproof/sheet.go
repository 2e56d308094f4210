package main

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"stoneproof/report/sheet"
	"stoneproof/rules"
)

func sheetCommand(s *speaker) *cobra.Command {
	c := &cobra.Command{
		Use:   "sheet",
		Short: "Plan a gang sheet of cards, make it, check it, prove its turn",
		Long: `A gang sheet holds several cards. Plan tells how many fit, where each lies and
where the knife goes. Make lays finished art out on it, ready to print. Check judges
a sheet that was made elsewhere. Turn-proof makes a test sheet that shows how far
your printer is off when a sheet is turned.`,
		Args: cobra.ArbitraryArgs,
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				return c.Help()
			}
			return unknownCommand(c, args[0], "see stoneproof sheet --help")
		},
	}
	c.AddCommand(planCommand(s), makeCommand(s), sheetCheckCommand(s), turnProofCommand(s))
	return c
}

// sheetFlags say how a sheet is laid out, as they were typed.
type sheetFlags struct {
	job                                        ticketFlags
	paper, margin, gap, up, turn, shift, spoil string
	quantity                                   int
}

// registerPaper registers what any sheet needs, cards or none.
func (f *sheetFlags) registerPaper(set *pflag.FlagSet) {
	set.SortFlags = false
	f.job.register(set)
	set.StringVar(&f.paper, "sheet", "", "`SHEET` of paper: "+strings.Join(sheet.PaperNames(), ", ")+",\nor WxH; default letter for cards in inches, else a4")
	set.StringVar(&f.margin, "printer-margin", sheet.PrinterMargin.In(rules.UnitIn), "`LENGTH` at each edge that the printer cannot reach")
	set.StringVar(&f.turn, "turn", string(sheet.LongEdge), "`EDGE` on which the sheet is turned for the backs, long or\nshort")
	set.StringVar(&f.shift, "back-shift", "", "move the backs by `RIGHT,DOWN`, as read off the turn proof:\n0.3mm,-0.5mm")
}

func (f *sheetFlags) register(set *pflag.FlagSet) {
	f.registerPaper(set)
	set.StringVar(&f.gap, "gap", "equal", "`GAP` between cards: equal, butted (neighbours share a cut) or\na length")
	set.StringVar(&f.up, "up", "", "`CxR`: so many columns and rows, in place of as many as fit")
}

// ask lays flags and ticket together.
func (f *sheetFlags) ask() (sheet.Ask, rules.Ticket, error) {
	ticket, err := f.job.ticket()
	if err != nil {
		return sheet.Ask{}, ticket, err
	}
	a := sheet.Ask{
		Trim: ticket.Trim, Bleed: ticket.Bleed, Safe: ticket.Safe, Unit: ticket.Unit,
		Turn: sheet.Turn(f.turn), Shift: ticket.BackShift, Quantity: f.quantity,
	}
	for _, read := range []func(*sheet.Ask) error{f.readPaper, f.readMargin, f.readGap, f.readUp, f.readTurn, f.readShift, f.readSpoil} {
		if err := read(&a); err != nil {
			return a, ticket, err
		}
	}
	return a, ticket, nil
}

func (f *sheetFlags) readPaper(a *sheet.Ask) error {
	if f.paper == "" {
		a.Sheet = sheet.HomePaper(a.Unit).Size
		return nil
	}
	if p, ok := sheet.PaperNamed(strings.ToLower(f.paper)); ok {
		a.Sheet = p.Size
		return nil
	}
	size, err := rules.ParseSize(f.paper)
	if err != nil {
		return withHint(fmt.Errorf("unknown sheet %q", f.paper), "the sheets are "+strings.Join(sheet.PaperNames(), ", ")+"; any other is written 210x297mm or 8.5x11in")
	}
	a.Sheet = size
	return nil
}

func (f *sheetFlags) readMargin(a *sheet.Ask) (err error) {
	if a.Margin, err = rules.ParseLength(f.margin); err != nil {
		return fmt.Errorf("--printer-margin: %w", err)
	}
	return nil
}

func (f *sheetFlags) readGap(a *sheet.Ask) (err error) {
	switch f.gap {
	case "", "equal":
		return nil
	case "butted":
		a.Gap.Kind = sheet.Butted
		return nil
	}
	a.Gap.Kind = sheet.FixedGap
	if a.Gap.Wide, err = rules.ParseLength(f.gap); err != nil {
		return withHint(fmt.Errorf("--gap: %w", err), "use equal, butted or a length such as 6mm")
	}
	return nil
}

func (f *sheetFlags) readUp(a *sheet.Ask) error {
	if f.up == "" {
		return nil
	}
	columns, rows, _ := strings.Cut(strings.ToLower(f.up), "x")
	var errC, errR error
	a.Up.Columns, errC = strconv.Atoi(columns)
	a.Up.Rows, errR = strconv.Atoi(rows)
	if errC != nil || errR != nil || a.Up.Columns < 1 || a.Up.Rows < 1 {
		return withHint(fmt.Errorf("--up: %q is not COLUMNSxROWS", f.up), "two columns of four cards are written 2x4")
	}
	return nil
}

func (f *sheetFlags) readTurn(a *sheet.Ask) error {
	if a.Turn != sheet.LongEdge && a.Turn != sheet.ShortEdge {
		return withHint(fmt.Errorf("--turn: unknown edge %q", f.turn), "use long or short: the edge of the sheet that stays in its place")
	}
	return nil
}

func (f *sheetFlags) readShift(a *sheet.Ask) (err error) {
	if f.shift == "" {
		return nil
	}
	if a.Shift, err = rules.ParseShift(f.shift); err != nil {
		return fmt.Errorf("--back-shift: %w", err)
	}
	return nil
}

func (f *sheetFlags) readSpoil(a *sheet.Ask) (err error) {
	if f.spoil == "" {
		return nil
	}
	if a.Spoil, err = strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(f.spoil, "%")), 64); err != nil {
		return withHint(fmt.Errorf("--spoil: %q is not a number of per cent", f.spoil), "five per cent are written 5")
	}
	return nil
}

// lay plans, and says what to do where the plan does not work out.
func lay(a sheet.Ask) (sheet.Plan, error) {
	p, err := sheet.Lay(a)
	var gap *sheet.GapError
	var fit *sheet.FitError
	var shift *sheet.ShiftError
	switch {
	case errors.As(err, &gap):
		return p, withHint(err, "--gap equal finds the widest; --gap butted shares cuts, for art that is white or of one colour at its edges")
	case errors.As(err, &fit):
		return p, withHint(err, "a larger --sheet, a smaller --printer-margin or --bleed, or --gap butted make room")
	case errors.As(err, &shift):
		return p, withHint(err, "set the printer's own tray or register first, and print the turn proof again")
	}
	return p, err
}

func planCommand(s *speaker) *cobra.Command {
	var f sheetFlags
	c := &cobra.Command{
		Use:   "plan [flags]",
		Short: "Tell how many cards fit a sheet, where they lie and where to cut",
		Long: `Plan works out a gang sheet: as many cards as fit with their bleed, equal gaps,
cutting marks that touch no bleed, the places of the backs once the sheet is
turned, the cuts in their order, and how many sheets to print.`,
		Example: `  stoneproof sheet plan
  stoneproof sheet plan --size eu-business --sheet a4 --gap butted --quantity 250 --spoil 5
  stoneproof sheet plan --trim 63x88mm --sheet sra3 --up 4x4 --turn short`,
		Args: takesNothing,
		RunE: func(*cobra.Command, []string) error {
			a, _, err := f.ask()
			if err != nil {
				return err
			}
			p, err := lay(a)
			if err != nil {
				return err
			}
			return p.Tell(s.out)
		},
	}
	f.register(c.Flags())
	c.Flags().IntVar(&f.quantity, "quantity", 0, "`NUMBER` of cards that are wanted")
	c.Flags().StringVar(&f.spoil, "spoil", "", "`PERCENT` of sheets that may go wrong")
	return c
}
