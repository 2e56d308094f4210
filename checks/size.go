package checks

import (
	"fmt"
	"math"
	"strings"

	"stoneproof/checks/art"
	"stoneproof/rules"
)

// TrimSize judges the finished size, and which way round the card lies.
var TrimSize = &Check{
	Rule:  "trim-size",
	Needs: Items, // cutting marks place the trim where no box does
	Side:  trimSize,
}

func trimSize(p *Pass) {
	want := p.Ticket.TrimFor(p.Side.Trim)
	f := rules.Finding{
		Verdict: rules.Pass, Basis: p.Side.Basis,
		Measured: rules.ValuesMM(p.Side.Trim), Wanted: rules.ValuesMM(want),
	}
	switch {
	case !p.Side.Placed():
		p.unplaced(&f)
	case p.Side.Placing == art.ByTrimBoxInset:
		f.Measured = rules.ValuesMM(p.Side.Stated)
		f.Verdict = rules.Fail
		f.Message = fmt.Sprintf("The TrimBox is %s: that is the card with its bleed, not the card.", p.Size(p.Side.Stated))
		f.Fix = fmt.Sprintf("Set the page to %s and the bleed to %s an edge, then export with bleed: the TrimBox must lie %s inside the page edge.",
			p.Size(want), p.Length(p.Ticket.Bleed), p.Length(p.Ticket.Bleed))
	case p.off(want):
		p.wrongSize(&f, want)
	case p.Side.Placing == art.ByShape:
		p.noDensity(&f)
	default:
		f.Message = fmt.Sprintf("%s, %s.", p.Size(p.Side.Trim), p.Side.Placing)
	}
	p.Report(f)
}

// off reports whether the placed trim misses the wanted one.
func (p *Pass) off(want rules.Size) bool {
	tolerance := p.Side.Tolerance(p.Ticket)
	return (p.Side.Trim.W-want.W).Abs() > tolerance || (p.Side.Trim.H-want.H).Abs() > tolerance
}

// wrongSize tells by how much the size misses, and which card it is if it is
// one that has a name.
func (p *Pass) wrongSize(f *rules.Finding, want rules.Size) {
	f.Verdict = rules.Fail
	got := p.Side.Trim
	if !p.off(want.Turned()) {
		f.Message = fmt.Sprintf("The card lies %s; the ticket wants it %s.", way(got), way(want))
		f.Fix = fmt.Sprintf("Turn the page by 90°, so that it is %s.", p.Size(want))
		return
	}
	f.Message = fmt.Sprintf("The finished size is %s; the card is %s: %s.", p.Size(got), p.Size(want), p.misses(got, want))
	if like, ok := rules.SizeLike(got, p.Side.Tolerance(p.Ticket)); ok {
		f.Message += fmt.Sprintf(" That is the %s %s.", like.Trim.In(like.Unit), like.Title)
		f.Fix = fmt.Sprintf("If that is the card you want, check with --size %s; else %s", like.Name, lowerFirst(p.exportAt(want)))
		return
	}
	f.Fix = p.exportAt(want)
}

// misses tells by how much got misses want, a side each: "3.9 mm too narrow".
func (p *Pass) misses(got, want rules.Size) string {
	var parts []string
	add := func(by rules.Length, less, more string) {
		if by.Abs() < rules.MM(0.01) {
			return
		}
		word := more
		if by < 0 {
			word = less
		}
		parts = append(parts, p.About(by.Abs())+" too "+word)
	}
	add(got.W-want.W, "narrow", "wide")
	add(got.H-want.H, "low", "high")
	return strings.Join(parts, ", ")
}

