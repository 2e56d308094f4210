package page_test

import (
	"crypto/sha256"
	"encoding/base64"
	"regexp"
	"strings"
	"testing"
	"unicode"

	"pgregory.net/rapid"

	"stoneproof/report/page"
	"stoneproof/rules"
)

func TestPageStandsAlone(t *testing.T) {
	tk := ticket(t)
	text := written(t, report(tk, potter(tk)), page.Options{Proof: proofs(t)})
	for _, m := range regexp.MustCompile(`(?i)\b(?:src|href|url)\s*[=(]\s*["']?([^"')\s>]+)`).FindAllStringSubmatch(text, -1) {
		if !strings.HasPrefix(m[1], "#") && !strings.HasPrefix(m[1], "data:image/png;base64,") {
			t.Errorf("the page reaches out for %q", m[1])
		}
	}
	for _, never := range []string{"<script", "<link", "<iframe", "@import", "javascript:"} {
		if strings.Contains(text, never) {
			t.Errorf("the page holds %q", never)
		}
	}
}

// TestPolicyMatchesItsStyle: a browser shows the style only if its hash is the one
// that the policy names (CSP Level 3, 6.7.3.3).
func TestPolicyMatchesItsStyle(t *testing.T) {
	tk := ticket(t)
	text := written(t, report(tk, potter(tk)), page.Options{})
	style := regexp.MustCompile(`(?s)<style>(.*)</style>`).FindStringSubmatch(text)[1]
	sum := sha256.Sum256([]byte(style))
	want := "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
	if !strings.Contains(strings.ReplaceAll(text, "&#43;", "+"), want) {
		t.Errorf("the policy does not name %s", want)
	}
}

func TestHostileTextIsShownHarmlessly(t *testing.T) {
	tk := ticket(t)
	text := written(t, report(tk, hedger(tk)), page.Options{Proof: proofs(t)})
	for _, never := range []string{"<script", "<img src=x", "\u202e", "\u2066", "\x1b", "\x00", "\xff"} {
		if strings.Contains(text, never) {
			t.Errorf("the page holds %q", never)
		}
	}
	for _, shown := range []string{`&lt;script&gt;alert(1)`, `\u202e`, `\x1b`, `\xff`} {
		if !strings.Contains(text, shown) {
			t.Errorf("the page does not show %q", shown)
		}
	}
	if n := strings.Count(text, "hedgehedge"); n > 1000 {
		t.Errorf("a name of 10 kB is repeated at length: %d times", n)
	}
}

// TestWhyStandsOnce: the page of a rule is told where the rule is first met, and
// later findings lead there.
func TestWhyStandsOnce(t *testing.T) {
	tk := ticket(t)
	text := written(t, report(tk, potter(tk), potter(tk)), page.Options{})
	if n := strings.Count(text, `id="why-bleed-fill"`); n != 1 {
		t.Errorf("the page of the rule stands %d times", n)
	}
	if n := strings.Count(text, `href="#why-bleed-fill"`); n != 3 {
		t.Errorf("%d findings lead to it, want 3", n)
	}
	if !strings.Contains(text, "shows a white sliver") {
		t.Error("the page of the rule is not the catalogue's")
	}
}

// TestEveryRuleHasItsWhy holds that each page of the catalogue can be shown.
func TestEveryRuleHasItsWhy(t *testing.T) {
	tk := ticket(t)
	f := potter(tk)
	f.Findings = nil
	for _, id := range rules.RuleIDs() {
		f.Findings = append(f.Findings, rules.Finding{Rule: id, Verdict: rules.Warn, Side: 1, Message: "So."})
	}
	text := written(t, report(tk, f), page.Options{})
	if n := strings.Count(text, `<h5>Put it right</h5>`); n != len(rules.RuleIDs()) {
		t.Errorf("%d pages of %d are shown whole", n, len(rules.RuleIDs()))
	}
	for _, left := range []string{"```", "\n|---", "<h2>What", "<th></th>", "<!-- raw HTML omitted -->"} {
		if strings.Contains(text, left) {
			t.Errorf("the page holds %q", left)
		}
	}
}

var (
	ids   = regexp.MustCompile(`\bid="([^"]*)"`)
	leads = regexp.MustCompile(`\bhref="#([^"]*)"`)
)

// TestPageHoldsTogether: for any report, every id stands once and every link leads
// to one, every finding's place leads back to it, and nothing controls the reader's
// screen.
func TestPageHoldsTogether(t *testing.T) {
	tk := ticket(t)
	drawn := proofs(t)
	rapid.Check(t, func(t *rapid.T) {
		o := page.Options{}
		if rapid.Bool().Draw(t, "proofs") {
			o.Proof = drawn
		}
		text := written(t, report(tk, rapid.SliceOfN(fileOf(tk), 0, 4).Draw(t, "files")...), o)
		known := map[string]bool{}
		for _, m := range ids.FindAllStringSubmatch(text, -1) {
			if known[m[1]] {
				t.Fatalf("the id %q stands twice", m[1])
			}
			known[m[1]] = true
		}
		for _, m := range leads.FindAllStringSubmatch(text, -1) {
			if !known[m[1]] {
				t.Fatalf("a link leads to %q, which is not there", m[1])
			}
		}
		for place := range known {
			if strings.HasPrefix(place, "place-") && !strings.Contains(text, `href="#`+place+`"`) {
				t.Fatalf("no finding leads to %s", place)
			}
		}
		for _, r := range text {
			if r != '\n' && !unicode.IsGraphic(r) {
				t.Fatalf("the page holds %q", r)
			}
		}
	})
}

func fileOf(tk rules.Ticket) *rapid.Generator[rules.FileReport] {
	return rapid.Custom(func(t *rapid.T) rules.FileReport {
		f := potter(tk)
		f.Path = rapid.String().Draw(t, "path")
		f.Sides = f.Sides[:rapid.IntRange(0, 2).Draw(t, "sides")]
		f.Findings = rapid.SliceOfN(finding(), 0, 6).Draw(t, "findings")
		f.Verdict = rules.Worst(f.Findings)
		return f
	})
}

func finding() *rapid.Generator[rules.Finding] {
	return rapid.Custom(func(t *rapid.T) rules.Finding {
		f := rules.Finding{
			Rule:    rapid.SampledFrom(append(rules.RuleIDs(), "unheard-of")).Draw(t, "rule"),
			Verdict: rapid.SampledFrom([]rules.Verdict{rules.Pass, rules.Warn, rules.Fail, rules.Skip}).Draw(t, "verdict"),
			Side:    rapid.IntRange(0, 3).Draw(t, "side"),
			Edge:    rapid.SampledFrom(append([]rules.Edge{""}, rules.AllEdges[:]...)).Draw(t, "edge"),
			Message: rapid.String().Draw(t, "message"),
			Fix:     rapid.String().Draw(t, "fix"),
		}
		if rapid.Bool().Draw(t, "placed") {
			f.Where = box(1, 2, 3, 4)
		}
		return f
	})
}
