package pdf

import (
	"math"
	"strings"
	"unicode"
)

// Reading gathers which way text stands, as the page is seen.
type Reading struct {
	letters [4]int // by quarter turns
	longest [4]string
	all     int
}

// fewestToRead is how many letters tell which way up a thing is; less is a monogram,
// which may stand as it likes.
const fewestToRead = 4

// Add takes a text into account.
func (r *Reading) Add(t *Text) {
	n := lettersIn(t.String)
	r.all += n
	if q, ok := quarter(t.Quad); ok {
		r.letters[q] += n
		if n > lettersIn(r.longest[q]) {
			r.longest[q] = t.String
		}
	}
}

// Enough reports whether there are letters enough to tell.
func (r *Reading) Enough() bool { return r.all >= fewestToRead }

// Most is by how much most text is turned clockwise from upright, 0, 90, 180 or 270
// degrees, with the longest words that stand so, empty where their font does not tell
// them. Four letters in five must agree, for a word up the side or round a curve says
// nothing of the whole.
func (r *Reading) Most() (degrees int, words string, ok bool) {
	if !r.Enough() {
		return 0, "", false
	}
	for q, n := range r.letters {
		if 5*n >= 4*r.all {
			words = strings.TrimSpace(r.longest[q])
			if strings.ContainsRune(words, unicode.ReplacementChar) {
				words = ""
			}
			return 90 * q, words, true
		}
	}
	return 0, "", false
}

// quarter is how many quarter turns clockwise text stands from upright; ok is false
// for text that slants or is mirrored.
func quarter(q Quad) (n int, ok bool) {
	const slant = 15.0 // degrees
	along := Point{q[1].X - q[0].X, q[1].Y - q[0].Y}
	up := Point{q[3].X - q[0].X, q[3].Y - q[0].Y}
	if along.X*up.Y-along.Y*up.X >= 0 { // y runs down: unmirrored text turns the other way
		return 0, false
	}
	degrees := math.Atan2(up.X, -up.Y) * 180 / math.Pi
	nearest := math.Round(degrees / 90)
	return (int(nearest) + 4) % 4, math.Abs(degrees-90*nearest) <= slant
}

// lettersIn counts what has a right way up.
func lettersIn(s string) int {
	n := 0
	for _, r := range s {
		if unicode.IsLetter(r) || unicode.IsDigit(r) || r == unicode.ReplacementChar {
			n++
		}
	}
	return n
}
