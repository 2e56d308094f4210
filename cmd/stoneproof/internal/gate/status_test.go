package gate

import (
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"
)

func get(g *Gate, path string) (int, string) {
	w := httptest.NewRecorder()
	g.Handler().ServeHTTP(w, httptest.NewRequest("GET", path, nil))
	text, _ := io.ReadAll(w.Body)
	return w.Code, string(text)
}

func TestStatus(t *testing.T) {
	s := newSite(t)
	inTime(t, s, nil, func(g *Gate) {
		after(time.Minute)
		s.drop(t, "good.pdf", "good END")
		s.drop(t, "bad.pdf", "BAD END")
		s.drop(t, "sub/ticket.toml", "nonsense")
		s.drop(t, "sub/a.pdf", "a END")
		after(100 * time.Second)
		code, text := get(g, "/metrics")
		for _, line := range []string{
			"# TYPE stoneproof_moved_files_total counter",
			`stoneproof_moved_files_total{to="cleared"} 1`, `stoneproof_moved_files_total{to="held"} 1`,
			"stoneproof_waiting_files 1", "stoneproof_stuck_files 1", "stoneproof_in_hand_files 0",
			"stoneproof_judging_seconds_count 2", "stoneproof_trouble 0",
		} {
			if code != http.StatusOK || !strings.Contains(text, line+"\n") {
				t.Errorf("%d: no line %q in\n%s", code, line, text)
			}
		}
		// It came when it was first seen, up to a round ago.
		if !strings.Contains(text, "stoneproof_oldest_waiting_seconds 9") {
			t.Errorf("the oldest file waits for some 95 s, not:\n%s", text)
		}
		if code, text := get(g, "/health"); code != http.StatusOK || text != "ok\n" {
			t.Errorf("health: %d %s", code, text)
		}
	})
}
