package main

import (
	"errors"
	"fmt"
	"io"
	"slices"

	"stoneproof/rules"
)

// score is how a rule did. What it skips is counted, so that a skip is no way out.
type score struct {
	faults, found, owned    int // owned: missed, and said that it could not judge
	sound, blamed, unjudged int
	missed, alarm           []string
	hard                    map[string]*score // by what makes some of its faults hard to see
}

// scores counts, for each rule, faults and how many were found, and sides that
// are sound as far as the rule goes and how many were blamed. A rule that goes
// with another's fault by its nature is not counted there.
func scores(all []judged) map[string]*score {
	table := map[string]*score{}
	for _, id := range rules.RuleIDs() {
		s := &score{hard: map[string]*score{}}
		table[id] = s
		for _, j := range all {
			s.count(id, &j)
		}
	}
	return table
}

func (s *score) count(rule string, j *judged) {
	blamed, skipped := slices.Contains(j.blamed, rule), slices.Contains(j.skipped, rule)
	switch {
	case j.absent:
	case j.fault == rule && j.hard != "":
		if s.hard[j.hard] == nil {
			s.hard[j.hard] = &score{}
		}
		s.hard[j.hard].fault(j.name, blamed, skipped)
	case j.fault == rule:
		s.fault(j.name, blamed, skipped)
	case j.speaksTo(rule):
		s.sound++
		if skipped {
			s.unjudged++
		}
		if blamed {
			s.blamed++
			s.alarm = append(s.alarm, j.name)
		}
	}
}

func (s *score) fault(name string, found, skipped bool) {
	s.faults++
	switch {
	case found:
		s.found++
		return
	case skipped:
		s.owned++
		name += " (skipped)"
	}
	s.missed = append(s.missed, name)
}

// goesWith lists rules that a fault may break as well as its own: room that ends
// ends the paint, a phone number dragged to the edge may be cut or lie on a line, a
// card in RGB has no inks to be black in, a code that was enlarged may be too soft to
// read, lines of too much ink are lines of four inks.
func goesWith(fault, rule string) bool {
	return slices.Contains(map[string][]string{
		"file-opens":   rules.RuleIDs(),
		"true-detail":  {"code-scan"},
		"trim-size":    {"bleed-extent", "bleed-fill", "safe-zone", "edge-border", "marks-in-art"},
		"bleed-extent": {"bleed-fill", "trim-size", "page-boxes", "safe-zone"},
		"bleed-fill":   {"edge-border"},
		"safe-zone":    {"bleed-fill", "text-size"},
		"side-count":   {"pair-size", "pair-turn"},
		"page-boxes":   {"bleed-extent", "bleed-fill", "edge-border", "safe-zone"}, // what is cropped is gone for some programs
		"spot-colours": {"ink-total", "rich-black", "text-size"},
		"colour-space": {"ink-total", "colour-tags"},
		"colour-tags":  {"page-boxes"},
		"ink-total":    {"rich-black"},
		"text-size":    {"rich-black"},
		"rich-black":   {"text-size"},
		"edge-border":  {"safe-zone"},
		"pair-size":    {"trim-size", "bleed-extent", "effective-resolution", "text-size", "hairlines"}, // by the scale
		"pair-turn":    {"trim-size"},
		"marks-in-art": {"safe-zone", "bleed-fill", "hairlines"},
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
	seen := 0
	var failed error
	for i := range all {
		j := &all[i]
		if j.err != nil { // such as a program that was interrupted
			failed = errors.Join(failed, fmt.Errorf("%s: %w", j.name, j.err))
			j.absent = true
		}
		if !j.absent {
			seen++
		}
	}
	table := scores(all)
	fmt.Fprintf(w, "%d sides; %d more could not be made, or show no fault in their style\n\n", seen, len(all)-seen)
	fmt.Fprint(w, "| rule | faults | found | recall | skipped | precision | sound | blamed | false alarms | skipped |\n|---|---|---|---|---|---|---|---|---|---|\n")
	for _, id := range rules.RuleIDs() {
		s := table[id]
		fmt.Fprintf(w, "| `%s` | %d | %d | %s | %d | %s | %d | %d | %s | %s |\n", id,
			s.faults, s.found, share(s.found, s.faults), s.owned, share(s.found, s.found+s.blamed),
			s.sound, s.blamed, share(s.blamed, s.sound), share(s.unjudged, s.sound))
	}
	for _, id := range rules.RuleIDs() {
		for why, s := range table[id].hard {
			fmt.Fprintf(w, "| `%s` %s | %d | %d | %s | %d | | | | | |\n", id, why, s.faults, s.found, share(s.found, s.faults), s.owned)
		}
	}
	if list {
		tellMisses(w, table)
	}
	return failed
}

func tellMisses(w io.Writer, table map[string]*score) {
	for _, id := range rules.RuleIDs() {
		s := table[id]
		missed := s.missed
		for _, h := range s.hard {
			missed = append(missed, h.missed...)
		}
		for _, name := range missed {
			fmt.Fprintf(w, "\nmissed by %s: %s", id, name)
		}
		for _, name := range s.alarm {
			fmt.Fprintf(w, "\nfalse alarm of %s: %s", id, name)
		}
	}
	fmt.Fprintln(w)
}
