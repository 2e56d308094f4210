// Package codes finds QR codes (ISO/IEC 18004) in a grey picture and reads them
// as they will be printed.
//
// It is a pure measuring package: it holds no limits of the craft and gives no
// verdicts. Lengths are micrometres from the picture's top left corner.
//
// # How a code is found
//
// Lines across the picture are cut into dark and light runs at the places where
// the light really turns, so that no threshold for the whole picture is needed. A
// finder pattern shows as runs of 1 : 1 : 3 : 1 : 1 modules (5.3.3 of the standard;
// its numbers here are those of the edition of 2015) across and down. Three of a
// size at the corners of a right-angled triangle with even arms are a suspect
// ([Suspects]); a timing pattern between them, modules that alternate, makes it a
// code ([Read]).
//
// # How a code is read
//
// The art is averaged over the printer's dots and softened by one dot for the
// spread of ink. That is given to the library's reader as a telephone would be
// given it; what that cannot find is tried once more with the symbol's grid laid
// by its finder patterns. A code that reads in the art but not in that picture is
// one that will not read in print.
//
// Not covered: Micro QR and other two-dimensional codes. Nor linear codes: the
// library's readers saw an EAN-13 in one of 64 clean cards, where there is none. A code
// whose two colours are equally light is not found: a telephone does not find it either.
package codes
