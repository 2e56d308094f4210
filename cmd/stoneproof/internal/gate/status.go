package gate

import (
	"fmt"
	"io"
	"sync"
	"time"
)

// Counts is what a gate tells of itself while it runs.
type Counts struct {
	mu sync.Mutex
	s  Status
}

// Status is one look at the counts.
type Status struct {
	Waiting   int       // files in the intake that are not in hand
	Stuck     int       // of them, those that wait for a person
	InHand    int       // files being judged or moved
	Oldest    time.Time // when the oldest waiting file came; zero where none waits
	Cleared   int
	Held      int
	Returned  int // given back to the intake
	Recovered int // claims carried on for a gate that was stopped
	Ignored   int
	Judged    int
	Judging   time.Duration // spent on judging, all workers together
	Looked    time.Time     // when the intake was last looked at
	Trouble   string        // what keeps the gate from its work; empty if nothing does
}

// Status is what the gate is at now.
func (g *Gate) Status() Status {
	g.counts.mu.Lock()
	defer g.counts.mu.Unlock()
	return g.counts.s
}

func (c *Counts) with(do func(*Status)) {
	c.mu.Lock()
	defer c.mu.Unlock()
	do(&c.s)
}

func (c *Counts) inHand(n int) { c.with(func(s *Status) { s.InHand += n }) }

func (c *Counts) judged(n int, took time.Duration) {
	c.with(func(s *Status) { s.Judged += n; s.Judging += took })
}

func (c *Counts) count(e Entry) {
	c.with(func(s *Status) {
		switch {
		case e.Event == eventMoved && e.Class == Cleared:
			s.Cleared++
		case e.Event == eventMoved:
			s.Held++
		case e.Event == eventReturned:
			s.Returned++
		case e.Event == eventIgnored:
			s.Ignored++
		}
		if e.Recovered {
			s.Recovered++
		}
	})
}

// publish tells the counts what a round of looking saw.
func (g *Gate) publish(now time.Time) {
	waiting, stuck, oldest := 0, 0, time.Time{}
	for _, l := range g.looks {
		if l.busy || g.looked(l) {
			continue
		}
		waiting++
		if l.stuck {
			stuck++
		}
		if oldest.IsZero() || l.first.Before(oldest) {
			oldest = l.first
		}
	}
	g.counts.with(func(s *Status) {
		s.Waiting, s.Stuck, s.Oldest, s.Looked, s.Trouble = waiting, stuck, oldest, now, g.troubled
	})
}

// WriteMetrics tells the status in the text format that Prometheus reads
// (exposition format 0.0.4).
func (s Status) WriteMetrics(w io.Writer, now time.Time) error {
	age := 0.0
	if !s.Oldest.IsZero() {
		age = now.Sub(s.Oldest).Seconds()
	}
	trouble := 0
	if s.Trouble != "" {
		trouble = 1
	}
	var err error
	metric := func(name, kind, help string, values ...string) {
		if err != nil {
			return
		}
		_, err = fmt.Fprintf(w, "# HELP stoneproof_%s %s\n# TYPE stoneproof_%[1]s %[3]s\n", name, help, kind)
		for _, v := range values {
			if err == nil {
				_, err = fmt.Fprintf(w, "stoneproof_%s%s\n", name, v)
			}
		}
	}
	metric("waiting_files", "gauge", "Files in the intake that are not in hand.", fmt.Sprintf(" %d", s.Waiting))
	metric("stuck_files", "gauge", "Waiting files that need a person.", fmt.Sprintf(" %d", s.Stuck))
	metric("in_hand_files", "gauge", "Files being judged or moved.", fmt.Sprintf(" %d", s.InHand))
	metric("oldest_waiting_seconds", "gauge", "Age of the oldest waiting file, 0 where none waits.", fmt.Sprintf(" %.3f", age))
	metric("moved_files_total", "counter", "Files moved, by where they went.",
		fmt.Sprintf("{to=\"cleared\"} %d", s.Cleared), fmt.Sprintf("{to=\"held\"} %d", s.Held))
	metric("returned_files_total", "counter", "Files given back to the intake.", fmt.Sprintf(" %d", s.Returned))
	metric("recovered_files_total", "counter", "Files carried on for a gate that was stopped.", fmt.Sprintf(" %d", s.Recovered))
	metric("ignored_total", "counter", "Things in the intake that are no ordinary files.", fmt.Sprintf(" %d", s.Ignored))
	metric("judging_seconds", "summary", "Time from claim to verdict.",
		fmt.Sprintf("_sum %.3f", s.Judging.Seconds()), fmt.Sprintf("_count %d", s.Judged))
	metric("last_look_timestamp_seconds", "gauge", "When the intake was last looked at.", fmt.Sprintf(" %.3f", float64(s.Looked.UnixMilli())/1000))
	metric("trouble", "gauge", "1 while something keeps the gate from its work.", fmt.Sprintf(" %d", trouble))
	return err
}
