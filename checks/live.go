package checks

import (
	"fmt"
	"iter"
	"strings"

	"stoneproof/checks/art/pdf"
	"stoneproof/rules"
)

// LiveExtras judges that nothing in the file prints otherwise than it looks: what
// lies on the page beside its content, and layers on each side; forms and scripts in
// the file as a whole.
var LiveExtras = &Check{
	Rule:  "live-extras",
	Needs: Items,
	Side:  liveOnSide,
	File:  liveInFile,
}

func liveOnSide(p *Pass) {
	if p.nothingIn("annotations, form fields or layers") {
		return
	}
	p.printedAnnotations()
	if content, ok := p.content(); ok {
		p.layersDiffer(content)
	}
}

// printedAnnotations warns of what is printed on top of the card.
func (p *Pass) printedAnnotations() {
	var on []rules.Place
	for i := range p.Side.Page.Annotations {
		a := &p.Side.Page.Annotations[i]
		box, there := p.onCard(a.Box)
		if !there || !leavesInk(a) || a.Subtype == "Widget" && p.Art.PDF.Extras.Fields > 0 { // told with its form
			continue
		}
		on = append(on, rules.Place{What: annotationKind(a.Subtype), Where: &box})
	}
	if len(on) == 0 {
		return
	}
	f := rules.Finding{Verdict: rules.Warn, Basis: rules.Read, Where: on[0].Where, Also: on[1:min(len(on), mostPlaces)],
		Fix: "Flatten it into the page when you export, or delete it."}
	f.Message = fmt.Sprintf("%s %s lies on top of the page and prints with it, as each program sees fit.", upperFirst(on[0].What), p.place(*on[0].Where))
	if n := len(on); n > 1 {
		f.Message += fmt.Sprintf(" It is the first of %d such things.", n)
		f.Fix = "Flatten them into the page when you export, or delete them."
	}
	p.Report(f)
}

// onCard is a box of the page in trim coordinates, if it touches what reaches ink.
func (p *Pass) onCard(r pdf.Rect) (b rules.Box, there bool) {
	b = p.Side.Box(r)
	if !p.Side.Placed() {
		return b, !b.Empty()
	}
	return b, !b.Intersect(p.Side.Printed()).Empty()
}

// leavesInk reports whether an annotation is printed. One that brings no appearance
// is drawn by its reader as that sees fit, if it is anything but a link or a form
// field: of a link that is its border (ISO 32000-1, 12.5.6.5), of a field nothing is
// known. A popup shows on a screen alone.
func leavesInk(a *pdf.Annotation) bool {
	switch {
	case !a.Prints || a.Subtype == "Popup":
		return false
	case a.Appearance:
		return true
	case a.Subtype == "Link":
		return a.Border
	}
	return a.Subtype != "Widget"
}

// annotationKind is what people call a kind of annotation (ISO 32000-1, Table 169).
func annotationKind(subtype string) string {
	switch subtype {
	case "Text", "FreeText", "Caret":
		return "a note"
	case "Link":
		return "the frame of a link"
	case "Widget":
		return "a form field"
	case "Highlight", "Underline", "Squiggly", "StrikeOut":
		return "a mark over text"
	case "Line", "Square", "Circle", "Polygon", "PolyLine", "Ink":
		return "a mark drawn over the page"
	case "Stamp":
		return "a stamp"
	case "Watermark":
		return "a watermark"
	case "PrinterMark":
		return "a printer's mark"
	case "FileAttachment":
		return "the icon of an attached file"
	case "Sound", "Movie", "Screen", "3D", "RichMedia":
		return "a film, a sound or a model"
	}
	return "an annotation"
}

