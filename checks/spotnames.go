package checks

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// mistaken tells of names that are likely meant for the same ink: each spelling
// would make a plate of its own.
func (p *Pass) mistaken(uses []spotUse) string {
	known := []string{"Cyan", "Magenta", "Yellow", "Black"}
	for _, want := range p.Ticket.Spots {
		if !slices.Contains(known, want) {
			known = append(known, want)
		}
	}
	said := ""
	for i, u := range uses[:min(len(uses), mostPlaces)] {
		near := func(other string) bool { return other != u.name && alike(other, u.name) }
		for _, v := range uses[:i] {
			if near(v.name) {
				said += fmt.Sprintf(" %q and %q look like one ink with two names.", shorten(v.name), shorten(u.name))
			}
		}
		if n := slices.IndexFunc(known, near); n >= 0 {
			said += fmt.Sprintf(" %q looks like %q under another name.", shorten(u.name), shorten(known[n]))
		}
	}
	return said
}

// names lists inks in quotes, the first few of many.
func names(uses []spotUse) string {
	const most = 8
	var words []string
	for _, u := range uses[:min(len(uses), most)] {
		words = append(words, fmt.Sprintf("%q", shorten(u.name)))
	}
	if more := len(uses) - most; more > 0 {
		words = append(words, fmt.Sprintf("%d more", more))
	}
	return listed(words)
}

// spelling is a name without what people do not hear: case, spaces, signs.
func spelling(name string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, name)
}

// alike reports whether two names are likely meant for one ink: they are spelt alike,
// or would be without a tail that programs and swatch books add.
func alike(a, b string) bool {
	return spelling(a) == spelling(b) || spelling(stem(a)) == spelling(stem(b))
}

// stem is a name without "process" before it and without a tail of one or two
// letters, or "copy": "Process Black" is black, "Brick C" and "Brick U" are one brick.
func stem(name string) string {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	if len(words) > 1 && words[0] == "process" {
		words = words[1:]
	}
	if n := len(words); n > 1 {
		last := words[n-1]
		if last == "copy" || len(last) <= 2 && strings.IndexFunc(last, unicode.IsDigit) < 0 {
			words = words[:n-1]
		}
	}
	return strings.Join(words, "")
}
