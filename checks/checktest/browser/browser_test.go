package browser

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

// TestHarnessSeesWhatIsWrong: a page with a fault of each kind is not let through.
func TestHarnessSeesWhatIsWrong(t *testing.T) {
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path != "/" {
			http.NotFound(w, r)
			return
		}
		w.Header().Set("Content-Type", "text/html")
		w.Header().Set("Content-Security-Policy", "img-src 'none'")
		w.Write([]byte(`<!doctype html><title>Bad</title><link rel="icon" href="data:,"><h1 style="width: 2000px; color: #eee; background: #fff">Pale and wide</h1>
			<img src="/forbidden.png"><script src="/missing.js"></script><script>console.error("said"); throw new Error("thrown")</script>`))
	}))
	defer server.Close()
	tab := Start(t).Tab(t)
	tab.Look(360, false)
	tab.Go(server.URL)
	if n := tab.Sideways(); n < 1000 {
		t.Errorf("the page is %d px wider than its window", n)
	}
	complaints := strings.Join(tab.Complaints(), "\n")
	for _, want := range []string{"said", "thrown", "missing.js", "Content Security Policy"} {
		if !strings.Contains(complaints, want) {
			t.Errorf("the console's complaints do not tell %q:\n%s", want, complaints)
		}
	}
	found, err := tab.violations(nil)
	if err != nil {
		t.Skipf("NOT AUDITED: %v", err)
	}
	for _, want := range []string{"color-contrast", "image-alt", "html-has-lang"} {
		if !strings.Contains(strings.Join(found, "\n"), want) {
			t.Errorf("the audit does not find %s: %s", want, found)
		}
	}
}
