// Package practice deals practice packs: folders of cards of an invented town, some
// sound and some with one hidden fault, that a learner looks through with a
// worksheet; and it marks her answers against what the judge finds in the files.
//
// A pack holds no list of answers. Whatever lies in the folder when it is marked is
// judged then, by the pack's own ticket.
package practice
