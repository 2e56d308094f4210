package gate

import (
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"os/signal"
	"syscall"
	"testing"
	"time"

	"stoneproof/rules"
)

// childVar makes the test program a gate of its own, so that it can be killed: its
// value is what the gate is to do.
const childVar = "STONEPROOF_TEST_GATE"

// child is a gate to be killed.
type child struct {
	Site  [3]string
	Once  bool
	Judge time.Duration // that judging a file takes, at most
	Most  int64         // bytes of the journal
}

func TestMain(m *testing.M) {
	if text := os.Getenv(childVar); text != "" {
		var c child
		if err := json.Unmarshal([]byte(text), &c); err != nil {
			panic(err)
		}
		os.Exit(c.run())
	}
	os.Exit(m.Run())
}

func (c child) run() int {
	cfg := site{c.Site[0], c.Site[1], c.Site[2]}.config()
	cfg.Settle, cfg.PairWait, cfg.Rescan = 2*time.Millisecond, 5*time.Second, 20*time.Millisecond
	cfg.Once = c.Once
	cfg.Judge = func(rules.Ticket) Judge {
		return Judge{Pair: plainPair, File: func(ctx context.Context, path string) rules.FileReport {
			time.Sleep(rand.N(c.Judge + 1))
			return plainFile(ctx, path)
		}}
	}
	g, err := New(cfg)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 2
	}
	g.restless = time.Millisecond
	if c.Most > 0 {
		g.journal.most = c.Most
	}
	ctx, stop := signal.NotifyContext(context.Background(), syscall.SIGTERM)
	defer stop()
	fmt.Println("at work")
	o, err := g.Run(ctx)
	if err != nil || len(o.Left) > 0 {
		fmt.Fprintln(os.Stderr, err, o.Left)
		return 2
	}
	return 0
}
