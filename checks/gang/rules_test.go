package gang_test

import (
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stoneproof/checks/art"
	"stoneproof/checks/art/pdf"
	"stoneproof/checks/checktest/outside"
	"stoneproof/checks/checktest/press"
	"stoneproof/checks/gang"
	"stoneproof/report/sheet"
	"stoneproof/report/sheet/impose"
	"stoneproof/rules"
)

// Every rule of sheets has its page, and something is said by each of every sheet.
func TestSheetRulesAreWhole(t *testing.T) {
	r := judge(t, lay(t, ask(t)).pdf(), sheet.LongEdge)
	told := map[string]bool{}
	for _, f := range r.Findings {
		told[f.Rule] = true
	}
	for _, rule := range rules.SheetCatalogue() {
		if rule.Page() == "" {
			t.Errorf("rule %s has no page in the catalogue", rule.ID)
		}
		if !told[rule.ID] {
			t.Errorf("rule %s says nothing", rule.ID)
		}
	}
}

// made is a sheet that this program makes of a file, and how many sides that has.
func made(t *testing.T, name string, b []byte, wanted sheet.Ask) (sides int, sheetPDF []byte) {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, b, 0o600); err != nil {
		t.Fatal(err)
	}
	a, err := art.Opener{Ceilings: art.DefaultCeilings()}.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer a.Close()
	tk := ticket(t)
	a.Place(tk)
	wanted.Trim = tk.TrimFor(a.Sides[0].Trim)
	p, err := sheet.Lay(wanted)
	if err != nil {
		t.Fatal(err)
	}
	d := impose.Design{Name: name, Front: a.Sides[0], Count: p.Count()}
	if len(a.Sides) > 1 {
		d.Back = a.Sides[1]
	}
	m, err := impose.Sheet{Plan: p, Designs: []impose.Design{d}, Slug: "a test", Program: "stoneproof"}.Draw()
	if err != nil {
		t.Fatal(err)
	}
	return len(a.Sides), m.PDF
}

// Sheets that this program makes keep its own rules, whatever art is on them.
func TestMadeSheetsPass(t *testing.T) {
	for _, c := range []struct {
		name string
		b    []byte
	}{
		{"two-sided.pdf", press.Card{Maker: "potter", Style: press.TwoSided, Size: "us-business"}.PDF()},
		{"patterned.pdf", press.Card{Maker: "bicycle-mender", Style: press.Patterned, Size: "us-business"}.PDF(press.Rotated(90))},
		{"engraved.pdf", press.Card{Maker: "beekeeper", Style: press.Engraved, Size: "us-business"}.PDF()},
		{"lattice.pdf", press.Card{Maker: "joiner", Style: press.Lattice, Size: "us-business"}.PDF()},
		{"framed.pdf", press.Card{Maker: "joiner", Style: press.Framed, Size: "us-business"}.PDF(press.Slug(8))},
		{"rays.pdf", press.Card{Maker: "beekeeper", Style: press.Rays, Size: "us-business"}.PDF()},
		{"white.pdf", press.Card{Maker: "weaver", Style: press.White, Size: "us-business"}.PDF()},
		{"portrait.pdf", press.Card{Maker: "joiner", Style: press.Portrait, Size: "us-business"}.PDF()},
		{"photograph.jpg", press.Card{Maker: "baker", Style: press.Photographic, Size: "us-business"}.JPEG(150, press.In(press.RGB))},
	} {
		for _, turn := range []sheet.Turn{sheet.LongEdge, sheet.ShortEdge} {
			wanted := ask(t)
			wanted.Turn = turn
			sides, sheetPDF := made(t, c.name, c.b, wanted)
			path := filepath.Join(t.TempDir(), "made.pdf")
			if err := os.WriteFile(path, sheetPDF, 0o600); err != nil {
				t.Fatal(err)
			}
			_, cards := gang.Judge(t.Context(), path, gang.Want{Ticket: ticket(t), Margin: sheet.PrinterMargin, Sideways: func(rules.Size) bool { return wanted.Sideways() }})
			if len(cards) != sides {
				t.Errorf("%s: %d designs, want %d", c.name, len(cards), sides)
			}
			for _, f := range judge(t, sheetPDF, turn).Findings {
				if f.Verdict != rules.Pass {
					t.Errorf("%s, %s edge: %s %s: %s", c.name, turn, f.Rule, f.Verdict, f.Message)
				}
			}
		}
	}
}

