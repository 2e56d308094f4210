package desk

import (
	"encoding/json"
	"net/http"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"stoneproof/rules"
)

// lastLine is the end of an answer in lines.
func lastLine(t *testing.T, said string) line {
	t.Helper()
	var l line
	for text := range strings.Lines(said) {
		l = line{}
		if err := json.Unmarshal([]byte(text), &l); err != nil {
			t.Fatalf("%v: %s", err, text)
		}
	}
	return l
}

func TestACardIsJudgedAndJudgedAgain(t *testing.T) {
	b := &bench{}
	d := opened(t, b)
	status, said := post(t, d, part{"front", "pots.pdf", "front art"}, part{"back", "pots-back.pdf", "back art"})
	if status != http.StatusOK || !strings.Contains(said, `"say":"Judging"`) {
		t.Fatalf("answered %d: %.300s", status, said)
	}
	l := lastLine(t, said)
	if diff := cmp.Diff([]string{"pots.pdf", "pots-back.pdf"}, l.Names); diff != "" {
		t.Errorf("names (-want +got):\n%s", diff)
	}
	if !strings.Contains(l.Report, "Ready for print") || !strings.Contains(l.Report, `href="proof-2-1.png"`) {
		t.Errorf("the report is %.300s", l.Report)
	}
	// The numbers alone, as the page sends them when one is turned: the files stay.
	res, _ := answer(t, request(t, d, "POST", "check", []part{
		{name: "size", text: ""}, {name: "width", text: "90"}, {name: "height", text: "50,5"}, {name: "bleed", text: "2"},
		{name: "safe", text: "4"}, {name: "unit", text: "mm"}, {name: "process", text: "offset-coated"},
	}))
	if res.StatusCode != http.StatusOK {
		t.Fatalf("answered %d", res.StatusCode)
	}
	got := b.last(t)
	want := rules.Size{W: rules.MM(90), H: rules.MM(50.5)}
	if got.Ticket.Trim != want || got.Ticket.Bleed != rules.MM(2) || got.Ticket.Safe != rules.MM(4) || got.Ticket.Process != "offset-coated" {
		t.Errorf("judged by %+v", got.Ticket)
	}
	if diff := cmp.Diff([]File{{"pots.pdf", []byte("front art")}, {"pots-back.pdf", []byte("back art")}}, got.Files); diff != "" {
		t.Errorf("files (-want +got):\n%s", diff)
	}
	_, text := answer(t, request(t, d, "GET", "", nil))
	for _, kept := range []string{`value="50,5"`, "pots-back.pdf", `value="offset-coated" selected`} {
		if !strings.Contains(text, kept) {
			t.Errorf("opened again, the page has lost %s", kept)
		}
	}
}

func TestWithoutAScript(t *testing.T) {
	d := opened(t, &bench{})
	r := request(t, d, "POST", "check", job(part{"front", "card.pdf", "art"}))
	r.Header.Set("Accept", "text/html")
	res, _ := answer(t, r)
	if res.StatusCode != http.StatusSeeOther || res.Header.Get("Location") != "/"+d.token+"/" && res.Header.Get("Location") != "./" {
		t.Fatalf("answered %d to %q", res.StatusCode, res.Header.Get("Location"))
	}
	if _, said := answer(t, request(t, d, "GET", "", nil)); !strings.Contains(said, "Ready for print") {
		t.Error("the page shows no report")
	}
	r = request(t, d, "POST", "check", []part{{name: "unit", text: "furlong"}})
	r.Header.Set("Accept", "text/html")
	res, said := answer(t, r)
	if res.StatusCode != http.StatusUnprocessableEntity || !strings.Contains(said, "Unknown unit") || !strings.Contains(said, "<form") {
		t.Errorf("nonsense is answered %d: %.200s", res.StatusCode, said)
	}
}

