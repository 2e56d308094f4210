package checks

import (
	"fmt"
	"slices"
	"strings"

	"stoneproof/rules"
)

// inPixels reports whether a side's things are all pixels: a picture, or a page that
// is nothing else. Of any other page drawing instructions tell what pixels hide.
func (p *Pass) inPixels() bool {
	if p.Side.Page == nil {
		return true
	}
	content, err := p.Side.Content()
	if err != nil || len(content.Images) == 0 || len(content.Shadings) > 0 {
		return false
	}
	for i := range content.Texts {
		if content.Texts[i].Seen() {
			return false
		}
	}
	for i := range content.Paths {
		if content.Paths[i].Seen() {
			return false
		}
	}
	return true
}

// lost skips a rule along the edges where its trials were lost in the art, but for those
// of which it has told. What is what it looks for, drawn tells what was done on trial.
func (p *Pass) lost(blind []rules.Edge, what, drawn string) {
	told := p.found()
	blind = slices.DeleteFunc(blind, func(e rules.Edge) bool {
		return slices.ContainsFunc(told, func(f rules.Finding) bool { return f.Side == p.Side.Number && f.Edge == e })
	})
	if len(blind) == 0 {
		return
	}
	names := make([]string, len(blind))
	for i, e := range blind {
		names[i] = string(e)
	}
	f := rules.Finding{Verdict: rules.Skip,
		Message: fmt.Sprintf("Along the %s the art is too busy for pixels to show %s: %s there on trial.", edges(names), what, drawn),
		Fix:     "Look there yourself, or check the PDF that the picture came from: its type and lines are known for what they are."}
	if len(blind) == 1 {
		f.Edge = blind[0]
	}
	if len(blind) == len(rules.AllEdges) {
		f.Message = strings.Replace(f.Message, "Along the "+edges(names), "All round the card", 1)
	}
	p.Report(f)
}
