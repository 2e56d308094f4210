package rules

import (
	"path/filepath"
	"strings"
)

// Face is what a side must have in common with the other side of its card.
type Face struct {
	Colours []string // kinds of colour that the press tells apart: "CMYK", "RGB", "Lab"
	PPI     float64  // of the picture that falls furthest short; 0 where there is none
	Sharp   Verdict  // what that resolution earns: pass, warn, fail; empty where there is no picture
	Reading *Reading // nil where no text tells
	Unread  string   // why Reading is nil
}

// Reading is the way most of a side's text stands.
type Reading struct {
	Turned int    // clockwise from upright, as the side is seen: 0, 90, 180, 270
	Words  string // some that stand so
}

// TurnOver says how a finished card is turned from its front to its back.
type TurnOver string

// The two ways of turning a card over, as its front is seen.
const (
	OverSide TurnOver = "side" // over its left or right edge, like a page of a book
	OverHead TurnOver = "head" // over its upper or lower edge, like a leaf of a calendar
)

// UnmarshalText reads how a card is turned over.
func (o *TurnOver) UnmarshalText(text []byte) error {
	return oneOf(o, text, "turn-over", OverSide, OverHead)
}

// Turned is by how much the back's text stands turned against the front's, where
// front and back lie head to head: the press lays them so.
func (o TurnOver) Turned() int {
	if o == OverHead {
		return 180
	}
	return 0
}

// Other is the other way of turning.
func (o TurnOver) Other() TurnOver {
	if o == OverHead {
		return OverSide
	}
	return OverHead
}

// Hinge names the edge that a card is turned over, as a reader of the front sees it:
// which of them is the long one depends on how the card lies.
func (o TurnOver) Hinge() string {
	if o == OverHead {
		return "upper edge"
	}
	return "side edge"
}

// PairOf tells for the name of a file which card it belongs to, and whether it is
// the front or the back: "pots-front.pdf" is the front of "pots". A name that says
// neither is of no pair. Names are those of the ticket, a front's and a back's.
func (t Ticket) PairOf(path string) (card string, back, ok bool) {
	stem := strings.ToLower(strings.TrimSuffix(filepath.Base(path), filepath.Ext(path)))
	for k, name := range t.PairNames {
		name = strings.ToLower(name)
		if rest, found := strings.CutSuffix(stem, name); found && apart(lastByte(rest)) {
			return filepath.Join(filepath.Dir(path), strings.TrimRight(rest, separators)), k == 1, true
		}
		if rest, found := strings.CutPrefix(stem, name); found && apart(firstByte(rest)) {
			return filepath.Join(filepath.Dir(path), strings.TrimLeft(rest, separators)), k == 1, true
		}
	}
	return "", false, false
}

// separators part a front's or back's word from the rest of a file's name.
const separators = "-_. "

// apart reports whether a name ends at b, or a separator parts it from its word:
// "upfront.pdf" is no front.
func apart(b byte) bool { return b == 0 || strings.IndexByte(separators, b) >= 0 }

func lastByte(s string) byte {
	if s == "" {
		return 0
	}
	return s[len(s)-1]
}

func firstByte(s string) byte {
	if s == "" {
		return 0
	}
	return s[0]
}
