package press

import (
	_ "embed"
	"slices"
	"sync"

	"stoneproof/checks/art/icc"
)

//go:embed FOGRA39L_coated.icc
var coated []byte

// Coated is the carried profile of offset printing on coated paper, FOGRA39L.
var Coated = sync.OnceValue(func() *icc.Profile {
	p, err := icc.Parse(coated)
	if err != nil {
		panic("press: " + err.Error() + " (bug)") // the bytes are ours
	}
	return p
})

// CoatedFile is the carried profile as it stands in its file.
func CoatedFile() []byte { return slices.Clone(coated) }

// SRGB is sRGB by the numbers of IEC 61966-2-1.
var SRGB = sync.OnceValue(icc.StandardRGB)

// Inks turns sRGB pixels into the press's inks: three bytes each in rgb, four
// (cyan, magenta, yellow, black; 255 is full ink) in cmyk, which must have room
// for as many pixels.
//
// The way is relative colorimetric with black point compensation. That is what
// layout and image programs are set to when they leave the maker's hands, and so
// what a print shop most likely does to RGB that it did not ask for (common
// practice). The perceptual intent would not differ from plain relative here:
// the profile has one and the same table for both, and plain relative loses all
// drawing in shadows darker than the press's black.
//
// No colour costs more than MostInk; black costs 316 %.
func Inks(cmyk, rgb []byte) { inks().Bytes(cmyk, rgb) }

// MostInk is the largest sum of inks, in per cent of one solid, that Inks makes
// of any colour.
const MostInk = 318

// Screen turns the press's inks into sRGB as they look on its paper, for
// showing: relative colorimetric, so that paper is white and full black is the
// dark grey that it is.
func Screen(rgb, cmyk []byte) { screen().Bytes(rgb, cmyk) }

var inks = sync.OnceValue(func() *icc.Transform {
	return made(icc.NewCompensated(SRGB(), Coated()))
})

var screen = sync.OnceValue(func() *icc.Transform {
	return made(icc.NewTransform(Coated(), SRGB(), icc.RelativeColorimetric))
})

func made(t *icc.Transform, err error) *icc.Transform {
	if err != nil {
		panic("press: " + err.Error() + " (bug)")
	}
	return t
}
