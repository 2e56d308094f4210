package desk

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"io"
	"mime/multipart"
	"net/http"
	"net/textproto"
	"strings"
	"sync"
	"testing"
	"time"

	"stoneproof/report/page"
	"stoneproof/rules"
)

// bench is a judge that remembers its jobs and finds that all is well.
type bench struct {
	mu   sync.Mutex
	jobs []Job
	slow chan struct{} // if there is one, judging waits for it to close
}

func (b *bench) judge(ctx context.Context, job Job, tell func(string)) Judged {
	b.mu.Lock()
	b.jobs = append(b.jobs, job)
	b.mu.Unlock()
	tell("Judging")
	if b.slow != nil {
		select {
		case <-b.slow:
		case <-ctx.Done():
		}
	}
	r := rules.Report{Version: "devel", Ticket: job.Ticket}
	var proofs [][]page.Proof
	for _, f := range job.Files {
		r.Files = append(r.Files, rules.FileReport{Path: f.Name, Kind: "pdf", Verdict: rules.Pass,
			Sides: []rules.SideFacts{{Number: 1, Trim: job.Ticket.Trim}}})
		proofs = append(proofs, []page.Proof{{PNG: []byte("\x89PNG of " + f.Name), Size: image.Pt(4, 2)}})
	}
	return Judged{Report: r, Proofs: proofs}
}

func (b *bench) last(t *testing.T) Job {
	t.Helper()
	b.mu.Lock()
	defer b.mu.Unlock()
	if len(b.jobs) == 0 {
		t.Fatal("nothing was judged")
	}
	return b.jobs[len(b.jobs)-1]
}

// small ceilings, so that too much is soon there.
func small() Ceilings {
	return Ceilings{FileBytes: 1000, FormBytes: 20_000, Patience: 5 * time.Second}
}

// opened is a desk that answers until the test ends.
func opened(t *testing.T, b *bench) *Desk {
	t.Helper()
	d, err := New(Options{Judge: b.judge, Ceilings: small(), Version: "devel"})
	if err != nil {
		t.Fatal(err)
	}
	ctx, end := context.WithCancel(context.Background())
	ended := make(chan struct{})
	go func() { d.Serve(ctx); close(ended) }()
	t.Cleanup(func() { end(); <-ended })
	return d
}

// part is a part of a form: a field, or a file if it has a file name.
type part struct{ name, file, text string }

// job is the form as the page sends it for a US business card.
func job(more ...part) []part {
	return append([]part{
		{name: "size", text: "us-business"}, {name: "width", text: "3.5"}, {name: "height", text: "2"},
		{name: "bleed", text: "0.125"}, {name: "safe", text: "0.125"}, {name: "unit", text: "in"}, {name: "process", text: "digital"},
	}, more...)
}

func form(t *testing.T, parts []part) (body io.Reader, kind string) {
	t.Helper()
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	for _, p := range parts {
		h := textproto.MIMEHeader{}
		h.Set("Content-Disposition", fmt.Sprintf(`form-data; name=%q`, p.name))
		if p.file != "" {
			// Quoted as a browser quotes it (HTML, multipart form data).
			name := strings.NewReplacer(`"`, "%22", "\r", "%0D", "\n", "%0A").Replace(p.file)
			h.Set("Content-Disposition", fmt.Sprintf(`form-data; name="%s"; filename="%s"`, p.name, name))
		}
		into, err := w.CreatePart(h)
		if err != nil {
			t.Fatal(err)
		}
		io.WriteString(into, p.text)
	}
	w.Close()
	return &b, w.FormDataContentType()
}

// request is what the desk's own page would send.
func request(t *testing.T, d *Desk, method, rest string, parts []part) *http.Request {
	t.Helper()
	var body io.Reader
	var kind string
	if parts != nil {
		body, kind = form(t, parts)
	}
	r, err := http.NewRequest(method, d.Address()+rest, body)
	if err != nil {
		t.Fatal(err)
	}
	if method == http.MethodPost {
		r.Header.Set("Origin", "http://"+d.host)
		r.Header.Set("Accept", linesType)
		r.Header.Set("Content-Type", kind)
	}
	return r
}

// answer is the status and text that a request is answered with; it follows nowhere.
func answer(t *testing.T, r *http.Request) (*http.Response, string) {
	t.Helper()
	client := &http.Client{
		Transport:     &http.Transport{DisableKeepAlives: true},
		CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse },
		Timeout:       20 * time.Second,
	}
	res, err := client.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	b, err := io.ReadAll(res.Body)
	if err != nil {
		t.Fatal(err)
	}
	return res, string(b)
}

func post(t *testing.T, d *Desk, parts ...part) (status int, said string) {
	t.Helper()
	res, said := answer(t, request(t, d, "POST", "check", job(parts...)))
	return res.StatusCode, said
}
