// Package pdf opens a PDF and tells what each page paints, and where.
//
// [Open] reads the structure and never trusts it: every count, depth and length
// that the file controls has a ceiling in [Limits], and no bytes make it panic.
// [Document.Page] gives the boxes of one page, [Page.Walk] interprets its content
// once and lists the text, images, paths and shadings in paint order, with the
// colour spaces and fonts they really use.
//
// # Display space
//
// All boxes and quads are in display space: points of 1/72 inch with UserUnit
// applied, the origin at the top left corner of the MediaBox as a reader sees the
// page after Rotate, x to the right and y down.
//
// The package knows pages and paint; what makes a good one is for others to say.
// Clause numbers in comments are those of ISO 32000-1:2008 unless another
// standard is named.
package pdf
