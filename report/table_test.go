package report

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/olekukonko/tablewriter/pkg/twwidth"
	"pgregory.net/rapid"

	"stoneproof/rules"
)

var update = flag.Bool("update", false, "write the golden files anew")

// TestMain measures text as western terminals do, whatever the locale.
func TestMain(m *testing.M) {
	twwidth.SetOptions(twwidth.Options{})
	os.Exit(m.Run())
}

func TestTableLooks(t *testing.T) {
	us, eu := usTicket(t), euTicket(t)
	report := func(tk rules.Ticket, files ...rules.FileReport) rules.Report {
		return rules.Report{Version: "1.0.0", Ticket: tk, Files: files}
	}
	many := report(eu, potter(eu), baker(eu), mender(eu), torn())
	for name, c := range map[string]struct {
		report rules.Report
		opts   TableOptions
	}{
		"none":         {report(us), TableOptions{}},
		"pass-one":     {report(us, potter(us)), TableOptions{}},
		"pass-two":     {report(eu, potter(eu), potter(eu)), TableOptions{}},
		"pass-all":     {report(us, potter(us)), TableOptions{All: true}},
		"warn":         {report(us, mender(us)), TableOptions{}},
		"warn-strict":  {report(us, mender(us)), TableOptions{Strict: true}},
		"skip-pass":    {report(us, unboxed(us)), TableOptions{}},
		"skip":         {report(us, torn()), TableOptions{}},
		"fail-80":      {report(us, baker(us)), TableOptions{Width: 80}},
		"fail-100":     {report(us, baker(us)), TableOptions{Width: 100}},
		"fail-140":     {report(us, baker(us)), TableOptions{Width: 140}},
		"fail-60":      {report(us, baker(us)), TableOptions{Width: 20}},
		"proofs-80":    {report(us, baker(us)), TableOptions{Proofs: true}},
		"proofs-140":   {report(us, baker(us)), TableOptions{Proofs: true, Width: 140}},
		"colour-80":    {report(us, baker(us)), TableOptions{Colour: true}},
		"colour-140":   {report(us, baker(us)), TableOptions{Colour: true, Width: 140}},
		"many-80":      {many, TableOptions{Width: 80}},
		"many-100":     {many, TableOptions{Width: 100}},
		"many-140":     {many, TableOptions{Width: 140}},
		"many-strict":  {many, TableOptions{Strict: true}},
		"many-all-100": {many, TableOptions{Width: 100, All: true}},
		"sides-differ": {report(eu, mixed(eu)), TableOptions{}},
		"hostile":      {report(eu, hostile(eu), longName(eu)), TableOptions{}},
		"hostile-140":  {report(eu, hostile(eu), longName(eu)), TableOptions{Width: 140}},
	} {
		t.Run(name, func(t *testing.T) {
			var got bytes.Buffer
			if err := Table(&got, c.report, c.opts); err != nil {
				t.Fatal(err)
			}
			golden(t, name+".txt", got.Bytes())
		})
	}
}

func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	file := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), string(got)); diff != "" {
		t.Errorf("%s differs (-want +got); run with -update if it is meant\n%s", file, diff)
	}
}

var paint = regexp.MustCompile("\x1b\\[[0-9;]*m")

// TestTableIsHarmless holds for whatever a file may put into a report: lines
// fit, nothing but our own colours moves the terminal, and colour changes no
// letter. (Where a line of stacked marks breaks may change: the table measures
// painted text by another road.)
func TestTableIsHarmless(t *testing.T) {
	us, eu := usTicket(t), euTicket(t)
	rapid.Check(t, func(t *rapid.T) {
		r := reports(us, eu).Draw(t, "report")
		o := TableOptions{Width: rapid.IntRange(60, 160).Draw(t, "width"), All: rapid.Bool().Draw(t, "all"), Strict: rapid.Bool().Draw(t, "strict")}
		var plain, colour bytes.Buffer
		if err := Table(&plain, r, o); err != nil {
			t.Fatal(err)
		}
		o.Colour = true
		if err := Table(&colour, r, o); err != nil {
			t.Fatal(err)
		}
		for line := range strings.Lines(plain.String()) {
			line = strings.TrimSuffix(line, "\n")
			if cells(line) > o.Width {
				t.Fatalf("%d columns of %d: %q", cells(line), o.Width, line)
			}
			if i := strings.IndexFunc(line, func(r rune) bool { return !shows(r) }); i >= 0 {
				t.Fatalf("not harmless at %d: %q", i, line)
			}
		}
		if diff := cmp.Diff(despaced(plain.String()), despaced(paint.ReplaceAllString(colour.String(), ""))); diff != "" {
			t.Fatalf("colour changes the text:\n%s", diff)
		}
	})
}

