package page

import (
	"cmp"
	"fmt"
	"html/template"
	"slices"
	"strings"

	"stoneproof/report"
	"stoneproof/rules"
)

// view is what the page's form is filled with. All text in it that a file controls
// has been made visible.
type view struct {
	Title   string
	Policy  string
	Style   template.CSS
	Version string
	Verdict rules.Verdict
	Heading string
	Closing string
	Files   []fileView
	Ticket  []fact
}

type fileView struct {
	ID      string // of the file on the page: "1"
	Alone   bool   // on the page
	Name    string // short enough for a heading
	Verdict rules.Verdict
	Tally   string // "2 fail, 1 warns"
	Lines   []string
	Sides   []sideView
	Skips   []skipView
	Passes  []rules.Rule
	Facts   []fact
}

// sideView is a side with what was found on it; number 0 is the file as a whole.
type sideView struct {
	Heading  string
	Proof    *proofView
	Findings []findingView
}

type findingView struct {
	ID      string // of the finding on the page
	Number  int    // by which the proof calls it; 0 where it has no place there
	At      string // of its place in the proof; empty where it has none
	Verdict rules.Verdict
	Rule    string
	Place   string // on its side: "left edge"
	Message string
	Also    []string
	Fix     string

	Why   template.HTML // the rule's page, where the rule is met first
	Title string        // of the rule
	See   string        // the rule, where its page stands with another finding
}

type skipView struct {
	Rules  string
	Reason string
}

type fact struct{ Name, Text string }

// Lengths of names in columns: what a heading and a line of an index hold.
const (
	headingName = 64
	titleName   = 48
)

func viewOf(r rules.Report, o Options) (view, error) {
	v := view{
		Policy: policy(), Style: template.CSS(style), Version: report.Visible(r.Version),
		Closing: report.Closing(r, o.Strict), Ticket: ticketFacts(r.Ticket),
	}
	v.Verdict, v.Heading, v.Title = headline(r)
	told := map[string]bool{}
	for i, f := range r.Files {
		shown, err := (&teller{unit: r.Ticket.Unit, file: i, id: fmt.Sprint(i + 1), proof: o.Proof, told: told}).view(f)
		if err != nil {
			return view{}, err
		}
		shown.Alone = len(r.Files) == 1
		v.Files = append(v.Files, shown)
	}
	return v, nil
}

// headline is the verdict of the run in a few words, and what a browser's tab says.
func headline(r rules.Report) (worst rules.Verdict, heading, title string) {
	worst = rules.Pass
	for _, f := range r.Files {
		if f.Verdict.Worse(worst) {
			worst = f.Verdict
		}
	}
	switch {
	case len(r.Files) == 0:
		worst, heading = rules.Skip, "Nothing was checked"
	case worst == rules.Fail:
		heading = "Not ready for print"
	case worst == rules.Warn:
		heading = "Ready for print, with warnings"
	default:
		heading = "Ready for print"
	}
	title = rules.Counted(len(r.Files), "file")
	if len(r.Files) == 1 {
		title = report.Shortened(r.Files[0].Path, titleName)
	}
	return worst, heading, string(worst) + ": " + title
}

// teller tells one file.
type teller struct {
	unit  rules.Unit
	file  int
	id    string
	proof func(file, side int) *Proof
	told  map[string]bool // rules whose pages stand on the page already
}

func (t *teller) view(f rules.FileReport) (fileView, error) {
	numbers := rules.Numbers(f.Findings)
	v := fileView{
		ID: t.id, Name: report.Shortened(f.Path, headingName), Verdict: f.Verdict, Tally: tally(f),
		Lines: report.Facts(f, t.unit), Skips: skipsOf(f, numbers), Passes: passesOf(f), Facts: t.facts(f),
	}
	var err error
	v.Sides, err = t.sides(f, numbers)
	return v, err
}

// tally counts what was found in a file that is not right.
func tally(f rules.FileReport) string {
	var parts []string
	for _, verdict := range []rules.Verdict{rules.Fail, rules.Warn, rules.Skip} {
		n := 0
		for _, g := range f.Findings {
			if g.Verdict == verdict {
				n++
			}
		}
		if n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, verdict))
		}
	}
	if len(parts) == 0 {
		return "every rule passes"
	}
	return strings.Join(parts, ", ")
}

