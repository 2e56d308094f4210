package proof

import (
	"image"
)

// Place is where a proof shows a finding, in pixels: the tag with its number, and the
// frame that the tag points at. A finding for whose tag there was no room has none.
type Place struct {
	Number     int
	Tag, Frame image.Rectangle
}

// places are those of the findings themselves, by their numbers; further places of a
// finding are not told.
func (d *drawing) places() []Place {
	var list []Place
	for _, s := range d.spots {
		if s.tag != (rect{}) && !s.further {
			list = append(list, Place{s.number, s.tag.pixels(), s.frame.pixels()})
		}
	}
	return list
}
