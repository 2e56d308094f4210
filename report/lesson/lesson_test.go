package lesson

import (
	"bytes"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/olekukonko/tablewriter/pkg/twwidth"

	"stoneproof/report"
	"stoneproof/rules"
)

// TestMain measures text as western terminals do, whatever the locale.
func TestMain(m *testing.M) {
	twwidth.SetOptions(twwidth.Options{})
	os.Exit(m.Run())
}

func ticketOf(t *testing.T, o rules.Order) rules.Ticket {
	t.Helper()
	ticket, err := o.Ticket()
	if err != nil {
		t.Fatal(err)
	}
	return ticket
}

// The numbers are arithmetic: 3.5 × 2 in and 0.125 in on each edge are 3.75 × 2.25 in,
// 1125 × 675 px at 300 ppi; 91 × 61 mm are 1074.8 × 720.5 px, of which whole ones are
// 1075 × 721.
func TestNumbers(t *testing.T) {
	odd := rules.Size{W: rules.MM(70), H: rules.MM(70)}
	for _, c := range []struct {
		order rules.Order
		want  numbers
	}{
		{rules.Order{}, numbers{"the US business card (`us-business`), 3.5 × 2 in", "3.5 × 2 in", "0.125 in", "0.125 in", "3.75 × 2.25 in", "3.25 × 1.75 in", "1125 × 675 px"}},
		{rules.Order{Size: "eu-business"}, numbers{"the European business card (`eu-business`), 85 × 55 mm", "85 × 55 mm", "3 mm", "3 mm", "91 × 61 mm", "79 × 49 mm", "1075 × 721 px"}},
		{rules.Order{Trim: &odd}, numbers{"a card of 70 × 70 mm", "70 × 70 mm", "3 mm", "3 mm", "76 × 76 mm", "64 × 64 mm", "898 × 898 px"}},
	} {
		if got := numbersOf(ticketOf(t, c.order)); got != c.want {
			t.Errorf("got  %v\nwant %v", got, c.want)
		}
	}
}

// A picture in letters has one in lines, and the other way.
func TestPicturesAreDrawnTwice(t *testing.T) {
	var inLetters, inLines []string
	for _, m := range regexp.MustCompile("(?m)^```picture (.*)$").FindAllStringSubmatch(lessons, -1) {
		inLetters = append(inLetters, m[1])
	}
	for _, p := range pictures(ticketOf(t, rules.Order{})) {
		inLines = append(inLines, p.name)
	}
	if a, b := strings.Join(inLetters, " "), strings.Join(inLines, " "); a != b {
		t.Errorf("in letters: %s; in lines: %s", a, b)
	}
}

func TestText(t *testing.T) {
	var out bytes.Buffer
	if err := Text(&out, ticketOf(t, rules.Order{Size: "a7"}), report.ProseOptions{}); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"74 × 105 mm", "945 × 1312 px", "steel rule, sharp blade, fingers behind", "stoneproof primer --pack practice"} {
		if !strings.Contains(strings.Join(strings.Fields(out.String()), " "), want) {
			t.Errorf("the lessons do not say %q", want)
		}
	}
	for line := range strings.Lines(out.String()) {
		if n := twwidth.Width(strings.TrimSuffix(line, "\n")); n > 80 {
			t.Errorf("a line of %d columns: %s", n, line)
		}
	}
	if strings.Contains(out.String(), "{{") || strings.Contains(out.String(), "<no value>") {
		t.Error("a number was not filled in")
	}
}

// The page needs nothing beside it and no script, and its pictures say in words what
// they show.
func TestPage(t *testing.T) {
	for _, s := range rules.Sizes() {
		var out bytes.Buffer
		if err := Page(&out, ticketOf(t, rules.Order{Size: s.Name})); err != nil {
			t.Fatal(err)
		}
		page := out.String()
		for _, never := range []string{"<script", "http:", "https:", "url(\"", "@import", "<img", "<link", "{{", "NaN", "```", "<!-- raw"} {
			if strings.Contains(page, never) {
				t.Errorf("%s: the page holds %q", s.Name, never)
			}
		}
		for _, want := range []string{"<html lang=\"en\">", "width=device-width", "prefers-color-scheme: dark", "<h1", "<td>" + s.Trim.In(s.Unit) + "</td>"} {
			if !strings.Contains(page, want) {
				t.Errorf("%s: the page lacks %q", s.Name, want)
			}
		}
		if svgs, words := strings.Count(page, "<svg "), strings.Count(page, "role=\"img\" aria-label=\""); svgs != 5 || words != svgs {
			t.Errorf("%s: %d pictures, %d with words", s.Name, svgs, words)
		}
		ids := map[string]bool{}
		for _, id := range regexp.MustCompile(` id="([^"]*)"`).FindAllStringSubmatch(page, -1) {
			if ids[id[1]] {
				t.Errorf("%s: the id %q stands twice", s.Name, id[1])
			}
			ids[id[1]] = true
		}
	}
}

var boxes = regexp.MustCompile(`<rect class="(\w+)" x="(\S+)" y="(\S+)" width="(\S+)" height="(\S+)"/>`)

// The picture of the lines is drawn to the ticket's scale: the bleed around the trim,
// the safe zone in it.
func TestLinesAreToScale(t *testing.T) {
	eu := ticketOf(t, rules.Order{Size: "eu-business"})
	drawn := map[string]string{}
	for _, m := range boxes.FindAllStringSubmatch(pictures(eu)[0].figure(eu), -1) {
		drawn[m[1]] = strings.Join(m[2:], " ")
	}
	for class, want := range map[string]string{
		"paint": "-3.00 -3.00 91.00 61.00", "trim": "0.00 0.00 85.00 55.00", "safe": "3.00 3.00 79.00 49.00",
	} {
		if drawn[class] != want {
			t.Errorf("%s is drawn at %q, want %s", class, drawn[class], want)
		}
	}
}
