package sheet

import (
	"fmt"
	"math"

	"stoneproof/rules"
)

// RulerParts is how finely an inch is divided on a steel rule.
const RulerParts = 64

// Ruler is a length as an inch rule shows it, to the nearest 1/64 in, and how much
// longer the length is than what the rule shows.
func Ruler(l rules.Length) (mark string, over rules.Length) {
	parts := int64(math.Round(float64(l) * RulerParts / float64(rules.Inch)))
	over = l - rules.Length(math.Round(float64(parts)*float64(rules.Inch)/RulerParts))
	sign := ""
	if parts < 0 {
		sign, parts = "-", -parts
	}
	whole, top, bottom := parts/RulerParts, parts%RulerParts, int64(RulerParts)
	for top > 0 && top%2 == 0 {
		top, bottom = top/2, bottom/2
	}
	switch {
	case top == 0:
		mark = fmt.Sprint(whole)
	case whole == 0:
		mark = fmt.Sprintf("%d/%d", top, bottom)
	default:
		mark = fmt.Sprintf("%d %d/%d", whole, top, bottom)
	}
	return sign + mark, over
}
