package gate

import (
	"context"
	"sync"
	"testing"
	"time"
)

// TestWatch: with file events a gate need not wait for its next round, in folders that
// were made since either. This is the one test of the gate's own clock.
func TestWatch(t *testing.T) {
	if testing.Short() {
		t.Skip("waits for the real clock")
	}
	s := newSite(t)
	w, err := Watch()
	if err != nil {
		t.Skip("no file events here: ", err)
	}
	defer w.Close()
	cfg := s.config()
	cfg.Wake, cfg.Follow = w.Wake(), w.Follow
	cfg.Settle, cfg.Rescan = 20*time.Millisecond, time.Hour
	g := newGate(t, cfg)
	ctx, stop := context.WithCancel(context.Background())
	var run sync.WaitGroup
	run.Go(func() { g.Run(ctx) })
	arrives := func(rel string) {
		t.Helper()
		for range 500 {
			if s.has(t, rel) {
				return
			}
			time.Sleep(20 * time.Millisecond)
		}
		t.Errorf("%s never came", rel)
	}
	time.Sleep(50 * time.Millisecond)
	s.drop(t, "a.pdf", "a END")
	arrives("cleared/a.pdf")
	s.drop(t, "new/deep/b.pdf", "b END")
	arrives("cleared/new/deep/b.pdf")
	s.drop(t, "new/deep/c.pdf", "c BAD END")
	arrives("held/new/deep/c.pdf")
	stop()
	run.Wait()
}
