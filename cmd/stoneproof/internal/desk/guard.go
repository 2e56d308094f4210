package desk

import (
	"crypto/sha256"
	"crypto/subtle"
	"net/http"
	"strings"
)

// policy lets the page use what the desk itself serves, and pictures that stand in
// the report.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; " +
	"form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// ServeHTTP answers those who may ask.
func (d *Desk) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Content-Security-Policy", policy)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	// The token must not leave in a Referer, but a form's Origin must arrive.
	h.Set("Referrer-Policy", "same-origin")
	h.Set("Cache-Control", "no-store") // a browser's cache is a file too
	if !d.fromHere(r) {
		http.Error(w, "This desk answers its own page alone.", http.StatusForbidden)
		return
	}
	rest, ok := d.inside(r.URL.Path)
	if !ok {
		http.NotFound(w, r)
		return
	}
	switch r.Method + " " + rest {
	case "GET ":
		d.page(w, r)
	case "POST check":
		d.check(w, r)
	case "POST clear":
		d.clear(w, r)
	case "GET report.html":
		d.download(w, r)
	case "GET desk.js":
		serve(w, "text/javascript; charset=utf-8", script)
	case "GET desk.css":
		serve(w, "text/css; charset=utf-8", style())
	default:
		if r.Method == http.MethodGet && d.proof(w, rest) {
			return
		}
		http.NotFound(w, r)
	}
}

// fromHere reports whether a request comes from the desk's own page or from a person
// who opens it. The Host holds off names that were made to point at this machine; the
// Origin, and what browsers say of a request's source, hold off other pages.
func (d *Desk) fromHere(r *http.Request) bool {
	if r.Host != d.host {
		return false
	}
	origin := r.Header.Get("Origin")
	if origin != "" && origin != "http://"+d.host || origin == "" && r.Method != http.MethodGet {
		return false
	}
	switch r.Header.Get("Sec-Fetch-Site") {
	case "", "none", "same-origin":
		return true
	}
	return false
}

// inside is what a path asks for behind the token. Tokens are compared by their
// hashes, so that the time it takes tells nothing.
func (d *Desk) inside(path string) (rest string, ok bool) {
	token, rest, ok := strings.Cut(strings.TrimPrefix(path, "/"), "/")
	said, known := sha256.Sum256([]byte(token)), sha256.Sum256([]byte(d.token))
	return rest, subtle.ConstantTimeCompare(said[:], known[:]) == 1 && ok
}
