package main

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"os"
	"os/signal"
	"runtime"
	"syscall"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"stoneproof/checks"
	"stoneproof/checks/art"
	"stoneproof/cmd/stoneproof/internal/apart"
	"stoneproof/cmd/stoneproof/internal/gate"
	"stoneproof/rules"
)

// gateFlags say what the gate is to do, as they were typed.
type gateFlags struct {
	job              ticketFlags
	cleared, held    string
	once, watchOnly  bool
	strict           bool
	workers          int
	settle, pairWait time.Duration
	ignore           []string
	journal          string
	status           string
	statusPublic     bool
}

func (f *gateFlags) register(set *pflag.FlagSet) {
	set.SortFlags = false
	set.StringVar(&f.cleared, "cleared", "", "`DIR` that good files are passed on to")
	set.StringVar(&f.held, "held", "", "`DIR` that files that fail are held in")
	f.job.register(set)
	set.BoolVar(&f.strict, "strict", false, "let warnings count as failures")
	set.BoolVar(&f.once, "once", false, "judge what is there and end")
	set.BoolVar(&f.watchOnly, "watch-only", false, "move nothing: print the reports, or write them where the files\nwould have gone")
	set.IntVar(&f.workers, "workers", runtime.NumCPU(), "judge `N` files side by side, by default as many as there are cores")
	set.DurationVar(&f.settle, "settle", gate.DefaultSettle, "`TIME` for which a file must lie still before it is judged")
	set.DurationVar(&f.pairWait, "pair-wait", gate.DefaultPairWait, "`TIME` for which a front waits for its back, or a back for its\nfront")
	set.StringSliceVar(&f.ignore, "ignore", nil, "leave names like `PATTERNS` alone, beside hidden and temporary\nones: '*.bak'")
	set.StringVar(&f.journal, "journal", "", "write the journal to `FILE`; by default into the intake,\n.stoneproof/journal-HOST.jsonl")
	set.StringVar(&f.status, "status", "", "serve /health and /metrics at `ADDR`, for example 127.0.0.1:9300")
	set.BoolVar(&f.statusPublic, "status-public", false, "let --status be an address that other machines reach")
}

func gateCommand(s *speaker) *cobra.Command {
	var f gateFlags
	c := &cobra.Command{
		Use:   "gate [flags] INTAKE --cleared DIR --held DIR",
		Short: "Watch a folder: pass good files on, hold bad ones",
		Long: `Gate watches the folder INTAKE. A file that falls in is judged as soon as it has
lain still: a good one moves to the cleared folder, one that fails to the held
folder. Beside it lie its report, card.pdf.report.html to send to whoever made it and
card.pdf.report.json for programs, and proofs of its sides. They are there first.
Nothing is changed or overwritten: a second card.pdf becomes card-2.pdf.

Sub-folders keep their names, and may hold a ticket.toml of their own, which
counts for their files alone; the nearest one upward is used. While a ticket
cannot be read its files wait. Files named as front and back (pots-front.pdf,
pots-back.pdf) are judged and moved together.

Links, pipes and devices are left where they are, and so are hidden and temporary
files. A file that cannot be judged as artwork is held.

The gate may be stopped at any moment and started again: what was in hand is
carried on. Several gates, on several machines too, may share one intake.

Exit status of --once: 0 nothing was held, 1 at least one file was held, 2 a file
had to be left in the intake, or the command could not run.`,
		Example: `  stoneproof gate inbox --cleared ready --held back-to-customer
  stoneproof gate inbox --cleared ready --held back-to-customer --once
  stoneproof gate --watch-only exports`,
		RunE: func(c *cobra.Command, args []string) error { return runGate(c.Context(), s, &f, args) },
	}
	f.register(c.Flags())
	return c
}

func runGate(ctx context.Context, s *speaker, f *gateFlags, args []string) error {
	if err := f.valid(args); err != nil {
		return err
	}
	ticket, err := f.job.ticket()
	if err != nil {
		return err
	}
	pool := apart.Start(apart.Options{Workers: f.workers, OnCompile: s.compiling})
	defer pool.Close()
	t := newGateTeller(s)
	cfg := f.config(args[0], ticket)
	cfg.Tell = t.tell
	if f.cleared == "" {
		cfg.Show = t.show
	}
	shelf := shelf{most: shelved + f.workers, strict: f.strict}
	cfg.Reports = shelf.pages
	cfg.Judge = func(ticket rules.Ticket) gate.Judge {
		j := &checks.Judge{Ticket: ticket, Checks: checks.All(), Ceilings: art.DefaultCeilings(), Strict: f.strict}
		return gate.Judge{File: judging(pool, j, []viewer{shelf.put}), Pair: j.Pair, Unjudged: apart.Unbegun}
	}
	if watcher, err := gate.Watch(); err == nil && !f.once {
		defer watcher.Close()
		cfg.Wake, cfg.Follow = watcher.Wake(), watcher.Follow
	}
	g, err := gate.New(cfg)
	if err != nil {
		return err
	}
	if err := f.serve(ctx, s, g); err != nil {
		return err
	}
	// A second signal ends the gate at once: what it promises holds even then.
	defer context.AfterFunc(ctx, func() { signal.Reset(os.Interrupt, syscall.SIGTERM) })()
	defer t.statusLine(g)()
	outcome, err := g.Run(ctx)
	if err != nil {
		return err
	}
	return f.end(s, outcome)
}

