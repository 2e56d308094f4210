package icc

import (
	"slices"
	"strings"
)

// A model is one way in which a class may define its colours: all these tags
// together.
type model struct {
	tags []string
	fits func(*Profile) bool
}

func always(*Profile) bool     { return true }
func isGray(p *Profile) bool   { return p.Space == Gray }
func onMatrix(p *Profile) bool { return p.Space.Components() == 3 && p.PCS == XYZ }

var (
	grayCurve  = model{[]string{"kTRC"}, isGray}
	rgbMatrix  = model{[]string{"rXYZ", "gXYZ", "bXYZ", "rTRC", "gTRC", "bTRC"}, onMatrix}
	tableForth = model{[]string{"A2B0"}, always}
	tablesBoth = model{[]string{"A2B0", "B2A0"}, always}
	namedTable = model{[]string{"ncl2"}, always}
)

// models are the ways open to each class, the first of them preferred in
// messages (8.3 to 8.9). Of a display's tables, the way back (B2A0) is left
// out: the standard asks for it, but artwork tagged with the profile is read
// by the way forth alone.
var models = map[Class][]model{
	Input:      {rgbMatrix, grayCurve, tableForth},
	Display:    {rgbMatrix, grayCurve, tableForth},
	Output:     {grayCurve, tablesBoth},
	Link:       {tableForth},
	Abstract:   {tableForth},
	ColorSpace: {tablesBoth},
	NamedColor: {namedTable},
}

// checkRequired refuses a profile that defines no colours, and notes the
// absence of tags that merely ought to be there.
func (p *Profile) checkRequired() error {
	if err := p.checkModel(); err != nil {
		return err
	}
	wanted := []string{"desc", "cprt", "wtpt"} // 8.2
	switch {
	case p.Class == Link:
		wanted = []string{"desc", "cprt", "pseq"} // 8.6
	case p.Class == Output && p.Space != Gray:
		wanted = append(wanted, "A2B1", "A2B2", "B2A1", "B2A2", "gamt") // 8.5.2
	}
	if lacks := p.lacks(wanted); len(lacks) > 0 {
		p.troubled("it lacks tags that its class requires: %s", strings.Join(lacks, ", "))
	}
	return nil
}

func (p *Profile) lacks(sigs []string) []string {
	return slices.DeleteFunc(slices.Clone(sigs), func(sig string) bool { return p.tags[sig] != nil })
}

func (p *Profile) checkModel() error {
	var missing []string
	for _, m := range models[p.Class] {
		if !m.fits(p) {
			continue
		}
		lacks := p.lacks(m.tags)
		if len(lacks) == 0 {
			return p.checkTypes(m.tags)
		}
		if missing == nil {
			missing = lacks
		}
	}
	return formatError("a profile of class %q in %s needs the tags %s", string(p.Class), p.Space, strings.Join(missing, ", "))
}

// checkTypes looks at the type signature of the tags that define the colours
// and, in tables, at the number of channels (10.8 to 10.11: bytes 8 and 9).
func (p *Profile) checkTypes(sigs []string) error {
	for _, sig := range sigs {
		types, least := tagTypes(sig)
		data := p.tags[sig]
		if len(data) < least || !slices.Contains(types, string(data[:4])) {
			return formatError("its tag %q holds no data of its type", sig)
		}
		in, out := p.Space.Components(), p.PCS.Components()
		switch sig {
		case "B2A0":
			in, out = out, in
		case "A2B0":
		default:
			continue
		}
		if int(data[8]) != in || int(data[9]) != out {
			return formatError("its table %q goes from %d to %d components, its header from %d to %d", sig, data[8], data[9], in, out)
		}
	}
	return nil
}

// tagTypes gives the types a tag may have (clause 9) and the bytes that the
// shortest of them takes (clause 10).
func tagTypes(sig string) (types []string, least int) {
	switch sig {
	case "A2B0":
		return []string{"mft1", "mft2", "mAB "}, 32
	case "B2A0":
		return []string{"mft1", "mft2", "mBA "}, 32
	case "rXYZ", "gXYZ", "bXYZ":
		return []string{"XYZ "}, 20
	case "ncl2":
		return []string{"ncl2"}, 84
	}
	return []string{"curv", "para"}, 12 // the curves: rTRC, gTRC, bTRC, kTRC
}
