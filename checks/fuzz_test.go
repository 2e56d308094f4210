package checks_test

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"image/gif"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"golang.org/x/image/bmp"

	"stoneproof/checks"
	"stoneproof/checks/art"
	"stoneproof/rules"
)

// FuzzJudge judges any bytes by all that needs no pixels: it must not panic, and
// must give a report that holds together.
func FuzzJudge(f *testing.F) {
	for _, b := range seeds(f) {
		f.Add(b)
	}
	ticket, err := rules.Order{}.Ticket()
	if err != nil {
		f.Fatal(err)
	}
	list := slices.DeleteFunc(checks.All(), func(c *checks.Check) bool { return c.Needs >= checks.Paint })
	ceilings := art.DefaultCeilings()
	ceilings.Deadline = 5 * time.Second
	ceilings.PDF.Operators, ceilings.PDF.DecodedBytes = 20_000, 1<<20
	j := checks.Judge{Ticket: ticket, Checks: list, Ceilings: ceilings}
	path := filepath.Join(f.TempDir(), "card.pdf")
	f.Fuzz(func(t *testing.T, b []byte) {
		if err := os.WriteFile(path, b, 0o644); err != nil {
			t.Fatal(err)
		}
		coherent(t, j.File(context.Background(), path))
	})
}

// coherent holds a report to what every report must keep.
func coherent(t *testing.T, r rules.FileReport) {
	t.Helper()
	if len(r.Findings) == 0 || r.Verdict != rules.Worst(r.Findings) {
		t.Errorf("verdict %s of %d findings", r.Verdict, len(r.Findings))
	}
	for _, f := range r.Findings {
		switch {
		case f.Message == "":
			t.Errorf("%s says nothing", f.Rule)
		case (f.Verdict == rules.Fail || f.Verdict == rules.Warn) && f.Fix == "":
			t.Errorf("%s knows no remedy: %s", f.Rule, f.Message)
		case f.Verdict == rules.Pass && f.Fix != "":
			t.Errorf("%s mends what is right: %s", f.Rule, f.Fix)
		case strings.Contains(f.Message, "please report it"), strings.Contains(f.Message, "within 5s"):
			t.Errorf("%s: %s", f.Rule, f.Message)
		case strings.Contains(f.Message, "%!"), strings.Contains(f.Message+f.Fix, "NaN"), strings.Contains(f.Message+f.Fix, "Inf"):
			t.Errorf("%s: %s → %s", f.Rule, f.Message, f.Fix)
		case f.Side < 0 || f.Side > max(1, len(r.Sides)):
			t.Errorf("%s speaks of side %d of %d", f.Rule, f.Side, len(r.Sides))
		}
	}
}

// seeds are small files of every kind, and of many ways to build a page.
func seeds(t testing.TB) [][]byte {
	img := image.NewPaletted(image.Rect(0, 0, 35, 20), color.Palette{color.White, color.Black})
	var g, b bytes.Buffer
	if err := gif.Encode(&g, img, nil); err != nil {
		t.Fatal(err)
	}
	if err := bmp.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	webp := "RIFF\x1a\x00\x00\x00WEBPVP8L\x0d\x00\x00\x00\x2f\x00\x00\x00\x10\x07\x10\x11\x11\x88\x88\xfe\x07\x00"
	srgb := stream("/N 3", "no profile")
	return [][]byte{
		card("").file(), lettered(inside(rules.Left, 1)).file(), trimmed(252, 144),
		sheet{page: "/MediaBox [0 0 352 244]", content: strokedMarks(50, 50, 252, 144, 9, 12, " S\n")}.file(),
		withPicture(at(20, 100, 100), tone(20)), inSpace("[/ICCBased 5 0 R]", "1 0 0", srgb).file(), inOperator("1 0 0 rg").intent(""),
		note(4), inSpace("[/Indexed /DeviceRGB 1 <ff000000ff00>]", "1").file(), card("/Pattern cs /P scn 0 0 270 162 re f", tinyTile).with("/Pattern << /P 5 0 R >>").file(),
		pngFile(t, greyPicture(35, 20), phys(2835, 2835, 1), chunk("sRGB", "\x00")), jpegFile(t, rgbPicture(35, 20), jfif(1, 300, 300)),
		jpegFile(t, greyPicture(35, 20), exif(2, 72)), greyTIFF(35, 20, 2, 300), labTIFF(35, 20), oneBitTIFF(35, 20, 3, 118), g.Bytes(), b.Bytes(), []byte(webp),
	}
}
