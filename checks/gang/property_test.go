package gang_test

import (
	"os"
	"path/filepath"
	"testing"

	"pgregory.net/rapid"

	"stoneproof/checks/gang"
	"stoneproof/report/sheet"
	"stoneproof/rules"
)

// Whatever sheet is planned, laid out as planned it keeps all rules; with one card
// half a millimetre off it does not.
func TestPlannedSheetsPass(t *testing.T) {
	dir := t.TempDir()
	tk := ticket(t)
	rapid.Check(t, func(t *rapid.T) {
		length := func(name string, least, most float64) rules.Length {
			return rules.Length(rapid.Int64Range(int64(rules.MM(least)), int64(rules.MM(most))).Draw(t, name))
		}
		a := sheet.Ask{
			Sheet: rules.Size{W: length("sheet width", 150, 450), H: length("sheet height", 150, 450)},
			Trim:  rules.Size{W: length("card width", 60, 120), H: length("card height", 45, 100)},
			Bleed: length("bleed", 2, 4), Margin: length("margin", 0, 7),
			Gap:  sheet.Gap{Kind: rapid.SampledFrom([]sheet.GapKind{sheet.EqualGaps, sheet.Butted}).Draw(t, "gap")},
			Turn: rapid.SampledFrom([]sheet.Turn{sheet.LongEdge, sheet.ShortEdge}).Draw(t, "turn"),
		}
		p, err := sheet.Lay(a)
		if err != nil {
			t.Skip(err)
		}
		mine := tk
		mine.Trim, mine.Bleed = a.Trim, a.Bleed
		want := gang.Want{Ticket: mine, Sheet: a.Sheet, Margin: a.Margin, Sideways: func(rules.Size) bool { return a.Sideways() }}
		path := filepath.Join(dir, "sheet.pdf")
		judge := func(l *laid) []string {
			if err := os.WriteFile(path, l.pdf(), 0o600); err != nil {
				t.Fatal(err)
			}
			r, _ := gang.Judge(t.Context(), path, want)
			return said(r)
		}
		if got := judge(laidAs(a, p)); len(got) > 0 {
			t.Fatalf("%d × %d cards: %v", p.Columns, p.Rows, got)
		}
		if p.Count() < 3 {
			return
		}
		l := laidAs(a, p)
		l.plan.Front[rapid.IntRange(0, p.Count()-1).Draw(t, "odd one")].Trim.Y += rules.MM(.5)
		if got := judge(l); len(got) == 0 {
			t.Fatal("a card half a millimetre off was not found")
		}
	})
}
