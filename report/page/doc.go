// Package page tells what was judged as a page for a browser and for paper: one
// file that needs nothing else, neither network nor script.
//
// The words are those of package report and of the rules' catalogue. A verdict is
// told by a word, a shape and the weight of its ink: what fails is a solid plate,
// what warns half of one, what passes an open ring; colour only underlines. Each
// finding that has a place leads to its number in the proof of the side, and the
// number back to the finding.
//
// Whatever a file makes up, its name or the words on its page, is written with its
// controls made visible and escaped for where it stands.
package page
