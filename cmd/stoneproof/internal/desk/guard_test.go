package desk

import (
	"net"
	"net/http"
	"strings"
	"testing"
)

// TestStrangersAreRefused: who does not come from the desk's own page gets nothing,
// and nothing is judged for him.
func TestStrangersAreRefused(t *testing.T) {
	b := &bench{}
	d := opened(t, b)
	_, port, _ := net.SplitHostPort(d.host)
	for name, change := range map[string]func(*http.Request){
		"a foreign name for this machine":   func(r *http.Request) { r.Host = "cards.example:" + port },
		"localhost, which may be another":   func(r *http.Request) { r.Host = "localhost:" + port },
		"no port":                           func(r *http.Request) { r.Host = "127.0.0.1" },
		"a foreign origin":                  func(r *http.Request) { r.Header.Set("Origin", "http://cards.example") },
		"another port's origin":             func(r *http.Request) { r.Header.Set("Origin", "http://127.0.0.1:1") },
		"an origin that is hidden":          func(r *http.Request) { r.Header.Set("Origin", "null") },
		"a secure origin of the same name":  func(r *http.Request) { r.Header.Set("Origin", "https://"+d.host) },
		"another page, as the browser says": func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "cross-site") },
		"another port, as the browser says": func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "same-site") },
	} {
		for _, r := range []*http.Request{
			request(t, d, "GET", "", nil), request(t, d, "GET", "report.html", nil),
			request(t, d, "POST", "check", job(part{"front", "card.pdf", "art"})),
		} {
			change(r)
			res, said := answer(t, r)
			if res.StatusCode != http.StatusForbidden || strings.Contains(said, "<") {
				t.Errorf("%s: %s is answered %d: %s", name, r.Method, res.StatusCode, said)
			}
		}
	}
	r := request(t, d, "POST", "check", job())
	r.Header.Del("Origin")
	if res, _ := answer(t, r); res.StatusCode != http.StatusForbidden {
		t.Errorf("a form without an origin is answered %d", res.StatusCode)
	}
	if len(b.jobs) > 0 {
		t.Error("something was judged for a stranger")
	}
}

func TestTokenIsAsked(t *testing.T) {
	d := opened(t, &bench{})
	for _, path := range []string{
		"", "/", "/desk.js", "/check", "/" + d.token, "/" + d.token[1:] + "/", "/" + strings.ToUpper(d.token) + "/",
		"//" + d.token + "/", "/x/../" + d.token + "/", "/./" + d.token + "/",
	} {
		r := request(t, d, "GET", "", nil)
		r.URL.Path, r.URL.RawPath = path, ""
		if path == "" {
			r.URL.Path = "/"
		}
		if res, said := answer(t, r); res.StatusCode == http.StatusOK || strings.Contains(said, d.token) {
			t.Errorf("%q is answered %d: %s", path, res.StatusCode, said)
		}
	}
	if len(d.token) < 40 {
		t.Errorf("the token has %d letters", len(d.token))
	}
	if other := opened(t, &bench{}); other.token == d.token {
		t.Error("two desks have the same token")
	}
}

// TestPathsLeadNowhere: behind the token there are names, and no folders.
func TestPathsLeadNowhere(t *testing.T) {
	d := opened(t, &bench{})
	post(t, d, part{"front", "card.pdf", "art"})
	for _, rest := range []string{
		"../../../../etc/passwd", "..%2f..%2f..%2fetc%2fpasswd", "%2e%2e/%2e%2e/etc/passwd", "/etc/passwd", "desk.js/", "desk.js%00",
		"./desk.js", "proof-1-1.png/../../x", "proof-9-9.png", "proof-0-0.png", "C:%5cwindows", "desk.html", "desk.go",
	} {
		r := request(t, d, "GET", "", nil)
		u, err := r.URL.Parse(d.Address() + rest)
		if err != nil {
			t.Fatal(err)
		}
		u.Path = "/" + d.token + "/" + strings.NewReplacer("%2f", "/", "%2e", ".", "%5c", `\`, "%00", "\x00").Replace(rest)
		u.RawPath = "/" + d.token + "/" + rest
		r.URL = u
		if res, said := answer(t, r); res.StatusCode != http.StatusNotFound {
			t.Errorf("%q is answered %d: %.80s", rest, res.StatusCode, said)
		}
	}
	for _, method := range []string{"PUT", "DELETE", "HEAD", "OPTIONS", "TRACE"} {
		r := request(t, d, method, "check", nil)
		r.Header.Set("Origin", "http://"+d.host)
		if res, _ := answer(t, r); res.StatusCode != http.StatusNotFound {
			t.Errorf("%s is answered %d", method, res.StatusCode)
		}
	}
}

// TestNobodyElseMayKeepOrFrame holds the headers that browsers heed.
func TestNobodyElseMayKeepOrFrame(t *testing.T) {
	d := opened(t, &bench{})
	res, _ := answer(t, request(t, d, "GET", "", nil))
	for header, want := range map[string]string{
		"Cache-Control":                "no-store",
		"X-Content-Type-Options":       "nosniff",
		"Referrer-Policy":              "same-origin",
		"Cross-Origin-Resource-Policy": "same-origin",
		"Cross-Origin-Opener-Policy":   "same-origin",
	} {
		if got := res.Header.Get(header); got != want {
			t.Errorf("%s is %q, want %q", header, got, want)
		}
	}
	policy := res.Header.Get("Content-Security-Policy")
	for _, want := range []string{"default-src 'none'", "script-src 'self'", "frame-ancestors 'none'", "form-action 'self'", "base-uri 'none'"} {
		if !strings.Contains(policy, want) {
			t.Errorf("the policy lacks %q: %s", want, policy)
		}
	}
	if strings.Contains(policy, "unsafe") || strings.Contains(policy, "*") {
		t.Errorf("the policy lets too much through: %s", policy)
	}
	if res.Header.Get("Access-Control-Allow-Origin") != "" {
		t.Error("other origins may read the desk")
	}
}

// TestListensOnLoopbackAlone: nobody on the network can reach it.
func TestListensOnLoopbackAlone(t *testing.T) {
	d := opened(t, &bench{})
	host, port, err := net.SplitHostPort(d.listener.Addr().String())
	if err != nil || !net.ParseIP(host).IsLoopback() {
		t.Fatalf("it listens on %s", d.listener.Addr())
	}
	addresses, err := net.InterfaceAddrs()
	if err != nil {
		t.Skip(err)
	}
	for _, a := range addresses {
		if n, ok := a.(*net.IPNet); ok && !n.IP.IsLoopback() && n.IP.To4() != nil {
			if c, err := net.Dial("tcp", net.JoinHostPort(n.IP.String(), port)); err == nil {
				c.Close()
				t.Errorf("it answers on %s", n.IP)
			}
		}
	}
}
