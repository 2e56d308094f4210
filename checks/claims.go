package checks

import (
	"fmt"
	"strings"

	"stoneproof/checks/art"
	"stoneproof/checks/art/pdf"
	"stoneproof/rules"
)

// part is what a part of PDF/X asks of a file beside what they all ask.
type part struct {
	prefix  string // of the claim
	opaque  bool   // no transparency
	inked   bool   // CMYK, grey and spot colours alone
	profile bool   // the output intent's profile must be in the file
}

// parts of PDF/X (ISO 15930). Of X-1a and X-3 an output intent may name a registered
// printing condition in the place of its profile; X-4p keeps the profile outside.
// Parts 1, 7 by their abstracts; part 3, and what the intents need, from memory.
func parts() []part {
	return []part{
		{prefix: "PDF/X-1", opaque: true, inked: true},
		{prefix: "PDF/X-3", opaque: true},
		{prefix: "PDF/X-4p"},
		{prefix: "PDF/X-4", profile: true},
		{prefix: "PDF/X-"},
	}
}

// claimsKept warns where the file says that it keeps a part of PDF/X and plainly
// does not, once: where it claims two parts, the first counts.
func claimsKept(p *Pass) {
	claim, part, claims := claimed(p.Art.PDF)
	if !claims {
		return
	}
	broken := p.broken(part)
	if len(broken) == 0 {
		return
	}
	p.Report(rules.Finding{
		Verdict: rules.Warn, Basis: rules.Read, Measured: rules.Named(claim),
		Message: fmt.Sprintf("The file says it is %s, but %s.", shorten(claim), someOf(broken)),
		Fix:     "Export it again with that standard chosen, and change nothing afterwards; or export it without the claim, and mend what other rules tell of.",
	})
}

func claimed(doc *pdf.Document) (claim string, part part, is bool) {
	if doc == nil {
		return "", part, false
	}
	for _, claim := range doc.Claims {
		for _, part := range parts() {
			if strings.HasPrefix(claim, part.prefix) {
				return claim, part, true
			}
		}
	}
	return "", part, false
}

// broken lists what a file lacks of a part: plain requirements alone. The standard
// asks for more.
func (p *Pass) broken(part part) []string {
	var list []string
	add := func(is bool, what string) {
		if is {
			list = append(list, what)
		}
	}
	var seen evidence
	for _, s := range p.Art.Sides {
		seen.look(s)
		s.Release()
	}
	add(p.Art.PDF.Encrypted, "it is encrypted")
	add(seen.noTrim, "a page has neither TrimBox nor ArtBox")
	add(seen.bothBoxes, "a page has both a TrimBox and an ArtBox")
	add(seen.notNested, "a TrimBox or ArtBox reaches past another box")
	add(seen.loose != "", fmt.Sprintf("the font %q is not in it", shorten(seen.loose)))
	switch intent, there := pressIntent(p.Art.PDF); {
	case !there:
		add(true, "it has no output intent for PDF/X")
	case part.profile:
		add(!intent.HasProfile, "the profile of its output intent is missing")
	default:
		add(!intent.HasProfile && intent.Identifier == "", "its output intent names no printing condition")
	}
	add(part.opaque && seen.transparent, "it holds transparency")
	add(part.inked && seen.light, "it holds RGB or Lab colours")
	return list
}

func pressIntent(doc *pdf.Document) (pdf.Intent, bool) {
	for _, i := range doc.Intents {
		if i.Subtype == "GTS_PDFX" {
			return i, true
		}
	}
	return pdf.Intent{}, false
}

// evidence is what speaks against a claim on any of the sides.
type evidence struct {
	noTrim, bothBoxes, notNested bool
	loose                        string // a font that is not in the file
	transparent, light           bool
}

// look goes over one side. Each page has a TrimBox or an ArtBox, not both, and
// neither goes past the BleedBox or the CropBox where there is one (CGATS
// application notes for PDF/X v3, 2.9).
func (e *evidence) look(s *art.Side) {
	page := s.Page
	trim := page.Trim
	if trim == nil {
		trim = page.Art
	}
	e.noTrim = e.noTrim || trim == nil
	e.bothBoxes = e.bothBoxes || page.Trim != nil && page.Art != nil
	for _, outer := range []*pdf.Rect{&page.Media, page.Crop, page.Bleed} {
		e.notNested = e.notNested || trim != nil && outer != nil && !contains(*outer, *trim)
	}
	content, err := s.Content()
	if err != nil {
		return // told by the other rules
	}
	for _, face := range typefaces(content) {
		if e.loose == "" && face.loose && face.printed {
			e.loose = face.name
		}
	}
	for it := range items(content) {
		e.transparent = e.transparent || it.FillAlpha < 1 || it.StrokeAlpha < 1 || it.SoftMask || it.Blend != "Normal"
	}
	for i := range content.Images {
		e.transparent = e.transparent || content.Images[i].Mask == pdf.SoftMask
	}
	for _, use := range content.Spaces {
		kind := familyOfSpace(use.Space)
		e.light = e.light || kind == rgb || kind == lab
	}
}
