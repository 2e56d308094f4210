// Package raster opens raster picture files by their content: JPEG, PNG, TIFF,
// WebP, GIF and BMP. It tells what a header says (size, density, colour space,
// ICC profile and every other claim about colour), and decodes pixels for
// viewing and ink for measuring. It knows nothing of cards.
//
// # Two steps
//
// [Open] reads headers alone and checks that the file is whole as far as that
// is cheap to see. A kind of file that this package knows it cannot decode is
// refused there, so that [File.Decode] fails only when picture data turn out
// to be damaged.
//
// # As seen
//
// Sizes, densities and pixels are those of the picture as a viewer shows it:
// the orientation that Exif or TIFF states is applied, once, everywhere.
//
// # Ink and its view
//
// For a CMYK picture [Pixels.Ink] carries the truth. [Pixels.Pix] is only a
// view of it, made without a profile; see [Pixels].
//
// # Trust
//
// Files are hostile until shown otherwise. Nothing is allocated on a file's
// word alone: every ceiling is a field of [Limits]. No bytes make this package
// panic.
//
// # Sources
//
// Comments name the clause or page of the standard that a rule comes from.
// The numbers of clauses and pages are from memory; the rules themselves are
// tested against independent programs and published values.
package raster
