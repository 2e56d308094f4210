// Package checktest tests rules on cases that carry their expectation. A folder
// of cases holds artwork and a page want.txt, a line a file:
//
//	card.pdf | size=eu-business process=desktop | bleed-fill fail left; safe-zone warn
//
// The middle column is the order for the ticket, empty for the default one; inks
// stand as spots=Gold,Silver. The right one lists every finding that is not a
// pass: rule, verdict and, if it has one, edge. A finding that is missing and one
// that is surplus both fail the test, and so does a file without a line, or a line
// without a file.
package checktest

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stoneproof/checks"
	"stoneproof/checks/art"
	"stoneproof/checks/art/render"
	"stoneproof/rules"
)

// Case is one file with its expectation.
type Case struct {
	File  string // within its folder
	Order rules.Order
	Want  []string // "bleed-fill fail left", sorted
}

// renderer is shared by all tests of a process: starting one costs more than
// judging a file.
var renderer = sync.OnceValue(func() *render.Engine { return render.Start(render.Options{}) })

// Judge judges a file by every check under an order.
func Judge(t testing.TB, path string, order rules.Order) rules.FileReport {
	t.Helper()
	return JudgeBy(t, path, order, checks.All()...)
}

// JudgeBy judges a file by some checks alone.
func JudgeBy(t testing.TB, path string, order rules.Order, list ...*checks.Check) rules.FileReport {
	t.Helper()
	return NewJudge(t, order, list...).File(context.Background(), path)
}

// NewJudge makes a judge by some checks, with the renderer that all tests share.
func NewJudge(t testing.TB, order rules.Order, list ...*checks.Check) *checks.Judge {
	t.Helper()
	ticket, err := order.Ticket()
	if err != nil {
		t.Fatal(err)
	}
	return &checks.Judge{Ticket: ticket, Checks: list, Ceilings: art.DefaultCeilings(), Renderer: renderer()}
}

// JudgeBytes judges a file that stands in memory.
func JudgeBytes(t testing.TB, name string, b []byte, order rules.Order) rules.FileReport {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, b, 0o644); err != nil {
		t.Fatal(err)
	}
	return Judge(t, path, order)
}

// Said lists a report's findings that are not passes, in the words of want.txt.
func Said(r rules.FileReport) []string {
	var said []string
	for _, f := range r.Findings {
		if f.Verdict != rules.Pass {
			said = append(said, strings.TrimSpace(fmt.Sprintf("%s %s %s", f.Rule, f.Verdict, f.Edge)))
		}
	}
	slices.Sort(said)
	return said
}

// Expect fails the test unless the report says just what is wanted.
func Expect(t testing.TB, r rules.FileReport, want ...string) {
	t.Helper()
	slices.Sort(want)
	if diff := cmp.Diff(want, Said(r)); diff != "" && len(want)+len(Said(r)) > 0 {
		t.Errorf("%s (-want +got):\n%s\n%s", filepath.Base(r.Path), diff, words(r))
	}
}

// words are the messages behind a report, for the reader of a failed test.
func words(r rules.FileReport) string {
	var b strings.Builder
	for _, f := range r.Findings {
		if f.Verdict != rules.Pass {
			fmt.Fprintf(&b, "%s side %d %s %s: %s\n  %s\n", f.Verdict, f.Side, f.Edge, f.Rule, f.Message, f.Fix)
		}
	}
	return b.String()
}

// Folder tests every case of a folder.
func Folder(t *testing.T, dir string) {
	t.Helper()
	cases := ReadCases(t, dir)
	for _, c := range cases {
		t.Run(filepath.Base(dir)+"/"+c.File, func(t *testing.T) {
			Expect(t, Judge(t, filepath.Join(dir, c.File), c.Order), c.Want...)
		})
	}
}

// ReadCases reads a folder's want.txt and refuses one that does not fit the
// folder.
func ReadCases(t testing.TB, dir string) []Case {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(dir, "want.txt"))
	if err != nil {
		t.Fatal(err)
	}
	var cases []Case
	told := map[string]bool{}
	for line := range strings.Lines(string(text)) {
		line, _, _ = strings.Cut(line, "#")
		if strings.TrimSpace(line) == "" {
			continue
		}
		c, err := parseCase(line)
		if err != nil {
			t.Fatalf("%s: %v", dir, err)
		}
		cases, told[c.File] = append(cases, c), true
	}
	unlisted(t, dir, told)
	return cases
}

// unlisted fails the test for each card file of the folder without a line.
func unlisted(t testing.TB, dir string, told map[string]bool) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if art.NamedLikeArt(e.Name()) && !told[e.Name()] {
			t.Errorf("%s has no line for %s", filepath.Join(dir, "want.txt"), e.Name())
		}
	}
}

func parseCase(line string) (Case, error) {
	columns := strings.Split(line, "|")
	if len(columns) != 3 {
		return Case{}, fmt.Errorf("not FILE | ORDER | FINDINGS: %q", line)
	}
	c := Case{File: strings.TrimSpace(columns[0])}
	for _, word := range strings.Fields(columns[1]) {
		if err := c.order(word); err != nil {
			return c, err
		}
	}
	for finding := range strings.SplitSeq(columns[2], ";") {
		if finding = strings.Join(strings.Fields(finding), " "); finding != "" {
			c.Want = append(c.Want, finding)
		}
	}
	return c, nil
}

func (c *Case) order(word string) error {
	key, value, _ := strings.Cut(word, "=")
	switch key {
	case "size":
		c.Order.Size = value
	case "process":
		c.Order.Process = value
	case "orientation":
		c.Order.Orientation = rules.Orientation(value)
	case "spots":
		c.Order.Spots = strings.Split(value, ",")
	case "bleed", "safe":
		l, err := rules.ParseLength(value)
		if key == "bleed" {
			c.Order.Bleed = &l
		} else {
			c.Order.Safe = &l
		}
		return err
	default:
		return fmt.Errorf("unknown key in an order: %q", key)
	}
	return nil
}
