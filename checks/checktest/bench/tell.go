package main

import (
	"fmt"
	"io"
	"slices"

	"stoneproof/rules"
)

// score is how a rule did.
type score struct {
	faults, found int
	sound, blamed int
	missed, alarm []string
}

// scores counts, for each rule, faults and how many were found, and sides that
// are sound as far as the rule goes and how many were blamed. A rule that goes
// with another's fault by its nature is not counted there.
func scores(all []judged) map[string]*score {
	table := map[string]*score{}
	for _, id := range rules.RuleIDs() {
		s := &score{}
		table[id] = s
		for _, j := range all {
			blamed := slices.Contains(j.blamed, id)
			switch {
			case j.fault == id:
				s.faults++
				if blamed {
					s.found++
				} else {
					s.missed = append(s.missed, j.name)
				}
			case j.fault != "" && goesWith(j.fault, id), j.by != nil && slices.Contains(j.by.upsets, id):
			default:
				s.sound++
				if blamed {
					s.blamed++
					s.alarm = append(s.alarm, j.name)
				}
			}
		}
	}
	return table
}

// goesWith lists rules that a fault may break as well as its own: room that ends
// ends the paint, a phone number dragged to the edge may be cut, a card in RGB
// has no inks to be black in, lines of too much ink are lines of four inks.
func goesWith(fault, rule string) bool {
	return slices.Contains(map[string][]string{
		"file-opens":           rules.RuleIDs(),
		"trim-size":            {"bleed-extent", "bleed-fill", "safe-zone", "edge-border", "marks-in-art"},
		"bleed-extent":         {"bleed-fill", "trim-size", "page-boxes", "safe-zone"},
		"bleed-fill":           {"edge-border"},
		"safe-zone":            {"bleed-fill", "text-size"},
		"side-count":           nil,
		"page-boxes":           {"bleed-extent", "bleed-fill"},
		"effective-resolution": {"true-detail"},
		"colour-space":         {"ink-total", "colour-tags"},
		"colour-tags":          {"page-boxes"},
		"ink-total":            {"rich-black"},
		"text-size":            {"rich-black"},
		"rich-black":           {"text-size"},
		"edge-border":          {"safe-zone"},
		"pair-size":            {"trim-size", "bleed-extent"},
		"marks-in-art":         {"safe-zone", "bleed-fill", "hairlines"},
	}[fault], rule)
}

func share(part, whole int) string {
	if whole == 0 {
		return "–"
	}
	return fmt.Sprintf("%.3f", float64(part)/float64(whole))
}

// tell prints the table as Markdown, then misses and false alarms.
func tell(w io.Writer, all []judged, list bool) error {
	for _, j := range all {
		if j.err != nil {
			return fmt.Errorf("%s: %w", j.name, j.err)
		}
	}
	table := scores(all)
	fmt.Fprintf(w, "%d sides\n\n| rule | faults | found | recall | precision | sound | blamed | false alarms |\n|---|---|---|---|---|---|---|---|\n", len(all))
	for _, id := range rules.RuleIDs() {
		s := table[id]
		fmt.Fprintf(w, "| `%s` | %d | %d | %s | %s | %d | %d | %s |\n", id,
			s.faults, s.found, share(s.found, s.faults), share(s.found, s.found+s.blamed), s.sound, s.blamed, share(s.blamed, s.sound))
	}
	if !list {
		return nil
	}
	for _, id := range rules.RuleIDs() {
		for _, name := range table[id].missed {
			fmt.Fprintf(w, "\nmissed by %s: %s", id, name)
		}
		for _, name := range table[id].alarm {
			fmt.Fprintf(w, "\nfalse alarm of %s: %s", id, name)
		}
	}
	fmt.Fprintln(w)
	return nil
}
