package checks

import (
	"fmt"
	"slices"
	"strings"

	"stoneproof/checks/art/pdf"
	"stoneproof/rules"
)

// SpotColours judges that inks beside cyan, magenta, yellow and black are those
// that were ordered.
var SpotColours = &Check{
	Rule:  "spot-colours",
	Needs: Items,
	Side:  spotColours,
}

// spotUse is what one ink is used for.
type spotUse struct {
	name  string
	kinds pdf.UseKind
	first pdf.Rect // of the first thing painted with it
	words string   // of that thing, if it is text
}

// inkUses are the spot inks that reach the card, each once, in the order in which
// they are found, and the use of registration colour, if any.
type inkUses struct {
	list []spotUse
	at   map[string]int
	all  *spotUse
}

func spotColours(p *Pass) {
	if h := p.Side.Header; h != nil {
		p.extraChannels(h.Extra)
		return
	}
	content, ok := p.content()
	if !ok {
		return
	}
	uses := p.inkUses(content)
	var unnamed []spotUse
	for _, u := range uses.list {
		if !p.ordered(u.name, uses) {
			unnamed = append(unnamed, u)
		}
	}
	if uses.all != nil {
		p.registration(*uses.all)
	}
	switch {
	case len(unnamed) > 0 && p.Ticket.Limits.Spot != rules.Pass:
		p.notOrdered(unnamed, uses.list)
	case uses.all == nil:
		p.spotsWell(uses)
	}
}

// extraChannels judges a picture by the channels that it has beside its colours.
func (p *Pass) extraChannels(n int) {
	f := rules.Finding{Verdict: rules.Pass, Basis: rules.Read, Message: "The picture has no inks beside its own colours."}
	if n > 0 {
		f.Verdict = p.Ticket.Limits.Spot
		f.Measured = rules.Value(float64(n), "channels")
		f.Message = fmt.Sprintf("The picture has %d more %s than its colours need, as for spot inks; they are not judged here.", n, plural(n, "channel"))
		if f.Verdict != rules.Pass {
			f.Wanted = rules.AtMost(0, "channels")
			f.Fix = "Delete the extra channels, or send a PDF whose spot inks have names."
		}
	}
	p.Report(f)
}

func (p *Pass) inkUses(content *pdf.Content) *inkUses {
	uses := &inkUses{at: map[string]int{}}
	for _, m := range p.marks(content) {
		uses.mark(m)
	}
	for i := range content.Images {
		if im := &content.Images[i]; im.Mask != pdf.Stencil && p.reachesCard(&im.Item) && im.FillAlpha > 0 {
			uses.space(im.Space, pdf.UseImage, &im.Item)
		}
	}
	for i := range content.Shadings {
		if s := &content.Shadings[i]; p.reachesCard(&s.Item) && s.FillAlpha > 0 {
			uses.space(s.Space, pdf.UseShading, &s.Item)
		}
	}
	return uses
}

func (u *inkUses) add(use spotUse) {
	if use.name == "All" {
		if u.all == nil {
			u.all = &use
		}
		u.all.kinds |= use.kinds
		return
	}
	if _, process := colorantInks[use.name]; process || use.name == "None" {
		return
	}
	i, had := u.at[use.name]
	if !had {
		i = len(u.list)
		u.at[use.name] = i
		u.list = append(u.list, use)
	}
	u.list[i].kinds |= use.kinds
}

// mark adds the inks of a flat colour that it really lays, and those of a gradient.
func (u *inkUses) mark(m mark) {
	c, use := m.colour(), spotUse{kinds: pdf.UsePath, first: m.Box}
	if c.Pattern != nil {
		u.space(c.Pattern.Shading, pdf.UseShading, m.Item)
		return
	}
	if m.text != nil {
		use.kinds, use.words = pdf.UseText, strings.TrimSpace(m.text.String)
	}
	l := layOf(c)
	for _, s := range l.spots {
		if s.value >= traceTint {
			use.name = s.name
			u.add(use)
		}
	}
	if l.all && !l.paper() {
		use.name = "All"
		u.add(use)
	}
}

