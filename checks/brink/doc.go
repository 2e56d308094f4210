// Package brink reads what the pixels at the brink of a card say: whether
// paint goes out to the bleed edge wherever it reaches the trim ([Bleed]),
// whether something that must survive lies where the knife may take it
// ([Ground.Intruders]), whether a frame runs along the trim ([Margins.Border]), and whether
// the marks of a sheet were left in the bleed ([FindCutMarks]).
//
// All are pure measuring functions on one side's pixels. They hold no limits
// and give no verdicts; the rules that call them do.
//
// # How bleed is read
//
// White at the brink is a fault only where paint was cut off, and a cut leaves
// a straight line parallel to the trim: at position after position along the
// edge the paint ends at the same depth with nothing beyond. Art that ends by
// itself does not: a circle's end curves, a stripe's end slants, a wash ends
// where it likes, a gradient fades. So each position is asked how far out its
// last paint lies; runs of equal answers are stops; and a stop is a fault
// unless its ends curve, its edge is soft, its beyond is painted after all, or
// the art repeats so that the white beyond is the next gap of a pattern. Fine
// art, such as a lattice or an engraving, has hardly a run to show; there a cut
// shows by the whole: much of the edge ends at one depth and nothing goes
// further.
//
// # How the safe zone is read
//
// Everything that can be reached from the canvas's outer edge without crossing
// a sharp change of colour is ground, and so is everything that itself runs
// out to that edge. What is left is marks. Marks are put together to lines of
// lettering and to compact shapes; those that stand clear on calm ground, that
// are no part of a pattern that goes on into the bleed, and that reach past the
// safe line are intruders. On unquiet ground only what is typeset beyond doubt
// is told, and told as inferred.
//
// # How frames are read
//
// From the trim inwards the margin's colour is followed to its first sharp
// change, cell by cell along the edge. Where most changes lie at one depth, that
// is a side; where sides meet at a corner, they are a frame. What runs off the
// card at its ends is a stripe or a bar and meets nothing.
//
// # Where nothing can be read
//
// What is looked for is put into a copy of the pixels along each edge: words, the line of
// a frame, cutting marks. Where the measure does not find them ([Ground.Blind],
// [Margins.Blind], [CutMarksBlind]), art hides them, and that nothing was found there tells
// nothing.
//
// # How sheet marks are read
//
// By their places: thin lines that stand out from both their sides exactly on
// the trim lines at the corners, crosses at the middles of edges, rows of patches
// in the four process inks. Where more such lines cross the edge, they are art.
package brink
