package gate

import (
	"fmt"
	"net/http"
	"time"
)

// Handler serves the gate's health and counters.
func (g *Gate) Handler() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /metrics", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/plain; version=0.0.4; charset=utf-8")
		g.Status().WriteMetrics(w, time.Now())
	})
	mux.HandleFunc("GET /health", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/plain; charset=utf-8")
		if why := g.ill(time.Now()); why != "" {
			w.WriteHeader(http.StatusServiceUnavailable)
			fmt.Fprintln(w, why)
			return
		}
		fmt.Fprintln(w, "ok")
	})
	return mux
}

// roundsToWorry is how many rounds of looking may be missed before a gate is ill.
const roundsToWorry = 10

// ill says what is wrong with the gate; empty if nothing is.
func (g *Gate) ill(now time.Time) string {
	s := g.Status()
	late := roundsToWorry * max(g.cfg.Rescan, time.Second)
	switch {
	case s.Trouble != "":
		return s.Trouble
	case s.Looked.IsZero():
		return "the intake has not been looked at yet"
	case now.Sub(s.Looked) > late:
		return fmt.Sprintf("the intake was last looked at %s ago", now.Sub(s.Looked).Round(time.Second))
	}
	return ""
}
