package practice

import (
	"fmt"
	"strings"

	"stoneproof/rules"
)

// lessons tell how to look at the cards of a level.
var lessons = [levels]string{
	byEye: `Open each card and look. Where is the trim, how far does paint go beyond it, what
lies near it? How many sides are there, and do they lie the same way up?`,
	byRuler: `Now measure: zoom in, and lay your editor's ruler or its size panel on the card,
on type, on lines and on pictures.`,
	byInside: `These look right on the screen. Ask your editor what the file is made of: its
colours and inks, its fonts, its layers, its page boxes.`,
}

// sheet is the worksheet that a learner fills in.
func (p Pack) sheet() string {
	var b strings.Builder
	remark := func(format string, args ...any) {
		for line := range strings.Lines(fmt.Sprintf(format, args...)) {
			fmt.Fprintf(&b, "%s\n", strings.TrimSpace("# "+line))
		}
	}
	t := p.Ticket
	remark("Practice pack %d: cards of the makers of Wendlebury Cross, a market town that\nis not on any map.", p.Seed)
	remark("\nWhat was ordered, for every card: %s, %s; bleed %s on each\nedge, safe margin %s; %s. It stands in %s, too.",
		t.Size, t.Trim.In(t.Unit), t.Bleed.In(t.Unit), t.Safe.In(t.Unit), t.Process, ticketName)
	remark("\nSome cards are sound, and some of those look as if they were not. Each of the\nothers breaks one rule, and one alone. Write behind the = which rule it is, or\n%s. Leave out what you do not know. Then\n\n    stoneproof primer --mark FOLDER\n\ntells what is right, and shows what you missed in the card's own numbers.", Good)
	for i, c := range p.Cards {
		if i%perLevel == 0 {
			b.WriteByte('\n')
			remark("%s", lessons[i/perLevel])
			b.WriteByte('\n')
		}
		fmt.Fprintf(&b, "%s =\n", strings.TrimSuffix(c.Name, ending))
	}
	b.WriteByte('\n')
	remark("The rules. stoneproof explain RULE tells more of each.\n\n")
	for _, r := range rules.Catalogue() {
		remark("    %-20s  %s", r.ID, r.Title)
	}
	return b.String()
}

// ticket is the pack's ticket as a file.
func (p Pack) ticket() string {
	return fmt.Sprintf("# What was ordered for every card of this practice pack.\nsize = %q\nprocess = %q\n", p.Ticket.Size, p.Ticket.Process)
}
