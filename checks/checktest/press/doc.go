// Package press makes the demo and test art: cards of the makers of Wendlebury
// Cross, an invented market town.
//
// A Card names a maker, a style and a size. Its methods PDF, JPEG, PNG and TIFF
// put the same drawing into a file; options set how the file is made, or put
// one fault in. The same card with the same options gives the same bytes.
//
//	art := press.Card{Maker: "potter", Style: press.Framed, Size: "us-business"}
//	good := art.PDF()
//	bad := art.PDF(press.PaintStops(rules.Left, 1.2))
//
// A style draws once, in millimetres, on a canvas: the PDF canvas (pdf*.go)
// keeps lines, type and pictures as such, the raster canvas (raster*.go) paints
// four ink planes that a container then keeps as inks or shows as RGB.
//
// The writers here are the tests' own on purpose: a file under test is read by
// other people's libraries, so one misreading cannot hide another.
package press
