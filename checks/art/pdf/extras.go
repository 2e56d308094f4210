package pdf

import (
	"slices"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// Extras are things in a file that are no paint but may change what is seen or
// printed, or do something when the file is opened.
type Extras struct {
	Scripts   bool // JavaScript, run on opening or by name
	Fields    int  // top-level form fields
	XFA       bool // a form in XML, which prints by other rules than the page
	Files     bool // other files are attached
	Portfolio bool // readers show the attached files in the place of the pages (12.3.5)
}

func (d *Document) findExtras(catalog types.Dict) {
	names := d.Dict(catalog["Names"])
	form := d.Dict(catalog["AcroForm"])
	_, named := names["JavaScript"]
	_, d.Extras.Files = names["EmbeddedFiles"]
	_, d.Extras.XFA = form["XFA"]
	_, d.Extras.Portfolio = catalog["Collection"]
	d.Extras.Fields = len(d.Array(form["Fields"]))
	d.Extras.Scripts = named || d.isScript(catalog["OpenAction"]) || d.hasScript(catalog["AA"])
}

// events are the keys of additional actions: of annotations, pages, form fields and
// the file, before printing and the like (12.6.3, Tables 194 to 197).
var events = [...]string{"E", "X", "D", "U", "Fo", "Bl", "PO", "PC", "PV", "PI", "O", "C", "K", "F", "V", "WC", "WS", "DS", "WP", "DP"}

func (d *Document) hasScript(actions types.Object) bool {
	list := d.Dict(actions)
	return slices.ContainsFunc(events[:], func(event string) bool { return d.isScript(list[event]) })
}

// isScript looks at an action and those that come after it (12.6.2), as far as
// any honest chain goes.
func (d *Document) isScript(action types.Object) bool {
	const longest = 16
	for range longest {
		a := d.Dict(action)
		if d.Name(a["S"]) == "JavaScript" {
			return true
		}
		action = a["Next"]
		if list := d.Array(action); len(list) > 0 {
			action = list[0]
		}
	}
	return false
}
