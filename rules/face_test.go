package rules

import "testing"

func TestPairOf(t *testing.T) {
	usual := Ticket{PairNames: []string{"front", "back"}}
	german := Ticket{PairNames: []string{"vorn", "hinten"}}
	for _, tt := range []struct {
		ticket Ticket
		path   string
		card   string
		back   bool
		ok     bool
	}{
		{usual, "cards/pots-front.pdf", "cards/pots", false, true},
		{usual, "cards/Pots_BACK.PDF", "cards/pots", true, true},
		{usual, "front.png", ".", false, true},
		{usual, "back of pots.jpg", "of pots", true, true},
		{usual, "back-pots.jpg", "pots", true, true},
		{usual, "pots.pdf", "", false, false},
		{usual, "upfront.pdf", "", false, false},
		{usual, "backdrop.pdf", "", false, false},
		{usual, "", "", false, false},
		{german, "pots-hinten.pdf", "pots", true, true},
		{german, "pots-front.pdf", "", false, false},
	} {
		card, back, ok := tt.ticket.PairOf(tt.path)
		if card != tt.card || back != tt.back || ok != tt.ok {
			t.Errorf("%q is %q, back %v, %v; want %q, %v, %v", tt.path, card, back, ok, tt.card, tt.back, tt.ok)
		}
	}
}
