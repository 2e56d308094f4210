package rules

// SheetCatalogue lists the rules of a gang sheet, which judge how cards lie on it and
// not the cards themselves. Each has a page of the same name in catalogue/.
func SheetCatalogue() []Rule {
	return []Rule{
		{"sheet-fit", "The cards fit the sheet, all at one scale", nil},
		{"sheet-gaps", "Cards lie two bleeds apart, or share a cut", []string{"bleed"}},
		{"sheet-marks", "A mark stands at both ends of every cut, and on no card", []string{"trim", "bleed", "mark-place", "mark-weight-most"}},
		{"sheet-turn", "Every back lies behind its front", []string{"back-shift", "turn-over", "mark-place"}},
	}
}

// SheetRuleIDs lists the ids of the sheet's catalogue in order.
func SheetRuleIDs() []string {
	var ids []string
	for _, r := range SheetCatalogue() {
		ids = append(ids, r.ID)
	}
	return ids
}
