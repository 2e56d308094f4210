package proof

import (
	"image"

	"golang.org/x/image/draw"

	"stoneproof/rules"
)

// The lines of a card.
func trimMark() mark  { return mark{colour: ink, core: 2, casing: 1.5} }
func bleedMark() mark { return mark{colour: ink, core: 2, casing: 1, dash: 16, gap: 10} }
func safeMark() mark  { return mark{colour: ink, core: 2, casing: 1, dash: 2, gap: 10} }

// artRect is where the picture lies.
func (d *drawing) artRect() image.Rectangle { return d.view.rect(d.picture.Box).pixels() }

// art lays the picture down, or says in words why there is none.
func (d *drawing) art() {
	img := d.picture.Image
	if img == nil {
		d.undrawn()
		return
	}
	at := d.artRect()
	if at.Size() == img.Bounds().Size() {
		draw.Draw(d.on.img, at, img, img.Bounds().Min, draw.Src)
		return
	}
	draw.BiLinear.Scale(d.on.img, at, img, img.Bounds(), draw.Src, nil)
}

// undrawn shows bare paper with the reason on it.
func (d *drawing) undrawn() {
	b := d.view.rect(d.view.box)
	if d.placed() {
		b = d.view.rect(d.card())
	}
	d.on.block(paper, b.snapped())
	const pad = 40
	why := d.picture.Why
	if why == "" {
		why = "There is no picture of this side."
	}
	y := b.y0 + pad
	for _, line := range d.type_.wrapped(why, max(200, b.w()-2*pad), plain) {
		y += lineHeight
		d.write(line, pt{b.x0 + pad, y}, ink, plain)
	}
}

// veil covers what the knife takes away, as far as the file has it.
func (d *drawing) veil() {
	if d.picture.Image == nil {
		return
	}
	at, card := d.artRect().Intersect(d.on.img.Rect), d.view.rect(d.card()).pixels()
	for y := at.Min.Y; y < at.Max.Y; y++ {
		for x := at.Min.X; x < at.Max.X; x++ {
			if !(image.Point{X: x, Y: y}.In(card)) {
				d.veilPixel(x, y)
			}
		}
	}
}

// veilPixel lays grey over a pixel, and the hatching: slanting lines, dark beside light.
func (d *drawing) veilPixel(x, y int) {
	const pitch, dark, light = 14, 2, 2
	q := d.on.img.Pix[d.on.img.PixOffset(x, y):]
	switch along := (x + y) % pitch; {
	case along < dark:
		q[0], q[1], q[2] = ink.R, ink.G, ink.B
	case along < dark+light:
		q[0], q[1], q[2] = paper.R, paper.G, paper.B
	default:
		q[0], q[1], q[2] = between(q[0], veiled.R), between(q[1], veiled.G), between(q[2], veiled.B)
	}
}

// between is nearer to what the veil covers than to the veil.
func between(art, veil byte) byte { return byte((12*int(art) + 8*int(veil)) / 20) }

// lines draws the safe line, the end of the bleed and the trim.
func (d *drawing) lines() {
	if safe := d.card().Inset(d.ticket.Safe); d.ticket.Safe > 0 && !safe.Empty() {
		d.around(safeMark(), safe)
	}
	if d.ticket.Bleed > 0 {
		d.around(bleedMark(), d.printed())
	}
	d.around(trimMark(), d.card())
}

func (d *drawing) around(m mark, b rules.Box) { d.on.outline(m, d.view.rect(b).snapped()) }