func TestFilesAreKeptAndCleared(t *testing.T) {
	d := opened(t, &bench{})
	for _, name := range []string{"report.html", "proof-1-1.png"} {
		if res, _ := answer(t, request(t, d, "GET", name, nil)); res.StatusCode != http.StatusNotFound {
			t.Errorf("an empty desk gives %s", name)
		}
	}
	post(t, d, part{"front", "card.pdf", "art"})
	res, said := answer(t, request(t, d, "GET", "report.html", nil))
	if !strings.Contains(res.Header.Get("Content-Disposition"), "attachment") || !strings.Contains(said, "<!doctype html>") {
		t.Errorf("the report is kept as %q: %.100s", res.Header.Get("Content-Disposition"), said)
	}
	if _, said := answer(t, request(t, d, "GET", "proof-1-1.png", nil)); said != "\x89PNG of card.pdf" {
		t.Errorf("the proof is %q", said)
	}
	_, said = post(t, d, part{name: "take", text: "front"})
	if l := lastLine(t, said); l.Names[front] != "" || !strings.Contains(l.Report, "Lay a card") {
		t.Errorf("a card that was taken away is still there: %+v", l)
	}
	post(t, d, part{"front", "card.pdf", "art"})
	answer(t, request(t, d, "POST", "clear", []part{}))
	if _, said := answer(t, request(t, d, "GET", "", nil)); strings.Contains(said, "card.pdf") {
		t.Error("the desk was not cleared")
	}
	if d.table.files != [slots]*File{} {
		t.Error("a file is still held")
	}
}

func TestTroubleIsTold(t *testing.T) {
	d := opened(t, &bench{})
	for _, c := range []struct {
		field, text, want string
	}{
		{"bleed", "", "The bleed is missing."},
		{"bleed", "wide", "The bleed: length"},
		{"bleed", "1e9", "The bleed: length"},
		{"bleed", "90", "larger than the card itself"},
		{"safe", "1", "leaves no safe zone"},
		{"safe", "-1", "less than 0"},
		{"size", "us-busness", "did you mean us-business"},
		{"process", "litho", `Unknown process \"litho\"`},
		{"unit", "<b>", "Unknown unit"},
	} {
		parts := job()
		for i := range parts {
			if parts[i].name == c.field {
				parts[i].text = c.text
			}
		}
		res, said := answer(t, request(t, d, "POST", "check", parts))
		if res.StatusCode != http.StatusUnprocessableEntity || !strings.Contains(said, c.want) {
			t.Errorf("%s %q is answered %d: %s", c.field, c.text, res.StatusCode, said)
		}
	}
}

func TestTooMuchIsRefused(t *testing.T) {
	b := &bench{}
	d := opened(t, b)
	for name, parts := range map[string][]part{
		"a file":       {{"front", "card.pdf", strings.Repeat("x", 1001)}},
		"both files":   {{"front", "a.pdf", strings.Repeat("x", 3000)}, {"back", "b.pdf", strings.Repeat("x", 3000)}},
		"three files":  {{"front", "a.pdf", "x"}, {"back", "b.pdf", "x"}, {"front", "c.pdf", "x"}},
		"a field":      {{name: "size", text: strings.Repeat("x", 20_001)}},
		"unknown ones": {{name: "a", text: strings.Repeat("x", 15_000)}, {name: "b", text: strings.Repeat("x", 15_000)}},
	} {
		if status, said := post(t, d, parts...); status != http.StatusRequestEntityTooLarge {
			t.Errorf("%s over the ceiling: answered %d: %s", name, status, said)
		}
	}
	if len(b.jobs) > 0 {
		t.Error("something over a ceiling was judged")
	}
	if status, said := post(t, d, part{"front", "card.pdf", strings.Repeat("x", 1000)}); status != http.StatusOK {
		t.Errorf("a file of just the ceiling: answered %d: %s", status, said)
	}
}

// TestNoFormIsRefused: what is no form is told so, and does no harm.
func TestNoFormIsRefused(t *testing.T) {
	d := opened(t, &bench{})
	for _, kind := range []string{"", "text/plain", "application/json", "multipart/form-data", "multipart/form-data; boundary=x"} {
		r := request(t, d, "POST", "check", []part{})
		r.Header.Set("Content-Type", kind)
		if res, said := answer(t, r); res.StatusCode != http.StatusUnprocessableEntity {
			t.Errorf("%q is answered %d: %s", kind, res.StatusCode, said)
		}
	}
}