func (f *gateFlags) valid(args []string) error {
	example := "stoneproof gate inbox --cleared ready --held back"
	switch {
	case len(args) == 0:
		return withHint(errors.New("no intake to watch"), example)
	case len(args) > 1:
		return withHint(fmt.Errorf("one intake at a time, not %d", len(args)), example)
	case (f.cleared == "" || f.held == "") && !f.watchOnly:
		return withHint(errors.New("a gate needs a folder for cleared files and one for held files"), example)
	case (f.cleared == "") != (f.held == ""):
		return withHint(errors.New("--cleared and --held come together"), "without both, --watch-only prints its reports")
	case f.workers < 1:
		return fmt.Errorf("--workers %d: at least one file must be judged at a time", f.workers)
	case f.settle <= 0:
		return withHint(fmt.Errorf("--settle %s: a file that is still being written would be judged", f.settle), "the usual time is "+gate.DefaultSettle.String())
	case f.pairWait < 0:
		return fmt.Errorf("--pair-wait %s is less than 0", f.pairWait)
	}
	if err := gate.CheckPatterns(f.ignore); err != nil {
		return fmt.Errorf("--ignore: %w", err)
	}
	return f.validStatus()
}

// validStatus keeps the gate's status on this machine, unless somebody says otherwise.
func (f *gateFlags) validStatus() error {
	if f.status == "" {
		return nil
	}
	host, _, err := net.SplitHostPort(f.status)
	if err != nil {
		return withHint(fmt.Errorf("--status %q is no address", f.status), "for example 127.0.0.1:9300")
	}
	if ip := net.ParseIP(host); f.statusPublic || host == "localhost" || ip != nil && ip.IsLoopback() {
		return nil
	}
	return withHint(fmt.Errorf("--status %q could be reached from other machines", f.status), "use 127.0.0.1, or --status-public if that is what you want")
}

func (f *gateFlags) config(intake string, t rules.Ticket) gate.Config {
	return gate.Config{
		Intake: intake, Cleared: f.cleared, Held: f.held, Ticket: t,
		ReadTicket: func(path string) (rules.Ticket, error) {
			order, err := readTicket(path)
			if err != nil {
				return rules.Ticket{}, err
			}
			ticket, err := order.Ticket()
			return ticket, inTicket(path, err)
		},
		Workers: f.workers, Settle: f.settle, PairWait: f.pairWait,
		Rescan: gate.DefaultRescan, Beat: gate.DefaultBeat, Once: f.once, WatchOnly: f.watchOnly,
		Ignore: f.ignore, Journal: f.journal,
	}
}

// serve answers for the gate's status until ctx ends.
func (f *gateFlags) serve(ctx context.Context, s *speaker, g *gate.Gate) error {
	if f.status == "" {
		return nil
	}
	l, err := net.Listen("tcp", f.status)
	if err != nil {
		return fmt.Errorf("cannot serve the status at %q: %w", f.status, err)
	}
	s.note("status at http://%s/health and /metrics", l.Addr())
	server := &http.Server{Handler: g.Handler(), ReadHeaderTimeout: 5 * time.Second, IdleTimeout: time.Minute}
	go server.Serve(l)
	context.AfterFunc(ctx, func() { server.Close() })
	return nil
}

// end tells what --once did; the exit status is that of a check.
func (f *gateFlags) end(s *speaker, o gate.Outcome) error {
	if !f.once {
		return nil
	}
	words := "%d cleared, %d held\n"
	if f.watchOnly {
		words = "%d good, %d failed\n"
	}
	if _, err := fmt.Fprintf(s.out, words, o.Cleared, o.Held); err != nil {
		return err
	}
	for _, why := range o.Left {
		s.error(fmt.Errorf("left in the intake: %s", why))
	}
	switch {
	case len(o.Left) > 0:
		return exitStatus(exitCannot)
	case o.Held > 0:
		return exitStatus(exitFailed)
	}
	return nil
}
