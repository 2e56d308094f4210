package checks_test

import (
	"bytes"
	"context"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"stoneproof/checks"
	"stoneproof/checks/art"
	"stoneproof/rules"
)

// judgeWith judges a white picture by checks of the test's own.
func judgeWith(t *testing.T, deadline time.Duration, strict bool, list ...*checks.Check) rules.FileReport {
	t.Helper()
	ticket, err := rules.Order{}.Ticket()
	if err != nil {
		t.Fatal(err)
	}
	ceilings := art.DefaultCeilings()
	ceilings.Deadline = deadline
	j := checks.Judge{Ticket: ticket, Checks: list, Ceilings: ceilings, Strict: strict}
	return j.File(context.Background(), whitePNG(t))
}

func whitePNG(t *testing.T) string {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, 375, 225))); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "white.png")
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

func passing(p *checks.Pass) { p.Report(rules.Finding{Verdict: rules.Pass, Message: "Good."}) }

func TestPanickingCheckIsNotJudged(t *testing.T) {
	r := judgeWith(t, time.Minute, false,
		&checks.Check{Rule: "trim-size", Side: func(p *checks.Pass) { passing(p); panic("spilt ink") }},
		&checks.Check{Rule: "side-count", File: passing},
	)
	if len(r.Findings) != 2 {
		t.Fatalf("want a skip and a pass, got %v", r.Findings)
	}
	skipped := r.Findings[1]
	if skipped.Rule != "trim-size" || skipped.Verdict != rules.Skip || !strings.Contains(skipped.Message, "spilt ink") {
		t.Errorf("a panic must become a named skip, got %+v", skipped)
	}
	if r.Verdict != rules.Pass {
		t.Errorf("the run must go on, got verdict %s", r.Verdict)
	}
}

func TestSilentCheckIsToldOf(t *testing.T) {
	r := judgeWith(t, time.Minute, false, &checks.Check{Rule: "trim-size", Side: func(*checks.Pass) {}})
	if len(r.Findings) != 1 || r.Findings[0].Verdict != rules.Skip {
		t.Errorf("want one skip, got %v", r.Findings)
	}
}

func TestDeadlineFailsTheFile(t *testing.T) {
	stuck := make(chan struct{})
	defer close(stuck)
	r := judgeWith(t, 50*time.Millisecond, false,
		&checks.Check{Rule: "trim-size", Side: func(*checks.Pass) { <-stuck }})
	if len(r.Findings) != 1 || r.Findings[0].Rule != "file-opens" || r.Verdict != rules.Fail {
		t.Fatalf("want file-opens to fail, got %+v", r)
	}
	if !strings.Contains(r.Findings[0].Message, "within 50ms") {
		t.Errorf("the deadline is not named: %s", r.Findings[0].Message)
	}
}

func TestStrictLetsWarningsFail(t *testing.T) {
	warns := &checks.Check{Rule: "trim-size", Side: func(p *checks.Pass) { p.Report(rules.Finding{Verdict: rules.Warn}) }}
	for strict, want := range map[bool]rules.Verdict{false: rules.Warn, true: rules.Fail} {
		if r := judgeWith(t, time.Minute, strict, warns); r.Verdict != want {
			t.Errorf("strict %v: got %s, want %s", strict, r.Verdict, want)
		}
	}
}

// Findings come by side, then place, then in the catalogue's order.
func TestFindingsAreSorted(t *testing.T) {
	at := func(x, y rules.Length) *rules.Box { return &rules.Box{X: x, Y: y, W: 1, H: 1} }
	r := judgeWith(t, time.Minute, false,
		&checks.Check{Rule: "safe-zone", Side: func(p *checks.Pass) {
			for _, w := range []*rules.Box{at(5, 9), at(7, 2), nil, at(1, 2)} {
				p.Report(rules.Finding{Verdict: rules.Pass, Where: w})
			}
		}},
		&checks.Check{Rule: "bleed-fill", Side: func(p *checks.Pass) { p.Report(rules.Finding{Where: at(8, 9)}) }},
		&checks.Check{Rule: "trim-size", Side: passing},
		&checks.Check{Rule: "file-opens", File: passing},
	)
	var order []string
	for _, f := range r.Findings {
		order = append(order, f.Rule)
	}
	want := []string{"file-opens", "trim-size", "safe-zone", "safe-zone", "safe-zone", "safe-zone", "bleed-fill"}
	if !slices.Equal(order, want) {
		t.Fatalf("order %v, want %v", order, want)
	}
	if got := r.Findings[3].Where; *got != *at(1, 2) {
		t.Errorf("places are not told from the top left: %v first", got)
	}
}

// Whatever stands in for a file, the run gets a report.
func TestWhatCannotBeOpenedIsJudged(t *testing.T) {
	dir := t.TempDir()
	write := func(name, content string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(content), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	folder := filepath.Join(dir, "folder.pdf")
	if err := os.Mkdir(folder, 0o755); err != nil {
		t.Fatal(err)
	}
	for path, says := range map[string]string{
		write("empty.pdf", ""):                    "empty",
		write("words.pdf", "just words"):          "The name says PDF",
		write("cut.jpg", "\xff\xd8\xff\xe0\x00"):  "cut off",
		write("card.ps", "%!PS-Adobe-3.0\n"):      "PostScript",
		write("page.png", "<!DOCTYPE html>"):      "a web page",
		write("damaged.pdf", "%PDF-1.7\nnothing"): "cut off",
		folder:                           "folder",
		filepath.Join(dir, "absent.pdf"): "gone",
		os.DevNull:                       "device",
	} {
		r := judgeAll(t, path)
		if len(r.Findings) != 1 || r.Findings[0].Rule != "file-opens" || r.Verdict != rules.Fail {
			t.Errorf("%s: want file-opens alone to fail, got %+v", path, r.Findings)
			continue
		}
		f := r.Findings[0]
		if !strings.Contains(strings.ToLower(f.Message), strings.ToLower(says)) || f.Fix == "" {
			t.Errorf("%s: message %q, fix %q; want it to speak of %q", path, f.Message, f.Fix, says)
		}
	}
}

func judgeAll(t *testing.T, path string) rules.FileReport {
	t.Helper()
	ticket, err := rules.Order{}.Ticket()
	if err != nil {
		t.Fatal(err)
	}
	j := checks.Judge{Ticket: ticket, Checks: []*checks.Check{checks.FileOpens}, Ceilings: art.DefaultCeilings()}
	return j.File(context.Background(), path)
}
