// Package render turns pages of a PDF into pixels, in a sandbox.
//
// The renderer is PDFium compiled to WebAssembly. It has no files, no clock to
// speak of, no network and a bounded memory: a hostile file can make it fail or
// make it slow, and nothing else.
//
//	e := render.Start(render.Options{})
//	defer e.Close()
//	doc, err := e.Open(ctx, pdf)
//	...
//	defer doc.Close()
//	img, err := doc.Render(ctx, 1, render.View{
//		Media: [4]float64{0, 0, 270, 162},
//		W: 270, H: 162, PxW: 1125, PxH: 675, // 300 pixels an inch
//	})
//
// The picture has a transparent ground: where the page paints nothing alpha is
// 0, and white paint is white with alpha 255. Colours are the renderer's idea of
// the page on a screen; they say what is painted where, not which inks.
//
// Four properties of the renderer to know when measuring on its pixels: an
// axis-parallel rectangle is moved to whole pixels; an image is grown to whole
// pixels, and by one more where rounding will have it; small type is placed on
// whole pixels; an image that cannot be decoded is left out without a word.
//
// # Time
//
// Making the renderer's machine code takes seconds. It is done once and kept on
// disk, under the user's cache folder; from then on a start takes a fraction of
// a second. A rendering cannot be stopped midway: when its context ends, the
// call returns, while the work goes on and holds its share of the processor
// until it is done. A program that must be sure of its time renders in a child
// process and ends that.
package render
