// Package gang judges gang sheets: pages that hold several cards to be cut apart. It
// finds the cards by the cutting marks, else where a plan says they are, compares
// them with each other, and reports by the rules of rules.SheetCatalogue.
//
// A PDF is measured from what its pages draw, a picture from its pixels, in sheet space:
// micrometres from the top left corner of the page as seen, x right, y down.
package gang
