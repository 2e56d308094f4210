package checks

import (
	"fmt"
	"slices"
	"strings"

	"stoneproof/rules"
)

// PairSize judges that front and back are the same card: size, bleed, resolution
// and colour.
var PairSize = &Check{
	Rule:  "pair-size",
	Needs: Items,
	Pair:  pairSize,
}

func pairSize(p pair) []rules.Finding {
	if !p.placed() {
		return unplacedPair()
	}
	var found []rules.Finding
	for _, differ := range []func(pair) (rules.Finding, bool){pair.trims, pair.rooms, pair.sharpness, pair.colours} {
		if f, ok := differ(p); ok {
			found = append(found, f)
		}
	}
	if len(found) == 0 {
		found = append(found, rules.Finding{Verdict: rules.Pass, Basis: p.basis(), Measured: rules.ValuesMM(p.back.Trim),
			Message: fmt.Sprintf("Front and back are both %s.", p.size(p.front.Trim))})
	}
	return found
}

func (p pair) size(s rules.Size) string { return s.In(p.ticket.Unit) }

// trims tells a back that is not as large as its front, whichever way round it lies.
func (p pair) trims() (f rules.Finding, differ bool) {
	front, back := p.front.Trim, p.back.Trim
	if p.turned() {
		back = back.Turned()
	}
	off := max((front.W - back.W).Abs(), (front.H - back.H).Abs())
	most := p.ticket.Limits.TrimTolerance
	if p.basis() != rules.Read {
		most = max(most, p.ticket.Limits.RasterTrimTolerance)
	}
	if off <= most {
		return f, false
	}
	f = rules.Finding{Verdict: rules.Fail, Basis: p.basis(), Measured: rules.ValuesMM(p.back.Trim), Wanted: rules.ValuesMM(front),
		Message: fmt.Sprintf("The front is %s, the back %s: they are not one card.", p.size(front), p.size(p.back.Trim))}
	if f.Basis == rules.Inferred {
		f.Verdict = rules.Warn
	}
	wrong, right := "back", front
	if p.ticket.TrimFor(p.back.Trim) == p.back.Trim {
		wrong, right = "front", p.back.Trim
	}
	f.Fix = fmt.Sprintf("Export the %s again at %s.", wrong, p.size(right))
	return f, true
}

// rooms tells sides of which one has more bleed than the other: whoever lays them by
// the size of the file alone lays one of them off.
func (p pair) rooms() (f rules.Finding, differ bool) {
	front, back := p.front.Bleed, p.back.Bleed
	if p.basis() == rules.Read || (front.Least()-back.Least()).Abs() <= p.ticket.Limits.TrimTolerance {
		return f, false // page boxes say where the trim lies, whatever is around it
	}
	tell := func(e rules.Edges) string { return e.Least().About(p.ticket.Unit).In(p.ticket.Unit) }
	return rules.Finding{Verdict: rules.Warn, Basis: p.basis(), Measured: rules.ValueMM(back.Least()), Wanted: rules.ValueMM(front.Least()),
		Message: fmt.Sprintf("The front has %s of bleed, the back %s: laid by the size of the file, one of them lies off.", tell(front), tell(back)),
		Fix:     fmt.Sprintf("Export both sides with %s of bleed.", p.ticket.Bleed.In(p.ticket.Unit)),
	}, true
}

// sharpness tells a side whose pictures are sharp beside one whose pictures are not.
func (p pair) sharpness() (f rules.Finding, differ bool) {
	front, back := p.front.Face, p.back.Face
	if front.Sharp == "" || back.Sharp == "" || front.Sharp == back.Sharp {
		return f, false
	}
	softer, soft := "back", back
	if front.Sharp.Worse(back.Sharp) {
		softer, soft = "front", front
	}
	return rules.Finding{Verdict: rules.Warn, Basis: p.basis(), Measured: rules.Value(back.PPI, "ppi"), Wanted: rules.Value(front.PPI, "ppi"),
		Message: fmt.Sprintf("The front prints at %s ppi, the back at %s: the %s will look softer than the other side.", number(front.PPI), number(back.PPI), softer),
		Fix:     fmt.Sprintf("Export the %s again from its original at %s ppi; %s ppi is too little beside the other side.", softer, number(p.ticket.Limits.TonePPIGood), number(soft.PPI)),
	}, true
}

// colours tells sides that have no kind of colour in common: the same colour will
// not look the same on both.
func (p pair) colours() (f rules.Finding, differ bool) {
	front, back := p.front.Face.Colours, p.back.Face.Colours
	if len(front) == 0 || len(back) == 0 || slices.ContainsFunc(front, func(c string) bool { return slices.Contains(back, c) }) {
		return f, false
	}
	tell := func(c []string) string { return strings.Join(c, " and ") }
	wrong, right := "back", tell(front)
	if !slices.Contains(front, string(cmyk)) && slices.Contains(back, string(cmyk)) && p.ticket.Limits.RGB != rules.Pass {
		wrong, right = "front", tell(back)
	}
	return rules.Finding{Verdict: rules.Warn, Basis: rules.Read, Measured: rules.Named(tell(back)), Wanted: rules.Named(tell(front)),
		Message: fmt.Sprintf("The front is in %s, the back in %s: the same colour will not look the same on both.", tell(front), tell(back)),
		Fix:     fmt.Sprintf("Convert the %s to %s, as the other side is.", wrong, right),
	}, true
}
