package checks

import (
	"fmt"
	"math"
	"strings"

	"stoneproof/checks/codes"
	"stoneproof/rules"
)

// CodeScan judges that a QR code reads as printed, and will do so in any hand: that
// its modules are large enough for the printer, its quiet zone is bare, and its dark
// is dark enough.
var CodeScan = &Check{
	Rule:   "code-scan",
	Needs:  Paint,
	Placed: true,
	Side:   codeScan,
}

func codeScan(p *Pass) {
	if !p.mayHoldCode() {
		p.noCode()
		return
	}
	paint, err := p.Side.Paint(p.Ctx)
	if err != nil {
		p.Skip("The side has no picture to judge: " + sentence(lowerFirst(err.Error())))
		return
	}
	found, err := p.codesOn(paint)
	if err != nil {
		p.Skip("The code could not be drawn to judge it: " + sentence(lowerFirst(err.Error())))
		return
	}
	if len(found) == 0 {
		p.noCode()
	}
	for _, c := range found {
		p.code(c)
	}
}

func (p *Pass) noCode() {
	p.Report(rules.Finding{Verdict: rules.Pass, Basis: rules.Measured, Message: "No QR code on this side."})
}

// printedCode is a code in its place on the side.
type printedCode struct {
	codes.Code
	box    rules.Box
	module rules.Length
	// The side with the least bare ground, and how much there is, in modules: the
	// trim ends it too.
	quiet   float64
	edge    rules.Edge
	atTrim  bool
	wording string // "The QR code "https://…" (12 mm across, 40 mm down)"
}

// Measures are off by a little: the grid by less than two per cent, the quiet zone by
// a fifth of a module.
const (
	gridSlack  = 0.02
	quietSlack = 0.2
)

func (p *Pass) code(c printedCode) {
	before := len(*p.findings)
	switch {
	case c.quiet < 0:
		p.codeCut(c)
	case !c.Readable:
		p.codeUnread(c)
	default:
		p.codeSize(c)
		p.codeQuiet(c)
		p.codeContrast(c)
		p.codeReversed(c)
	}
	if len(*p.findings) == before {
		p.Report(rules.Finding{Verdict: rules.Pass, Basis: rules.Measured, Where: &c.box,
			Measured: rules.ValueMM(c.module), Wanted: rules.AtLeastMM(p.Ticket.Limits.CodeModuleGood),
			Message: fmt.Sprintf("%s reads as printed: %d × %d modules of %s.", c.wording, c.Modules, c.Modules, p.module(c.module))})
	}
}

// codeCut fails a code that the knife goes through.
func (p *Pass) codeCut(c printedCode) {
	p.Report(rules.Finding{Verdict: rules.Fail, Basis: p.measuredBasis(), Where: &c.box, Edge: c.edge,
		Message: fmt.Sprintf("%s is cut by the knife at the %s edge.", c.wording, c.edge),
		Fix:     fmt.Sprintf("Move it in until at least %s are bare between it and the trim.", p.Length(p.quietWanted(c)))})
}

// codeUnread fails a code that nothing reads as printed, and says what is wrong with
// it as far as it was measured.
func (p *Pass) codeUnread(c printedCode) {
	l := p.Ticket.Limits
	var why, do []string
	if p.finerThan(c, l.CodeModuleGood) {
		why = append(why, fmt.Sprintf("its modules are %s, where %s hold", p.module(c.module), p.module(l.CodeModuleGood)))
		do = append(do, p.larger(c))
	}
	if 100*c.Contrast < l.CodeContrastGood {
		why = append(why, fmt.Sprintf("its contrast is %.0f %%, where %s %% are wanted", 100*c.Contrast, number(l.CodeContrastGood)))
		do = append(do, darker)
	}
	if c.quiet < l.CodeQuietGood-quietSlack {
		why = append(why, fmt.Sprintf("only %.1f modules beside it are bare, where %s are wanted", c.quiet, number(l.CodeQuietGood)))
		do = append(do, p.moreRoom(c))
	}
	if len(why) == 0 {
		why = append(why, "something covers it, or it is drawn amiss")
		do = append(do, "Make the code anew, with nothing over it, and read it from a print with a telephone.")
	}
	p.Report(rules.Finding{Verdict: rules.Fail, Basis: rules.Measured, Where: &c.box,
		Measured: rules.ValueMM(c.module), Wanted: rules.AtLeastMM(l.CodeModuleGood),
		Message: fmt.Sprintf("%s was found but does not read as printed: %s.", c.wording, strings.Join(why, "; ")),
		Fix:     strings.Join(do, " ")})
}

func (p *Pass) codeSize(c printedCode) {
	l := p.Ticket.Limits
	f := rules.Finding{Basis: rules.Measured, Where: &c.box,
		Measured: rules.ValueMM(c.module), Wanted: rules.AtLeastMM(l.CodeModuleGood), Fix: p.larger(c)}
	size := p.About(c.module * rules.Length(c.Modules))
	switch {
	case p.finerThan(c, l.CodeModuleLeast):
		f.Verdict = rules.Fail
		f.Message = fmt.Sprintf("%s has %d × %d modules on %s: at %s each they are finer than four dots of the printer (%s).",
			c.wording, c.Modules, c.Modules, size, p.module(c.module), p.module(l.CodeModuleLeast))
	case p.finerThan(c, l.CodeModuleGood):
		f.Verdict = rules.Warn
		f.Message = fmt.Sprintf("%s has %d × %d modules on %s, each %s; not every telephone reads less than %s.",
			c.wording, c.Modules, c.Modules, size, p.module(c.module), p.module(l.CodeModuleGood))
	default:
		return
	}
	p.Report(f)
}

