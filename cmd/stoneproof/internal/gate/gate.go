package gate

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"stoneproof/checks"
	"stoneproof/rules"
)

// Config says what a gate is to do. Fields without a word may be left empty.
type Config struct {
	Intake, Cleared, Held string

	Ticket     rules.Ticket                            // where a folder carries none
	ReadTicket func(path string) (rules.Ticket, error) // that of a folder
	Judge      func(rules.Ticket) Judge                // called for each job
	Reports    func(Judged) ([]Page, error)            // the pages to lay beside the art
	Tell       func(Entry)                             // whatever a person may want to know; called by one goroutine at a time
	Show       func(rules.Report)                      // what was judged where nothing is moved, likewise

	Wake   <-chan struct{}   // something came: look at once rather than at the next round
	Follow func(path string) // asks for Wake to tell of a folder, too

	Workers  int
	Settle   time.Duration // a file must lie still for this long
	PairWait time.Duration // a front waits for its back for this long, and a back for its front
	Rescan   time.Duration // the intake is looked at this often at least
	Beat     time.Duration // of the heart

	Once      bool // drain the intake and end
	WatchOnly bool // judge and report, but move nothing

	Ignore  []string // patterns of names to leave alone, beside DefaultIgnored
	Journal string   // file; empty: one for each machine in the intake
}

// Judge judges files by one ticket.
type Judge struct {
	File checks.FileJudge
	Pair func(front, back *rules.FileReport)

	// Unjudged, if set, reports whether a report says nothing of the file, because
	// it could not be judged here and now: it is tried again later.
	Unjudged func(rules.FileReport) bool
}

// Usual times. A settle time of two seconds outlasts the pauses of ordinary copying;
// longer ones are told by a file that is open, or by one that is cut off.
const (
	DefaultSettle   = 2 * time.Second
	DefaultPairWait = 30 * time.Second
	DefaultRescan   = 5 * time.Second
	DefaultBeat     = 5 * time.Second
)

// Outcome counts what a gate did.
type Outcome struct {
	Cleared, Held int
	Left          []string // why files were left in the intake, by --once
}

// Gate passes files on, or holds them. One goroutine owns what it has seen; workers
// own the claims that they are at.
type Gate struct {
	cfg      Config
	patterns []string
	mover    mover
	registry *registry
	journal  *journal
	counts   *Counts
	step     func(name string) // a test stops the gate here
	number   atomic.Int64      // of claims
	restless time.Duration     // between two rounds of looking, at least

	destinations map[string]uint64 // the devices that they were on at the start
	farMu        sync.Mutex
	far          map[string]bool

	telling sync.Mutex

	// Owned by the loop.
	looks    map[string]*look
	folders  map[string][]*look // by folder, as seen in this round
	oddities map[string]int     // ignored, with the round in which it was last seen
	tickets  map[string]folderTicket
	round    int
	queue    []job
	busy     int
	pending  []string // claims' folders that can go neither on nor back for now
	memory   map[string]looked
	outcome  Outcome
	results  chan result
	troubled string
	unsure   bool // of other gates, whether they still live
	looking  time.Time
	fresh    bool // nothing has happened since the intake was last looked at

	resumeAt   time.Time // when to try again what could not be ended
	unfinished error
}

// New makes a gate. It fails where its folders are not fit for their promise.
func New(cfg Config) (*Gate, error) {
	g := &Gate{
		cfg: cfg, mover: systemMover(), counts: &Counts{}, step: func(string) {}, restless: usualRest,
		destinations: map[string]uint64{}, far: map[string]bool{},
		looks: map[string]*look{}, oddities: map[string]int{}, memory: map[string]looked{},
		results: make(chan result),
	}
	for _, p := range append(DefaultIgnored(), cfg.Ignore...) {
		g.patterns = append(g.patterns, strings.ToLower(p))
	}
	if err := g.checkFolders(); err != nil {
		return nil, err
	}
	claims := filepath.Join(g.cfg.Intake, ours, "claims")
	if err := os.MkdirAll(claims, 0o777); err != nil {
		return nil, fmt.Errorf("the gate cannot work in %q: %s", g.cfg.Intake, plainCause(err))
	}
	g.registry = &registry{folder: claims, beat: cfg.Beat, running: running, others: map[string]pulse{}}
	path := cfg.Journal
	if path == "" {
		path = filepath.Join(g.cfg.Intake, ours, "journal-"+hostName()+".jsonl")
	}
	g.journal = &journal{path: path, most: mostJournal}
	return g, nil
}

// at is a path in the intake.
func (g *Gate) at(rel string) string { return filepath.Join(g.cfg.Intake, rel) }

func (g *Gate) root(c Class) string {
	if c == Cleared {
		return g.cfg.Cleared
	}
	return g.cfg.Held
}