// sides groups what is not right by side, the file as a whole first, and adds the
// proof of each side that has one.
func (t *teller) sides(f rules.FileReport, numbers []int) ([]sideView, error) {
	whole := sideView{Heading: "The file as a whole"}
	bySide := map[int]*sideView{0: &whole}
	order := []*sideView{&whole}
	for _, s := range f.Sides {
		side := &sideView{Heading: fmt.Sprintf("Side %d", s.Number)}
		if t.proof != nil {
			side.Proof = t.proofOf(f, s.Number)
		}
		bySide[s.Number] = side
		order = append(order, side)
	}
	for _, i := range toldOrder(f.Findings, numbers) {
		g := f.Findings[i]
		side, ok := bySide[g.Side]
		if !ok {
			side = &whole
		}
		shown, err := t.finding(g, numbers[i], len(side.Findings)+1)
		if err != nil {
			return nil, err
		}
		side.Proof.link(&shown, t.id)
		side.Findings = append(side.Findings, shown)
	}
	var views []sideView
	for _, s := range order {
		if len(s.Findings) > 0 || s.Proof != nil {
			views = append(views, *s)
		}
	}
	return views, nil
}

// toldOrder is what fails or warns, or was not judged at a place that the proof shows,
// in the order in which it is told: by side, the worst first, then as it stands.
func toldOrder(findings []rules.Finding, numbers []int) []int {
	var at []int
	for i, f := range findings {
		if f.Verdict == rules.Fail || f.Verdict == rules.Warn || numbers[i] > 0 {
			at = append(at, i)
		}
	}
	slices.SortStableFunc(at, func(a, b int) int {
		f, g := findings[a], findings[b]
		worse := 0
		if f.Verdict.Worse(g.Verdict) {
			worse = -1
		} else if g.Verdict.Worse(f.Verdict) {
			worse = 1
		}
		return cmp.Or(cmp.Compare(f.Side, g.Side), worse)
	})
	return at
}

// finding tells a finding; nth is its place among those of its side.
func (t *teller) finding(f rules.Finding, number, nth int) (findingView, error) {
	v := findingView{
		ID: fmt.Sprintf("finding-%s-%d-%d", t.id, f.Side, nth), Number: number,
		Verdict: f.Verdict, Rule: report.Visible(f.Rule),
		Message: report.Bounded(f.Message), Fix: report.Bounded(f.Fix),
	}
	if f.Edge != "" {
		v.Place = report.Visible(string(f.Edge)) + " edge"
	}
	for _, p := range f.Also {
		v.Also = append(v.Also, report.Bounded(p.What))
	}
	rule, err := rules.RuleNamed(f.Rule)
	if err != nil {
		return v, nil // of a judge that knows more rules than we do
	}
	v.Title = rule.Title
	if t.told[f.Rule] {
		v.See = f.Rule
		return v, nil
	}
	t.told[f.Rule] = true
	v.Why, err = why(f.Rule)
	return v, err
}

// skipsOf gathers what was not judged by its reasons, but for what is told with its
// place.
func skipsOf(f rules.FileReport, numbers []int) []skipView {
	var skips []skipView
	for i, g := range f.Findings {
		if g.Verdict != rules.Skip || numbers[i] > 0 {
			continue
		}
		reason, name := report.Bounded(g.Message), report.Visible(g.Rule)
		if g.Side > 0 && len(f.Sides) > 1 {
			reason = fmt.Sprintf("Side %d: %s", g.Side, reason)
		}
		i := slices.IndexFunc(skips, func(s skipView) bool { return s.Reason == reason })
		if i < 0 {
			skips = append(skips, skipView{name, reason})
			continue
		}
		skips[i].Rules += ", " + name
	}
	return skips
}

// passesOf lists the rules of which every finding passes.
func passesOf(f rules.FileReport) []rules.Rule {
	good := map[string]bool{}
	for _, g := range f.Findings {
		was, met := good[g.Rule]
		good[g.Rule] = g.Verdict == rules.Pass && (was || !met)
	}
	return slices.DeleteFunc(rules.Catalogue(), func(r rules.Rule) bool { return !good[r.ID] })
}
