package sheet

import (
	"fmt"
	"math"

	"stoneproof/rules"
)

// Ask is what a plan starts from.
type Ask struct {
	Sheet  rules.Size   // as it is fed and read: width, height
	Margin rules.Length // that the printer cannot reach, an edge
	Trim   rules.Size   // finished card, the right way up
	Bleed  rules.Length // beyond the trim, an edge
	Safe   rules.Length // inside the trim, an edge
	Gap    Gap
	Up     Up // columns and rows that were asked for; none: as many as fit
	Turn   Turn
	Shift  rules.Shift // of the backs

	Quantity int     // of cards; 0 if nobody asked
	Spoil    float64 // sheets that go wrong, per cent

	Unit rules.Unit // that lengths are told in, and gaps rounded to
}

// Gap says how far cards lie apart.
type Gap struct {
	Kind GapKind
	Wide rules.Length // of FixedGap
}

// GapKind tells kinds of gaps apart.
type GapKind int

// Kinds of gaps.
const (
	EqualGaps GapKind = iota // all strips of waste alike, the outer ones too where that leaves room
	FixedGap                 // as wide as asked
	Butted                   // none: neighbours share a cut
)

// Up is a number of columns and rows.
type Up struct{ Columns, Rows int }

// Turn names the edge of the sheet on which it is turned to print the backs. (IPP
// "sides" has the same two, RFC 8011, 5.2.8: two-sided-long-edge and -short-edge.)
type Turn string

// The two turns.
const (
	LongEdge  Turn = "long"
	ShortEdge Turn = "short"
)

// PrinterMargin is a quarter of an inch, which desktop printers leave at most
// (printer manuals: 4 to 4.3 mm on lasers, up to 6.7 mm on one inkjet's lower edge).
const PrinterMargin = rules.Inch / 4

// What the marks and strips of a sheet keep. Marks of 5 mm, a quarter of a point
// thick, beyond the bleed are common practice; the least lengths are ours.
const (
	// MarkLength is how long a mark is where there is room.
	MarkLength = 5 * rules.Millimetre
	// LeastMark is the shortest line that a steel rule can still be laid on.
	LeastMark = 1500 * rules.Micrometre
	// MarkClear is white between a bleed and a mark, more than half a mark's weight.
	MarkClear = 100 * rules.Micrometre
	// leastStrip is the narrowest strip of waste that a knife takes off cleanly.
	leastStrip = 2 * rules.Millimetre
)

// MarkPoints is the weight of a mark.
const MarkPoints = 0.25

// mostInLine bounds the cards in a row or column; a sheet of labels has some 20.
const mostInLine = 100

// Card is the trim as it lies on the sheet.
func (a Ask) card(turned bool) rules.Size {
	if turned {
		return a.Trim.Turned()
	}
	return a.Trim
}

// edge is the least way from the sheet's edge to the first trim: what the printer
// cannot reach, a mark, and the bleed.
func (a Ask) edge() rules.Length { return a.Margin + LeastMark + MarkClear + a.Bleed }

// leastGap is the least way between two trims that both bleed.
func (a Ask) leastGap() rules.Length {
	if a.Gap.Kind == Butted {
		return 0
	}
	return max(2*a.Bleed, leastStrip)
}

func (a Ask) validate() error {
	switch {
	case a.Sheet.W <= 0 || a.Sheet.H <= 0:
		return fmt.Errorf("sheet %s has an empty side", a.Sheet.In(a.Unit))
	case a.Trim.W <= 0 || a.Trim.H <= 0:
		return fmt.Errorf("card %s has an empty side", a.Trim.In(a.Unit))
	case a.Margin < 0 || a.Bleed < 0 || a.Safe < 0:
		return fmt.Errorf("printer margin, bleed and safe margin cannot be less than 0")
	case a.Gap.Kind == FixedGap && a.Gap.Wide < 2*a.Bleed:
		return &GapError{Wide: a.Gap.Wide, Least: 2 * a.Bleed, Unit: a.Unit}
	case a.Up.Columns < 0 || a.Up.Rows < 0 || max(a.Up.Columns, a.Up.Rows) > mostInLine:
		return fmt.Errorf("%d columns and %d rows: from 1 to %d each are planned", a.Up.Columns, a.Up.Rows, mostInLine)
	case (a.Up.Columns == 0) != (a.Up.Rows == 0):
		return fmt.Errorf("%d columns and %d rows: both must be told, or neither", a.Up.Columns, a.Up.Rows)
	case max(a.Sheet.W, a.Sheet.H)/min(a.Trim.W, a.Trim.H) > mostInLine:
		return fmt.Errorf("cards of %s on a sheet of %s are more than %d in a line", a.Trim.In(a.Unit), a.Sheet.In(a.Unit), mostInLine)
	case a.Turn != LongEdge && a.Turn != ShortEdge:
		return fmt.Errorf("unknown turn %q: use long or short", a.Turn)
	case a.Quantity < 0:
		return fmt.Errorf("a quantity of %d cards is less than 0", a.Quantity)
	case a.Spoil < 0 || a.Spoil > 100 || math.IsNaN(a.Spoil):
		return fmt.Errorf("spoilage of %g %% is not between 0 and 100", a.Spoil)
	}
	return nil
}

// GapError is a gap in which two bleeds do not fit.
type GapError struct {
	Wide, Least rules.Length
	Unit        rules.Unit
}

func (e *GapError) Error() string {
	return fmt.Sprintf("a gap of %s is under two bleeds (%s): neighbours would bleed onto each other", e.Wide.In(e.Unit), e.Least.In(e.Unit))
}

// FitError is a sheet on which the cards do not fit.
type FitError struct {
	Up    Up         // what was to fit
	Needs rules.Size // the smallest sheet that holds it, upright cards
	Sheet rules.Size
	Unit  rules.Unit
}

func (e *FitError) Error() string {
	cards := "a single card with its bleed, marks and printer margins needs"
	if e.Up.Columns*e.Up.Rows > 1 {
		cards = fmt.Sprintf("%d × %d cards with their bleed, marks and printer margins need", e.Up.Columns, e.Up.Rows)
	}
	return fmt.Sprintf("%s a sheet of %s; this one has %s", cards, e.Needs.In(e.Unit), e.Sheet.In(e.Unit))
}
