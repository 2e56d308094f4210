// Package impose draws a planned sheet as a PDF. Art is placed as it is: a page of a
// PDF as a form, with its resources, layers and output intent; a JPEG's bytes
// untouched; any other picture without loss. Nothing is drawn anew, scaled or given
// other colours.
//
// Clause numbers in comments are those of ISO 32000-1:2008.
package impose
