package checks

import (
	"fmt"
	"math"

	"stoneproof/rules"
)

// EffectiveResolution judges pixels per inch at printed size, both axes, for
// every picture that is drawn.
var EffectiveResolution = &Check{
	Rule:  "effective-resolution",
	Needs: Items,
	Side:  effectiveResolution,
}

func effectiveResolution(p *Pass) {
	pictures, why := p.pictures()
	if why != "" {
		p.Skip(why)
		return
	}
	if len(pictures) == 0 {
		p.Report(rules.Finding{Verdict: rules.Pass, Basis: rules.Read, Message: "No picture on this side: nothing to blur."})
		return
	}
	worst := 0
	for i := range pictures {
		if p.lessSharp(pictures[i], pictures[worst]) {
			worst = i
		}
	}
	f := p.judgePicture(pictures[worst])
	for i, one := range pictures {
		if i != worst {
			f.Also = append(f.Also, rules.Place{What: one.name, Where: one.where, Measured: rules.Value(one.ppi(), "ppi")})
		}
	}
	if n := p.countBelow(pictures); f.Verdict != rules.Pass && n > 1 {
		f.Message += fmt.Sprintf(" It is the worst of %d such pictures.", n)
	}
	p.Report(f)
}

// wants are the limits for a picture's kind.
func (p *Pass) wants(oneBit bool) (good, least float64) {
	l := p.Ticket.Limits
	if oneBit {
		return l.LinePPIGood, l.LinePPILeast
	}
	return l.TonePPIGood, l.TonePPILeast
}

// lessSharp reports whether a falls further short of what it should have than b.
func (p *Pass) lessSharp(a, b picture) bool {
	goodA, _ := p.wants(a.oneBit)
	goodB, _ := p.wants(b.oneBit)
	return a.ppi()*goodB < b.ppi()*goodA
}

// resolved is the verdict on a picture.
func (p *Pass) resolved(i picture) rules.Verdict {
	good, least := p.wants(i.oneBit)
	slack := 1 - p.Ticket.Limits.PPISlack
	switch {
	case i.ppi() < least*slack:
		return rules.Fail
	case i.ppi() < good*slack:
		return rules.Warn
	}
	return rules.Pass
}

func (p *Pass) countBelow(pictures []picture) int {
	n := 0
	for _, i := range pictures {
		if p.resolved(i) != rules.Pass {
			n++
		}
	}
	return n
}

func (p *Pass) judgePicture(i picture) rules.Finding {
	good, least := p.wants(i.oneBit)
	f := rules.Finding{
		Verdict: p.resolved(i), Basis: p.measuredBasis(), Where: i.where,
		Measured: rules.Value(i.ppi(), "ppi"), Wanted: rules.AtLeast(good, "ppi"),
	}
	kind := ""
	if i.oneBit {
		kind = " of line art in one bit"
	}
	name := fmt.Sprintf("%s of %d × %d px%s", upperFirst(i.name), i.w, i.h, kind)
	if f.Verdict == rules.Pass {
		f.Message = fmt.Sprintf("%s prints at %s.", name, ppiWords(i))
		return f
	}
	if i.where != nil {
		name += " " + p.place(*i.where)
	}
	f.Message = fmt.Sprintf("%s prints at %s; %s is good, under %s looks soft.", name, ppiWords(i), number(good), number(least))
	f.Fix = p.sharper(i, good)
	return f
}

// sharper tells how many pixels the picture should have.
func (p *Pass) sharper(i picture, good float64) string {
	if p.Side.Header != nil && p.Side.Placed() {
		return "Export again from the original at " + p.pixels(p.Side.Trim.Grow(p.Ticket.Bleed)) + "; enlarging this file would not sharpen it."
	}
	need := func(px int, ppi float64) int {
		if ppi == 0 {
			return px
		}
		return int(math.Ceil(float64(px)*good/ppi - 0.05))
	}
	return fmt.Sprintf("Put in the original picture with at least %d × %d px, or print this one at %d %% of its size; enlarging it would not sharpen it.",
		need(i.w, i.ppiX), need(i.h, i.ppiY), int(100*i.ppi()/good))
}

// ppiWords tells both axes where they differ by more than rounding.
func ppiWords(i picture) string {
	if i.ppiX == 0 || i.ppiY == 0 || math.Abs(i.ppiX-i.ppiY) < 0.01*i.ppi() {
		return number(i.ppi()) + " ppi"
	}
	return number(i.ppiX) + " × " + number(i.ppiY) + " ppi"
}
