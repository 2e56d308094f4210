// Package proof draws the proof of a side: the side as it will look in print, with
// the lines that matter to it and the places of the findings, by the numbers that
// the table gives them ([rules.Numbers]).
//
// It has a language of its own, told by shape as well as by colour, so that it reads
// in grey print and to eyes that take colours for each other:
//
//   - what the knife takes away is veiled and hatched; the trim is the edge of that
//     veil, a solid line
//   - the bleed that is asked for ends at a dashed line; where the file has none, there
//     is nothing to hatch
//   - the safe line is a quiet row of dots
//   - a fault lies in a frame, with a leader to its numbered tag outside the card: a
//     failure in a solid frame with a dark square tag, a warning in a dashed frame with
//     a light round one, what was not judged in a dotted frame with a light square one
//
// Every mark is dark with a light casing. The contrast between the two is at least
// 9 to 1, and so one of them has at least 3 to 1 with whatever lies beneath.
package proof

import (
	"image"

	"stoneproof/rules"
)

// Proof is a drawn proof.
type Proof struct {
	Image  *image.RGBA
	PPI    float64 // at which the card has its true size
	Places []Place // of the findings, in the order of their numbers
}

// Draw makes the proof of the side that p shows; r is the report of its file. A side
// without a picture has its proof say why.
func Draw(r rules.FileReport, t rules.Ticket, p rules.Picture) Proof {
	d := newDrawing(r, t, p)
	d.on = newCanvas(d.view.w, d.view.h+d.captionHeight())
	d.art()
	if d.placed() {
		d.veil()
		d.lines()
		d.rulers()
	}
	d.point()
	d.caption()
	return Proof{d.on.img, d.view.k * float64(rules.Inch), d.places()}
}

// drawing is a proof in the making.
type drawing struct {
	file    rules.FileReport
	ticket  rules.Ticket
	picture rules.Picture
	facts   rules.SideFacts

	view  view
	spots []spot
	over  int // spots for which there is no room
	type_ typeface
	on    canvas
}

func newDrawing(r rules.FileReport, t rules.Ticket, p rules.Picture) *drawing {
	d := &drawing{file: r, ticket: t, picture: p, type_: newTypeface()}
	for _, s := range r.Sides {
		if s.Number == p.Side {
			d.facts = s
		}
	}
	d.spots = d.spotsOf()
	d.view = newView(d.shown(), d.grain(), rect{tagBand, tagBand, tagBand, tagBand})
	d.place()
	d.tighten()
	return d
}

// placed reports whether it is known where the knife goes.
func (d *drawing) placed() bool { return !d.card().Empty() }

func (d *drawing) card() rules.Box { return rules.Box{W: d.facts.Trim.W, H: d.facts.Trim.H} }

// printed is the card with the bleed that was asked for.
func (d *drawing) printed() rules.Box { return d.card().Inset(-d.ticket.Bleed) }

// shown is what the proof shows: all of the picture, and the bleed that was asked for
// even where the file has none.
func (d *drawing) shown() rules.Box {
	b := d.picture.Box
	if d.picture.Image == nil {
		b = rules.Box{}
	}
	if d.placed() {
		b = b.Union(d.printed())
	}
	if b.Empty() {
		b = rules.Box{W: max(1, d.ticket.Trim.W), H: max(1, d.ticket.Trim.H)}
	}
	return b
}

// grain is how many pixels of the picture make a micrometre; 0 where there is none.
func (d *drawing) grain() float64 {
	if d.picture.Image == nil || d.picture.Box.Empty() {
		return 0
	}
	return float64(d.picture.Image.Bounds().Dx()) / float64(d.picture.Box.W)
}
