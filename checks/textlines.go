package checks

import (
	"strings"

	"stoneproof/checks/art"
	"stoneproof/checks/art/pdf"
	"stoneproof/rules"
)

// textLine is a line of text as a reader sees it: the runs of a page that stand
// side by side.
type textLine struct {
	words    string
	runs     []*pdf.Text
	box      rules.Box
	last     rules.Box // of the run added last
	edge     rules.Edge
	distance rules.Length // from its ink to the trim
}

// textLines are the lines of text that a reader sees on the card, less what is
// plainly meant to run off it. A raster has none.
func (p *Pass) textLines(paint *art.Paint) []textLine {
	if p.Side.Page == nil {
		return nil
	}
	content, err := p.Side.Content()
	if err != nil {
		return nil
	}
	lines := p.joined(content, func(t *pdf.Text, box rules.Box) bool {
		return seenText(t) && !box.Intersect(p.Side.Card()).Empty() && visible(paint, box)
	})
	kept := lines[:0]
	for _, l := range lines {
		if !p.runsOff(l.box) {
			l.edge, l.distance = nearest(l.box, p.Side.Card())
			kept = append(kept, l)
		}
	}
	return kept
}

// joined are the runs of a page to keep, put together as the lines that a reader
// sees.
func (p *Pass) joined(content *pdf.Content, keep func(t *pdf.Text, box rules.Box) bool) []textLine {
	var lines []textLine
	for i := range content.Texts {
		t := &content.Texts[i]
		box := p.Side.Box(t.Box)
		if !keep(t, box) {
			continue
		}
		if n := len(lines); n > 0 && lines[n-1].goesOn(box) {
			lines[n-1].add(t, box)
			continue
		}
		lines = append(lines, lineOf(t, box))
	}
	return lines
}

func lineOf(t *pdf.Text, box rules.Box) textLine {
	return textLine{words: strings.TrimSpace(t.String), runs: []*pdf.Text{t}, box: box, last: box}
}

// seenText reports whether a run leaves ink: not blank, not clear as glass. Of
// the modes that paint (ISO 32000-1, Table 106) the even ones fill.
func seenText(t *pdf.Text) bool {
	if !t.Seen() || strings.TrimSpace(t.String) == "" {
		return false
	}
	filled := t.Mode%2 == 0
	return filled && t.FillAlpha > 0 || !filled && t.StrokeAlpha > 0
}

// goesOn reports whether a run at box continues the line: beside its last run,
// on the same height, no further than a wide space.
func (l *textLine) goesOn(box rules.Box) bool {
	top, bottom := max(l.last.Y, box.Y), min(l.last.Bottom(), box.Bottom())
	gap := box.X - l.last.Right()
	h := max(l.last.H, box.H)
	return 2*(bottom-top) > min(l.last.H, box.H) && gap > -h && gap < h
}

func (l *textLine) add(t *pdf.Text, box rules.Box) {
	if gap := box.X - l.last.Right(); gap > box.H/6 && !strings.HasSuffix(l.words, " ") {
		l.words += " "
	}
	l.words = strings.TrimSpace(l.words + t.String)
	l.runs = append(l.runs, t)
	l.box, l.last = l.box.Union(box), box
}

// runsOff reports whether a line is set so large that it is a picture, and runs
// out to the bleed: letters higher than a third of the card are art.
func (p *Pass) runsOff(b rules.Box) bool {
	_, past := nearest(b, p.Side.Card())
	large := 3*min(b.W, b.H) > min(p.Side.Trim.W, p.Side.Trim.H)
	return large && past <= -p.Ticket.Bleed+p.Ticket.Limits.BleedSlack
}

// visible reports whether the paint inside a box, on white paper, is anything but
// one flat colour: text that was painted over, or in the colour of its ground, is
// not seen, and the knife can do it no harm.
func visible(paint *art.Paint, b rules.Box) bool {
	x0, y0, x1, y1 := paint.Bounds(b)
	const flat = 6 // levels of 255: less is not seen
	var low, high [3]int
	first := true
	for y := y0; y < y1; y++ {
		for i := (y*paint.W + x0) * 4; i < (y*paint.W+x1)*4; i += 4 {
			px := paint.Pix[i : i+4]
			for c := range 3 {
				v := 255 - (255-int(px[c]))*int(px[3])/255
				if first || v < low[c] {
					low[c] = v
				}
				if first || v > high[c] {
					high[c] = v
				}
				if high[c]-low[c] > flat {
					return true
				}
			}
			first = false
		}
	}
	return false
}

// coveredByText reports whether most of a mark found in pixels is text that has
// been judged already.
func coveredByText(b rules.Box, lines []textLine) bool {
	var covered int64
	for _, l := range lines {
		c := b.Intersect(l.box.Inset(-rules.MM(0.3)))
		covered += int64(c.W) * int64(c.H)
	}
	return 2*covered > int64(b.W)*int64(b.H)
}
