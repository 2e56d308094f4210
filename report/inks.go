package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"stoneproof/rules"
)

// InkSide is what a side's plates hold.
type InkSide struct {
	Number      int
	Coverage    []Coverage
	SumMax      float64    // largest sum of inks over a small square, in per cent of one solid
	SumAt       *rules.Box // that square, in trim coordinates; nil where nothing is painted
	Approximate []string   // what could not be separated faithfully, in plain words
	Spaces      []string   // colour spaces in use
	Fonts       []string   // fonts in use
	Size        string     // what area the coverage is of: "the whole page, 95.25 × 57.15 mm"
}

// Coverage is the mean ink of one plate over the whole side, in per cent.
type Coverage struct {
	Ink     string
	Percent float64
}

// InksJSON writes the plates of a file's sides for programs.
func InksJSON(w io.Writer, sides []InkSide) error {
	type side struct {
		Page        int                `json:"page"`
		Coverage    map[string]float64 `json:"coverage_pct"`
		SumMax      float64            `json:"sum_max_pct"`
		SumAt       *[2]float64        `json:"sum_max_at_mm"`
		Approximate []string           `json:"approximate"`
	}
	list := make([]side, len(sides))
	for i, s := range sides {
		list[i] = side{Page: s.Number, Coverage: map[string]float64{}, SumMax: rounded(s.SumMax, 1), Approximate: s.Approximate}
		if s.Approximate == nil {
			list[i].Approximate = []string{}
		}
		for _, c := range s.Coverage {
			list[i].Coverage[c.Ink] = rounded(c.Percent, 2)
		}
		if b := s.SumAt; b != nil {
			list[i].SumAt = &[2]float64{(b.X + b.W/2).MM(), (b.Y + b.H/2).MM()}
		}
	}
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(map[string]any{"sides": list})
}

func rounded(v float64, digits int) float64 {
	var out float64
	fmt.Sscanf(fmt.Sprintf("%.*f", digits, v), "%g", &out)
	return out
}

// Inks writes the plates of a file's sides for a person.
func Inks(w io.Writer, path string, sides []InkSide, unit rules.Unit) error {
	var out bytes.Buffer
	fmt.Fprintln(&out, visible(path))
	for _, s := range sides {
		s.write(&out, unit)
	}
	_, err := w.Write(out.Bytes())
	return err
}

// fullBar is how many cells a plate that is solid all over takes.
const fullBar = 24

func (s InkSide) write(out *bytes.Buffer, unit rules.Unit) {
	fmt.Fprintf(out, "\nSide %d: mean ink over %s\n\n", s.Number, s.Size)
	width := 0
	for _, c := range s.Coverage {
		width = max(width, cells(visible(c.Ink)))
	}
	for _, c := range s.Coverage {
		name := visible(c.Ink)
		bar := strings.Repeat("█", int(c.Percent/100*fullBar+0.5))
		line := fmt.Sprintf("  %s%s  %6.2f %%  %s", name, strings.Repeat(" ", width-cells(name)), c.Percent, bar)
		fmt.Fprintln(out, strings.TrimRight(line, " "))
	}
	out.WriteByte('\n')
	if b := s.SumAt; b != nil {
		s.say(out, fmt.Sprintf("Most ink in one place: %.0f %%, %s of the top left corner of the trim and %s it.",
			s.SumMax, aside(b.X+b.W/2, "right", "left", unit), aside(b.Y+b.H/2, "below", "above", unit)))
	} else {
		s.say(out, "No ink anywhere.")
	}
	for _, why := range s.Approximate {
		s.say(out, "Estimated in part: "+why+".")
	}
	if len(s.Spaces) > 0 {
		s.say(out, "Colours: "+strings.Join(s.Spaces, "; ")+".")
	}
	if len(s.Fonts) > 0 {
		s.say(out, "Fonts: "+strings.Join(s.Fonts, "; ")+".")
	}
}

// aside tells a distance by the side on which it lies: bleed lies left of the trim,
// or above it.
func aside(l rules.Length, after, before string, unit rules.Unit) string {
	if l < 0 {
		l, after = -l, before
	}
	return l.About(unit).In(unit) + " " + after
}

func (s InkSide) say(out *bytes.Buffer, text string) {
	for _, line := range wrap(visible(text), usualWidth-rowIndent) {
		fmt.Fprintf(out, "%*s%s\n", rowIndent, "", line)
	}
}
