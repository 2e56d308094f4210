package checks_test

import (
	"testing"

	"stoneproof/checks"
	"stoneproof/checks/checktest/press"
	"stoneproof/rules"
)

// Where pixels are as busy as what is looked for, a picture is not passed; the same card
// as a page is, for its type and lines are known.
func TestBusyPicturesAreSkipped(t *testing.T) {
	lattice := press.Card{Maker: "joiner", Style: press.Lattice, Size: "us-business"}
	calm := press.Card{Maker: "joiner", Style: press.Light, Size: "us-business"}
	for _, tt := range []struct {
		check *checks.Check
		says  string
	}{
		{checks.SafeZone, "whether lettering or a mark lies near the knife: words were lost that were set there on trial"},
		{checks.EdgeBorder, "whether a frame runs there: a line was lost that was drawn there on trial"},
		{checks.MarksInArt, "whether cutting marks lie in the bleed: marks were lost that were drawn there on trial"},
	} {
		try(t, tt.check, []trial{
			{"a busy picture", lattice.TIFF(300), rules.Order{}, "skip", tt.says},
			{"a calm picture", calm.TIFF(300), rules.Order{}, "pass", ""},
			{"a busy page", lattice.PDF(), rules.Order{}, "pass", ""},
		})
	}
}

// A page that is nothing but a picture is as blind as that.
func TestBusyPictureInAPage(t *testing.T) {
	try(t, checks.SafeZone, []trial{
		{"calm", jpegInPage(t, painted(dab{chalk, -4, -4, 100, 60})), metric, "pass", ""},
		{"busy", jpegInPage(t, painted(weave()...)), metric, "skip", "Look there yourself"},
	})
}

// weave are dabs as small as letters, strewn over all of a card.
func weave() []dab {
	list := []dab{{chalk, -4, -4, 100, 60}}
	for y := range 76 {
		for x := range 125 {
			if (x*x*7+y*y*13+x*y*5)%11 < 5 {
				list = append(list, dab{dusk, -4 + .8*float64(x), -4 + .8*float64(y), .8, .8})
			}
		}
	}
	return list
}
