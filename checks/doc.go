// Package checks judges card artwork: an engine, and one file for each family
// of rules.
//
// A Check is one struct literal in a package variable, facts first, function
// last. It says which rule it judges and what it needs: nothing but the file's
// facts, the items that a page paints, or the side's pixels. Needs are made
// only when a check that runs asks for them, and once.
//
// Three outcomes are never mixed. A finding with pass, warn or fail is a
// judgement. A skip says that a rule could not be judged, and why. An error is
// for what could not run at all, and never for a bad file: a file that cannot
// be opened is a judged file that fails file-opens.
//
// Judge.File judges one file and returns plain data, so that it may as well run
// in another process. All, in all.go, is the hand-written list.
package checks
