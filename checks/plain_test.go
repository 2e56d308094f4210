package checks_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"stoneproof/checks/art"
	"stoneproof/checks/art/render"
	"stoneproof/checks/brink"
	"stoneproof/checks/checktest/press"
	"stoneproof/rules"
)

// openedSide opens the first side of a card made in memory, its trim placed.
func openedSide(t *testing.T, renderer *render.Engine, size string, b []byte) (*art.Side, rules.Ticket) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "card.pdf")
	if err := os.WriteFile(path, b, 0o644); err != nil {
		t.Fatal(err)
	}
	ticket, err := rules.Order{Size: size}.Ticket()
	if err != nil {
		t.Fatal(err)
	}
	a, err := art.Opener{Ceilings: art.DefaultCeilings(), Renderer: renderer}.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(a.Close)
	a.Place(ticket)
	return a.Sides[0], ticket
}

// Where a page is called plain from its drawing instructions, its pixels must
// say the same: paint out to the bleed, and nothing near the knife.
func TestPlainBrinkAgreesWithPixels(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long, in one goroutine")
	}
	renderer := render.Start(render.Options{})
	defer renderer.Close()
	plain := 0
	for i, style := range press.Styles() {
		c := press.Card{Maker: press.Makers()[i%len(press.Makers())], Style: style, Size: "us-business"}
		t.Run(string(style), func(t *testing.T) {
			side, ticket := openedSide(t, renderer, c.Size, c.PDF(press.Rotated(i%4*90)))
			painted, is := side.PlainBrink()
			if !is {
				return
			}
			plain++
			paint, err := side.Paint(context.Background())
			if err != nil {
				t.Fatal(err)
			}
			canvas := brink.Canvas{Pix: paint.Pix, W: paint.W, H: paint.H, X: paint.X, Y: paint.Y,
				PxW: paint.PxW, PxH: paint.PxH, Trim: side.Trim, Transparent: true}
			for _, f := range brink.Bleed(canvas, ticket.Bleed) {
				if f.PaintAtTrim != painted || f.Extent < f.Room {
					t.Errorf("called plain, painted %v, but pixels say %+v", painted, f)
				}
			}
			if near := brink.ReadGround(canvas).Intruders(ticket.Safe); len(near) > 0 {
				t.Errorf("called plain, but pixels show %+v", near)
			}
		})
	}
	if plain < 4 {
		t.Errorf("only %d of %d styles are plain: the test proves nothing", plain, len(press.Styles()))
	}
}

// Every fault at the brink takes a plain card's name away.
func TestPlainBrinkLost(t *testing.T) {
	c := press.Card{Maker: press.Makers()[0], Style: press.Dark, Size: "us-business"}
	if side, _ := openedSide(t, nil, c.Size, c.PDF()); true {
		if _, plain := side.PlainBrink(); !plain {
			t.Fatal("the card without a fault must be plain")
		}
	}
	faults := map[string]press.Option{}
	for _, e := range rules.AllEdges {
		faults[fmt.Sprintf("paint stops at the %s edge", e)] = press.PaintStops(e, 3)
		faults[fmt.Sprintf("phone near the %s edge", e)] = press.PhoneAt(e, 3)
	}
	for name, fault := range faults {
		side, _ := openedSide(t, nil, c.Size, c.PDF(fault))
		if _, plain := side.PlainBrink(); plain {
			t.Errorf("%s: still called plain", name)
		}
	}
}
