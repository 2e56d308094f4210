package checks

import (
	"fmt"
	"strings"

	"stoneproof/checks/art/icc"
	"stoneproof/checks/art/pdf"
	"stoneproof/checks/art/raster"
	"stoneproof/rules"
)

// ColourTags judges that profiles are there, readable, of the right class and
// space, and not contradicted by what they tag.
var ColourTags = &Check{
	Rule:  "colour-tags",
	Needs: Items,
	Side:  colourTags,
}

// tags gathers what is known of a side's colour tags: faults are reported as
// they are met, what is right is told in one line.
type tags struct {
	*Pass
	right []string
	bad   bool
}

func colourTags(p *Pass) {
	t := tags{Pass: p}
	if p.Side.Header != nil {
		t.picture(p.Side.Header)
	} else if content, ok := p.content(); ok {
		t.page(content)
	} else {
		return
	}
	if t.bad {
		return
	}
	message := "Nothing here needs a colour tag."
	if len(t.right) > 0 {
		message = sentence(upperFirst(strings.Join(t.right, "; ")))
	}
	p.Report(rules.Finding{Verdict: rules.Pass, Basis: rules.Read, Message: message})
}

// broken reports a tag that contradicts its image, or cannot be read.
func (t *tags) broken(message, fix string) {
	t.tell(t.Ticket.Limits.TagBroken, message, fix)
}

func (t *tags) tell(v rules.Verdict, message, fix string) {
	if v == rules.Pass {
		t.right = append(t.right, strings.TrimSuffix(lowerKeep(message), "."))
		return
	}
	t.bad = true
	t.Report(rules.Finding{Verdict: v, Basis: rules.Read, Message: message, Fix: fix})
}

const embedAgain = "Export again and let the program embed the profile of the document's own colour space."

func (t *tags) picture(h *raster.Header) {
	f := familyOf(h.Space)
	for _, c := range h.Contradictions {
		t.broken("The file contradicts itself about its colours: "+sentence(c), embedAgain)
	}
	switch {
	case h.ProfileTrouble != "":
		t.broken("The colour profile cannot be read: "+sentence(h.ProfileTrouble), embedAgain)
	case len(h.Profile) > 0:
		t.profile("the picture", f, h.Profile)
	case f == rgb:
		t.untaggedRGB("the RGB picture", toldWithoutProfile(t.Art.Raster.Format, h))
	case f == cmyk:
		t.untaggedCMYK("the CMYK picture")
	default:
		t.right = append(t.right, fmt.Sprintf("the picture is %s, which needs no profile", f))
	}
}

// toldWithoutProfile tells by what a picture without a profile says what its
// colours are, "" if by nothing.
func toldWithoutProfile(format raster.Format, h *raster.Header) string {
	gamma, primaries := false, false
	for _, c := range h.Claims {
		switch c.Kind {
		case raster.ClaimSRGB:
			return "sRGB by " + c.Source
		case raster.ClaimCodePoints:
			return "defined by " + c.Source
		case raster.ClaimGamma:
			gamma = true
		case raster.ClaimPrimaries:
			primaries = true
		}
	}
	switch {
	case gamma && primaries:
		return "defined by its gamma and primaries"
	case format == raster.WebP:
		return "sRGB: in WebP no profile means that"
	}
	return ""
}

func (t *tags) untaggedRGB(what, claim string) {
	if claim != "" {
		t.right = append(t.right, what+" is "+claim)
		return
	}
	t.tell(t.Ticket.Limits.RGBUntagged,
		fmt.Sprintf("%s has no profile, so its colours are anybody's guess.", upperFirst(what)),
		"Export again with the profile embedded; for most RGB artwork that is sRGB.")
}

func (t *tags) untaggedCMYK(what string) {
	t.tell(t.Ticket.Limits.CMYKUntagged,
		fmt.Sprintf("%s has no profile: its inks print as they stand.", upperFirst(what)),
		"Export again with the profile of your printer and paper embedded.")
}

