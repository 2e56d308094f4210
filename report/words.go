package report

import "stoneproof/rules"

// Words of the table, for other forms of the report: each thing is told in one way.

// Bounded is text made visible, and cut in the middle if it is swollen.
func Bounded(text string) string { return bounded(text) }

// Shortened is text made visible, and cut in the middle if it takes more than
// columns columns.
func Shortened(text string, columns int) string { return shorten(text, columns) }

// Closing says the verdict of the run and what to do next.
func Closing(r rules.Report, strict bool) string { return closing(r, strict) }

// Facts tells in unit what a file is and what its sides are, a line for each kind
// of side.
func Facts(f rules.FileReport, unit rules.Unit) []string { return teller{unit: unit}.facts(f) }

// SideInWords tells a side's trim and bleed in unit.
func SideInWords(s rules.SideFacts, unit rules.Unit) string { return teller{unit: unit}.side(s) }

// Kind names a kind of file as people write it.
func Kind(k string) string { return kind(k) }
