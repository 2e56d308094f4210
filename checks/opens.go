package checks

import (
	"fmt"
	"slices"
	"strings"

	"stoneproof/checks/art"
	"stoneproof/rules"
)

// FileOpens judges that the file is what its name says, whole and not locked.
// A raster's pixels are decoded to the last, and a page is rendered: a header
// that reads well proves nothing.
var FileOpens = &Check{
	Rule:  "file-opens",
	Needs: Paint,
	Side:  sideSound,
	File:  fileOpens,
}

func fileOpens(p *Pass) {
	tell := func(message, fix string) {
		p.Report(rules.Finding{Verdict: rules.Fail, Basis: rules.Read, Message: sentence(message), Fix: fix})
	}
	if promised, is := p.Art.Misnamed(); is {
		tell(fmt.Sprintf("The name says %s, but the content is %s", art.Title(promised), art.Title(p.Art.Kind)),
			"Rename it to end in "+art.Ending(p.Art.Kind)+", or export it again as "+art.Title(promised)+".")
	}
	if repairs := p.Art.Repairs(); len(repairs) > 0 {
		tell("The file is damaged, though a reader can mend it: "+strings.Join(repairs, "; "), art.ExportAgain)
	}
	if len(p.found()) == 0 {
		message := "A whole " + art.Title(p.Art.Kind) + " file."
		for _, note := range notes(p.Art) {
			message += " " + sentence(upperFirst(note))
		}
		p.Report(rules.Finding{Verdict: rules.Pass, Basis: rules.Read, Message: message})
	}
}

// sideSound looks for damage that the file's structure does not show.
func sideSound(p *Pass) {
	for _, f := range p.Side.Unsound(p.Ctx) {
		p.Report(f.Finding())
	}
}

// notes tell what of the file is not judged, or was read by convention.
func notes(a *art.Art) []string {
	var list []string
	for _, s := range a.Sides {
		if s.Header == nil {
			continue
		}
		list = append(list, s.Header.Notes...)
		if s.Header.Extra > 0 {
			list = append(list, rules.Counted(s.Header.Extra, "extra channel")+" beside the process colours: not judged")
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// sentence closes a message with a full stop.
func sentence(s string) string {
	if s == "" || strings.HasSuffix(s, ".") {
		return s
	}
	return s + "."
}
