package rules

import (
	"errors"
	"os"
	"path/filepath"
	"testing"
)

func FuzzParseLength(f *testing.F) {
	for _, seed := range []string{"3mm", "1/8in", "9pt", "0.3cm", `1"`, "-3 mm", "1/0in", "µm", "3µm", "9999999mm", "", "1/2/3in", ".mm"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		l, err := ParseLength(text)
		if err != nil {
			return
		}
		if l.Abs() > maxLength {
			t.Fatalf("%q is %d µm", text, l)
		}
		if int64(l.Abs()) > mostTold {
			return
		}
		for _, u := range []Unit{UnitMM, UnitIn, UnitPt} {
			if again, err := ParseLength(l.In(u)); err != nil || (again-l).Abs() > rounding[u] {
				t.Fatalf("%q is told as %q, which reads %d µm, %v", text, l.In(u), again, err)
			}
		}
	})
}

func FuzzParseSize(f *testing.F) {
	for _, seed := range []string{"85x55mm", "3.5x2in", "85mmx2in", "85 × 55 mm", "x", "1x1", "0x0mm", `3"x2"`, "1/2x1/3in", "5xx5mm"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := ParseSize(text)
		if err != nil {
			return
		}
		if s.W <= 0 || s.H <= 0 || s.W > maxLength || s.H > maxLength {
			t.Fatalf("%q is %d × %d µm", text, s.W, s.H)
		}
	})
}

func FuzzReadTicket(f *testing.F) {
	for _, process := range Processes() {
		text, err := os.ReadFile(filepath.Join("tickets", process+".toml"))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	for _, seed := range []string{
		"size = \"a6\"\ntrim = \"85x55mm\"\nbleed = \"3mm\"\nsafe = \"1/8in\"\norientation = \"portrait\"\nunit = \"pt\"\nsides = [1, 2]\n",
		"bleed = 3", "limits = 3", "limits.rgb = \"skip\"", "[limits]\nrgb = 1", "[[limits]]\n", "[limits]\ntone-ppi-good = nan",
		"trim = {W = 1}", "sides = [[1]]", "spots = [\"Gold\", \"\"]", "spots = [1]", "x = [[[[[[[[", "a.b.c.d = 1", "bleed = '''\n3mm'''", "\"bleed\" = \"3mm\"", "\xff",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		order, err := ReadTicket("job.toml", text)
		if err != nil {
			var bad *TicketError
			if !errors.As(err, &bad) || bad.File != "job.toml" || bad.Why == "" {
				t.Fatalf("%v does not tell where", err)
			}
			return
		}
		ticket, err := order.Ticket()
		if err != nil {
			return
		}
		if ticket.Trim.W <= 0 || ticket.Bleed < 0 || 2*ticket.Safe >= min(ticket.Trim.W, ticket.Trim.H) || len(ticket.Sides) == 0 {
			t.Fatalf("a ticket that cannot be cut: %+v", ticket)
		}
		for _, v := range []Verdict{ticket.Limits.RGB, ticket.Limits.RGBUntagged, ticket.Limits.CMYKUntagged, ticket.Limits.TagBroken, ticket.Limits.Spot, ticket.Limits.InkOver} {
			if v != Pass && v != Warn && v != Fail {
				t.Fatalf("a limit gives the verdict %q", v)
			}
		}
		// Laid over another process, the same file gives the same answer twice.
		if again, err := order.Ticket(); err != nil || again.Limits != ticket.Limits {
			t.Fatalf("the second ticket differs: %+v, %v", again, err)
		}
	})
}
