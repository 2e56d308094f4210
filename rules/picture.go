package rules

import "image"

// Picture is a side as it will look in print, as far as it prints.
type Picture struct {
	Side  int
	Box   Box         // what Image shows, in trim coordinates; of a side without a trim, from its own corner
	Image image.Image // opaque, on white paper; nil where the side could not be drawn
	Why   string      // in words, why it could not
}
