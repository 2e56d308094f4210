package impose

import (
	"slices"
	"strings"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"stoneproof/checks/art/pdf"
	"stoneproof/checks/art/pdf/syntax"
)

// layers takes over the optional content of the sources (8.11.4): groups, and which
// are off. One source's is kept as it is; of several the groups and their states are
// laid together.
func (b *builder) layers() string {
	var with []*pdf.Document
	for _, doc := range b.order {
		if doc.Dict(doc.Catalog()["OCProperties"]) != nil {
			with = append(with, doc)
		}
	}
	switch len(with) {
	case 0:
		return ""
	case 1:
		return "/OCProperties" + b.sources[with[0]].Value(with[0].Catalog()["OCProperties"])
	}
	var groups, off, auto []string
	for _, doc := range with {
		src := b.sources[doc]
		props := doc.Dict(doc.Catalog()["OCProperties"])
		config := doc.Dict(props["D"])
		for _, g := range doc.Array(props["OCGs"]) {
			groups = append(groups, src.Value(g))
			if isOff(doc, config, g) {
				off = append(off, src.Value(g))
			}
		}
		for _, a := range doc.Array(config["AS"]) {
			auto = append(auto, src.Value(a))
		}
	}
	all := strings.Join(groups, " ")
	return "/OCProperties<</OCGs[" + all + "]/D<</Order[" + all + "]/OFF[" + strings.Join(off, " ") + "]/AS[" + strings.Join(auto, " ") + "]>>>>"
}

// isOff reads a group's first state: the base state, unless ON or OFF names it.
func isOff(doc *pdf.Document, config types.Dict, group types.Object) bool {
	named := func(list string) bool {
		return slices.ContainsFunc(doc.Array(config[list]), func(o types.Object) bool {
			return syntax.ObjectNumber(o) == syntax.ObjectNumber(group)
		})
	}
	if doc.Name(config["BaseState"]) == "OFF" {
		return !named("ON")
	}
	return named("OFF")
}

// intents takes over the output intent, which says what the art's device colours
// mean, where all sources have the same one; else it cannot speak for all.
func (b *builder) intents() string {
	if len(b.order) == 0 {
		return ""
	}
	first := b.order[0]
	for _, doc := range b.order[1:] {
		if !sameIntents(first, doc) {
			b.notes = append(b.notes, "the files are made for different print conditions (output intents), so the sheet names none")
			return ""
		}
	}
	if len(first.Intents) == 0 {
		return ""
	}
	return "/OutputIntents" + b.sources[first].Value(first.Catalog()["OutputIntents"])
}

func sameIntents(a, b *pdf.Document) bool {
	return slices.EqualFunc(a.Intents, b.Intents, func(x, y pdf.Intent) bool {
		p, _ := x.Profile() // one without a profile is told by its name
		q, _ := y.Profile()
		return x.Subtype == y.Subtype && x.Identifier == y.Identifier && string(p) == string(q)
	})
}
