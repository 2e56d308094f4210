package checks

import (
	"fmt"
	"strings"

	"stoneproof/checks/art/pdf"
	"stoneproof/checks/art/raster"
	"stoneproof/rules"
)

// ColourSpace judges the colour spaces used against what the process takes.
var ColourSpace = &Check{
	Rule:  "colour-space",
	Needs: Items,
	Side:  colourSpace,
}

// family is a colour space as the press sees it.
type family string

const (
	grey  family = "grey"
	rgb   family = "RGB"
	cmyk  family = "CMYK"
	lab   family = "Lab"
	spots family = "spot"
)

func colourSpace(p *Pass) {
	if h := p.Side.Header; h != nil {
		p.judgeFamily(familyOf(h.Space), nil, "the picture")
		return
	}
	content, ok := p.content()
	if !ok {
		return
	}
	seen := map[family]bool{}
	var harmless []string
	reported := false
	for _, use := range content.Spaces {
		f := familyOfSpace(use.Space)
		if seen[f] {
			continue
		}
		seen[f] = true
		if f == rgb || f == lab {
			where := p.Side.Box(use.First)
			p.judgeFamily(f, &where, usedFor(content, f))
			reported = true
			continue
		}
		harmless = append(harmless, string(f))
	}
	if reported {
		return
	}
	f := rules.Finding{Verdict: rules.Pass, Basis: rules.Read, Message: "The page paints nothing."}
	if len(harmless) > 0 {
		f.Measured = rules.Named(strings.Join(harmless, ", "))
		f.Message = "The page is painted in " + strings.Join(harmless, " and ") + "."
	}
	p.Report(f)
}

// judgeFamily reports what the process makes of one kind of colour.
func (p *Pass) judgeFamily(f family, where *rules.Box, what string) {
	finding := rules.Finding{
		Verdict: rules.Pass, Basis: rules.Read, Where: where, Measured: rules.Named(string(f)),
		Message: fmt.Sprintf("%s is used for %s.", f, what),
	}
	if f == rgb || f == lab {
		finding.Verdict = p.Ticket.Limits.RGB
	}
	if finding.Verdict != rules.Pass {
		finding.Wanted = rules.Named("CMYK, grey")
		finding.Message = fmt.Sprintf("%s is used for %s; the %s process prints in CMYK, and bright colours will turn duller.", f, what, p.Ticket.Process)
		finding.Fix = "Convert the artwork to CMYK with the profile that your print shop names, look at it again, and export it so."
	}
	p.Report(finding)
}

func familyOf(s raster.Space) family {
	switch s {
	case raster.RGB:
		return rgb
	case raster.CMYK:
		return cmyk
	case raster.Lab:
		return lab
	}
	return grey
}

// familyOfSpace tells what a page's colour space comes down to: a default space
// stands in the place of its device space, an index is what it points into. An
// ICC profile is told by its number of components (ISO 32000-1, 8.6.5.5).
func familyOfSpace(s *pdf.Space) family {
	for s != nil {
		switch s.Family {
		case pdf.Separation, pdf.DeviceN:
			return inkFamily(s)
		case pdf.Lab:
			return lab
		case pdf.Indexed, pdf.PatternCS:
			s = s.Base
			continue
		}
		break
	}
	if s == nil {
		return grey
	}
	switch s.N {
	case 3:
		return rgb
	case 4:
		return cmyk
	}
	return grey
}

// inkFamily tells process inks called by name from spot colours.
func inkFamily(s *pdf.Space) family {
	for _, name := range s.Names {
		switch name {
		case "Cyan", "Magenta", "Yellow", "Black", "None", "All":
		default:
			return spots
		}
	}
	return cmyk
}

// usedFor tells what a kind of colour is used for on the page: "text, pictures".
func usedFor(content *pdf.Content, f family) string {
	var kinds pdf.UseKind
	for _, use := range content.Spaces {
		if familyOfSpace(use.Space) == f {
			kinds |= use.Kinds
		}
	}
	return kindWords(kinds)
}

// kindWords names kinds of paint: "text, line art and a picture".
func kindWords(kinds pdf.UseKind) string {
	var words []string
	for _, k := range []struct {
		kind pdf.UseKind
		word string
	}{{pdf.UseText, "text"}, {pdf.UsePath, "line art"}, {pdf.UseImage, "a picture"}, {pdf.UseShading, "a gradient"}} {
		if kinds&k.kind != 0 {
			words = append(words, k.word)
		}
	}
	if len(words) == 0 {
		return "the page"
	}
	return listed(words)
}

// listed joins words as people do: "a, b and c".
func listed(words []string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return strings.Join(words, "")
}

func upperFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
