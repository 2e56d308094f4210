package rules

import (
	"fmt"
	"sort"
	"strings"
)

// NamedSize is a card size that people ask for by name.
type NamedSize struct {
	Name   string
	Trim   Size
	Bleed  Length // an edge
	Safe   Length
	Unit   Unit   // the unit that its makers work in
	Title  string // what it is
	Source string // where its numbers come from, or "common practice"
}

// DefaultSize is the size that is meant where none is named.
const DefaultSize = "us-business"

// Sizes lists the named sizes. Bleed and safe margin are common practice
// everywhere: 1/8 in where inches are used, 3 mm elsewhere.
func Sizes() []NamedSize {
	const pwg = "PWG 5101.1" // Media Standardized Names
	return []NamedSize{
		inches("us-business", 3.5, 2, "US business card", pwg),
		metric("eu-business", 85, 55, "European business card", pwg),
		metric("jp-business", 91, 55, "Japanese business card", pwg),
		metric("cn-business", 90, 54, "Chinese business card", "common practice"),
		metric("id-1", 85.60, 53.98, "bank and identity card", "ISO/IEC 7810"),
		metric("a6", 105, 148, "A6 postcard", "ISO 216"),
		metric("a7", 74, 105, "A7 card", "ISO 216"),
		metric("jp-postcard", 100, 148, "Japanese postcard", pwg),
		inches("us-postcard", 6, 4, "US postcard", "US mail, DMM 201.1"),
		metric("poker", 63, 88, "playing card, metric", "common practice"),
		inches("poker-us", 2.5, 3.5, "playing card", "common practice"),
		inches("bridge", 2.25, 3.5, "narrow playing card", "common practice"),
	}
}

func metric(name string, w, h float64, title, source string) NamedSize {
	return NamedSize{Name: name, Trim: Size{MM(w), MM(h)}, Bleed: MM(3), Safe: MM(3),
		Unit: UnitMM, Title: title, Source: source}
}

func inches(name string, w, h float64, title, source string) NamedSize {
	return NamedSize{Name: name, Trim: Size{Inches(w), Inches(h)}, Bleed: Inches(0.125),
		Safe: Inches(0.125), Unit: UnitIn, Title: title, Source: source}
}

// SizeNamed finds a named size; an unknown name's error tells the nearest ones.
func SizeNamed(name string) (NamedSize, error) {
	var names []string
	for _, s := range Sizes() {
		if s.Name == name {
			return s, nil
		}
		names = append(names, s.Name)
	}
	return NamedSize{}, &UnknownError{What: "card size", Name: name, Near: Nearest(name, names)}
}

// SizeLike finds the named size that a trim meets within tolerance either way
// round: the nearest if several do.
func SizeLike(trim Size, tolerance Length) (NamedSize, bool) {
	best, found := NamedSize{}, false
	least := tolerance + 1
	for _, s := range Sizes() {
		for _, t := range []Size{s.Trim, s.Trim.Turned()} {
			off := max((t.W - trim.W).Abs(), (t.H - trim.H).Abs())
			if off < least {
				best, least, found = s, off, true
			}
		}
	}
	return best, found
}

// UnknownError is a name that is not in a list; Near holds the nearest ones.
type UnknownError struct {
	What string
	Name string
	Near []string
}

func (e *UnknownError) Error() string {
	if len(e.Near) == 0 {
		return fmt.Sprintf("unknown %s %q", e.What, e.Name)
	}
	return fmt.Sprintf("unknown %s %q: did you mean %s?", e.What, e.Name, strings.Join(e.Near, ", "))
}

// Nearest picks up to three of names that look most like name.
func Nearest(name string, names []string) []string {
	type scored struct {
		name  string
		score int
	}
	var all []scored
	for _, n := range names {
		score := editDistance(strings.ToLower(name), n)
		if part(name, n) {
			score = min(score, 2)
		}
		if score <= max(2, len(n)/2) {
			all = append(all, scored{n, score})
		}
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].score < all[j].score })
	var near []string
	for _, s := range all[:min(3, len(all))] {
		near = append(near, s.name)
	}
	return near
}

// part reports whether one name holds the other: "business" in "us-business".
func part(a, b string) bool {
	return len(a) >= 3 && (strings.Contains(b, a) || strings.Contains(a, b))
}

// editDistance counts the single-letter changes from a to b (Levenshtein).
func editDistance(a, b string) int {
	if len(a) > 64 {
		a = a[:64]
	}
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		diagonal := row[0]
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := diagonal
			if a[i-1] != b[j-1] {
				cost++
			}
			diagonal = row[j]
			row[j] = min(cost, row[j]+1, row[j-1]+1)
		}
	}
	return row[len(b)]
}
