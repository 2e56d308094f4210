package checks

import (
	"fmt"
	"slices"
	"strings"

	"stoneproof/checks/art/pdf"
	"stoneproof/rules"
)

// FontsEmbedded judges that every font that shows text travels with the file.
var FontsEmbedded = &Check{
	Rule:  "fonts-embedded",
	Needs: Items,
	Side:  fontsEmbedded,
}

// typeface is a font as people know it: a page may hold it several times, under
// several subsets.
type typeface struct {
	name, kind string
	loose      bool // not in the file
	standard   bool // one of the fourteen that every reader has a stand-in for
	subset     bool // only the letters in use are in the file
	printed    bool // it sets what reaches ink
	fonts      map[*pdf.Font]bool
}

// fontsEmbedded says a side's own findings even where another side's are the same:
// each names the words that are set in the font there.
func fontsEmbedded(p *Pass) {
	if p.nothingIn("fonts") {
		return
	}
	content, ok := p.content()
	if !ok {
		return
	}
	faces := typefaces(content)
	var loose []*typeface
	for _, f := range faces {
		if f.loose && f.printed {
			loose = append(loose, f)
		}
	}
	const most = 8 // more findings would say no more
	for i, f := range loose {
		if i == most {
			p.otherFonts(loose[most:])
			break
		}
		p.looseFont(content, f)
	}
	if len(loose) == 0 {
		p.allEmbedded(faces)
	}
}

// typefaces lists the typefaces that the page shows text with, in order of first
// use.
func typefaces(content *pdf.Content) []*typeface {
	var list []*typeface
	byName, byFont := map[string]*typeface{}, map[*pdf.Font]*typeface{}
	for i := range content.Texts {
		t := &content.Texts[i]
		if t.Font == nil {
			continue
		}
		f := byFont[t.Font]
		if f == nil {
			name, subset := bareName(t.Font.Name)
			key := fmt.Sprint(name, t.Font.Subtype, t.Font.Embedded)
			if f = byName[key]; f == nil {
				f = &typeface{name: name, kind: fontKind(t.Font.Subtype), loose: !t.Font.Embedded, standard: t.Font.Standard, fonts: map[*pdf.Font]bool{}}
				byName[key], list = f, append(list, f)
			}
			byFont[t.Font], f.fonts[t.Font] = f, true
			f.subset = f.subset || subset
		}
		f.printed = f.printed || needsFont(t)
	}
	return list
}

// bareName takes the tag of a subset off a font's name: six capitals and a plus
// sign (ISO 32000-1, 9.6.4).
func bareName(name string) (bare string, subset bool) {
	const tag = 6
	if len(name) > tag && name[tag] == '+' && strings.Trim(name[:tag], "ABCDEFGHIJKLMNOPQRSTUVWXYZ") == "" {
		return name[tag+1:], true
	}
	return name, false
}

func fontKind(subtype string) string {
	switch subtype {
	case "Type1", "MMType1":
		return "Type 1 font"
	case "TrueType":
		return "TrueType font"
	}
	return "font"
}

// needsFont reports whether a run cannot be printed without its font: it is seen, or
// its letters shape what is. Invisible text (mode 3 of ISO 32000-1, Table 106), as
// it lies under a scan to be searched, needs none.
func needsFont(t *pdf.Text) bool {
	const invisible, onlyClips = 3, 7
	switch {
	case t.Clipped || t.Hidden || strings.TrimSpace(t.String) == "":
		return false
	case t.InMask || t.Mode == onlyClips:
		return t.Mode != invisible
	}
	return seenText(t)
}

func (p *Pass) looseFont(content *pdf.Content, face *typeface) {
	f := rules.Finding{Verdict: rules.Fail, Basis: rules.Read, Measured: rules.Named(face.name), Wanted: rules.Named("in the file"),
		Fix: "Export again with all fonts embedded, as settings for print or PDF/X do, or turn this text into outlines."}
	f.Message = fmt.Sprintf("The %s %q is not in the file: where it is missing, another takes its place", face.kind, shorten(face.name))
	if face.standard {
		f.Message = fmt.Sprintf("The font %q is not in the file: every program has a stand-in for it, but not every one the same", shorten(face.name))
	}
	lines := p.joined(content, func(t *pdf.Text, _ rules.Box) bool { return face.fonts[t.Font] && needsFont(t) })
	f.Where = &lines[0].box
	f.Message += fmt.Sprintf(". It sets %q", shorten(lines[0].words))
	switch n := len(lines); n {
	case 1:
		f.Message += "."
	case 2:
		f.Message += " and a line more."
	default:
		f.Message += fmt.Sprintf(" and %d lines more.", n-1)
	}
	p.Report(f)
}

func (p *Pass) otherFonts(faces []*typeface) {
	f := rules.Finding{Verdict: rules.Fail, Basis: rules.Read, Message: fmt.Sprintf("Fonts that are not in the file either: %d more.", len(faces)),
		Fix: "Export again with all fonts embedded."}
	for _, face := range faces {
		f.Also = append(f.Also, rules.Place{What: face.name})
	}
	p.Report(f)
}

func (p *Pass) allEmbedded(faces []*typeface) {
	var names, unseen []string
	for _, f := range faces {
		switch name := shorten(f.name); {
		case f.loose:
			unseen = append(unseen, fmt.Sprintf("%q", name))
		case name == "":
			names = append(names, "one drawn for this file")
		case f.subset:
			names = append(names, name+" (the letters in use)")
		default:
			names = append(names, name)
		}
	}
	f := rules.Finding{Verdict: rules.Pass, Basis: rules.Read, Message: "No type is set on this side."}
	if len(names) > 0 {
		f.Message = "Every font is in the file: " + someOf(names) + "."
	}
	if len(unseen) > 0 {
		f.Message += " Not in the file, but for text alone that is not printed: " + someOf(unseen) + "."
	}
	p.Report(f)
}

// someOf lists names, the first few of many: "a, b, c, d and 7 more".
func someOf(names []string) string {
	const most = 5
	if n := len(names); n > most {
		names = append(slices.Clone(names[:most-1]), fmt.Sprintf("%d more", n-most+1))
	}
	return listed(names)
}
