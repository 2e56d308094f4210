package impose_test

import (
	"testing"
	"time"

	"stoneproof/checks/checktest/press"
	"stoneproof/report/sheet"
	"stoneproof/report/sheet/impose"
	"stoneproof/rules"
)

// Two-sided playing cards, 25 on a sheet of 13 × 19 in: art opened and placed already.
func BenchmarkDraw25Up(b *testing.B) {
	a := opened(b, "potter.pdf", press.Card{Maker: "potter", Style: press.TwoSided, Size: "us-business"}.PDF())
	want := ask()
	want.Sheet = rules.Size{W: rules.Inches(13), H: rules.Inches(19)}
	want.Trim = want.Trim.Turned()
	want.Up, want.Gap = sheet.Up{Columns: 5, Rows: 5}, sheet.Gap{Kind: sheet.Butted}
	p := plan(b, want)
	s := impose.Sheet{Plan: p, Designs: []impose.Design{design(a, 25)}, Slug: "a test", Program: "stoneproof", Made: time.Unix(0, 0)}
	for b.Loop() {
		if _, err := s.Draw(); err != nil {
			b.Fatal(err)
		}
	}
}
