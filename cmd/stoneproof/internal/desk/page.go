package desk

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"net/http"

	"stoneproof/report"
	"stoneproof/report/page"
	"stoneproof/rules"
)

//go:embed desk.html
var markup string

//go:embed desk.css
var ownStyle string

//go:embed desk.js
var script []byte

// forms are the desk's page and its parts, read once. They hold no state.
var forms = template.Must(template.New("desk").Parse(markup))

// style is the report's with the desk's own below it.
func style() []byte { return []byte(page.Style() + ownStyle) }

// view is what the desk's page is filled with.
type view struct {
	Version   string
	Asked     asked
	Sizes     []sizeView
	Processes []processView
	Units     []string
	Slots     []slotView
	MostBytes int64
	Trouble   string
	Shown     template.HTML
}

// sizeView is a named size with what the form is filled with when it is chosen.
type sizeView struct {
	asked
	Title string
}

type processView struct{ Name, Title string }

type slotView struct{ Name, Title, Hint, File string }

// page shows the desk.
func (d *Desk) page(w http.ResponseWriter, r *http.Request) { d.show(w, http.StatusOK, "") }

func (d *Desk) show(w http.ResponseWriter, status int, trouble string) {
	names, a, judged := d.table.seen()
	if a == (asked{}) {
		t, err := d.order.Ticket()
		if err != nil {
			http.Error(w, err.Error(), http.StatusInternalServerError)
			return
		}
		a = askedOf(t)
	}
	shown, err := shownOf(judged)
	if err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	v := view{
		Version: d.version, Asked: a, Sizes: sizes(), Processes: processes(),
		Units: []string{string(rules.UnitMM), string(rules.UnitIn), string(rules.UnitPt)},
		Slots: slotsOf(namesOf(names)), MostBytes: d.ceilings.FileBytes, Trouble: trouble, Shown: shown,
	}
	var b bytes.Buffer
	if err := forms.ExecuteTemplate(&b, "desk", v); err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	w.Write(b.Bytes())
}

func sizes() []sizeView {
	var views []sizeView
	for _, s := range rules.Sizes() {
		t := rules.Ticket{Size: s.Name, Trim: s.Trim, Bleed: s.Bleed, Safe: s.Safe, Unit: s.Unit}
		views = append(views, sizeView{askedOf(t), fmt.Sprintf("%s, %s", s.Title, s.Trim.In(s.Unit))})
	}
	return views
}

func processes() []processView {
	var views []processView
	for _, name := range rules.Processes() {
		views = append(views, processView{name, rules.ProcessTitle(name)})
	}
	return views
}

func slotsOf(names []string) []slotView {
	return []slotView{
		{slotNames[front], "Front", "or both sides in one file", names[front]},
		{slotNames[back], "Back", "if it is a file of its own", names[back]},
	}
}

// namesOf are files' names fit to be shown.
func namesOf(names [slots]string) []string {
	const columns = 48
	var shown []string
	for _, n := range names {
		shown = append(shown, report.Shortened(n, columns))
	}
	return shown
}

// shownOf is the report with what can be kept of it, or a word of welcome.
func shownOf(j *Judged) (template.HTML, error) {
	var b bytes.Buffer
	if j == nil {
		err := forms.ExecuteTemplate(&b, "welcome", nil)
		return template.HTML(b.String()), err
	}
	if err := forms.ExecuteTemplate(&b, "keep", j.proofs()); err != nil {
		return "", err
	}
	err := page.Body(&b, j.Report, j.options())
	return template.HTML(b.String()), err
}

// options show a page the proofs of a job.
func (j *Judged) options() page.Options {
	return page.Options{Proof: func(file, side int) *page.Proof {
		if file < len(j.Proofs) && 0 < side && side <= len(j.Proofs[file]) {
			return &j.Proofs[file][side-1]
		}
		return nil
	}}
}

// keptProof is a proof that can be kept.
type keptProof struct {
	Name, Title string
	png         []byte
}

// proofs are those of a job, in the order of its sides.
func (j *Judged) proofs() []keptProof {
	if j == nil {
		return nil
	}
	var all []keptProof
	for f, sides := range j.Proofs {
		for s, p := range sides {
			if p.PNG == nil {
				continue
			}
			title := fmt.Sprintf("proof of side %d", s+1)
			if len(j.Proofs) > 1 {
				title = fmt.Sprintf("proof of the %s", slotNames[min(f, slots-1)])
			}
			all = append(all, keptProof{fmt.Sprintf("proof-%d-%d.png", f+1, s+1), title, p.PNG})
		}
	}
	return all
}
