package report

import (
	"testing"

	"stoneproof/rules"
)

func TestSidesAreToldInTheTicketsUnit(t *testing.T) {
	three := rules.MM(3)
	for _, c := range []struct {
		unit  rules.Unit
		trim  rules.Size
		bleed rules.Edges
		want  string
	}{
		{rules.UnitMM, rules.Size{W: 88900, H: 50800}, rules.Even(3175), "88.9 × 50.8 mm, bleed 3.18 mm all round"},
		{rules.UnitIn, rules.Size{W: 88900, H: 50800}, rules.Even(3175), "3.5 × 2 in, bleed 0.125 in all round"},
		{rules.UnitMM, rules.Size{W: 85000, H: 55000}, rules.Edges{}, "85 × 55 mm, no bleed"},
		{rules.UnitMM, rules.Size{W: 85000, H: 55000}, rules.Edges{Top: three, Right: three, Bottom: three}, "85 × 55 mm, bleed 3 mm at top, right and bottom, none at left"},
		{rules.UnitMM, rules.Size{W: 85000, H: 55000}, rules.Edges{Top: three, Bottom: three}, "85 × 55 mm, bleed 3 mm at top and bottom, none at right and left"},
		{rules.UnitMM, rules.Size{W: 85000, H: 55000}, rules.Edges{Top: 1000, Right: 2000, Bottom: 3000, Left: -4000},
			"85 × 55 mm, bleed 1 mm at top, 2 mm at right, 3 mm at bottom, -4 mm at left"},
		// A micrometre is no difference that anybody could see.
		{rules.UnitMM, rules.Size{W: 85000, H: 55000}, rules.Edges{Top: 3000, Right: 3001, Bottom: 2999, Left: 3000}, "85 × 55 mm, bleed 3 mm all round"},
	} {
		if got := (teller{unit: c.unit}).side(rules.SideFacts{Trim: c.trim, Bleed: c.bleed}); got != c.want {
			t.Errorf("got  %s\nwant %s", got, c.want)
		}
	}
}