// Run is the gate at work, until ctx ends, or with Once until the intake is drained.
// What is in hand when ctx ends is finished first.
func (g *Gate) Run(ctx context.Context) (Outcome, error) {
	if err := g.registry.join(); err != nil {
		return g.outcome, fmt.Errorf("the gate cannot work in %q: %s", g.cfg.Intake, plainCause(err))
	}
	defer g.journal.close()
	defer g.leave()
	if err := g.journal.write(Entry{Event: eventStarted, Claim: g.registry.me.ID}); err != nil {
		return g.outcome, err
	}
	hurt := make(chan struct{})
	var heart sync.WaitGroup
	heart.Go(func() { g.heartbeat(hurt) })
	err := g.loop(ctx)
	close(hurt)
	heart.Wait()
	return g.outcome, errors.Join(err, g.journal.writeSynced(Entry{Event: eventStopped, Claim: g.registry.me.ID}))
}

// leave takes the gate's folders away; a stage that still holds something is for who
// takes the claims over.
func (g *Gate) leave() {
	id := g.registry.me.ID
	g.registry.leave()
	for root := range g.destinations {
		os.Remove(filepath.Join(root, ours, id))
		os.Remove(filepath.Join(root, ours))
	}
}

func (g *Gate) heartbeat(stop <-chan struct{}) {
	tick := time.NewTicker(g.cfg.Beat)
	defer tick.Stop()
	for {
		select {
		case now := <-tick.C:
			g.registry.renew(now)
		case <-stop:
			return
		}
	}
}

// loop owns the gate's state: it looks, hands out jobs and takes in what became of them.
func (g *Gate) loop(ctx context.Context) error {
	timer := time.NewTimer(0)
	defer timer.Stop()
	wake, done := g.cfg.Wake, ctx.Done()
	stopping := false
	for {
		if !stopping {
			g.hand(ctx)
			if g.cfg.Once && g.drained() {
				return nil
			}
		}
		if stopping && g.busy == 0 {
			return nil
		}
		select {
		case <-done:
			stopping, wake, done = true, nil, nil
			g.queue = nil
		case r := <-g.results:
			g.settleResult(r)
			if g.fresh = false; g.busy == 0 && len(g.queue) == 0 && !stopping {
				timer.Reset(max(0, time.Until(g.looking)))
			}
		case <-wake:
			timer.Reset(max(0, time.Until(g.looking)))
		case now := <-timer.C:
			if stopping {
				continue
			}
			next, err := g.roundOf(now)
			if err != nil && g.cfg.Once {
				stopping, wake, done = true, nil, nil
				g.outcome.Left = append(g.outcome.Left, g.say(err))
				continue
			}
			timer.Reset(time.Until(next))
		}
	}
}

// usualRest is the least time between two rounds of looking; a round that took longer
// gets as many times its own length, so that looking never becomes the work.
const (
	usualRest     = 100 * time.Millisecond
	timesItsOwn   = 20
	backoffLeast  = time.Second
	backoffMost   = time.Minute
	patienceTimes = 15 // settle times that --once gives a file that is being written
)

// roundOf looks after dead gates and everything in the intake, and tells when to look
// again.
func (g *Gate) roundOf(now time.Time) (next time.Time, err error) {
	stuck := g.takeOver(now)
	err = g.lookAround(now)
	g.trouble(errors.Join(stuck, err))
	g.fresh = true
	next = now.Add(g.cfg.Rescan)
	if err == nil {
		jobs, soon := g.ready(now)
		g.queue = jobs
		if !soon.IsZero() && soon.Before(next) {
			next = soon
		}
	}
	g.looking = now.Add(max(g.restless, timesItsOwn*time.Since(now)))
	g.publish(now)
	return later(next, g.looking), err
}

// trouble tells once of what keeps the gate as a whole from its work, and once that it
// is over.
func (g *Gate) trouble(err error) {
	text := ""
	if err != nil {
		text = g.say(err)
	}
	if text != g.troubled {
		if text == "" {
			g.note(Entry{Event: eventTrouble, Why: "it is over: " + g.troubled})
		} else {
			g.note(Entry{Event: eventTrouble, Why: text, trouble: true})
		}
	}
	g.troubled = text
}

// hand gives jobs to workers.
func (g *Gate) hand(ctx context.Context) {
	for g.busy < g.cfg.Workers && len(g.queue) > 0 {
		j := g.queue[0]
		g.queue = g.queue[1:]
		if anyBusy(j.files) {
			continue
		}
		for _, l := range j.files {
			l.busy = true
		}
		g.busy++
		g.counts.inHand(len(j.files))
		go func() { g.results <- g.work(context.WithoutCancel(ctx), j) }()
	}
}

func anyBusy(files []*look) bool {
	for _, l := range files {
		if l.busy {
			return true
		}
	}
	return false
}

// note writes an entry into the journal as well as it can, and tells it.
func (g *Gate) note(e Entry) {
	g.journal.write(e)
	g.tell(e)
}

func (g *Gate) tell(e Entry) {
	g.telling.Lock()
	defer g.telling.Unlock()
	if e.Time.IsZero() {
		e.Time = time.Now()
	}
	g.counts.count(e)
	if g.cfg.Tell != nil {
		g.cfg.Tell(e)
	}
}
