// Package press carries one printing condition in the program: offset on coated
// paper as FOGRA39L characterises it (ISO 12647-2:2004/Amd 1, paper type 1 or
// 2), by an open profile, with the ways from and to sRGB. README.md beside the
// code tells of the profile's origin and licence.
//
// It answers what a press would make of colours whose owner has not said which
// press: what inks a shop's conversion would give them, and how inks look.
// Nothing is read or worked out before it is asked for.
package press
