package press

import (
	"fmt"
	"os/exec"
	"regexp"
	"strings"
	"testing"

	"stoneproof/rules"

	"stoneproof/checks/checktest/outside"
)

// ways are options that change how a page is built.
func ways() [][]Option {
	return [][]Option{
		{Rotated(90)}, {Rotated(180), Origin(-50, 20)}, {Rotated(270), UserUnit(2)}, {Lossless()}, {LooseFonts()},
		{Spot("Wend Blue (50)")}, {In(RGB)}, {In(RGB), NoProfile()}, {In(Grey)}, {In(Grey), Lossless()}, {NamedIntent(), Slug(5)},
	}
}

func TestPDFsAreSound(t *testing.T) {
	check := outside.Tool(t, "qpdf")
	sound := func(c Card, opts ...Option) {
		path := kept(t, "card.pdf", c.PDF(append(opts, PicturePPI(60), LinePPI(100))...))
		if out, err := exec.Command(check, "--check", path).CombinedOutput(); err != nil {
			t.Errorf("%v: %v\n%s", c, err, out)
		}
	}
	for i, s := range Styles() {
		sound(Card{Makers()[i%len(Makers())], s, Sizes()[i%len(Sizes())]})
	}
	for _, opts := range ways() {
		sound(Card{"candle-maker", Vignette, "poker"}, opts...)
		sound(Card{"baker", Lattice, "poker"}, opts...)
	}
}

// slack is how far apart two programs' pictures of a style may lie. Most of it
// is how they smooth edges; ghostscript smooths nothing within a pattern's cell,
// and each samples one-bit art its own way.
func slack(s Style) float64 {
	switch s {
	case Lattice:
		return 13
	case Engraved:
		return 9
	}
	return 3.5
}

// TestPDFsLookAlike holds three drawings of each style against each other: two
// programs' of the PDF, and the package's own of the pixels.
func TestPDFsLookAlike(t *testing.T) {
	for i, s := range Styles() {
		t.Run(string(s), func(t *testing.T) {
			t.Parallel()
			c := Card{Makers()[(i+4)%len(Makers())], s, "us-business"}
			pdf := c.PDF(In(RGB), PicturePPI(160))
			one, two := poppler(t, pdf, "160"), ghostscript(t, pdf, "160")
			if d := apart(t, one, two); d > slack(s) {
				t.Errorf("poppler and ghostscript are %.2f levels apart", d)
			}
			if d := apart(t, one, decoded(t, c.PNG(160))); d > slack(s) {
				t.Errorf("poppler and the raster canvas are %.2f levels apart", d)
			}
		})
	}
}

// TestWaysLookAlike turns and moves a page in every way that must not show.
func TestWaysLookAlike(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long, in one goroutine")
	}
	c := Card{"candle-maker", Vignette, "us-business"}
	want := poppler(t, c.PDF(), "80")
	for _, opts := range [][]Option{{Rotated(90)}, {Rotated(180)}, {Rotated(270)}, {Origin(70, -300)}, {Origin(9, 9), Rotated(90)}} {
		if d := apart(t, want, poppler(t, c.PDF(opts...), "80")); d > 1 {
			t.Errorf("%.2f levels off", d)
		}
	}
	// Poppler takes a unit for a point whatever UserUnit says, so at twice the
	// resolution a page of double units looks the same.
	if d := apart(t, want, poppler(t, c.PDF(UserUnit(2)), "160")); d > 1 {
		t.Errorf("user unit 2: %.2f levels off", d)
	}
}

// TestBoxes reads boxes against sums done by hand: 3.5 × 2 in is 252 × 144 pt,
// an eighth of an inch is 9 pt.
func TestBoxes(t *testing.T) {
	c := Card{"joiner", White, "us-business"}
	for _, tt := range []struct {
		opts []Option
		want map[string]string
	}{
		{nil, map[string]string{"MediaBox": "0 0 270 162", "BleedBox": "0 0 270 162", "TrimBox": "9 9 261 153", "CropBox": "", "ArtBox": ""}},
		{[]Option{Slug(25.4)}, map[string]string{"MediaBox": "0 0 414 306", "TrimBox": "81 81 333 225"}},
		{[]Option{Rotated(90)}, map[string]string{"MediaBox": "0 0 162 270", "TrimBox": "9 9 153 261"}},
		{[]Option{UserUnit(2)}, map[string]string{"MediaBox": "0 0 135 81", "TrimBox": "4.5 4.5 130.5 76.5"}},
		{[]Option{Origin(100, -20)}, map[string]string{"MediaBox": "100 -20 370 142", "TrimBox": "109 -11 361 133"}},
		{[]Option{Bleed(6.35)}, map[string]string{"MediaBox": "0 0 288 180", "BleedBox": "0 0 288 180", "TrimBox": "18 18 270 162"}},
		{[]Option{RoomEnds(rules.Left, 0)}, map[string]string{"MediaBox": "0 0 261 162", "BleedBox": "0 0 261 162", "TrimBox": "0 9 252 153"}},
		{[]Option{RoomEnds(rules.Top, 0)}, map[string]string{"MediaBox": "0 0 270 153", "TrimBox": "9 9 261 153"}},
		{[]Option{NoBox("TrimBox"), Box("CropBox", rules.Even(rules.Inches(-.125)))}, map[string]string{"TrimBox": "", "CropBox": "18 18 252 144"}},
	} {
		for name, want := range tt.want {
			if got := box(c.PDF(tt.opts...), name); got != want {
				t.Errorf("%s is %q, want %q", name, got, want)
			}
		}
	}
}

func box(pdf []byte, name string) string {
	if m := regexp.MustCompile(`/` + name + ` \[([^\]]*)\]`).FindSubmatch(pdf); m != nil {
		return string(m[1])
	}
	return ""
}

// TestFontsTravel asks poppler which fonts a file holds.
func TestFontsTravel(t *testing.T) {
	c := Card{"ferryman", Photographic, "us-business"}
	for _, tt := range []struct {
		opts []Option
		want string
	}{{nil, "yes yes yes"}, {[]Option{LooseFonts()}, "no  no  yes"}} {
		out := run(t, "pdffonts", kept(t, "card.pdf", c.PDF(tt.opts...)))
		lines := strings.Split(strings.TrimSpace(out), "\n")[2:]
		if len(lines) != 4 {
			t.Errorf("%d fonts:\n%s", len(lines), out)
		}
		for _, l := range lines {
			if !strings.Contains(l, tt.want) {
				t.Errorf("want emb sub uni %q: %s", tt.want, l)
			}
		}
	}
	text := run(t, "pdftotext", kept(t, "card.pdf", c.PDF()), "-")
	for _, want := range []string{"from dawn to dusk", "01632 960196"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in the text:\n%s", want, text)
		}
	}
}

// TestPictureResolution asks poppler for the resolution of a file's pictures.
func TestPictureResolution(t *testing.T) {
	c := Card{"ferryman", Photographic, "us-business"}
	for _, ppi := range []float64{96, 304} {
		out := run(t, "pdfimages", "-list", kept(t, "card.pdf", c.PDF(PicturePPI(ppi))))
		if want := fmt.Sprintf(" %.0f ", ppi); strings.Count(out, want) != 2 {
			t.Errorf("want %v ppi both ways:\n%s", ppi, out)
		}
	}
}