// unplaced tells why the knife's place could not be found.
func (p *Pass) unplaced(f *rules.Finding) {
	want := p.Ticket.TrimFor(p.wholeSize())
	f.Verdict, f.Wanted = rules.Fail, rules.ValuesMM(want)
	bled := want.Grow(p.Ticket.Bleed)
	f.Measured = nil
	fits := fmt.Sprintf("neither the card (%s) nor the card with its bleed (%s)", p.Size(want), p.Size(bled))
	switch {
	case p.Side.Page != nil:
		f.Measured = rules.ValuesMM(p.Side.Stated)
		f.Message = fmt.Sprintf("The page is %s: %s; it has no TrimBox and no cutting marks of that size.", p.Size(p.Side.Stated), fits)
	case p.Side.DensityStated():
		f.Measured = rules.ValuesMM(p.Side.Stated)
		f.Message = fmt.Sprintf("At its stated %s the picture is %s: %s.", p.density(), p.Size(p.Side.Stated), fits)
	default:
		f.Message = fmt.Sprintf("The shape of %d × %d px fits %s, and the file states no density.", p.Side.Header.Width, p.Side.Header.Height, fits)
	}
	f.Fix = p.exportAt(want)
}

// wholeSize is the size of the page or picture as a whole, for choosing which
// way round the card is meant.
func (p *Pass) wholeSize() rules.Size {
	if h := p.Side.Header; h != nil {
		return rules.Size{W: rules.Length(h.Width), H: rules.Length(h.Height)}
	}
	return p.Side.Stated
}

// noDensity judges a picture whose card was told from its shape: with no
// density at all there is nothing wrong to mend but a number to set; a density
// that is stated and cannot be true would print it at the wrong size.
func (p *Pass) noDensity(f *rules.Finding) {
	x, y := p.Side.PPI()
	set := int(math.Round((x + y) / 2))
	if !p.Side.DensityStated() {
		f.Message = fmt.Sprintf("%s by its shape, for the file states no density: set it to %d ppi.", p.Size(p.Side.Trim), set)
		return
	}
	f.Verdict = rules.Fail
	if p.Side.ScreenDensity() {
		f.Verdict = rules.Warn
	}
	f.Measured = rules.ValuesMM(p.Side.Stated)
	f.Message = fmt.Sprintf("At its stated %s the picture would print at %s; its shape is that of the card%s.",
		p.density(), p.Size(p.Side.Stated), p.withBleed())
	f.Fix = fmt.Sprintf("Set the density to %d ppi without changing the %d × %d px.", set, p.Side.Header.Width, p.Side.Header.Height)
}

func (p *Pass) withBleed() string {
	if p.Side.Room.Least() > 0 {
		return " with its bleed"
	}
	return ""
}

// density tells a raster's stated density: "72 ppi", "72 × 100 ppi".
func (p *Pass) density() string {
	d := p.Side.Header.Density
	if math.Abs(d.X-d.Y) < 0.5 {
		return number(d.X) + " ppi"
	}
	return number(d.X) + " × " + number(d.Y) + " ppi"
}

// exportAt tells the size to export at: in pixels for a picture, in lengths for
// a page, always with the bleed.
func (p *Pass) exportAt(want rules.Size) string {
	bled := want.Grow(p.Ticket.Bleed)
	if p.Side.Page == nil {
		return "Export again at " + p.pixels(bled) + "."
	}
	return fmt.Sprintf("Set the page to %s with %s of bleed an edge (%s altogether) and export again.",
		p.Size(want), p.Length(p.Ticket.Bleed), p.Size(bled))
}

// pixels is a size in pixels at the good resolution: "1125 × 675 px (300 ppi)".
func (p *Pass) pixels(size rules.Size) string {
	ppi := p.goodPPI()
	px := func(l rules.Length) int { return int(math.Ceil(l.Pixels(ppi) - 0.05)) }
	return fmt.Sprintf("%d × %d px (%s ppi)", px(size.W), px(size.H), number(ppi))
}

// goodPPI is the resolution that a raster side should have.
func (p *Pass) goodPPI() float64 {
	if h := p.Side.Header; h != nil && h.Bits == 1 {
		return p.Ticket.Limits.LinePPIGood
	}
	return p.Ticket.Limits.TonePPIGood
}

func way(s rules.Size) string {
	if s.Landscape() {
		return "landscape (wider than high)"
	}
	return "portrait (higher than wide)"
}

// number writes a number without needless decimals: 300, 299.72.
func number(v float64) string {
	s := fmt.Sprintf("%.1f", v)
	return strings.TrimSuffix(s, ".0")
}

func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}