// layersDiffer judges the layers that paint on the card. One that is shown and not
// printed, or printed and not shown, fails: what comes out depends on the program
// that prints. One that is off for both warns, for anybody can switch it on.
func (p *Pass) layersDiffer(content *pdf.Content) {
	first := map[int]rules.Box{}
	for it := range items(content) {
		box, there := p.onCard(it.Box)
		if _, known := first[it.Layer]; it.Layer > 0 && !known && there && !it.Clipped && !it.InMask {
			first[it.Layer] = box
		}
	}
	for _, kind := range []struct {
		on, prints bool
		verdict    rules.Verdict
		is, fix    string
	}{
		{true, false, rules.Fail, "shows on a screen but is not to be printed, and not every program heeds that", "Delete it if it must not print, or let it print; then export again with all layers merged into one."},
		{false, true, rules.Fail, "is off on a screen but prints", "Show it and look at the card, then keep or delete it; export again with all layers merged into one."},
		{false, false, rules.Warn, "paints on the card but is switched off, and whoever prints it can switch it on", "Delete it from the file that goes to print."},
	} {
		var names []string
		f := rules.Finding{Verdict: kind.verdict, Basis: rules.Read, Fix: kind.fix}
		for i, l := range p.Art.PDF.Layers {
			box, paints := first[i+1]
			if !paints || l.On != kind.on || l.Prints != kind.prints {
				continue
			}
			if names = append(names, fmt.Sprintf("%q", shorten(l.Name))); f.Where == nil {
				f.Where = &box
			} else if len(f.Also) < mostPlaces {
				f.Also = append(f.Also, rules.Place{What: l.Name, Where: &box})
			}
		}
		if len(names) > 0 {
			f.Message = fmt.Sprintf("The layer %s %s.", names[0], kind.is)
			if n := len(names); n > 1 {
				f.Message += fmt.Sprintf(" So it is with %s.", someOf(names[1:]))
			}
			p.Report(f)
		}
	}
}

// items are all things that a page paints, kind by kind.
func items(c *pdf.Content) iter.Seq[*pdf.Item] {
	return func(yield func(*pdf.Item) bool) {
		for i := range c.Texts {
			if !yield(&c.Texts[i].Item) {
				return
			}
		}
		for i := range c.Images {
			if !yield(&c.Images[i].Item) {
				return
			}
		}
		for i := range c.Paths {
			if !yield(&c.Paths[i].Item) {
				return
			}
		}
		for i := range c.Shadings {
			if !yield(&c.Shadings[i].Item) {
				return
			}
		}
	}
}

func liveInFile(p *Pass) {
	if p.Art.PDF == nil {
		return // told side by side
	}
	extras := p.Art.PDF.Extras
	if extras.Portfolio {
		p.live("The file is a folder of files: readers show what is attached to it in the place of its pages.", "Take the artwork out of it and send that alone.")
	}
	switch {
	case extras.XFA:
		p.live("The file holds a form in XML (XFA), which some programs print in the place of the page.", "Print the form to a new PDF, and send that.")
	case extras.Fields == 1:
		p.live("The file holds a form field, which each program draws and prints in its own way.", "Flatten the form when you export, or delete it.")
	case extras.Fields > 1:
		p.live(fmt.Sprintf("The file holds a form of %d fields, which each program draws and prints in its own way.", extras.Fields), "Flatten the form when you export, or delete it.")
	}
	if p.scripted() {
		p.live("The file holds a script (JavaScript), which may change what is shown and printed.", "Export again without scripts, or print the page to a new PDF.")
	}
	if len(p.found()) == 0 {
		p.Report(rules.Finding{Verdict: rules.Pass, Basis: rules.Read, Message: "Nothing prints otherwise than it looks" + p.harmless() + "."})
	}
}

func (p *Pass) live(message, fix string) {
	p.Report(rules.Finding{Verdict: rules.Warn, Basis: rules.Read, Message: message, Fix: fix})
}

func (p *Pass) scripted() bool {
	if p.Art.PDF.Extras.Scripts {
		return true
	}
	for _, s := range p.Art.Sides {
		if s.Page.Script {
			return true
		}
		for _, a := range s.Page.Annotations {
			if a.Script {
				return true
			}
		}
	}
	return false
}

// harmless names what is in the file and leaves no ink, as the end of a sentence.
func (p *Pass) harmless() string {
	links, others := 0, 0
	for _, s := range p.Art.Sides {
		for i := range s.Page.Annotations {
			switch a := &s.Page.Annotations[i]; {
			case leavesInk(a): // beside the card
			case a.Subtype == "Link":
				links++
			default:
				others++
			}
		}
	}
	var parts []string
	if links > 0 {
		parts = append(parts, rules.Counted(links, "link"))
	}
	if others > 0 {
		parts = append(parts, rules.Counted(others, "annotation"))
	}
	if p.Art.PDF.Extras.Files {
		parts = append(parts, "attached files")
	}
	if len(parts) == 0 {
		return ""
	}
	return "; not printed: " + strings.Join(parts, ", ")
}
