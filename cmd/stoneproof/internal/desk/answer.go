package desk

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"strings"
	"sync"

	"stoneproof/report"
	"stoneproof/report/page"
)

// linesType is asked for by the page's script: lines of JSON, as the work goes on.
const linesType = "application/x-ndjson"

// line is one thing that the script is told.
type line struct {
	Say     string   `json:"say,omitempty"`     // how far the work is
	Trouble string   `json:"trouble,omitempty"` // what is wrong with what was asked
	Names   []string `json:"names,omitempty"`   // of the files in their slots, fit to be shown
	Report  string   `json:"report,omitempty"`  // HTML
}

// teller answers a request: by lines to a script, and else by a page at the end.
type teller struct {
	w     http.ResponseWriter
	lines bool

	mu sync.Mutex
}

func tellerFor(w http.ResponseWriter, r *http.Request) *teller {
	t := &teller{w: w, lines: r.Header.Get("Accept") == linesType}
	if t.lines {
		w.Header().Set("Content-Type", linesType)
	}
	return t
}

// tell sends a line at once. A reader who has gone is no reason to stop: the context
// of the request says so in time.
func (t *teller) tell(l line) {
	if !t.lines {
		return
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	b, err := json.Marshal(l)
	if err != nil {
		return
	}
	t.w.Write(append(b, '\n'))
	http.NewResponseController(t.w).Flush()
}

// check takes in a form, judges what lies on the desk by it, and tells what came of
// it.
func (d *Desk) check(w http.ResponseWriter, r *http.Request) {
	got, err := d.receive(w, r)
	t := tellerFor(w, r)
	if err != nil {
		d.trouble(t, err)
		return
	}
	ticket, err := got.asked.ticket(d.order)
	if got.dropped && err == nil {
		got.files = swapped(ticket, got.files)
	}
	for slot, name := range slotNames {
		if got.take == name {
			d.table.take(slot)
		}
	}
	files, turn, ctx := d.table.lay(r.Context(), got.files, got.asked)
	if err != nil {
		d.trouble(t, err)
		return
	}
	if len(files) > 0 {
		j := d.judge(ctx, Job{ticket, files}, func(said string) { t.tell(line{Say: said}) })
		if ctx.Err() != nil || !d.table.keep(turn, j) {
			return // a later job was begun, or nobody waits
		}
	}
	d.done(t, r)
}

// done shows what lies on the desk now.
func (d *Desk) done(t *teller, r *http.Request) {
	if !t.lines {
		http.Redirect(t.w, r, "./", http.StatusSeeOther)
		return
	}
	names, _, judged := d.table.seen()
	shown, err := shownOf(judged)
	if err != nil {
		d.trouble(t, err)
		return
	}
	t.tell(line{Names: namesOf(names), Report: string(shown)})
}

// trouble tells what is wrong with what was asked.
func (d *Desk) trouble(t *teller, err error) {
	status := http.StatusUnprocessableEntity
	var over tooMuch
	if errors.As(err, &over) {
		status = http.StatusRequestEntityTooLarge
	}
	said := report.Bounded(strings.ToUpper(err.Error()[:1])+err.Error()[1:]) + "."
	if t.lines {
		t.w.WriteHeader(status)
		names, _, _ := d.table.seen()
		t.tell(line{Trouble: said, Names: namesOf(names)})
		return
	}
	d.show(t.w, status, said)
}

func (d *Desk) clear(w http.ResponseWriter, r *http.Request) {
	d.table.clear()
	http.Redirect(w, r, "./", http.StatusSeeOther)
}

// download gives the report as a page of its own.
func (d *Desk) download(w http.ResponseWriter, r *http.Request) {
	_, _, judged := d.table.seen()
	if judged == nil {
		http.NotFound(w, r)
		return
	}
	var b bytes.Buffer
	if err := page.Write(&b, judged.Report, judged.options()); err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Disposition", `attachment; filename="stoneproof-report.html"`)
	serve(w, "text/html; charset=utf-8", b.Bytes())
}

// proof gives a side's proof, if there is one of that name.
func (d *Desk) proof(w http.ResponseWriter, name string) bool {
	_, _, judged := d.table.seen()
	for _, p := range judged.proofs() {
		if p.Name == name {
			w.Header().Set("Content-Disposition", fmt.Sprintf("attachment; filename=%q", "stoneproof-"+p.Name))
			serve(w, "image/png", p.png)
			return true
		}
	}
	return false
}

func serve(w http.ResponseWriter, kind string, b []byte) {
	w.Header().Set("Content-Type", kind)
	w.Write(b)
}
