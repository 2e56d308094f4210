package gang

import (
	"context"
	"path/filepath"
	"strings"
	"testing"

	"stoneproof/checks/art"
	"stoneproof/rules"
)

// A sheet that takes too long, or over which the run ends, fails and says so.
func TestDeadline(t *testing.T) {
	path := filepath.Join("..", "..", "testdata", "good", "potter-two-sided-us-business.pdf")
	ended, end := context.WithCancel(t.Context())
	end()
	short := art.DefaultCeilings()
	short.Deadline = 1
	for _, c := range []struct {
		ctx      context.Context
		ceilings art.Ceilings
		want     string
	}{
		{t.Context(), short, "could not be judged within"},
		{ended, art.DefaultCeilings(), "was stopped before"},
	} {
		r, cards := judgeWithin(c.ctx, path, Want{}, c.ceilings)
		if r.Verdict != rules.Fail || len(cards) > 0 || len(r.Findings) != 1 || !strings.Contains(r.Findings[0].Message, c.want) {
			t.Errorf("%+v, %d cards, want a failure that says %q", r, len(cards), c.want)
		}
	}
}
