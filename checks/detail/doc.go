// Package detail tells how fine the detail is that a picture really carries, as against
// the number of its pixels: whether it was enlarged, and how many times. It looks at
// lightness alone and knows nothing of cards.
//
// [Measure] looks at some pairs of neighbouring lines, across and down, in two ways. The
// edges on them tell how sharp the picture is: enlarging k times spreads a sharp edge over
// k pixels. And roughness, taken as differences between neighbours in several forms, has
// a period if the picture was enlarged: the distance of the pixels that were there before.
// Only a period counts that both axes have, that is not the picture's own nor that of a
// JPEG's blocks, and that the edges agree with.
//
// Softness alone proves nothing, for a lens makes it as well: a picture without a trace
// and without anything sharp is [Soft], which is no verdict.
package detail
