package checks_test

import (
	"fmt"
	"strings"
	"testing"

	"stoneproof/checks"
	"stoneproof/checks/checktest"
	"stoneproof/checks/checktest/press"
	"stoneproof/rules"

	"pgregory.net/rapid"
)

var (
	lying    = rules.Size{W: rules.MM(88.9), H: rules.MM(50.8)}
	standing = lying.Turned()
)

// aSide is the report of a file of one side.
func aSide(trim rules.Size, basis rules.Basis, face rules.Face) rules.FileReport {
	return rules.FileReport{Path: "a.pdf", Verdict: rules.Pass, Sides: []rules.SideFacts{{Number: 1, Trim: trim, Basis: basis, Face: &face}}}
}

func reads(turned int) rules.Face {
	return rules.Face{Reading: &rules.Reading{Turned: turned, Words: "Kiln Yard"}}
}

func TestPairTurn(t *testing.T) {
	picture := rules.Face{Unread: "in a picture, text is pixels"}
	for _, tt := range []struct {
		name        string
		over        rules.TurnOver
		front, back rules.FileReport
		want, says  string
	}{
		{"both upright", "side", aSide(lying, rules.Read, reads(0)), aSide(lying, rules.Read, reads(0)), "pass", "over its side edge"},
		{"both up the side", "side", aSide(lying, rules.Read, reads(270)), aSide(lying, rules.Read, reads(270)), "pass", ""},
		{"back upside down", "side", aSide(lying, rules.Read, reads(0)), aSide(lying, rules.Read, reads(180)), "fail", `by 180° and export it again; if the card is to be turned over its upper edge, write turn-over = "head"`},
		{"a calendar's back", "head", aSide(lying, rules.Read, reads(0)), aSide(lying, rules.Read, reads(180)), "pass", "over its upper edge"},
		{"a calendar's back, upright", "head", aSide(lying, rules.Read, reads(0)), aSide(lying, rules.Read, reads(0)), "fail", `turn-over = "side"`},
		{"back crosswise, head to the right", "side", aSide(lying, rules.Read, reads(0)), aSide(lying, rules.Read, reads(90)), "warn", "a quarter turn anticlockwise"},
		{"back crosswise, head to the left", "side", aSide(lying, rules.Read, reads(0)), aSide(lying, rules.Read, reads(270)), "warn", "a quarter turn clockwise"},
		{"a picture", "side", aSide(lying, rules.Read, picture), aSide(lying, rules.Read, reads(0)), "skip", "of the front, in a picture"},
		// A front designed upright whose page was turned: its text runs up the side.
		{"back stands, front's text runs up", "side", aSide(lying, rules.Read, reads(270)), aSide(standing, rules.Read, reads(0)), "warn", "page a quarter turn anticlockwise"},
		{"back stands, front's text runs down", "side", aSide(lying, rules.Read, reads(90)), aSide(standing, rules.Read, reads(0)), "warn", "page a quarter turn clockwise"},
		{"back stands, both upright", "side", aSide(lying, rules.Read, reads(0)), aSide(standing, rules.Read, reads(0)), "warn", "crosswise to the front's either way"},
		{"back stands, a picture", "side", aSide(lying, rules.Read, reads(0)), aSide(standing, rules.Read, picture), "warn", "Which way cannot be told: of the back, in a picture"},
		{"not placed", "side", aSide(lying, rules.Read, reads(0)), aSide(rules.Size{}, rules.Read, reads(0)), "skip", "see trim-size"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			judge := checktest.NewJudge(t, rules.Order{TurnOver: tt.over}, checks.PairTurn)
			judge.Pair(&tt.front, &tt.back)
			if got := verdicts(tt.back, "pair-turn"); got != tt.want || !strings.Contains(words(tt.back), tt.says) {
				t.Errorf("says %s, want %s and %q:\n%s", got, tt.want, tt.says, words(tt.back))
			}
			if got := verdicts(tt.front, "pair-turn"); got != "pass" {
				t.Errorf("of the front it says %s", got)
			}
		})
	}
}

// TestQuarterTurnHolds: a back that is turned as the fix says passes.
func TestQuarterTurnHolds(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		over := rapid.SampledFrom([]rules.TurnOver{rules.OverSide, rules.OverHead}).Draw(r, "over")
		front := rapid.SampledFrom([]int{0, 90, 180, 270}).Draw(r, "front")
		back := rapid.SampledFrom([]int{0, 90, 180, 270}).Draw(r, "back")
		judge := checktest.NewJudge(t, rules.Order{TurnOver: over}, checks.PairTurn)
		a, b := aSide(lying, rules.Read, reads(front)), aSide(standing, rules.Read, reads(back))
		judge.Pair(&a, &b)
		var turn int
		switch said := words(b); {
		case strings.Contains(said, "either way"):
			if (front-back)%180 != 0 {
				r.Errorf("front %d, back %d: there is a turn that fits", front, back)
			}
			return
		case strings.Contains(said, "quarter turn anticlockwise"):
			turn = 270
		case strings.Contains(said, "quarter turn clockwise"):
			turn = 90
		}
		b = aSide(lying, rules.Read, reads((back+turn)%360))
		judge.Pair(&a, &b)
		if got := verdicts(b, "pair-turn"); got != "pass" {
			r.Errorf("front %d, back %d, turned %d: %s", front, back, turn, words(b))
		}
	})
}

