package apart

import (
	"fmt"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"stoneproof/checks"
	"stoneproof/checks/art"
	"stoneproof/rules"
)

// role is the variable that makes a process of this test a child, and says of what
// kind.
const role = "STONEPROOF_APART_ROLE"

func TestMain(m *testing.M) {
	kind := os.Getenv(role)
	if kind == "" {
		os.Exit(m.Run())
	}
	out := os.Stdout
	os.Stdout = os.Stderr
	if err := play(kind, out); err != nil {
		fmt.Fprintln(os.Stderr, "stoneproof:", err)
		os.Exit(2)
	}
}

// play is the life of a child: a sound one, or one that goes wrong.
func play(kind string, out *os.File) error {
	switch kind {
	case "sound":
		return Serve(os.Stdin, out)
	case "dead":
		return fmt.Errorf("cannot live")
	case "mute":
		select {}
	case "chatter": // fills its standard error, then is sound
		for range 1000 {
			fmt.Fprintln(os.Stderr, strings.Repeat("chatter ", 1000))
		}
		return Serve(os.Stdin, out)
	}
	return playFirst(kind, out)
}

// playFirst starts like a sound child and goes wrong over its first file.
func playFirst(kind string, out *os.File) error {
	defer out.Close() // and not before
	var s settings
	if err := receive(os.Stdin, &s); err != nil {
		return err
	}
	holdMemory(s.Memory)
	if err := send(out, answer{Ready: true}); err != nil {
		return err
	}
	var q request
	if err := receive(os.Stdin, &q); err != nil {
		return err
	}
	switch kind {
	case "panics":
		var none []int
		_ = none[len(q.Path)]
	case "garbles":
		fmt.Fprintln(out, "hello")
	case "promises": // a frame of 4 GB
		_, _ = out.Write([]byte("\xff\xff\xff\xff"))
	case "mistakes":
		_ = send(out, answer{Report: &rules.FileReport{Path: "another.pdf"}})
	case "hoards":
		var hoard [][]byte
		for {
			b := make([]byte, 1<<20)
			for i := range b {
				b[i] = 1
			}
			hoard = append(hoard, b)
			time.Sleep(time.Millisecond)
			_ = hoard
		}
	case "recurses":
		fmt.Fprintln(os.Stderr, depth(1))
	}
	time.Sleep(time.Hour)
	return nil
}

func depth(n int) int {
	if n == 0 {
		return 0
	}
	return depth(n+1) + 1
}

// playing makes children of a kind.
func playing(kind string) func() (*exec.Cmd, error) {
	return func() (*exec.Cmd, error) {
		cmd := exec.Command(os.Args[0])
		cmd.Env = append(os.Environ(), role+"="+kind)
		return cmd, nil
	}
}

// start makes a pool of sound children, for the length of a test.
func start(t *testing.T, o Options) *Pool {
	t.Helper()
	if o.Child == nil {
		o.Child = playing("sound")
	}
	p := Start(o)
	t.Cleanup(p.Close)
	return p
}

// judge is one by everything, for children: it has no renderer.
func judge(t *testing.T, order rules.Order) *checks.Judge {
	t.Helper()
	ticket, err := order.Ticket()
	if err != nil {
		t.Fatal(err)
	}
	return &checks.Judge{Ticket: ticket, Checks: checks.All(), Ceilings: art.DefaultCeilings()}
}

const goodCard = "../../../../testdata/good/potter-two-sided-us-business.pdf"

// stillSound wants a good card to be judged rightly.
func stillSound(t *testing.T, p *Pool) {
	t.Helper()
	if r := p.Judge(judge(t, rules.Order{}))(t.Context(), goodCard); r.Verdict != rules.Pass {
		t.Errorf("a good card does not pass:\n%s", told(r))
	}
}

// told is all that a report says but passes.
func told(r rules.FileReport) string {
	var b strings.Builder
	for _, f := range r.Findings {
		if f.Verdict != rules.Pass {
			fmt.Fprintf(&b, "%s %s: %s → %s\n", f.Rule, f.Verdict, f.Message, f.Fix)
		}
	}
	return b.String()
}

// unopened wants a file to fail file-opens with some words, and nothing else.
func unopened(t *testing.T, r rules.FileReport, says string) {
	t.Helper()
	if r.Verdict != rules.Fail || len(r.Findings) != 1 || r.Findings[0].Rule != "file-opens" || !strings.Contains(told(r), says) {
		t.Errorf("want one failure of file-opens that says %q, not %s:\n%s", says, r.Verdict, told(r))
	}
}
