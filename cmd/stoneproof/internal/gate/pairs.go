package gate

import "stoneproof/rules"

// half tells whether a file is a front or a back by its name, and where the other is.
type half struct {
	is, back bool
	other    *look // nil where it has not come
}

// halves finds the fronts and backs among a folder's files. Where two files have a
// claim to one place, none gets it.
func (g *Gate) halves(files []*look, t rules.Ticket) map[*look]half {
	type sides [2][]*look
	cards := map[string]*sides{}
	for _, l := range files {
		if card, back, ok := t.PairOf(l.rel); ok {
			s := cards[card]
			if s == nil {
				s = &sides{}
				cards[card] = s
			}
			k := 0
			if back {
				k = 1
			}
			s[k] = append(s[k], l)
		}
	}
	found := map[*look]half{}
	for _, s := range cards {
		if len(s[0]) > 1 || len(s[1]) > 1 {
			continue
		}
		for k := range s {
			if len(s[k]) == 0 {
				continue
			}
			h := half{is: true, back: k == 1}
			if other := s[1-k]; len(other) == 1 {
				h.other = other[0]
			}
			found[s[k][0]] = h
		}
	}
	return found
}