// space adds all inks that a colour space calls by name: which of them a picture or
// a gradient really lays, only its pixels tell.
func (u *inkUses) space(s *pdf.Space, k pdf.UseKind, it *pdf.Item) {
	for _, name := range inkNames(s) {
		u.add(spotUse{name: name, kinds: k, first: it.Box})
	}
}

// inkNames are the inks that a colour space calls by name.
func inkNames(s *pdf.Space) []string {
	for s != nil && (s.Family == pdf.Indexed || s.Family == pdf.PatternCS) {
		s = s.Base
	}
	if s == nil {
		return nil
	}
	return s.Names
}

// ordered reports whether the ticket names an ink: by the letter, or nearly so where
// the art has no ink of that very name.
func (p *Pass) ordered(name string, uses *inkUses) bool {
	for _, want := range p.Ticket.Spots {
		_, exact := uses.at[want]
		if want == name || !exact && spelling(want) == spelling(name) {
			return true
		}
	}
	return false
}

func (p *Pass) registration(u spotUse) {
	where := p.Side.Box(u.first)
	what := kindWords(u.kinds)
	if u.words != "" {
		what = fmt.Sprintf("the words %q", shorten(u.words))
	}
	p.Report(rules.Finding{
		Verdict: rules.Fail, Basis: rules.Read, Where: &where, Measured: rules.Named("All"),
		Message: fmt.Sprintf("Registration colour is used on the card itself, for %s %s: it prints on every plate there is, far too wet, with coloured edges.", what, p.place(where)),
		Fix:     "Give it black ink alone, C0 M0 Y0 K100, and keep registration colour for marks outside the bleed.",
	})
}

func (p *Pass) notOrdered(unnamed, uses []spotUse) {
	first := unnamed[0]
	where := p.Side.Box(first.first)
	f := rules.Finding{
		Verdict: p.Ticket.Limits.Spot, Basis: rules.Read, Where: &where, Measured: rules.Named(names(unnamed)),
		Message: fmt.Sprintf("The ink %q is used for %s; the ticket does not name it. Each such ink is one plate more, and is charged as one.", shorten(first.name), kindWords(first.kinds)),
		Fix:     fmt.Sprintf("Convert %q to CMYK, or name it in the ticket if the job is printed with it.", shorten(first.name)),
	}
	if n := len(unnamed); n > 1 {
		f.Message = fmt.Sprintf("%d inks are used that the ticket does not name: %s. Each is one plate more, and is charged as one.", n, names(unnamed))
		f.Fix = "Convert them to CMYK, or name them in the ticket if the job is printed with them."
		for i := range unnamed[:min(n, mostPlaces)] {
			b := p.Side.Box(unnamed[i].first)
			f.Also = append(f.Also, rules.Place{What: fmt.Sprintf("%q, for %s", shorten(unnamed[i].name), kindWords(unnamed[i].kinds)), Where: &b})
		}
	}
	if len(p.Ticket.Spots) > 0 {
		f.Wanted = rules.Named(strings.Join(p.Ticket.Spots, ", "))
	}
	f.Message += p.mistaken(uses)
	p.Report(f)
}

func (p *Pass) spotsWell(uses *inkUses) {
	f := rules.Finding{Verdict: rules.Pass, Basis: rules.Read, Message: "No ink is used beside cyan, magenta, yellow and black."}
	if len(uses.list) > 0 {
		f.Measured = rules.Named(names(uses.list))
		f.Message = fmt.Sprintf("Beside the process inks the art uses %s.", names(uses.list))
	}
	for _, want := range p.Ticket.Spots {
		if !slices.ContainsFunc(uses.list, func(u spotUse) bool { return spelling(u.name) == spelling(want) }) {
			f.Message += fmt.Sprintf(" The ticket names %q, which this side does not use.", want)
		}
	}
	f.Message += p.mistaken(uses.list)
	p.Report(f)
}

func plural(n int, word string) string {
	if n == 1 {
		return word
	}
	return word + "s"
}