// TestHostileNames: a name is shown, harmlessly, and never a path.
func TestHostileNames(t *testing.T) {
	b := &bench{}
	d := opened(t, b)
	for name, want := range map[string]string{
		"../../../../tmp/card.pdf":            "card.pdf",
		"/etc/passwd":                         "passwd",
		"<script>alert(1)<script>.pdf":        "<script>alert(1)<script>.pdf",
		"card\u202egnp.pdf":                   "card\u202egnp.pdf",
		strings.Repeat("long", 2500) + ".pdf": strings.Repeat("long", 2500) + ".pdf",
	} {
		status, said := post(t, d, part{"front", name, "art"})
		if status != http.StatusOK {
			t.Errorf("%.40q is answered %d: %s", name, status, said)
			continue
		}
		if got := b.last(t).Files[front].Name; got != want {
			t.Errorf("%.40q is called %.40q", name, got)
		}
		l := lastLine(t, said)
		_, text := answer(t, request(t, d, "GET", "", nil))
		for _, shown := range []string{l.Report, text} {
			if strings.Contains(shown, "<script>alert") || strings.Contains(shown, "\u202e") {
				t.Errorf("%.40q is shown as it is", name)
			}
		}
		if strings.Contains(l.Names[front], "\u202e") || len([]rune(l.Names[front])) > 60 {
			t.Errorf("%.40q is given to the script as %q", name, l.Names[front])
		}
	}
}

// TestALaterJobEndsAnEarlier: the numbers turn faster than cards are judged.
func TestALaterJobEndsAnEarlier(t *testing.T) {
	b := &bench{slow: make(chan struct{})}
	d := opened(t, b)
	first := make(chan string, 1)
	go func() {
		_, said := post(t, d, part{"front", "first.pdf", "art"})
		first <- said
	}()
	for range 500 {
		b.mu.Lock()
		n := len(b.jobs)
		b.mu.Unlock()
		if n == 1 {
			break
		}
		time.Sleep(10 * time.Millisecond)
	}
	second := make(chan string, 1)
	go func() {
		_, said := post(t, d, part{"front", "second.pdf", "art"})
		second <- said
	}()
	if said := <-first; strings.Contains(said, `"report"`) {
		t.Errorf("the earlier job was told: %s", said)
	}
	close(b.slow)
	if l := lastLine(t, <-second); !strings.Contains(l.Report, "second.pdf") {
		t.Errorf("the later job tells %.200s", l.Report)
	}
}

func TestDroppedTogether(t *testing.T) {
	ticket, err := rules.Order{}.Ticket()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ first, second, front string }{
		{"pots-front.pdf", "pots-back.pdf", "pots-front.pdf"},
		{"pots-back.pdf", "pots-front.pdf", "pots-front.pdf"},
		{"pots-back.pdf", "pots.pdf", "pots.pdf"},
		{"pots.pdf", "front_pots.pdf", "front_pots.pdf"},
		{"a.pdf", "b.pdf", "a.pdf"},
		{"upfront.pdf", "backpack.pdf", "upfront.pdf"},
	} {
		if got := swapped(ticket, [slots]*File{{Name: c.first}, {Name: c.second}}); got[front].Name != c.front {
			t.Errorf("of %s and %s, %s is the front", c.first, c.second, got[front].Name)
		}
	}
}

// TestNothingTouchesTheDisk: a form of files leaves none behind, not even while it is
// worked on.
func TestNothingTouchesTheDisk(t *testing.T) {
	folder := t.TempDir()
	t.Setenv("TMPDIR", folder)
	b := &bench{slow: make(chan struct{})}
	d := opened(t, b)
	done := make(chan struct{})
	go func() { post(t, d, part{"front", "card.pdf", "art"}); close(done) }()
	for range 500 {
		b.mu.Lock()
		n := len(b.jobs)
		b.mu.Unlock()
		if n > 0 {
			break
		}
		time.Sleep(10 * time.Millisecond)
	}
	if left, err := os.ReadDir(folder); err != nil || len(left) > 0 {
		t.Errorf("while it works there lies %v: %v", left, err)
	}
	close(b.slow)
	<-done
}
