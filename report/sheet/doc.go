// Package sheet plans a gang sheet: how many cards fit, where each lies, where the
// marks stand, where the knife goes, and where the backs land once the sheet is
// turned. It is pure arithmetic in whole micrometres: sizes in, places out, no
// files; package impose beneath it draws what is planned.
//
// # Sheet space
//
// All boxes are in sheet space: the origin at the top left corner of the sheet as
// that side of it is seen, x to the right, y down. Back places are told as the back
// is seen after the sheet was turned.
//
// # How a sheet is laid out
//
// All cards lie the same way, upright or all a quarter turn clockwise, in columns
// and rows in the middle of the sheet. Each card keeps its bleed on all edges,
// unless the cards are butted: then neighbours share one cut and bleed on the
// outside of the block alone. Marks stand outside all bleeds at both ends of each
// cut, inside what the printer can reach.
package sheet
