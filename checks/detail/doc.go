// Package detail tells how fine the detail is that a picture really carries, as against
// the number of its pixels: whether it was enlarged, and how many times. It looks at
// lightness alone and knows nothing of cards.
//
// [Measure] picks the roughest tiles of a picture along its rows and along its columns.
// Their roughness, taken as differences between neighbours, has a period if the picture
// was enlarged: the distance of the pixels that were there before. Only a period that
// both axes have counts, and that is not the picture's own, nor that of JPEG's blocks,
// nor finer than the detail lets it be, of which the spectrum tells.
//
// Softness alone proves nothing, for a lens makes it as well: a picture without a trace
// and without anything sharp is [Soft], which is no verdict.
package detail
