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

// What measuring leaves open; the ticket's limits say how far things may be off.
const (
	// a gap may be short of two bleeds by this
	gapSlack = 100 * rules.Micrometre
	// cards of a sheet may differ in scale by this share
	scaleSlack = 0.005
)
