package browser

import (
	"context"
	"os"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"stoneproof/checks/checktest/outside"
)

// patience bounds every step of a test: a loaded machine takes its time, a page that
// hangs must not take ours.
const patience = 60 * time.Second

// Browser is a headless browser that ends with its test.
type Browser struct{ ctx context.Context }

// Start starts a browser. Without one the test is skipped, as outside.Tool has it.
func Start(t testing.TB) *Browser {
	t.Helper()
	if testing.Short() {
		t.Skip("a browser takes seconds to start")
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(outside.Tool(t, "chromium")))
	if os.Geteuid() == 0 {
		options = append(options, chromedp.NoSandbox) // the sandbox does not run as root
	}
	allocated, endAll := chromedp.NewExecAllocator(context.Background(), options...)
	ctx, end := chromedp.NewContext(allocated)
	t.Cleanup(func() { end(); endAll() })
	if err := chromedp.Do(ctx); err != nil {
		t.Fatalf("the browser does not start: %v", err)
	}
	return &Browser{ctx}
}

// Tab is a page of the browser; one goroutine drives it.
type Tab struct {
	t   testing.TB
	ctx context.Context

	mu         sync.Mutex
	complaints []string
}

// Tab opens an empty tab, closed with the test. What its console complains of fails
// the test when it ends.
func (b *Browser) Tab(t testing.TB) *Tab {
	t.Helper()
	ctx, end := chromedp.NewContext(b.ctx)
	tab := &Tab{t: t, ctx: ctx}
	if err := chromedp.Listen(ctx, tab.hear); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if said := tab.Complaints(); len(said) > 0 {
			t.Errorf("the console complains:\n%s", strings.Join(said, "\n"))
		}
		end()
	})
	return tab
}

// hear keeps what the console has to complain of.
func (tab *Tab) hear(event any) {
	var said string
	switch e := event.(type) {
	case *runtime.EventExceptionThrown:
		said = "exception: " + e.ExceptionDetails.Text
		if e.ExceptionDetails.Exception != nil {
			said += " " + e.ExceptionDetails.Exception.Description
		}
	case *runtime.EventConsoleAPICalled:
		if e.Type != "error" && e.Type != "warning" && e.Type != "assert" {
			return
		}
		said = "console: " + string(e.Type)
		for _, a := range e.Args {
			said += " " + string(a.Value) + a.Description
		}
	case *log.EventEntryAdded:
		if e.Entry.Level != "error" && e.Entry.Level != "warning" {
			return
		}
		said = "log: " + e.Entry.Text + " " + e.Entry.URL
	default:
		return
	}
	tab.mu.Lock()
	defer tab.mu.Unlock()
	tab.complaints = append(tab.complaints, said)
}

// Complaints are what the console has complained of since they were last asked for.
func (tab *Tab) Complaints() []string {
	tab.mu.Lock()
	defer tab.mu.Unlock()
	said := tab.complaints
	tab.complaints = nil
	return said
}

// do takes steps one after the other, within patience.
func (tab *Tab) do(what string, steps ...chromedp.Action[chromedp.Void]) {
	tab.t.Helper()
	if err := chromedp.Do(tab.ctx); err != nil { // opens the tab, whose life is that of this context
		tab.t.Fatalf("%s: %v", what, err)
	}
	ctx, end := context.WithTimeout(tab.ctx, patience)
	defer end()
	if err := chromedp.Do(ctx, steps...); err != nil {
		tab.t.Fatalf("%s: %v", what, err)
	}
}

// get takes a step that gives something back.
func get[T any](tab *Tab, what string, step chromedp.Action[T]) T {
	tab.t.Helper()
	ctx, end := context.WithTimeout(tab.ctx, patience)
	defer end()
	v, err := chromedp.Run(ctx, step)
	if err != nil {
		tab.t.Fatalf("%s: %v", what, err)
	}
	return v
}
