package practice

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestReadAnswers(t *testing.T) {
	const sheet = "\uFEFF# a remark\r\n\r\n01 = bleed-fill\r\n02=good   # it looks so\r\n 03 = \"safe-zone\"\n04 = “Hairlines”\n05 =\n"
	got, err := ReadAnswers([]byte(sheet))
	if err != nil {
		t.Fatal(err)
	}
	want := []Answer{{"01", "bleed-fill", 3}, {"02", "good", 4}, {"03", "safe-zone", 5}, {"04", "hairlines", 6}, {"05", "", 7}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

func TestAnswersThatDoNotFit(t *testing.T) {
	for text, want := range map[string]string{
		"01 = bleedfill":                   `line 1: unknown rule "bleedfill": did you mean bleed-fill`,
		"# x\n01 bleed-fill":               `line 2: no = in "01 bleed-fill": an answer is 03 = bleed-fill`,
		"= good":                           "line 1: no card before the =",
		"01 = good\n\n01 = safe-zone":      "line 3: card 01 was answered on line 1 already",
		"01 = bleed-fill, safe-zone":       `line 1: unknown rule "bleed-fill, safe-zone"`,
		"01 = \"good":                      `line 1: unknown rule "\"good"`,
		"01 = good\n\x00":                  "line 2: a sign that does not show",
		"01 = g\xfcd":                      "line 1: not a text",
		"01 = " + strings.Repeat("x", 600): "line 1: over 500 letters",
		strings.Repeat("#\n", 40_000):      "over 64 KiB: that is no worksheet",
		many(101):                          "line 101: over 100 answers",
	} {
		_, err := ReadAnswers([]byte(text))
		if err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%.40q: %v, want %s", text, err, want)
		}
	}
}

func many(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(strings.Repeat("1", i+1) + " = good\n")
	}
	return b.String()
}

func TestCardsLieInThePack(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"04.pdf", "04.png", "04-1.png"} {
		if err := os.WriteFile(filepath.Join(dir, name), nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	pack := filepath.Join(dir, "pack")
	if err := os.Mkdir(pack, 0o700); err != nil {
		t.Fatal(err)
	}
	got, err := Cards([]Answer{{"04", Good, 1}}, dir)
	if err != nil || len(got) != 1 || got[0] != filepath.Join(dir, "04.pdf") {
		t.Errorf("got %v, %v", got, err)
	}
	for _, card := range []string{"4", "../04", "05"} {
		if _, err := Cards([]Answer{{card, Good, 9}}, pack); err == nil || err.Error() != fmt.Sprintf("line 9: the pack has no card %q", card) {
			t.Errorf("got %v", err)
		}
	}
}

func FuzzReadAnswers(f *testing.F) {
	f.Add([]byte("01 = bleed-fill\n02 = good # x\n"))
	f.Add([]byte("\uFEFF01 = “safe-zone”\r\n= \n\x00"))
	f.Add([]byte("01 = 'x\n\n01 ="))
	p, err := Deal("us-business", 1)
	if err != nil {
		f.Fatal(err)
	}
	f.Add([]byte(p.sheet()))
	f.Fuzz(func(t *testing.T, text []byte) {
		answers, err := ReadAnswers(text)
		if err != nil {
			return
		}
		seen := map[string]bool{}
		for _, a := range answers {
			if seen[a.Card] || a.Card == "" || a.Line < 1 || a.Line > strings.Count(string(text), "\n")+1 {
				t.Errorf("%q: answer %+v", text, a)
			}
			seen[a.Card] = true
			if a.known() != nil {
				t.Errorf("%q: takes %q", text, a.Says)
			}
		}
	})
}
