package gang_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stoneproof/checks/checktest"
	"stoneproof/checks/checktest/outside"
	"stoneproof/checks/gang"
	"stoneproof/report/sheet"
	"stoneproof/rules"
)

// photographed is a sheet as pixels: both sides in one TIFF.
func photographed(t *testing.T, b []byte, ppi int) []byte {
	t.Helper()
	dir := t.TempDir()
	in, out := filepath.Join(dir, "in.pdf"), filepath.Join(dir, "out.tif")
	if err := os.WriteFile(in, b, 0o600); err != nil {
		t.Fatal(err)
	}
	run := func(program string, args ...string) {
		if said, err := exec.Command(outside.Tool(t, program), args...).CombinedOutput(); err != nil {
			t.Fatalf("%s: %v\n%s", program, err, said)
		}
	}
	run("pdftoppm", "-tiff", "-tiffcompression", "lzw", "-r", strconv.Itoa(ppi), in, filepath.Join(dir, "page"))
	pages, err := filepath.Glob(filepath.Join(dir, "page-*.tif"))
	if err != nil || len(pages) == 0 {
		t.Fatalf("pdftoppm drew no page: %v", err)
	}
	run("tiffcp", append(pages, out)...)
	b, err = os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// A sheet that is pixels is judged by the same rules, but for lines on its cards.
func TestSheetsOfPixels(t *testing.T) {
	for _, c := range []struct {
		name  string
		ppi   int
		ask   func(*sheet.Ask)
		wrong func(*laid)
		want  []string
	}{
		{name: "as planned", ppi: 200},
		{name: "butted", ppi: 200, ask: func(a *sheet.Ask) { a.Gap.Kind = sheet.Butted }},
		{name: "a gap of one bleed", ppi: 200, ask: func(a *sheet.Ask) {
			a.Bleed = rules.Inches(.06)
			a.Gap = sheet.Gap{Kind: sheet.FixedGap, Wide: rules.Inches(.125)}
		}, want: []string{"sheet-gaps fail 1", "sheet-gaps fail 2"}},
		{name: "a card shifted by 0.5 mm", ppi: 300, wrong: func(l *laid) { l.plan.Front[2].Trim.X += rules.MM(.5) }, want: []string{"sheet-marks fail 1"}},
		{name: "a card shifted by 0.1 mm", ppi: 300, wrong: func(l *laid) { l.plan.Front[2].Trim.X += rules.MM(.1) }},
		{name: "a card at 98 %", ppi: 300, wrong: func(l *laid) { l.scale[4] = .98 }, want: []string{"sheet-fit fail 1"}},
		{name: "a back upside down", ppi: 200, wrong: func(l *laid) { l.plan.Back[5].Turn = 180 }, want: []string{"sheet-turn fail 2"}},
		{name: "a missing mark", ppi: 200, wrong: func(l *laid) { l.plan.FrontMarks = l.plan.FrontMarks[1:] }, want: []string{"sheet-marks fail 1"}},
		{name: "no marks", ppi: 200, wrong: func(l *laid) { l.blank = true }, want: []string{"sheet-marks fail 1", "sheet-marks fail 2"}},
	} {
		if testing.Short() && c.name != "as planned" && c.name != "a back upside down" {
			continue // decoding and matching take seconds under the race detector
		}
		t.Run(c.name, func(t *testing.T) {
			a := ask(t)
			if c.ask != nil {
				c.ask(&a)
			}
			l := lay(t, a)
			if c.wrong != nil {
				c.wrong(l)
			}
			if c.want == nil {
				c.want = []string{}
			}
			r := judge(t, photographed(t, l.pdf(), c.ppi), sheet.LongEdge)
			if diff := cmp.Diff(c.want, said(r)); diff != "" {
				t.Error(diff)
				for _, f := range r.Findings {
					t.Logf("%s %s %d: %s", f.Rule, f.Verdict, f.Side, f.Message)
				}
			}
		})
	}
}

// flattened is a sheet of which every page is one picture, as Ghostscript makes it.
func flattened(t *testing.T, b []byte) []byte {
	t.Helper()
	dir := t.TempDir()
	in, out := filepath.Join(dir, "in.pdf"), filepath.Join(dir, "out.pdf")
	if err := os.WriteFile(in, b, 0o600); err != nil {
		t.Fatal(err)
	}
	if said, err := exec.Command(outside.Tool(t, "gs"), "-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-sDEVICE=pdfimage24", "-r300", "-o", out, in).CombinedOutput(); err != nil {
		t.Fatalf("gs: %v\n%s", err, said)
	}
	b, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// A PDF that is one picture is judged as a picture.
func TestFlattenedSheets(t *testing.T) {
	for _, c := range []struct {
		name  string
		wrong func(*laid)
		want  []string
	}{
		{name: "as planned", wrong: func(*laid) {}, want: []string{}},
		{name: "a card shifted by 0.5 mm", wrong: func(l *laid) { l.plan.Front[2].Trim.X += rules.MM(.5) }, want: []string{"sheet-marks fail 1"}},
		{name: "a back upside down", wrong: func(l *laid) { l.plan.Back[5].Turn = 180 }, want: []string{"sheet-turn fail 2"}},
	} {
		if testing.Short() && c.name != "as planned" {
			continue
		}
		t.Run(c.name, func(t *testing.T) {
			l := lay(t, ask(t))
			c.wrong(l)
			r := judge(t, flattened(t, l.pdf()), sheet.LongEdge)
			if diff := cmp.Diff(c.want, said(r)); diff != "" {
				t.Error(diff)
			}
			if r.Findings[0].Verdict == rules.Skip {
				t.Error(r.Findings[0].Message)
			}
		})
	}
}

// The designs of a sheet that is pixels are judged as cards: one whose paint stops at
// its trim is found, and whole ones are silent, but for edges too busy for pixels to tell.
// What a picture lacks, it lacks on every sheet: its profile.
func TestCardsOfPixels(t *testing.T) {
	shipped := filepath.Join("..", "..", "testdata")
	for _, c := range []struct {
		file string
		want []string
	}{
		{filepath.Join("broken", "bleed-fill", "stops-short-left.pdf"), []string{"bleed-fill fail left", "colour-space warn", "colour-tags warn", "edge-border skip top"}},
		{filepath.Join("good", "bicycle-mender-patterned-us-business.pdf"), []string{"colour-space warn", "colour-tags warn", "edge-border skip", "safe-zone skip"}},
		{filepath.Join("good", "weaver-white-us-business.tif"), []string{"colour-space warn", "colour-tags warn"}},
	} {
		if testing.Short() && !strings.HasPrefix(c.file, "broken") {
			continue
		}
		t.Run(filepath.Base(c.file), func(t *testing.T) {
			b, err := os.ReadFile(filepath.Join(shipped, c.file))
			if err != nil {
				t.Fatal(err)
			}
			_, sheetPDF := made(t, filepath.Base(c.file), b, ask(t))
			path := filepath.Join(t.TempDir(), "sheet.tif")
			if err := os.WriteFile(path, photographed(t, sheetPDF, 300), 0o600); err != nil {
				t.Fatal(err)
			}
			_, cards := gang.Judge(t.Context(), path, gang.Want{Ticket: ticket(t), Margin: sheet.PrinterMargin, Sideways: func(rules.Size) bool { return true }})
			if len(cards) != 1 {
				t.Fatalf("%d designs, not one", len(cards))
			}
			checktest.Expect(t, checktest.JudgeBytes(t, "card.pdf", cards[0].PDF, rules.Order{}), c.want...)
		})
	}
}
