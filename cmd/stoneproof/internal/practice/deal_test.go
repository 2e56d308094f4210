package practice

import (
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"stoneproof/checks"
	"stoneproof/checks/art"
	"stoneproof/checks/art/render"
	"stoneproof/rules"
)

var seeds = flag.Int("seeds", 20, "`N` packs to deal, judge and mark")

// TestPacksAreMarkedAsTheyAreJudged goes the whole way for many seeds: deal, write,
// judge, answer, mark. Every hidden fault is the only rule that its card does not
// keep; sound cards keep all; answers that say what the judge found are right; others
// are told what it found.
func TestPacksAreMarkedAsTheyAreJudged(t *testing.T) {
	n := *seeds
	if testing.Short() {
		n = 1
	}
	engine := render.Start(render.Options{})
	defer engine.Close()
	for seed := range n {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			pack, err := Deal(Sizes()[seed%len(Sizes())], uint64(seed))
			if err != nil {
				t.Fatal(err)
			}
			dir := filepath.Join(t.TempDir(), "pack")
			if err := pack.Write(context.Background(), dir); err != nil {
				t.Fatal(err)
			}
			sheet, err := os.ReadFile(filepath.Join(dir, SheetName))
			if err != nil {
				t.Fatal(err)
			}
			files := judged(t, engine, dir, answersIn(t, string(sheet)))
			hidden(t, pack, files)
			marked(t, pack, files, answersIn(t, filled(t, string(sheet), files)))
		})
	}
}

func answersIn(t *testing.T, sheet string) []Answer {
	t.Helper()
	answers, err := ReadAnswers([]byte(sheet))
	if err != nil {
		t.Fatal(err)
	}
	return answers
}

// judged judges the cards of a pack by its ticket.
func judged(t *testing.T, engine *render.Engine, dir string, answers []Answer) []rules.FileReport {
	t.Helper()
	text, err := os.ReadFile(TicketIn(dir))
	if err != nil {
		t.Fatal(err)
	}
	order, err := rules.ReadTicket("ticket", text)
	if err != nil {
		t.Fatal(err)
	}
	ticket, err := order.Ticket()
	if err != nil {
		t.Fatal(err)
	}
	judge := &checks.Judge{Ticket: ticket, Checks: checks.All(), Ceilings: art.DefaultCeilings(), Renderer: engine}
	paths, err := Cards(answers, dir)
	if err != nil {
		t.Fatal(err)
	}
	var files []rules.FileReport
	for _, path := range paths {
		files = append(files, judge.File(context.Background(), path))
	}
	return files
}

// failing lists the rules that a file fails, each once.
func failing(f rules.FileReport) []string {
	var ids []string
	for _, g := range f.Findings {
		if g.Verdict == rules.Fail && !slices.Contains(ids, g.Rule) {
			ids = append(ids, g.Rule)
		}
	}
	return ids
}

// hidden holds the judgement against what was dealt.
func hidden(t *testing.T, pack Pack, files []rules.FileReport) {
	t.Helper()
	if len(files) != len(pack.Cards) {
		t.Fatalf("%d cards were dealt, %d written", len(pack.Cards), len(files))
	}
	sound := 0
	for i, card := range pack.Cards {
		want := []string{card.fault}
		if card.fault == "" {
			want = nil
			sound++
		}
		if got := failing(files[i]); !slices.Equal(got, want) {
			t.Errorf("%s breaks %q, and the judge finds %v", card.Name, card.fault, got)
		}
		for _, f := range files[i].Findings {
			if f.Verdict == rules.Warn {
				t.Errorf("%s, which breaks %q, warns: %s: %s", card.Name, card.fault, f.Rule, f.Message)
			}
		}
	}
	if sound < levels || sound > 2*levels {
		t.Errorf("%d sound cards", sound)
	}
}

// filled is the worksheet, filled in with what the judge found.
func filled(t *testing.T, sheet string, files []rules.FileReport) string {
	t.Helper()
	for _, f := range files {
		answer := Good
		if broken := failing(f); len(broken) > 0 {
			answer = broken[0]
		}
		card := strings.TrimSuffix(filepath.Base(f.Path), ending)
		blank := "\n" + card + " =\n"
		if strings.Count(sheet, blank) != 1 {
			t.Fatalf("the worksheet has no line for card %s", card)
		}
		sheet = strings.Replace(sheet, blank, "\n"+card+" = "+answer+"\n", 1)
	}
	return sheet
}

// marked marks right answers, and wrong ones.
func marked(t *testing.T, pack Pack, files []rules.FileReport, answers []Answer) {
	t.Helper()
	for i, m := range Mark(answers, files) {
		if !m.Right {
			t.Errorf("card %s: %q is right, and is marked wrong", m.Card, m.Said)
		}
		answers[i].Says = Good
		if m.Said == Good {
			answers[i].Says = "safe-zone"
		}
	}
	for i, m := range Mark(answers, files) {
		fault := pack.Cards[i].fault
		if m.Right || m.Sound != (fault == "") || len(m.Findings) == 0 {
			t.Errorf("card %s, which breaks %q: %q is marked %+v", m.Card, fault, m.Said, m)
			continue
		}
		if told := m.Findings[0].Rule; told != fault && (fault != "" || told != "safe-zone") {
			t.Errorf("card %s, which breaks %q: the learner is told of %s", m.Card, fault, told)
		}
	}
}

func TestSameSeedSamePack(t *testing.T) {
	faultsOf := func(seed uint64) (list []string) {
		p, err := Deal("us-business", seed)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range p.Cards {
			list = append(list, c.fault)
		}
		return list
	}
	packs := map[string]bool{}
	for seed := range uint64(50) {
		if !slices.Equal(faultsOf(seed), faultsOf(seed)) {
			t.Errorf("seed %d deals two packs", seed)
		}
		packs[strings.Join(faultsOf(seed), " ")] = true
	}
	if len(packs) < 45 {
		t.Errorf("50 seeds deal %d packs", len(packs))
	}
}

// Over many seeds each trick of every level is dealt, and no rule twice in a pack.
func TestAllFaultsAreDealt(t *testing.T) {
	times := map[string]int{}
	for seed := range uint64(300) {
		p, err := Deal("eu-business", seed)
		if err != nil {
			t.Fatal(err)
		}
		seen := map[string]bool{}
		for i, c := range p.Cards {
			if want := fmt.Sprintf("%02d.pdf", i+1); c.Name != want {
				t.Errorf("card %d is called %s", i, c.Name)
			}
			if c.fault != "" && seen[c.fault] {
				t.Errorf("seed %d hides %s twice", seed, c.fault)
			}
			seen[c.fault] = true
			times[c.fault]++
		}
	}
	for _, f := range faults() {
		if times[f.rule] < 20 {
			t.Errorf("300 packs hide %s %d times", f.rule, times[f.rule])
		}
		if _, err := rules.RuleNamed(f.rule); err != nil {
			t.Error(err)
		}
	}
}

func TestPackOfAnotherSize(t *testing.T) {
	if _, err := Deal("a6", 1); err == nil || !strings.Contains(err.Error(), `there is no practice pack "a6"`) {
		t.Errorf("got %v", err)
	}
}
