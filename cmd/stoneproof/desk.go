package main

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"sync"

	"github.com/spf13/cobra"

	"stoneproof/checks"
	"stoneproof/checks/art"
	"stoneproof/checks/art/render"
	"stoneproof/cmd/stoneproof/internal/desk"
	"stoneproof/rules"
)

type deskFlags struct {
	job  ticketFlags
	port int
}

func deskCommand(s *speaker) *cobra.Command {
	var f deskFlags
	c := &cobra.Command{
		Use:   "desk [flags]",
		Short: "Judge cards on a local page, by dropping files on it",
		Long: `Desk opens a page on this computer for people who do not live in a terminal:
choose the ticket, drop the front and the back of a card, see the report and the
proof, turn the bleed or the safe margin and see it again.

It prints the page's address; open it in a browser. Nobody else can open the page:
it answers on this computer alone, and only who knows the address. Files stay in
memory, are sent nowhere, and are gone when the desk ends: press Ctrl-C.`,
		Example: `  stoneproof desk
  stoneproof desk --ticket poker.toml --port 8410`,
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) > 0 {
				return withHint(fmt.Errorf("the desk takes no files here: %q", args[0]), "drop them on its page; or stoneproof check "+args[0])
			}
			return runDesk(c.Context(), s, &f)
		},
	}
	c.Flags().SortFlags = false
	f.job.register(c.Flags())
	c.Flags().IntVar(&f.port, "port", 0, "`PORT` to answer on, default any that is free")
	return c
}

func runDesk(ctx context.Context, s *speaker, f *deskFlags) error {
	order, err := f.job.order()
	if err != nil {
		return err
	}
	if _, err := f.job.ticket(); err != nil {
		return err
	}
	if f.port < 0 || f.port > 65535 {
		return withHint(fmt.Errorf("port %d is out of range", f.port), "use 1024 to 65535, or none for any that is free")
	}
	bench := newBench(s)
	defer bench.renderer.Close()
	d, err := desk.New(desk.Options{Order: order, Judge: bench.judge, Ceilings: desk.DefaultCeilings(), Version: version(), Port: f.port})
	if err != nil {
		return withHint(fmt.Errorf("the desk cannot be set up: %w", err), "name another --port, or none")
	}
	s.deskIsOpen(d.Address())
	if err := d.Serve(ctx); err != nil && !errors.Is(err, http.ErrServerClosed) {
		return fmt.Errorf("the desk ended: %w", err)
	}
	return nil
}

// bench judges what lies on the desk.
type bench struct {
	renderer *render.Engine
	ceilings art.Ceilings

	mu   sync.Mutex
	tell func(string) // of the job at work
}

func newBench(s *speaker) *bench {
	b := &bench{ceilings: art.DefaultCeilings(), tell: func(string) {}}
	b.renderer = render.Start(render.Options{OnCompile: func() {
		s.compiling()
		b.mu.Lock()
		defer b.mu.Unlock()
		b.tell("Preparing the page renderer: only the first run takes these seconds")
	}})
	return b
}

func (b *bench) judge(ctx context.Context, job desk.Job, tell func(string)) desk.Judged {
	b.mu.Lock()
	b.tell = tell
	b.mu.Unlock()
	judge := &checks.Judge{Ticket: job.Ticket, Checks: checks.All(), Ceilings: b.ceilings, Renderer: b.renderer}
	r := rules.Report{Version: version(), Ticket: job.Ticket}
	var pictures [][]rules.Picture
	for i, f := range job.Files {
		tell(fmt.Sprintf("Judging file %d of %d", i+1, len(job.Files)))
		judged, seen := judge.SeeBytes(ctx, f.Name, f.Bytes)
		r.Files, pictures = append(r.Files, judged), append(pictures, seen)
	}
	if len(r.Files) == 2 {
		judge.Pair(&r.Files[0], &r.Files[1])
	}
	tell("Drawing the proof")
	done := desk.Judged{Report: r}
	for i, f := range r.Files {
		done.Proofs = append(done.Proofs, proofsForPage(f, job.Ticket, pictures[i]))
	}
	return done
}
