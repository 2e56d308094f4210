package practice

import (
	"fmt"
	"os"
	"path/filepath"

	"stoneproof/report"
	"stoneproof/rules"
)

// Cards lists the files of a pack's folder that a worksheet asks about, in its order.
// What else lies there, such as pictures of the cards, is left alone.
func Cards(answers []Answer, dir string) ([]string, error) {
	var paths []string
	for _, a := range answers {
		path := filepath.Join(dir, a.Card+ending)
		info, err := os.Stat(path)
		if a.Card != filepath.Base(a.Card) || err != nil || !info.Mode().IsRegular() {
			return nil, fmt.Errorf("line %d: the pack has no card %q", a.Line, a.Card)
		}
		paths = append(paths, path)
	}
	return paths, nil
}

// Mark holds each answer against the judgement of its card. A card that was not
// answered is left open.
func Mark(answers []Answer, files []rules.FileReport) []report.Mark {
	var marks []report.Mark
	for i, f := range files {
		marks = append(marks, mark(f, answers[i]))
	}
	return marks
}

// mark marks one answer. Where it is wrong, what the judge measured tells why: the
// rules that fail, or, of a card that is sound, what it has to say of the rule that
// was blamed.
func mark(f rules.FileReport, a Answer) report.Mark {
	m := report.Mark{Card: a.Card, Said: a.Says}
	var blamed []rules.Finding
	for _, g := range f.Findings {
		if g.Verdict == rules.Fail {
			m.Findings = append(m.Findings, g)
			m.Right = m.Right || g.Rule == a.Says
		} else if g.Rule == a.Says {
			blamed = append(blamed, g)
		}
	}
	m.Sound = len(m.Findings) == 0
	if m.Sound {
		m.Findings = blamed
		m.Right = a.Says == Good
	}
	return m
}
