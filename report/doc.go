// Package report tells people and programs what was judged: as a table for a
// terminal and as JSON for other tools, with a JSON Schema of the latter.
//
// It knows the words of package rules and nothing of how they were measured. A
// table prints what the findings say, in the ticket's own unit; JSON carries
// their numbers in millimetres.
package report
