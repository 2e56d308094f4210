package proof

import (
	"image"
	"image/color"
	"math"
	"testing"

	"pgregory.net/rapid"

	"stoneproof/rules"
)

// The lines lie where box arithmetic puts them, measured in pixels: at most half a
// pixel off, whatever the card and the resolution.
func TestLinesLieTrue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := anyJob(t).with()
		d := j.layout()
		img := j.draw().Image
		card := d.card()
		for _, l := range []struct {
			name  string
			box   rules.Box
			least int
		}{{"trim", card, window}, {"bleed", card.Inset(-j.ticket.Bleed), 12}, {"safe line", card.Inset(j.ticket.Safe), 2}} {
			// Lines closer than their casings lie over each other.
			if gap := (l.box.X - card.X).Abs(); l.name != "trim" && float64(gap)*d.view.k < 12 {
				continue
			}
			// Nor is a line told where the window runs over the one across it.
			const room = window + 6
			if float64(min(l.box.W, l.box.H)/2)*d.view.k < room {
				continue
			}
			for _, x := range []rules.Length{l.box.X, l.box.Right()} {
				want := d.view.x + float64(x-d.view.box.X)*d.view.k
				if got := across(img, want, d.view.Y(card.H/2), l.least); !(math.Abs(got-want) <= 0.5) {
					t.Fatalf("the %s at %v is drawn at %.2f, %.2f wanted", l.name, x, got, want)
				}
			}
			for _, y := range []rules.Length{l.box.Y, l.box.Bottom()} {
				want := d.view.y + float64(y-d.view.box.Y)*d.view.k
				if got := down(img, d.view.X(card.W/2), want, l.least); !(math.Abs(got-want) <= 0.5) {
					t.Fatalf("the %s at %v is drawn at %.2f, %.2f wanted", l.name, y, got, want)
				}
			}
		}
	})
}

// window is how far along a line is looked for its dashes: over one dash and gap of the
// longest.
const window = 28

// across is the middle of an upright line near x, from y on; least tells it from the
// hatching by how much of it is inked.
func across(img *image.RGBA, x, y float64, least int) float64 {
	return middle(x, least, func(at, k int) color.RGBA { return img.RGBAAt(at, int(y)+k) })
}

func down(img *image.RGBA, x, y float64, least int) float64 {
	return middle(y, least, func(at, k int) color.RGBA { return img.RGBAAt(int(x)+k, at) })
}

func middle(x float64, least int, at func(at, k int) color.RGBA) float64 {
	sum, n := 0.0, 0.0
	for p := int(x) - 4; p <= int(x)+4; p++ {
		inked := 0
		for k := range window {
			if at(p, k) == ink {
				inked++
			}
		}
		if inked >= least {
			sum, n = sum+float64(p)+0.5, n+1
		}
	}
	return sum / n
}

// What the knife takes away is veiled and hatched up to the trim, and not beyond it;
// where the file has no bleed there is nothing to hatch.
func TestVeil(t *testing.T) {
	white := color.RGBA{255, 255, 255, 255}
	j := cardOf(t, "eu-business", 300, flat(white)).with()
	short := rules.MM(2)
	j.picture.Box.X += short // the picture begins 1 mm outside the trim
	j.picture.Box.W -= short
	d, img := j.layout(), j.draw().Image
	colours := func(b rules.Box) map[color.RGBA]int {
		seen := map[color.RGBA]int{}
		r := d.view.rect(b).pixels()
		for y := r.Min.Y; y < r.Max.Y; y++ {
			for x := r.Min.X; x < r.Max.X; x++ {
				seen[img.RGBAAt(x, y)]++
			}
		}
		return seen
	}
	if seen := colours(rules.Box{X: rules.MM(4), Y: rules.MM(4), W: rules.MM(70), H: rules.MM(40)}); len(seen) != 1 || seen[white] == 0 {
		t.Errorf("inside the safe line are %v", seen)
	}
	if seen := colours(*mm(20, -2.5, 40, 2)); len(seen) != 3 || seen[ink] == 0 || seen[white] == 0 {
		t.Errorf("the veil is of %v", seen)
	}
	if seen := colours(*mm(-2.7, 10, 1.4, 30)); len(seen) != 1 || seen[desk] == 0 {
		t.Errorf("where there is no bleed are %v", seen)
	}
}

// The rulers count from the corner of the trim, in the ticket's unit.
func TestMarksOn(t *testing.T) {
	r := rulingIn(rules.UnitIn)
	k := 300 / 25400.0
	if got := step(r.ticks, k, 5); got != 25400.0/16 {
		t.Errorf("ticks of a card at 300 ppi are %v µm apart", got)
	}
	if got := step(r.figures, k, 66); got != 25400.0/4 {
		t.Errorf("figures of a card at 300 ppi are %v µm apart", got)
	}
	got := marksOn(rules.MM(-3.175), rules.MM(12.7), 6350)
	if want := []rules.Length{0, 6350, 12700}; len(got) != 3 || got[0] != want[0] || got[2] != want[2] {
		t.Errorf("marks are %v, want %v", got, want)
	}
	if got := step(r.ticks, 1e-9, 5); got*1e-9 < 5 {
		t.Errorf("ticks of a huge card are %v µm apart", got)
	}
}
