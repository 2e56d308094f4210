package gang_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stoneproof/checks/checktest/outside"
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
	for _, command := range [][]string{
		{"pdftoppm", "-tiff", "-tiffcompression", "lzw", "-r", strconv.Itoa(ppi), in, filepath.Join(dir, "page")},
		{"tiffcp", filepath.Join(dir, "page-1.tif"), filepath.Join(dir, "page-2.tif"), out},
	} {
		if said, err := exec.Command(outside.Tool(t, command[0]), command[1:]...).CombinedOutput(); err != nil {
			t.Fatalf("%s: %v\n%s", command[0], err, said)
		}
	}
	b, err := os.ReadFile(out)
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
