package impose

import (
	"context"
	"fmt"

	"stoneproof/checks/art"
	"stoneproof/rules"
)

// ButtError is art that may not share cuts.
type ButtError struct {
	Design string
	Side   string // "front" or "back"
	Edge   rules.Edge
	Other  bool // it is flat, but of another colour than what it would meet
}

func (e *ButtError) Error() string {
	if e.Other {
		return fmt.Sprintf("the %s of %q has another colour at its %s edge than what it would meet: a cut that strays would show it", e.Side, e.Design, e.Edge)
	}
	return fmt.Sprintf("the %s of %q is not white or of one flat colour along its %s edge: a cut that strays would show the neighbour", e.Side, e.Design, e.Edge)
}

// What counts as one flat colour along a shared cut.
const (
	// stray is how far a knife may stray: 1/16 in is typical (common practice).
	stray = rules.Inch / 16
	// flatLevels is how far a channel may vary, of 255; what compression leaves.
	flatLevels = 8
)

// Buttable tells whether designs may be butted: every edge, as far as a knife may
// stray, is of one flat colour, the same for all cards of that side of the sheet. Art
// that is nowhere painted is white.
func Buttable(ctx context.Context, designs []Design) error {
	for _, face := range []string{"front", "back"} {
		var meets *[3]byte
		for _, d := range designs {
			side := d.Front
			if face == "back" {
				side = d.Back
			}
			if side == nil {
				continue
			}
			if err := flat(ctx, side, d.Name, face, &meets); err != nil {
				return err
			}
		}
	}
	return nil
}

func flat(ctx context.Context, side *art.Side, name, face string, meets **[3]byte) error {
	paint, err := side.Paint(ctx)
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	for _, edge := range rules.AllEdges {
		colour, one := oneColour(paint, band(side.Card(), edge))
		switch {
		case !one:
			return &ButtError{Design: name, Side: face, Edge: edge}
		case *meets == nil:
			*meets = &colour
		case !alike(colour, **meets):
			return &ButtError{Design: name, Side: face, Edge: edge, Other: true}
		}
	}
	return nil
}

// band is the part of the card along an edge that a straying cut may lay bare.
func band(card rules.Box, edge rules.Edge) rules.Box {
	switch edge {
	case rules.Top:
		card.H = stray
	case rules.Bottom:
		card.Y, card.H = card.Bottom()-stray, stray
	case rules.Left:
		card.W = stray
	case rules.Right:
		card.X, card.W = card.Right()-stray, stray
	}
	return card
}

// oneColour reads the colour of a part over white paper, if it is one. Pixels that
// the part's edge halves are left out.
func oneColour(p *art.Paint, part rules.Box) (colour [3]byte, one bool) {
	x0, y0, x1, y1 := p.Bounds(part.Inset(rules.Length(max(p.PxW, p.PxH))))
	for y := y0; y < y1; y++ {
		for x := x0; x < x1; x++ {
			c := overWhite(p.Pix[4*(y*p.W+x):])
			if y == y0 && x == x0 {
				colour = c
			} else if !alike(c, colour) {
				return colour, false
			}
		}
	}
	return colour, true
}

func overWhite(px []byte) (c [3]byte) {
	a := int(px[3])
	for i := range c {
		c[i] = byte((int(px[i])*a + 255*(255-a) + 127) / 255)
	}
	return c
}

func alike(a, b [3]byte) bool {
	for i := range a {
		if d := int(a[i]) - int(b[i]); d > flatLevels || d < -flatLevels {
			return false
		}
	}
	return true
}