func (p *Pass) finerThan(c printedCode, limit rules.Length) bool {
	return float64(c.module) < float64(limit)*(1-gridSlack)
}

// larger tells the size at which a code holds, and, where one would, how short a text
// would hold at the present size with the same error correction.
func (p *Pass) larger(c printedCode) string {
	wanted := p.Ticket.Limits.CodeModuleGood
	fix := fmt.Sprintf("Enlarge it to %s", p.Length(p.roundUp(wanted*rules.Length(c.Modules))))
	now := float64(c.module) * float64(c.Modules)
	version := min(codes.Version(c.Modules)-1, int((now/float64(wanted)-17)/4))
	if most, err := codes.Capacity(version, c.Level, c.Text); err == nil && most < len(c.Text) {
		return fmt.Sprintf("%s, or shorten its text from %d to %d characters.", fix, len(c.Text), most)
	}
	return fix + "."
}

func (p *Pass) codeQuiet(c printedCode) {
	l := p.Ticket.Limits
	if c.quiet >= l.CodeQuietGood-quietSlack {
		return
	}
	f := rules.Finding{Verdict: rules.Warn, Basis: rules.Measured, Where: &c.box, Edge: c.edge,
		Measured: rules.Value(round1(c.quiet), "modules"), Wanted: rules.AtLeast(l.CodeQuietGood, "modules"), Fix: p.moreRoom(c)}
	if c.quiet < l.CodeQuietLeast-quietSlack {
		f.Verdict = rules.Fail
	}
	what := "is bare"
	if c.atTrim {
		what = "lies inside the trim"
		f.Basis = p.measuredBasis()
	}
	f.Message = fmt.Sprintf("%s needs a bare margin of %s modules; at its %s no more than %s (%s modules) %s.",
		c.wording, number(l.CodeQuietGood), c.edge, p.About(rules.Length(c.quiet*float64(c.module))), number(round1(c.quiet)), what)
	p.Report(f)
}

// quietWanted is the quiet zone as a length.
func (p *Pass) quietWanted(c printedCode) rules.Length {
	return p.roundUp(rules.Length(math.Ceil(p.Ticket.Limits.CodeQuietGood * float64(c.module))))
}

// roundUp makes a length one that a person can set: whole tenths of a millimetre, or
// hundredths of an inch.
func (p *Pass) roundUp(l rules.Length) rules.Length {
	step := rules.MM(0.1)
	if p.Ticket.Unit == rules.UnitIn {
		step = rules.Inches(0.01)
	}
	return (l + step - 1) / step * step
}

func (p *Pass) moreRoom(c printedCode) string {
	return fmt.Sprintf("Leave %s bare on all its sides.", p.Length(p.quietWanted(c)))
}

// darker is what to do about a pale code.
const darker = "Set it in black or another dark colour on white or a pale tint."

func (p *Pass) codeContrast(c printedCode) {
	l := p.Ticket.Limits
	contrast := 100 * c.Contrast
	if contrast >= l.CodeContrastGood {
		return
	}
	f := rules.Finding{Verdict: rules.Warn, Basis: rules.Measured, Where: &c.box,
		Measured: rules.Value(math.Round(contrast), "%"), Wanted: rules.AtLeast(l.CodeContrastGood, "%"), Fix: darker,
		Message: fmt.Sprintf("%s is pale: on paper its light and dark differ by %.0f %% of all light; %s %% are wanted.", c.wording, contrast, number(l.CodeContrastGood))}
	if contrast < l.CodeContrastLeast {
		f.Verdict = rules.Fail
	}
	p.Report(f)
}

// codeReversed warns of what the standard allows but older readers do not know.
func (p *Pass) codeReversed(c printedCode) {
	if c.Reversed {
		label := p.roundUp(c.module*rules.Length(c.Modules) + 2*p.quietWanted(c))
		p.Report(rules.Finding{Verdict: rules.Warn, Basis: rules.Measured, Where: &c.box,
			Message: fmt.Sprintf("%s is light on dark: not all readers take it.", c.wording),
			Fix:     fmt.Sprintf("Set it dark on a light label of %s each way.", p.Length(label))})
	}
	if c.Mirrored {
		p.Report(rules.Finding{Verdict: rules.Warn, Basis: rules.Measured, Where: &c.box,
			Message: fmt.Sprintf("%s is mirrored: not all readers take it, and perhaps the whole side is.", c.wording),
			Fix:     "Turn it over, left for right."})
	}
}

// module tells the size of a module, which is too fine for the ticket's inches.
func (p *Pass) module(l rules.Length) string { return l.In(rules.UnitMM) }
