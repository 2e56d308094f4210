package sheet_test

import (
	"testing"

	"stoneproof/report/sheet"
	"stoneproof/rules"
)

// Playing cards, 25 on a large sheet.
func BenchmarkLay25Up(b *testing.B) {
	a := usBusiness()
	a.Sheet = rules.Size{W: rules.Inches(13), H: rules.Inches(19)}
	a.Trim = rules.Size{W: rules.Inches(2), H: rules.Inches(3.25)}
	a.Up = sheet.Up{Columns: 5, Rows: 5}
	for b.Loop() {
		if _, err := sheet.Lay(a); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkMore(b *testing.B) {
	p, err := sheet.Lay(usBusiness())
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		p.More()
	}
}
