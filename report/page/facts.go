package page

import (
	"fmt"
	"strings"

	"stoneproof/report"
	"stoneproof/rules"
)

// facts tell what the file is: enough to know it again, and where its trim was
// found.
func (t *teller) facts(f rules.FileReport) []fact {
	facts := []fact{{"Name", report.Bounded(f.Path)}, {"Kind", report.Kind(f.Kind)}}
	for _, s := range f.Sides {
		facts = append(facts, fact{fmt.Sprintf("Side %d", s.Number), report.SideInWords(s, t.unit) + known(s.Basis)})
	}
	if f.SHA256 != "" {
		facts = append(facts, fact{"SHA-256", report.Visible(f.SHA256)})
	}
	return facts
}

// known tells how sure we are of a side's trim.
func known(b rules.Basis) string {
	switch b {
	case rules.Read:
		return " (read in the file)"
	case rules.Measured:
		return " (measured)"
	case rules.Inferred:
		return " (inferred: the file does not say)"
	}
	return ""
}

// ticketFacts tell what the job asked.
func ticketFacts(t rules.Ticket) []fact {
	facts := []fact{
		{"Card", cardName(t)},
		{"Trim", t.Trim.In(t.Unit)},
		{"Bleed", t.Bleed.In(t.Unit) + " on each edge"},
		{"Safe margin", t.Safe.In(t.Unit) + " on each edge"},
		{"Process", rules.ProcessTitle(t.Process) + " (" + t.Process + ")"},
		{"Sides", t.SidesInWords()},
	}
	if t.Orientation == rules.Landscape || t.Orientation == rules.Portrait {
		facts = append(facts, fact{"Orientation", string(t.Orientation)})
	}
	if len(t.Spots) > 0 {
		var names []string
		for _, s := range t.Spots {
			names = append(names, report.Bounded(s))
		}
		facts = append(facts, fact{"Spot inks", strings.Join(names, ", ")})
	}
	return append(facts, fact{"Turned over", "its " + t.TurnOver.Hinge()})
}

// cardName is the named size with its title and source.
func cardName(t rules.Ticket) string {
	named, err := rules.SizeNamed(t.Size)
	if err != nil {
		return "a size of its own"
	}
	return fmt.Sprintf("%s: %s (%s)", named.Name, named.Title, named.Source)
}