// despaced drops all white space.
func despaced(text string) string { return strings.Join(strings.Fields(text), "") }

// TestTableTellsEverything holds that no finding that matters gets lost, and
// that no number is cut from its unit.
func TestTableTellsEverything(t *testing.T) {
	us := usTicket(t)
	for width := 60; width <= 160; width++ {
		var out bytes.Buffer
		r := rules.Report{Ticket: us, Files: []rules.FileReport{potter(us), baker(us), mender(us), torn()}}
		if err := Table(&out, r, TableOptions{Width: width}); err != nil {
			t.Fatal(err)
		}
		for _, whole := range []string{"bleed-fill", "effective-resolution", "colour-tags", "! warn", "✗ fail", "✓ pass", "- skip",
			"0.0778 in", "0.125 in", "0.3937 in", "214 × 214 ppi", "1125 × 675 px", "1.25 × 0.75 in", "3.5 × 2 in"} {
			if !strings.Contains(out.String(), whole) {
				t.Errorf("at %d columns there is no %q", width, whole)
			}
		}
	}
}

func TestWorstComesFirstWithinASide(t *testing.T) {
	us := usTicket(t)
	var f rules.FileReport
	for _, side := range []int{2, 1, 0} {
		for _, v := range []rules.Verdict{rules.Pass, rules.Skip, rules.Warn, rules.Fail} {
			f.Findings = append(f.Findings, rules.Finding{Rule: "safe-zone", Side: side, Verdict: v})
		}
	}
	var got []string
	for _, g := range newTeller(rules.Report{Ticket: us}, TableOptions{All: true}).shown(f) {
		got = append(got, fmt.Sprint(g.Side, " ", g.Verdict))
	}
	want := []string{"0 fail", "0 warn", "0 skip", "0 pass", "1 fail", "1 warn", "1 skip", "1 pass", "2 fail", "2 warn", "2 skip", "2 pass"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

func TestARulePassesOnlyIfAllItsFindingsDo(t *testing.T) {
	got := passing([]rules.Finding{
		{Rule: "trim-size", Verdict: rules.Pass, Side: 1}, {Rule: "safe-zone", Verdict: rules.Pass, Side: 1},
		{Rule: "page-boxes", Verdict: rules.Skip}, {Rule: "safe-zone", Verdict: rules.Fail, Side: 2},
		{Rule: "trim-size", Verdict: rules.Pass, Side: 2},
	})
	if diff := cmp.Diff([]string{"trim-size"}, got); diff != "" {
		t.Error(diff)
	}
}

// Skips of one reason are one line; a skip of its own is a row.
func TestSkipsOfOneReasonAreOneLine(t *testing.T) {
	us := usTicket(t)
	f := rules.FileReport{Path: "card.png", Kind: "png", Findings: []rules.Finding{
		{Rule: "safe-zone", Side: 1, Verdict: rules.Skip, Message: "No trim."},
		{Rule: "text-size", Side: 1, Verdict: rules.Skip, Message: "Type is pixels."},
		{Rule: "hairlines", Side: 1, Verdict: rules.Skip, Message: "Type is pixels."},
	}}
	var out bytes.Buffer
	if err := Table(&out, rules.Report{Ticket: us, Files: []rules.FileReport{f}}, TableOptions{}); err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(out.String(), "Type is pixels."); n != 1 {
		t.Errorf("the reason is told %d times:\n%s", n, &out)
	}
	for _, want := range []string{"text-size, hairlines: Type is pixels.", "safe-zone", "No trim."} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("there is no %q:\n%s", want, &out)
		}
	}
}
