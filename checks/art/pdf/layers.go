package pdf

import (
	"slices"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"stoneproof/checks/art/pdf/syntax"
)

// Layer is an optional content group (8.11).
type Layer struct {
	Name   string
	On     bool // shown on a screen, as the file is first opened
	Prints bool
}

// findLayers reads the groups and the default configuration (8.11.4.3). A group
// that is not meant for viewing hides nothing (8.11.2.1) and is passed over.
func (d *Document) findLayers(catalog types.Dict) {
	props := d.Dict(catalog["OCProperties"])
	if props == nil {
		return
	}
	config := d.Dict(props["D"])
	base := d.Name(config["BaseState"]) != "OFF"
	d.layers = map[int]int{}
	for _, o := range d.Array(props["OCGs"]) {
		id := syntax.ObjectNumber(o)
		if id == 0 || d.layers[id] != 0 || !d.forViewing(d.Dict(o)) {
			continue
		}
		d.Layers = append(d.Layers, Layer{Name: plainText(d.Text(d.Dict(o)["Name"])), On: base})
		d.layers[id] = len(d.Layers)
	}
	d.switchLayers(config["ON"], func(_ types.Dict, l *Layer) { l.On = true })
	d.switchLayers(config["OFF"], func(_ types.Dict, l *Layer) { l.On = false })
	// What a group's own usage says of printing is taken by the standard only where
	// the configuration's AS names it (8.11.4.5); widespread readers take it always.
	d.switchLayers(props["OCGs"], func(group types.Dict, l *Layer) { l.Prints = d.state(group, "Print", l.On) })
	for _, o := range d.Array(config["AS"]) {
		if auto := d.Dict(o); d.Name(auto["Event"]) == "View" && slices.ContainsFunc(d.Array(auto["Category"]), d.isView) {
			d.switchLayers(auto["OCGs"], func(group types.Dict, l *Layer) { l.On = d.state(group, "View", l.On) })
		}
	}
}

func (d *Document) isView(o types.Object) bool { return d.Name(o) == "View" }

// forViewing reads a group's Intent: a name or several, View where there is none.
func (d *Document) forViewing(group types.Dict) bool {
	intent := d.Get(group["Intent"])
	list, many := intent.(types.Array)
	return intent == nil || d.isView(intent) || many && slices.ContainsFunc(list, d.isView)
}

func (d *Document) switchLayers(list types.Object, set func(group types.Dict, l *Layer)) {
	for _, o := range d.Array(list) {
		if i := d.layers[syntax.ObjectNumber(o)]; i != 0 {
			set(d.Dict(o), &d.Layers[i-1])
		}
	}
}

// state is what a group's usage says for viewing or printing (8.11.4.4, Table 102),
// else as it was.
func (d *Document) state(group types.Dict, use string, was bool) bool {
	switch d.Name(d.Dict(d.Dict(group["Usage"])[use])[use+"State"]) {
	case "ON":
		return true
	case "OFF":
		return false
	}
	return was
}

// layerOf is the place in Layers, from 1, of a group or of the first one of a
// membership dictionary; 0 if o is neither.
func (d *Document) layerOf(o types.Object) int {
	if o == nil || d.layers == nil {
		return 0
	}
	if i := d.layers[syntax.ObjectNumber(o)]; i != 0 {
		return i
	}
	for _, g := range d.members(o) {
		if i := d.layers[syntax.ObjectNumber(g)]; i != 0 {
			return i
		}
	}
	return 0
}

// members are the groups of a membership dictionary: one or an array of them.
func (d *Document) members(o types.Object) types.Array {
	member := d.Dict(o)
	if d.Name(member["Type"]) != "OCMD" {
		return nil
	}
	if list := d.Array(member["OCGs"]); list != nil {
		return list
	}
	return types.Array{member["OCGs"]}
}

// layerOff is LayerOff at the price of its work: looking at a group costs as much as
// an operator does.
func (w *walker) layerOff(o types.Object) bool {
	if member := w.doc.Dict(o); w.doc.layers != nil {
		w.afford(len(w.doc.Array(member["OCGs"])))
		if member["VE"] != nil {
			w.afford(mostTerms)
		}
	}
	return w.doc.LayerOff(o)
}

// LayerOff tells whether a group or a membership dictionary hides what belongs to
// it in print. A visibility expression goes before P and OCGs, which writers give
// beside it for older readers (8.11.2.2, Table 99).
func (d *Document) LayerOff(o types.Object) bool {
	if o == nil || d.layers == nil {
		return false
	}
	if i := d.layers[syntax.ObjectNumber(o)]; i != 0 {
		return !d.Layers[i-1].Prints
	}
	if member := d.Dict(o); d.Name(member["Type"]) == "OCMD" && d.Array(member["VE"]) != nil {
		terms := mostTerms
		return !d.shows(member["VE"], &terms)
	}
	on, off := 0, 0
	for _, g := range d.members(o) {
		switch i := d.layers[syntax.ObjectNumber(g)]; {
		case i == 0:
		case d.Layers[i-1].Prints:
			on++
		default:
			off++
		}
	}
	if on+off == 0 {
		return false
	}
	switch d.Name(d.Dict(o)["P"]) {
	case "AllOn":
		return off > 0
	case "AnyOff":
		return off == 0
	case "AllOff":
		return on > 0
	}
	return on == 0 // AnyOn
}

// mostTerms bounds an expression, whose parts may be shared and so grow without end.
const mostTerms = 64

// shows evaluates a visibility expression: a group, or an operator and its operands
// (8.11.2.2). What cannot be read hides nothing. Terms are the operands left to look at.
func (d *Document) shows(o types.Object, terms *int) bool {
	if *terms--; *terms < 0 {
		return true
	}
	if i := d.layers[syntax.ObjectNumber(o)]; i != 0 {
		return d.Layers[i-1].Prints
	}
	list := d.Array(o)
	if len(list) < 2 {
		return true
	}
	operator, operands := d.Name(list[0]), list[1:min(len(list), mostTerms)]
	shown := func(o types.Object) bool { return d.shows(o, terms) }
	hidden := func(o types.Object) bool { return !d.shows(o, terms) }
	switch operator {
	case "Not":
		return !shown(list[1])
	case "Or":
		return slices.ContainsFunc(operands, shown)
	case "And":
		return !slices.ContainsFunc(operands, hidden)
	}
	return true
}
