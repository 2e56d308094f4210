package checks_test

import (
	"path/filepath"
	"testing"

	"stoneproof/checks"
	"stoneproof/rules"
)

// Two cards that Ghostscript and pdfTeX wrote, bound to one by qpdf: its page turns are
// how other programs say that a side lies otherwise than it is drawn.
func TestForeignTurns(t *testing.T) {
	bound := func(more ...string) []byte {
		path := filepath.Join(t.TempDir(), "two-sided.pdf")
		args := append([]string{"--empty", "--pages", "herbalist.pdf", "scrivener.pdf", "--"}, more...)
		ran(t, filepath.Join("..", "testdata", "foreign"), "qpdf", append(args, path)...)
		return written(t, path)
	}
	head := rules.Order{TurnOver: rules.OverHead}
	try(t, checks.PairTurn, []trial{
		{"both upright", bound(), rules.Order{}, "pass", "reads the right way up"},
		{"the back turned by half", bound("--rotate=180:2"), rules.Order{}, "fail", "upside down"},
		{"so for a calendar", bound("--rotate=180:2"), head, "pass", "over its upper edge"},
		{"both turned by half", bound("--rotate=180:1-2"), rules.Order{}, "pass", ""},
		{"the back stands", bound("--rotate=+90:2"), rules.Order{}, "warn", "turned a quarter turn"},
		{"both stand", bound("--rotate=+90:1-2"), rules.Order{}, "pass", ""},
	})
}

// Front and back as Ghostscript writes them: one card, or not.
func TestForeignPairSizes(t *testing.T) {
	// page is a side with its trim, its ground's colour and a word.
	page := func(trim, colour string) string {
		return "[ /TrimBox [" + trim + "] /BleedBox [0 0 270 162] /PAGE pdfmark\n" + colour +
			" 0 0 270 162 rectfill\n0 0 0 1 setcmykcolor /Helvetica findfont 12 scalefont setfont 30 60 moveto (Wendlebury Cross) show showpage\n"
	}
	two := func(back string) []byte {
		const begin = "%!PS-Adobe-3.0\n<< /PageSize [270 162] >> setpagedevice\n"
		return written(t, ghostscript(t, begin+page("9 9 261 153", "0.2 0 0.1 0 setcmykcolor")+back))
	}
	try(t, checks.PairSize, []trial{
		{"one card", two(page("9 9 261 153", "0 0.2 0.1 0 setcmykcolor")), rules.Order{}, "pass", "both 3.5 × 2 in"},
		{"a grey back", two(page("9 9 261 153", "0.8 setgray")), rules.Order{}, "pass", ""},
		{"a trim off by a hair", two(page("9.1 9 261 153", "0 0.2 0.1 0 setcmykcolor")), rules.Order{}, "pass", ""},
		{"the back is 3 mm short", two(page("9 9 252.5 153", "0 0.2 0.1 0 setcmykcolor")), rules.Order{}, "fail", "they are not one card"},
	})
}