// rewritten is a PDF as another program writes it: forms dissolved, paths joined, other
// operators, other numbers.
func rewritten(t *testing.T, program string, b []byte) []byte {
	t.Helper()
	in, out := filepath.Join(t.TempDir(), "in.pdf"), filepath.Join(t.TempDir(), "out.pdf")
	if err := os.WriteFile(in, b, 0o600); err != nil {
		t.Fatal(err)
	}
	args := []string{"-pdf", in, out}
	if program == "gs" {
		args = []string{"-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-sDEVICE=pdfwrite", "-sOutputFile=" + out, in}
	}
	if said, err := exec.Command(outside.Tool(t, program), args...).CombinedOutput(); err != nil {
		t.Fatalf("%s: %v\n%s", program, err, said)
	}
	b, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// What is wrong with a sheet, and what is not, is the same when another program wrote it.
func TestSheetsOfOtherPrograms(t *testing.T) {
	for _, program := range []string{"gs", "pdftocairo"} {
		for _, c := range []struct {
			name  string
			wrong func(*laid)
			want  []string
		}{
			{"as planned", func(*laid) {}, []string{}},
			{"shifted", func(l *laid) { l.plan.Front[2].Trim.X += rules.MM(.5) }, []string{"sheet-marks fail 1"}},
			{"scaled", func(l *laid) { l.scale[4] = .98 }, []string{"sheet-fit fail 1"}},
			{"upside down", func(l *laid) { l.plan.Back[5].Turn = 180 }, []string{"sheet-turn fail 2"}},
			{"mark on a card", func(l *laid) {
				l.extra = []sheet.Mark{{Upright: true, At: rules.Inches(2), From: rules.Inches(1), To: rules.Inches(1.2)}}
			}, []string{"sheet-marks fail 1"}},
		} {
			l := lay(t, ask(t))
			c.wrong(l)
			r := judge(t, rewritten(t, program, l.pdf()), sheet.LongEdge)
			if diff := cmp.Diff(c.want, said(r)); diff != "" {
				t.Errorf("%s, by %s: %s", c.name, program, diff)
			}
		}
	}
}

// Each design comes out once, as a card of its size with its bleed.
func TestCards(t *testing.T) {
	l := lay(t, ask(t))
	l.words[1], l.words[3] = "other", "other"
	path := filepath.Join(t.TempDir(), "sheet.pdf")
	if err := os.WriteFile(path, l.pdf(), 0o600); err != nil {
		t.Fatal(err)
	}
	tk := ticket(t)
	_, cards := gang.Judge(t.Context(), path, gang.Want{Ticket: tk, Margin: sheet.PrinterMargin, Sideways: func(rules.Size) bool { return true }})
	var names []string
	for _, c := range cards {
		names = append(names, c.Name)
		doc, err := pdf.Open(c.PDF, pdf.DefaultLimits())
		if err != nil {
			t.Fatal(err)
		}
		page, err := doc.Page(1)
		if err != nil {
			t.Fatal(err)
		}
		if w, h := page.Trim.W(), page.Trim.H(); math.Abs(w-252) > .01 || math.Abs(h-144) > .01 || math.Abs(page.Media.W()-270) > .01 {
			t.Errorf("%s is %g × %g pt", c.Name, w, h)
		}
	}
	if diff := cmp.Diff([]string{"card 1 and 5 more like it", "card 2 and 1 more like it", "back 1 and 7 more like it"}, names); diff != "" {
		t.Error(diff)
	}
}

// FuzzJudge holds that no bytes stop the program.
func FuzzJudge(f *testing.F) {
	l := &laid{size: rules.Size{W: rules.Inches(8.5), H: rules.Inches(11)}, thick: .25}
	f.Add(l.pdf())
	f.Add([]byte("%PDF-1.4\n"))
	f.Add([]byte("\x89PNG\r\n\x1a\n"))
	f.Fuzz(func(t *testing.T, b []byte) {
		if len(b) > 1<<16 {
			t.Skip()
		}
		if r := judge(t, b, sheet.LongEdge); len(r.Findings) == 0 {
			t.Error("nothing was said")
		}
	})
}
