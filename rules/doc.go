// Package rules says what a good card is. It holds the words of the trade that
// every other package speaks, and imports nothing of ours.
//
// A ticket says what the job asks: card size, bleed, safe margin, sides,
// process. A rule is one thing a good card keeps; the catalogue lists them, a
// page of plain words for each. A check (package checks) measures what a rule
// asks and reports findings: rule, side, place, measured, wanted, verdict,
// message, fix. Limits, the numbers that the craft needs, live in the ticket
// with a default for each process; none is a constant in a check.
//
// Coordinates are millimetres from the top left corner of the trim as the
// reader sees the side, x right, y down; bleed is negative x or y, or lies
// beyond the trim's size. Lengths are kept as whole micrometres.
package rules
