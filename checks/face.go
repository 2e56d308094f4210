package checks

import (
	"slices"

	"stoneproof/checks/art/pdf"
	"stoneproof/rules"
)

// face is what the side must have in common with the other side of its card. A
// side whose content is beyond reading has a face that tells so.
func (p *Pass) face() (f *rules.Face) {
	f = &rules.Face{}
	defer func() {
		if v := recover(); v != nil {
			f = &rules.Face{Unread: "its content could not be read"}
		}
	}()
	if pictures, why := p.pictures(); why == "" && len(pictures) > 0 {
		worst := slices.MinFunc(pictures, func(a, b picture) int {
			switch {
			case p.lessSharp(a, b):
				return -1
			case p.lessSharp(b, a):
				return 1
			}
			return 0
		})
		f.PPI, f.Sharp = worst.ppi(), p.resolved(worst)
	}
	if h := p.Side.Header; h != nil {
		f.Colours = telling(familyOf(h.Space))
		f.Unread = "in a picture, text is pixels"
		return f
	}
	content, err := p.Side.Content()
	if err != nil {
		f.Unread = "its content could not be read"
		return f
	}
	var used []family
	for _, use := range content.Spaces {
		used = append(used, familyOfSpace(use.Space))
	}
	f.Colours = telling(used...)
	f.Reading, f.Unread = p.reading(content)
	return f
}

// telling lists the kinds of colour that make sides look unlike: grey and spot
// colours go with any.
func telling(used ...family) []string {
	var names []string
	for _, f := range []family{cmyk, rgb, lab} {
		if slices.Contains(used, f) {
			names = append(names, string(f))
		}
	}
	return names
}

// reading is the way most of the text on the card stands, or why that is not known.
func (p *Pass) reading(content *pdf.Content) (*rules.Reading, string) {
	var r pdf.Reading
	for i := range content.Texts {
		t := &content.Texts[i]
		if t.Seen() && (!p.Side.Placed() || !p.Side.Box(t.Box).Intersect(p.Side.Card()).Empty()) {
			r.Add(t)
		}
	}
	turned, words, ok := r.Most()
	switch {
	case ok:
		return &rules.Reading{Turned: turned, Words: shorten(words)}, ""
	case r.Enough():
		return nil, "its text runs in several directions"
	}
	return nil, "it has no text to read"
}