// profile judges a profile from its bytes against what it tags.
func (t *tags) profile(what string, f family, bytes []byte) {
	pr, err := icc.Parse(bytes)
	if err != nil {
		t.broken(fmt.Sprintf("The colour profile of %s cannot be read: %s", what, sentence(err.Error())), embedAgain)
		return
	}
	name := profileName(pr)
	switch {
	case !describesColours(pr.Class):
		t.broken(fmt.Sprintf("The profile of %s (%s) is of the class %q, which describes no picture's colours.", what, name, pr.Class.String()), embedAgain)
	case !t.fits(pr.Space, f):
		t.broken(fmt.Sprintf("The profile of %s (%s) is for %s, but the colours are %s.", what, name, pr.Space, f), embedAgain)
	default:
		t.right = append(t.right, fmt.Sprintf("%s is %s with the profile %s", what, f, name))
	}
}

func profileName(pr *icc.Profile) string {
	if pr.Description == "" {
		return "without a name"
	}
	return fmt.Sprintf("%q", shorten(pr.Description))
}

// describesColours reports whether a profile of the class may tag a picture:
// device and colour space profiles may; links, effects and named colours not
// (ICC.1, 7.2.5).
func describesColours(c icc.Class) bool {
	switch c {
	case icc.Input, icc.Display, icc.Output, icc.ColorSpace:
		return true
	}
	return false
}

// fits reports whether a profile for a space may tag colours of a kind. Three
// components of a page are taken for RGB until their profile says that they are
// Lab (ISO 32000-1, Table 67).
func (t *tags) fits(s icc.Space, f family) bool {
	return profileFamily(s) == f || t.Side.Page != nil && f == rgb && s == icc.Lab
}

func profileFamily(s icc.Space) family {
	switch s {
	case icc.RGB:
		return rgb
	case icc.CMYK:
		return cmyk
	case icc.Gray:
		return grey
	case icc.Lab:
		return lab
	}
	return family(s.String())
}

// page judges the tags of the colour spaces that a page uses, and its intents.
func (t *tags) page(content *pdf.Content) {
	covered := t.intents()
	told := map[string]bool{}
	for _, use := range content.Spaces {
		s := untabled(use.Space)
		if s == nil || told[s.String()+fmt.Sprint(s.Object)] {
			continue
		}
		told[s.String()+fmt.Sprint(s.Object)] = true
		t.space(s, covered)
	}
}

// untabled looks through an index, a pattern and a default space to the space
// that carries the tag.
func untabled(s *pdf.Space) *pdf.Space {
	for s != nil {
		switch {
		case s.Default != nil:
			s = s.Default
		case s.Family == pdf.Indexed, s.Family == pdf.PatternCS:
			s = s.Base
		default:
			return s
		}
	}
	return nil
}

func (t *tags) space(s *pdf.Space, covered map[family]string) {
	f := familyOfSpace(s)
	switch {
	case s.Family == pdf.ICCBased:
		bytes, err := s.Profile()
		if err != nil {
			t.broken(fmt.Sprintf("A colour profile of %s artwork cannot be read: %s", f, sentence(err.Error())), embedAgain)
			return
		}
		t.profile(fmt.Sprintf("the %s artwork", f), f, bytes)
	case covered[f] != "" && (s.Family == pdf.DeviceRGB || s.Family == pdf.DeviceCMYK):
		t.right = append(t.right, fmt.Sprintf("%s is covered by the output intent %s", f, covered[f]))
	case s.Family == pdf.DeviceRGB:
		t.untaggedRGB("artwork in DeviceRGB", "")
	case s.Family == pdf.DeviceCMYK:
		t.untaggedCMYK("artwork in DeviceCMYK")
	}
}

// intents judges the output intents and tells which kinds of colour they cover:
// that of their profile; CMYK where they name a printing condition only.
func (t *tags) intents() map[family]string {
	covered := map[family]string{}
	for _, i := range t.Art.PDF.Intents {
		if !i.HasProfile {
			if i.Identifier != "" {
				covered[cmyk] = fmt.Sprintf("%q", shorten(i.Identifier))
			}
			continue
		}
		bytes, err := i.Profile()
		if err == nil {
			var pr *icc.Profile
			if pr, err = icc.Parse(bytes); err == nil {
				covered[profileFamily(pr.Space)] = profileName(pr)
				continue
			}
		}
		t.broken(fmt.Sprintf("The profile of the output intent %q cannot be read: %s", shorten(i.Identifier), sentence(err.Error())), embedAgain)
	}
	return covered
}

// lowerKeep lowers a sentence's first letter unless it begins with a name in
// capitals.
func lowerKeep(s string) string {
	if len(s) > 1 && s[1] >= 'A' && s[1] <= 'Z' {
		return s
	}
	return lowerFirst(s)
}
