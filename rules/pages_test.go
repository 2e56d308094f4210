package rules

import (
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// told is a place where a page states limits: a row of its table, or a few words.
// In format, %s stand for the limits under keys; each must be the same for all of
// processes, which %[1]s does not tell: the words beside it do.
type told struct {
	rule, format string
	cells        []cell
}

// cell is a limit as processes have it.
type cell struct {
	key       string
	processes []string
}

// every is the limits under keys, the same in every process.
func every(keys ...string) []cell { return of(Processes(), keys...) }

// of is the limits under keys as the processes have them, all alike.
func of(processes []string, keys ...string) []cell {
	var cells []cell
	for _, key := range keys {
		cells = append(cells, cell{key, processes})
	}
	return cells
}

// each is one limit, process by process.
func each(key string) []cell {
	var cells []cell
	for _, p := range Processes() {
		cells = append(cells, cell{key, []string{p}})
	}
	return cells
}

func pagesTell() []told {
	desktop, uncoated := []string{"desktop"}, []string{"offset-uncoated"}
	smooth := []string{"desktop", "digital", "offset-coated"}
	presses := []string{"digital", "offset-coated", "offset-uncoated"}
	fine, coarse := []string{"digital", "offset-coated"}, []string{"desktop", "offset-uncoated"}
	smoothAndNot := func(key string) []cell { return slices.Concat(of(smooth, key), of(uncoated, key)) }
	return []told{
		{"trim-size", "| page boxes | %s |", every("trim-tolerance")},
		{"trim-size", "| a picture's edges | %s |", every("raster-trim-tolerance")},
		{"bleed-extent", "Up to %s short passes", every("bleed-slack")},
		{"bleed-extent", "A strip of up to %s lacking at the outermost edge warns", every("bleed-sliver")},
		{"bleed-fill", "| the ticket's bleed, or up to %s less | pass |", every("bleed-slack")},
		{"bleed-fill", "| up to %s less: a bare sliver at the outermost edge | warn |", every("bleed-sliver")},
		{"edge-border", "| `desktop` | %s |", of(desktop, "border-least")},
		{"edge-border", "| `digital`, `offset-coated`, `offset-uncoated` | %s |", of(presses, "border-least")},
		{"effective-resolution", "| tones and colours | every one | %s | %s |", every("tone-ppi-good", "tone-ppi-least")},
		{"effective-resolution", "| pure black and white (1 bit) | desktop | %s | %s |", of(desktop, "line-ppi-good", "line-ppi-least")},
		{"effective-resolution", "| pure black and white (1 bit) | digital, offset | %s | %s |", of(presses, "line-ppi-good", "line-ppi-least")},
		{"effective-resolution", "Up to %s less counts as met", every("ppi-slack")},
		{"true-detail", "| tones and colours | every one | %s | %s |", every("tone-ppi-good", "tone-ppi-least")},
		{"true-detail", "Up to %s less counts as met", every("ppi-slack")},
		{"colour-space", "| in the art | desktop | digital | offset-coated | offset-uncoated |", nil},
		{"colour-space", "| RGB, Lab, calibrated RGB | %s | %s | %s | %s |", each("rgb")},
		{"colour-tags", "| found | desktop | digital | offset-coated | offset-uncoated |", nil},
		{"colour-tags", "| RGB with no profile and no intent that covers it | %s | %s | %s | %s |", each("rgb-untagged")},
		{"colour-tags", "| CMYK with no profile and no output intent | %s | %s | %s | %s |", each("cmyk-untagged")},
		{"colour-tags", "| a profile that contradicts its picture, or cannot be read | %s | %s | %s | %s |", each("tag-broken")},
		{"spot-colours", "| | desktop | digital | offset-coated | offset-uncoated |", nil},
		{"spot-colours", "| an ink that the ticket does not name | %s | %s | %s | %s |", each("spot")},
		{"ink-total", "| | desktop | digital | offset-coated | offset-uncoated |", nil},
		{"ink-total", "| most ink | %s | %s | %s | %s |", each("ink-total")},
		{"ink-total", "| more of it | %s | %s | %s | %s |", each("ink-over")},
		{"ink-total", "mean over a square of %s", every("ink-area")},
		{"ink-total", "up to %s more counts as met", every("ink-slack")},
		{"rich-black", "| type in rich black, least | %s |", every("rich-type-least")},
		{"rich-black", "| lines in rich black, least | %s |", every("rich-line-least")},
		{"rich-black", "lines under its `line-reversed-least`, %s, fail", every("line-reversed-least")},
		{"text-size", "| type | desktop, digital, offset-coated | offset-uncoated |", nil},
		{"text-size", "| in one ink, on a lighter ground | %s | %s |", smoothAndNot("type-least")},
		{"text-size", "| light on dark, or in several inks | %s | %s |", smoothAndNot("type-reversed-least")},
		{"hairlines", "| | desktop, digital, offset-coated | offset-uncoated |", nil},
		{"hairlines", "| least width | %s | %s |", smoothAndNot("line-least")},
		{"hairlines", "| light on dark | %s | %s |", smoothAndNot("line-reversed-least")},
		{"code-scan", "| module | digital, offset-coated | %s | %s |", of(fine, "code-module-good", "code-module-least")},
		{"code-scan", "| module | desktop, offset-uncoated | %s | %s |", of(coarse, "code-module-good", "code-module-least")},
		{"code-scan", "| bare margin | every one | %s | %s |", every("code-quiet-good", "code-quiet-least")},
		{"code-scan", "| contrast | every one | %s | %s |", every("code-contrast-good", "code-contrast-least")},
		{"pair-size", "`trim-tolerance` (%s; a raster %s)", every("trim-tolerance", "raster-trim-tolerance")},
	}
}

// inMM is a process's ticket for a card that is measured in millimetres, as pages are.
func inMM(t *testing.T, process string) Ticket {
	t.Helper()
	ticket, err := Order{Size: "eu-business", Process: process}.Ticket()
	if err != nil {
		t.Fatal(err)
	}
	return ticket
}

// TestPagesTellTheLimits holds that the numbers and verdicts on a page are those of
// the tickets.
func TestPagesTellTheLimits(t *testing.T) {
	for _, p := range pagesTell() {
		var values []any
		for _, c := range p.cells {
			value := inMM(t, c.processes[0]).Tell(c.key)
			for _, process := range c.processes {
				if other := inMM(t, process).Tell(c.key); other != value {
					t.Errorf("%s: %s is %s for %s and %s for %s: one number cannot tell both", p.rule, c.key, value, c.processes[0], other, process)
				}
			}
			values = append(values, value)
		}
		want := fmt.Sprintf(p.format, values...)
		if !strings.Contains(running(Rule{ID: p.rule}.Page()), want) {
			t.Errorf("%s: the page does not say %q", p.rule, want)
		}
	}
}

// TestPagesTellEveryLimit holds that no limit that a rule is judged by goes unsaid:
// its value stands on the page in every process's number, or at least its key does.
func TestPagesTellEveryLimit(t *testing.T) {
	limits := keysOf(reflect.TypeFor[Limits]())
	for _, r := range Catalogue() {
		for _, key := range r.Limits {
			if !slices.Contains(limits, key) {
				continue // what was ordered, not what the craft needs
			}
			page := running(r.Page())
			for _, process := range Processes() {
				if value := inMM(t, process).Tell(key); !strings.Contains(page, value) && !strings.Contains(page, "`"+key+"`") {
					t.Errorf("%s: the page does not tell %s, %s for %s", r.ID, key, value, process)
				}
			}
		}
	}
}

var quantity = regexp.MustCompile(`[0-9.]+ (mm|in|ppi|pt|%|modules?)\b`)

// TestTablesOfLimitsHoldNothingElse holds that every quantity in a table of limits
// is one of a ticket: none was left behind when a limit changed.
func TestTablesOfLimitsHoldNothingElse(t *testing.T) {
	for _, r := range Catalogue() {
		var known []string
		for _, process := range Processes() {
			for _, key := range r.Limits {
				known = append(known, inMM(t, process).Tell(key))
			}
		}
		for _, s := range Sizes() {
			known = append(known, s.Bleed.In(UnitMM), s.Bleed.In(s.Unit), s.Safe.In(s.Unit), "3.175 mm") // 1/8 in, which Length tells as 3.18 mm
		}
		for _, row := range tableOfLimits(r) {
			for _, q := range quantity.FindAllString(row, -1) {
				if !slices.Contains(known, q) {
					t.Errorf("%s: %s is in the table and in no ticket: %s", r.ID, q, row)
				}
			}
		}
	}
}

// TestPagesTellTheSizes holds the tables of bleed and safe margin against the named
// sizes.
func TestPagesTellTheSizes(t *testing.T) {
	margins := map[string]func(NamedSize) Length{
		"bleed-extent": func(s NamedSize) Length { return s.Bleed },
		"safe-zone":    func(s NamedSize) Length { return s.Safe },
	}
	for id, margin := range margins {
		var inches []string
		for _, s := range Sizes() {
			switch {
			case s.Unit == UnitIn:
				inches = append(inches, "`"+s.Name+"`")
				if margin(s) != Inches(0.125) {
					t.Errorf("%s: the page tells 0.125 in for %s", id, s.Name)
				}
			case margin(s) != MM(3):
				t.Errorf("%s: the page tells 3 mm for %s", id, s.Name)
			}
		}
		rows := tableOfLimits(Rule{ID: id})
		if len(rows) != 4 {
			t.Fatalf("%s: %d rows", id, len(rows))
		}
		for _, name := range inches {
			if !strings.Contains(rows[2], name) || !strings.Contains(rows[2], "| 0.125 in (3.175 mm) |") {
				t.Errorf("%s: the page does not tell %s its 0.125 in", id, name)
			}
		}
		if strings.Count(rows[2], "`") != 2*len(inches) || !strings.HasPrefix(rows[3], "| all other named sizes | 3 mm |") {
			t.Errorf("%s: the rows are not those of the sizes: %s", id, rows[2:])
		}
	}
}

// TestPagesTellWhatIsUsual holds what pages say of a ticket that is silent.
func TestPagesTellWhatIsUsual(t *testing.T) {
	usual := inMM(t, DefaultProcess)
	for id, want := range map[string]string{
		"side-count": "| nothing said | " + usual.Tell("sides") + " sides | fails |",
		"pair-turn":  "| `\"" + usual.Tell("turn-over") + "\"` (usual): like a page of a book |",
		"pair-size":  "named as " + usual.PairNames[0] + " and " + usual.PairNames[1],
	} {
		if !strings.Contains(running(Rule{ID: id}.Page()), want) {
			t.Errorf("%s: the page does not say %q", id, want)
		}
	}
}

// running is a page with its lines run together, as a reader takes it in.
func running(page string) string { return strings.Join(strings.Fields(page), " ") }

// tableOfLimits are the rows of the table in a page's section on limits.
func tableOfLimits(r Rule) []string {
	_, section, _ := strings.Cut(r.Page(), "## The limit\n")
	section, _, _ = strings.Cut(section, "## ")
	var rows []string
	for line := range strings.Lines(section) {
		if strings.HasPrefix(line, "|") {
			rows = append(rows, strings.TrimSpace(line))
		}
	}
	return rows
}
