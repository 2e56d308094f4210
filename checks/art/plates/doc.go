// Package plates makes the printing plates of a PDF page: how much cyan, magenta,
// yellow, black and of each spot colour is laid down where. It knows nothing of
// cards.
//
// [Separate] rewrites the page into a small file with one page for each plate, in
// which every colour, picture, blend and tint is a grey that says how much of this
// one ink it takes: white is none, black is all of it. [Job.Render] has the pages
// drawn over white paper; ink is what is missing from white. So whatever the
// renderer knows of type, curves, clips and transparency is used, and it never has
// to know of inks.
//
//	job, err := plates.Separate(doc, 1, plates.Options{Limits: plates.DefaultLimits()})
//	...
//	p, err := job.Render(ctx, engine, plates.Window{W: 270, H: 162, PxW: 1125, PxH: 675})
//
// # What is faithful
//
// Gray, CMYK, spot and DeviceN colours with overprint, in type, lines, pictures,
// shadings, tiles, groups and masks. What is not, such as an RGB object, is named
// in Approximate: numbers beside a non-empty list are an estimate.
//
// # Trust
//
// Files are hostile until shown otherwise: all work is bounded by [Limits], content
// that draws itself ends, and no bytes make the package panic. The renderer has its
// own bounds; see package render.
//
// Clause numbers in comments are those of ISO 32000-1:2008.
package plates
