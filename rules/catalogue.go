package rules

import (
	"embed"
	"strings"
)

// Rule is one thing that a good card keeps.
type Rule struct {
	ID     string   // stable
	Title  string   // what a good card does, in a few words
	Limits []string // keys of the ticket that it is judged by
}

// Catalogue lists the rules in the order in which they are told: first whether
// the file can be judged at all, then its geometry, then what is painted, then
// colour. Each has a page of the same name in catalogue/.
func Catalogue() []Rule {
	return []Rule{
		{"file-opens", "The file is what its name says, whole and not locked", nil},
		{"side-count", "As many sides as the card has", []string{"sides"}},
		{"page-boxes", "Page boxes are there, nested and agreeing", []string{"bleed"}},
		{"trim-size", "The finished card has the size that was asked for", []string{"trim", "orientation", "trim-tolerance", "raster-trim-tolerance"}},
		{"bleed-extent", "The file reaches far enough beyond the trim", []string{"bleed", "bleed-slack", "bleed-sliver"}},
		{"bleed-fill", "Paint reaches the bleed edge wherever it reaches the trim", []string{"bleed", "bleed-slack", "bleed-sliver"}},
		{"safe-zone", "Nothing that must survive lies near the knife", []string{"safe"}},
		{"edge-border", "No frame runs so near the trim that a cut shows", []string{"border-least"}},
		{"effective-resolution", "Pictures have enough pixels at the size they print", []string{"tone-ppi-good", "tone-ppi-least", "line-ppi-good", "line-ppi-least", "ppi-slack"}},
		{"true-detail", "Pictures carry detail as fine as their pixels", []string{"tone-ppi-good", "tone-ppi-least", "ppi-slack"}},
		{"jpeg-loss", "Pictures show no damage by compression", []string{"loss-blocks-good", "loss-blocks-most", "loss-specks-good", "loss-specks-most", "loss-seen", "loss-quality"}},
		{"colour-space", "Colours are in a space that the process takes", []string{"rgb"}},
		{"colour-tags", "Profiles are there, readable, and do not contradict the art", []string{"rgb-untagged", "cmyk-untagged", "tag-broken"}},
		{"spot-colours", "Inks beside the process inks are those that were ordered", []string{"spots", "spot"}},
		{"ink-total", "No place has more ink than the paper takes", []string{"ink-total", "ink-slack", "ink-area", "ink-over"}},
		{"rich-black", "Small black type and thin black lines are in one ink", []string{"rich-type-least", "rich-line-least", "type-reversed-least", "line-reversed-least"}},
		{"overprint", "Nothing vanishes or changes colour by overprinting", nil},
		{"fonts-embedded", "Every font travels with the file", nil},
		{"text-size", "Type is large enough to hold", []string{"type-least", "type-reversed-least"}},
		{"hairlines", "Lines are wide enough to hold", []string{"line-least", "line-reversed-least"}},
		{"live-extras", "Nothing in the file prints otherwise than it looks", nil},
		{"marks-in-art", "No cutting marks lie in the bleed or on the card", []string{"bleed"}},
		{"code-scan", "A QR code on the card reads as printed", []string{"code-module-good", "code-module-least", "code-quiet-good", "code-quiet-least", "code-contrast-good", "code-contrast-least"}},
		{"pair-size", "Front and back are the same card", []string{"trim-tolerance", "raster-trim-tolerance", "pair-names"}},
		{"pair-turn", "The back stands the right way up when the card is turned over", []string{"turn-over", "pair-names"}},
	}
}

// RuleIDs lists the ids of the catalogue in order.
func RuleIDs() []string {
	var ids []string
	for _, r := range Catalogue() {
		ids = append(ids, r.ID)
	}
	return ids
}

// RuleNamed finds a rule; an unknown id's error tells the nearest ones.
func RuleNamed(id string) (Rule, error) {
	for _, r := range Catalogue() {
		if r.ID == id {
			return r, nil
		}
	}
	return Rule{}, &UnknownError{What: "rule", Name: id, Near: Nearest(id, RuleIDs())}
}

//go:embed catalogue/*.md
var pages embed.FS

// Page is a rule's page of the catalogue in Markdown: what, why, how it is
// measured, how to put it right. It is empty for an unknown rule.
func (r Rule) Page() string {
	text, err := pages.ReadFile("catalogue/" + r.ID + ".md")
	if err != nil {
		return ""
	}
	return strings.TrimSpace(string(text)) + "\n"
}
