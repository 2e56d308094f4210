package report

import (
	"bytes"
	"fmt"
	"strings"

	"stoneproof/rules"
)

// skips are rules that could not be judged for one reason: they are told in one
// line, for the reason is the news and not the rules.
type skips struct {
	side   int
	reason string
	rules  []string
}

// sharedSkips gathers the skips of a file that have their reason in common with
// another rule's.
func sharedSkips(findings []rules.Finding) []skips {
	var all []skips
next:
	for _, f := range findings {
		if f.Verdict != rules.Skip {
			continue
		}
		for i := range all {
			if all[i].side == f.Side && all[i].reason == f.Message {
				all[i].rules = append(all[i].rules, f.Rule)
				continue next
			}
		}
		all = append(all, skips{f.Side, f.Message, []string{f.Rule}})
	}
	shared := all[:0]
	for _, s := range all {
		if len(s.rules) > 1 {
			shared = append(shared, s)
		}
	}
	return shared
}

func folds(all []skips, f rules.Finding) bool {
	for _, s := range all {
		if f.Verdict == rules.Skip && s.side == f.Side && s.reason == f.Message {
			return true
		}
	}
	return false
}

// skipped tells a reason and the rules that were skipped for it.
func (t teller) skipped(out *bytes.Buffer, s skips) {
	text := strings.Join(s.rules, ", ") + ": " + s.reason
	if s.side > 0 && t.several {
		text = fmt.Sprintf("side %d, ", s.side) + text
	}
	t.line(out, rules.Skip, text)
}
