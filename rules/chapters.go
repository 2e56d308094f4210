package rules

import "strings"

// Chapter is a part of the catalogue: the rules for one kind of thing.
type Chapter struct {
	Title string
	Rules []Rule
}

// Chapters lists all rules by what they judge, in the order in which they are told.
func Chapters() []Chapter {
	card, pair := Chapter{Title: "A card"}, Chapter{Title: "Front and back"}
	for _, r := range Catalogue() {
		if strings.HasPrefix(r.ID, "pair-") {
			pair.Rules = append(pair.Rules, r)
		} else {
			card.Rules = append(card.Rules, r)
		}
	}
	return []Chapter{card, pair, {Title: "A sheet of cards", Rules: SheetCatalogue()}}
}

// AnyRuleNamed finds a rule in any chapter; an unknown id's error tells the
// nearest ones. RuleNamed knows only those that judge a card.
func AnyRuleNamed(id string) (Rule, error) {
	var ids []string
	for _, c := range Chapters() {
		for _, r := range c.Rules {
			if r.ID == id {
				return r, nil
			}
			ids = append(ids, r.ID)
		}
	}
	return Rule{}, &UnknownError{What: "rule", Name: id, Near: Nearest(id, ids)}
}

// OfSheets reports whether the rule judges a sheet and not a card.
func (r Rule) OfSheets() bool {
	for _, s := range SheetCatalogue() {
		if s.ID == r.ID {
			return true
		}
	}
	return false
}