func TestPairSize(t *testing.T) {
	sharp := func(ppi float64, v rules.Verdict) rules.Face { return rules.Face{PPI: ppi, Sharp: v} }
	in := func(c ...string) rules.Face { return rules.Face{Colours: c} }
	small := rules.Size{W: rules.MM(85), H: rules.MM(55)}
	bleeding := func(mm float64, basis rules.Basis) rules.FileReport {
		r := aSide(lying, basis, rules.Face{})
		r.Sides[0].Bleed = rules.Even(rules.MM(mm))
		return r
	}
	for _, tt := range []struct {
		name        string
		front, back rules.FileReport
		want, says  string
	}{
		{"alike", aSide(lying, rules.Read, in("CMYK")), aSide(lying, rules.Read, in("CMYK")), "pass", "both 3.5 × 2 in"},
		{"one lies, one stands", aSide(lying, rules.Read, in("CMYK")), aSide(standing, rules.Read, in("CMYK")), "pass", ""},
		{"rounded by a program", aSide(lying, rules.Read, in()), aSide(rules.Size{W: rules.MM(88.95), H: rules.MM(50.75)}, rules.Read, in()), "pass", ""},
		{"back of another size", aSide(lying, rules.Read, in()), aSide(small, rules.Read, in()), "fail", "Export the back again at 3.5 × 2 in"},
		{"front of another size", aSide(small, rules.Read, in()), aSide(lying, rules.Read, in()), "fail", "Export the front again at 3.5 × 2 in"},
		{"another size, inferred", aSide(lying, rules.Read, in()), aSide(small, rules.Inferred, in()), "warn", ""},
		{"RGB beside CMYK", aSide(lying, rules.Read, in("CMYK")), aSide(lying, rules.Read, in("RGB")), "warn", "Convert the back to CMYK"},
		{"CMYK beside RGB", aSide(lying, rules.Read, in("RGB")), aSide(lying, rules.Read, in("CMYK")), "warn", "Convert the front to CMYK"},
		{"a photograph in RGB on one side", aSide(lying, rules.Read, in("CMYK", "RGB")), aSide(lying, rules.Read, in("CMYK")), "pass", ""},
		{"black alone on the back", aSide(lying, rules.Read, in("CMYK")), aSide(lying, rules.Read, in()), "pass", ""},
		{"a soft back", aSide(lying, rules.Read, sharp(300, rules.Pass)), aSide(lying, rules.Read, sharp(210, rules.Warn)), "warn", "the back will look softer"},
		{"a soft front", aSide(lying, rules.Read, sharp(150, rules.Fail)), aSide(lying, rules.Read, sharp(300, rules.Pass)), "warn", "Export the front again"},
		{"no picture on the back", aSide(lying, rules.Read, sharp(300, rules.Pass)), aSide(lying, rules.Read, in()), "pass", ""},
		{"unlike bleed around page boxes", bleeding(3, rules.Read), bleeding(5, rules.Read), "pass", ""},
		{"unlike bleed of pictures", bleeding(3, rules.Inferred), bleeding(5, rules.Inferred), "warn", "one of them lies off"},
		{"a pixel more of bleed", bleeding(3, rules.Measured), bleeding(3.08, rules.Measured), "pass", ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			judge := checktest.NewJudge(t, rules.Order{}, checks.PairSize)
			judge.Pair(&tt.front, &tt.back)
			if got := verdicts(tt.back, "pair-size"); got != tt.want || !strings.Contains(words(tt.back), tt.says) {
				t.Errorf("says %s, want %s and %q:\n%s", got, tt.want, tt.says, words(tt.back))
			}
		})
	}
}

// TestReadingOfPages: the way that text stands is read from the page as it is seen,
// however the page is turned.
func TestReadingOfPages(t *testing.T) {
	two := press.Card{Maker: "potter", Style: press.TwoSided, Size: "us-business"}
	for _, rotate := range []int{0, 90, 180, 270} {
		for _, back := range []int{0, 180} {
			name := fmt.Sprintf("Rotate %d, back turned %d", rotate, back)
			file := two.PDF(press.NamedIntent(), press.Rotated(rotate), press.BackTurned(back))
			try(t, checks.PairTurn, []trial{{name, file, rules.Order{}, map[int]string{0: "pass", 180: "fail"}[back], ""}})
		}
	}
	// Front and back drawn for one another, but one page stands.
	try(t, checks.PairTurn, []trial{{"back's page turned", two.PDF(press.NamedIntent(), press.BackTurned(90)), rules.Order{}, "warn", "quarter turn anticlockwise"}})
	try(t, checks.PairTurn, []trial{{"one side", press.Card{Maker: "weaver", Style: press.White, Size: "us-business"}.PDF(), rules.Order{}, "pass", "no back"}})
}

// TestPairLeavesOthersAlone: a file that did not open, or has two sides of its own,
// is no half of a pair.
func TestPairLeavesOthersAlone(t *testing.T) {
	judge := checktest.NewJudge(t, rules.Order{}, checks.PairSize)
	for name, odd := range map[string]rules.FileReport{
		"not opened": {Verdict: rules.Fail},
		"two sides":  {Verdict: rules.Pass, Sides: make([]rules.SideFacts, 2)},
	} {
		front := aSide(lying, rules.Read, rules.Face{})
		judge.Pair(&front, &odd)
		if len(front.Findings)+len(odd.Findings) > 0 {
			t.Errorf("%s: %+v, %+v", name, front, odd)
		}
	}
}
