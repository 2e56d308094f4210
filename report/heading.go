package report

import (
	"bytes"
	"fmt"
	"strings"

	"stoneproof/rules"
)

// heading writes a file's verdict and name, and below it what it is.
func (t teller) heading(out *bytes.Buffer, f rules.FileReport) {
	verdict := f.Verdict
	if t.strict && verdict == rules.Warn {
		verdict = rules.Fail
	}
	name := shorten(f.Path, t.width-textIndent)
	fmt.Fprintf(out, "%s  %s\n", t.ink.mark(verdict), t.ink.paint(name, bold))
	for _, line := range t.facts(f) {
		for _, part := range wrap(line, t.width-textIndent) {
			fmt.Fprintf(out, "%*s%s\n", textIndent, "", t.ink.paint(part, faint))
		}
	}
}

// mostSides bounds how many lines tell the sides of one file.
const mostSides = 4

// facts tells what the file is and what its sides are, sides alike together.
func (t teller) facts(f rules.FileReport) []string {
	groups := t.alike(f.Sides)
	if len(groups) == 0 {
		return []string{kind(f.Kind)}
	}
	if len(groups) == 1 {
		return []string{fmt.Sprintf("%s, %s: %s", kind(f.Kind), count(len(f.Sides), "side", "sides"), groups[0].text)}
	}
	lines := []string{fmt.Sprintf("%s, %s", kind(f.Kind), count(len(f.Sides), "side", "sides"))}
	for _, g := range groups[:min(mostSides, len(groups))] {
		lines = append(lines, g.name()+": "+g.text)
	}
	if len(groups) > mostSides {
		lines = append(lines, fmt.Sprintf("and more from side %d on", groups[mostSides].first))
	}
	return lines
}

// group is a run of sides that are told in the same words.
type group struct {
	first, last int
	text        string
}

func (g group) name() string {
	if g.first == g.last {
		return fmt.Sprintf("side %d", g.first)
	}
	if g.last == g.first+1 {
		return fmt.Sprintf("sides %d and %d", g.first, g.last)
	}
	return fmt.Sprintf("sides %d to %d", g.first, g.last)
}

func (t teller) alike(sides []rules.SideFacts) []group {
	var groups []group
	for _, s := range sides {
		text := t.side(s)
		if n := len(groups); n > 0 && groups[n-1].text == text {
			groups[n-1].last = s.Number
			continue
		}
		groups = append(groups, group{s.Number, s.Number, text})
	}
	return groups
}

// side tells a side's trim and bleed: "88.9 × 50.8 mm, bleed 3.18 mm all round".
func (t teller) side(s rules.SideFacts) string {
	if s.Trim == (rules.Size{}) {
		return "the trim could not be placed"
	}
	text := s.Trim.In(t.unit)
	if s.Placing != "" {
		text += " " + visible(s.Placing)
	}
	return text + ", " + t.bleed(s.Bleed)
}

// bleed tells the room beyond the trim, edges alike together: "bleed 3 mm at
// top, right and bottom, none at left".
func (t teller) bleed(e rules.Edges) string {
	var lengths []string
	edges := map[string][]string{}
	for _, edge := range rules.AllEdges {
		l := e.Of(edge).About(t.unit).In(t.unit)
		if edges[l] == nil {
			lengths = append(lengths, l)
		}
		edges[l] = append(edges[l], string(edge))
	}
	none := rules.Length(0).In(t.unit)
	if len(lengths) == 1 && lengths[0] == none {
		return "no bleed"
	}
	var parts []string
	for _, l := range lengths {
		at := " at " + listed(edges[l])
		if len(lengths) == 1 {
			at = " all round"
		}
		if l == none {
			l = "none"
		}
		parts = append(parts, l+at)
	}
	return "bleed " + strings.Join(parts, ", ")
}

// listed writes words as a list in a sentence: "top, right and bottom".
func listed(words []string) string {
	last := len(words) - 1
	if last == 0 {
		return words[0]
	}
	return strings.Join(words[:last], ", ") + " and " + words[last]
}

// kind names a kind of file as people write it.
func kind(k string) string {
	switch k {
	case "", "unknown":
		return "Unknown kind of file"
	case "webp":
		return "WebP"
	}
	return visible(strings.ToUpper(k))
}
