package sheet

import (
	"slices"

	"stoneproof/rules"
)

// Cut is one laying of the rule.
type Cut struct {
	Upright  bool         // from top to bottom; else from left to right
	At       rules.Length // from the left edge of the sheet, or from the top
	From, To rules.Length // where the knife goes in and out: at the ends of the outermost bleeds
	Shared   bool         // cards on both sides of it
}

// cuts lists the cuts: all that run from top to bottom, from the left, then all that
// run from left to right, from the top. Each begins and ends where the marks do, so
// that the sheet stays one piece and every mark stays in its place to the last cut.
func (p *Plan) cuts() []Cut {
	across := lines(p.Columns, p.Start.W, p.card(p.Turned).W, p.Gaps.W)
	down := lines(p.Rows, p.Start.H, p.card(p.Turned).H, p.Gaps.H)
	left, right := across[0]-p.Bleed, across[len(across)-1]+p.Bleed
	top, bottom := down[0]-p.Bleed, down[len(down)-1]+p.Bleed
	var cuts []Cut
	for i, at := range across {
		cuts = append(cuts, Cut{Upright: true, At: at, From: top, To: bottom, Shared: p.shared(p.Gaps.W, i, len(across))})
	}
	for i, at := range down {
		cuts = append(cuts, Cut{At: at, From: left, To: right, Shared: p.shared(p.Gaps.H, i, len(down))})
	}
	return cuts
}

func (p *Plan) shared(gap rules.Length, i, n int) bool { return gap == 0 && i > 0 && i < n-1 }

// lines are the trims of n cards in a line, those that coincide once.
func lines(n int, start, card, gap rules.Length) []rules.Length {
	var at []rules.Length
	for i := range rules.Length(n) {
		first := start + i*(card+gap)
		at = append(at, first, first+card)
	}
	return slices.Compact(at)
}

// Mark is a line along a cut, from its first to its last point.
type Mark struct {
	Upright  bool
	At       rules.Length // from the left, or from the top
	From, To rules.Length // From < To
}

// marks stand at both ends of each cut, outside the bleed.
func (p *Plan) marks() []Mark {
	var marks []Mark
	for _, c := range p.Cuts {
		far := p.Sheet.W
		if c.Upright {
			far = p.Sheet.H
		}
		near, end := c.From-MarkClear, c.To+MarkClear
		marks = append(marks,
			Mark{c.Upright, c.At, max(p.Margin, near-MarkLength), near},
			Mark{c.Upright, c.At, end, min(far-p.Margin, end+MarkLength)})
	}
	return marks
}

// markBehind is a mark of the front as the back shows it, cut to what the printer
// reaches; a shift may leave nothing of it.
func (p *Plan) markBehind(m Mark) (Mark, bool) {
	// The weight plays no part: a line is a box of no width.
	b := rules.Box{X: m.From, Y: m.At, W: m.To - m.From}
	if m.Upright {
		b = rules.Box{X: m.At, Y: m.From, H: m.To - m.From}
	}
	b = p.mirror(b)
	if m.Upright {
		m.At, m.From, m.To = b.X, max(b.Y, p.Margin), min(b.Bottom(), p.Sheet.H-p.Margin)
	} else {
		m.At, m.From, m.To = b.Y, max(b.X, p.Margin), min(b.Right(), p.Sheet.W-p.Margin)
	}
	return m, m.To > m.From
}
