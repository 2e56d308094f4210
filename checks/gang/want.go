package gang

import (
	"stoneproof/checks/art/render"
	"stoneproof/rules"
)

// Want is what a sheet is judged against.
type Want struct {
	Ticket   rules.Ticket
	Sheet    rules.Size   // that the page must have either way round; none: any
	Margin   rules.Length // that the printer cannot reach, an edge
	Sideways func(rules.Size) bool
	// Places are the cards of a planned sheet of a size; they are believed where a
	// page has no marks to go by. It gives nothing where no plan fits.
	Places func(rules.Size) []rules.Box
	// Renderer draws pages that are one picture.
	Renderer *render.Engine
}

// How far things may be off. The place of a mark is common practice; the rest is ours:
// what still cannot be seen on a finished card.
const (
	// true place of a mark, and of a card between its marks
	offPlace = 250 * rules.Micrometre
	// a gap may be short of two bleeds by this
	gapSlack = 100 * rules.Micrometre
	// cards of a sheet may differ in scale by this share
	scaleSlack = 0.005
	// a mark thicker than this shows on the card if the knife strays by half of it
	heaviestMark = 1.0 // points
)
