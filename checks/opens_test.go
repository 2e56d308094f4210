package checks_test

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"image/gif"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/image/bmp"

	"stoneproof/checks"
	"stoneproof/checks/art"
	"stoneproof/checks/checktest"
	"stoneproof/checks/checktest/outside"
	"stoneproof/checks/checktest/press"
	"stoneproof/rules"
)

// samples are whole files of every kind.
func samples(t testing.TB) map[string][]byte {
	t.Helper()
	img := image.NewPaletted(image.Rect(0, 0, 375, 225), color.Palette{color.White, color.Black})
	for i := range img.Pix {
		img.Pix[i] = byte(i / 7 % 2)
	}
	var g, b bytes.Buffer
	if err := gif.Encode(&g, img, nil); err != nil {
		t.Fatal(err)
	}
	if err := bmp.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{"gif": g.Bytes(), "bmp": b.Bytes()}
	for kind, name := range map[string]string{
		"pdf": "good/beekeeper-engraved-us-business.pdf", "jpeg": "foreign/joiner.jpg", "png": "good/clock-mender-broadside-us-business.png",
		"tiff": "foreign/clock-mender.tif", "webp": "foreign/joiner.webp",
	} {
		file, err := os.ReadFile("../testdata/" + name)
		if err != nil {
			t.Fatal(err)
		}
		files[kind] = file
	}
	return files
}

// A file that is cut off anywhere fails, and a whole one passes. Where all that is
// lost is the end of the profile, it is colour-tags that fails.
func TestFileOpensCut(t *testing.T) {
	for kind, whole := range samples(t) {
		lengths := []int{9, 40, len(whole) / 50, len(whole) / 10, len(whole) / 4, len(whole) / 2, len(whole) * 3 / 4, len(whole) * 9 / 10, len(whole) * 99 / 100, len(whole) - 9, len(whole) - 2}
		for _, n := range lengths {
			r := checktest.JudgeBy(t, kept(t, "card"+ending(whole), whole[:n]), rules.Order{Process: "desktop"}, checks.FileOpens, checks.ColourTags)
			if r.Verdict != rules.Fail {
				t.Errorf("%s of %d bytes, cut to %d, does not fail:\n%s", kind, len(whole), n, words(r))
			}
		}
		opens(t, kind+"/whole", "card"+ending(whole), whole, "pass")
	}
}

func opens(t *testing.T, name, file string, b []byte, want string) {
	t.Helper()
	t.Run(name, func(t *testing.T) {
		r := checktest.JudgeBy(t, kept(t, file, b), rules.Order{}, checks.FileOpens)
		if got := verdicts(r, "file-opens"); got != want {
			t.Errorf("says %q, want %q:\n%s", got, want, words(r))
		}
		for _, f := range r.Findings {
			if f.Verdict == rules.Fail && (f.Fix == "" || f.Message == "") {
				t.Errorf("says too little: %+v", f)
			}
		}
	})
}

// What follows the end of a file, or precedes a PDF's head, is no damage: mail
// programs and phones add it.
func TestFileOpensWithMoreAround(t *testing.T) {
	s := samples(t)
	more := func(kind, after string) []byte { return append(bytes.Clone(s[kind]), after...) }
	opens(t, "PDF, blank lines after", "card.pdf", more("pdf", "\r\n\r\n"), "pass")
	opens(t, "PDF, zeros after", "card.pdf", more("pdf", strings.Repeat("\x00", 200)), "pass")
	opens(t, "PDF, blank line before", "card.pdf", append([]byte("\r\n"), s["pdf"]...), "pass")
	opens(t, "JPEG, a second picture after", "card.jpg", more("jpeg", string(s["jpeg"])), "pass")
	opens(t, "PNG, words after", "card.png", more("png", "made in town"), "pass")
	opens(t, "GIF, words after", "card.gif", more("gif", "made in town"), "pass")
	opens(t, "capital ending", "CARD.PDF", s["pdf"], "pass")
	opens(t, "no ending", "card", s["pdf"], "pass")
	opens(t, "ending of the trade", "card.jpeg", s["jpeg"], "pass")
	opens(t, "unknown ending", "card.final", s["tiff"], "pass")
}

func TestFileOpensMisnamed(t *testing.T) {
	s := samples(t)
	names := map[string]string{"pdf": "a.jpg", "jpeg": "a.png", "png": "a.pdf", "tiff": "a.jpg", "webp": "a.jpg", "gif": "a.bmp", "bmp": "a.tif"}
	for kind, name := range names {
		r := checktest.JudgeBy(t, kept(t, name, s[kind]), rules.Order{}, checks.FileOpens)
		if r.Kind != kind || verdicts(r, "file-opens") != "fail" || !strings.Contains(words(r), "Rename it to end in") {
			t.Errorf("%s named %s, told as %s:\n%s", kind, name, r.Kind, words(r))
		}
	}
}

// Damage inside: the structure reads well, a picture in it does not.
func TestFileOpensDamagedInside(t *testing.T) {
	picture := func(entries string, data []byte) []byte {
		return withPicture("q 96 0 0 96 20 20 cm /X Do Q", stream("/Type /XObject /Subtype /Image /Width 100 /Height 100 /BitsPerComponent 8 /ColorSpace /DeviceGray "+entries, string(data)))
	}
	dct := jpegFile(t, greyPicture(100, 100))
	flipped := bytes.Clone(samples(t)["png"])
	flipped[len(flipped)/2] ^= 0x55
	for _, tt := range []struct {
		name, file string
		b          []byte
		want       string
	}{
		{"samples, whole", "card.pdf", picture("", make([]byte, 100*100)), "pass"},
		{"samples, too few", "card.pdf", picture("", make([]byte, 50*100)), "fail"},
		{"samples, one too few", "card.pdf", picture("", make([]byte, 100*100-1)), "fail"},
		{"samples, more than enough", "card.pdf", picture("", make([]byte, 100*101)), "pass"},
		{"JPEG, whole", "card.pdf", picture("/Filter /DCTDecode", dct), "pass"},
		{"JPEG, cut off", "card.pdf", picture("/Filter /DCTDecode", dct[:len(dct)/2]), "fail"},
		{"JPEG, no JPEG at all", "card.pdf", picture("/Filter /DCTDecode", []byte("painted by hand")), "fail"},
		{"Flate, noise", "card.pdf", picture("/Filter /FlateDecode", []byte(strings.Repeat("noise", 200))), "fail"},
		{"PNG, a byte flipped", "card.png", flipped, "fail"},
		{"content that is noise", "card.pdf", sheet{page: usCard, content: strings.Repeat("\x80\xff(<[", 50)}.file(), "pass"},
	} {
		opens(t, tt.name, tt.file, tt.b, tt.want)
	}
}

// What is larger than the tool dares to read fails, and says so.
func TestFileOpensOverCeilings(t *testing.T) {
	s := samples(t)
	pages := card("")
	pages.pages = 9
	for _, tt := range []struct {
		name, file string
		b          []byte
		lower      func(*art.Ceilings)
		says       string
	}{
		{"bytes", "card.png", s["png"], func(c *art.Ceilings) { c.FileBytes = 1000 }, "this tool reads up to"},
		{"pages", "card.pdf", pages.file(), func(c *art.Ceilings) { c.PDF.Pages = 8 }, "pages"},
		{"pixels", "card.png", s["png"], func(c *art.Ceilings) { c.Raster.Pixels = 1000 }, "too large"},
		{"memory", "card.jpg", s["jpeg"], func(c *art.Ceilings) { c.Raster.Memory = 1000 }, "too large"},
		{"operators", "card.pdf", lettered(strings.Repeat(write(11, 80), 9)).file(), func(c *art.Ceilings) { c.PDF.Operators = 20 }, "more work than a card should"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			j := checktest.NewJudge(t, rules.Order{}, checks.FileOpens)
			tt.lower(&j.Ceilings)
			r := j.File(context.Background(), kept(t, tt.file, tt.b))
			if verdicts(r, "file-opens") != "fail" || !strings.Contains(words(r), tt.says) {
				t.Errorf("want it to speak of %q:\n%s", tt.says, words(r))
			}
		})
	}
}

// A PDF that asks for a password is locked; one that does not, is open, even if
// it is enciphered (ISO 32000-1, 7.6).
func TestFileOpensLocked(t *testing.T) {
	qpdf := outside.Tool(t, "qpdf")
	plain := kept(t, "plain.pdf", samples(t)["pdf"])
	for _, tt := range []struct{ name, user, bits, want string }{
		{"with a password", "secret", "256", "fail"},
		{"with a password, older", "secret", "128", "fail"},
		{"without", "", "256", "pass"},
		{"without, older", "", "128", "pass"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			locked := filepath.Join(t.TempDir(), "locked.pdf")
			args := []string{"--allow-weak-crypto", "--encrypt", tt.user, "owner", tt.bits, "--", plain, locked}
			if out, err := exec.Command(qpdf, args...).CombinedOutput(); err != nil {
				t.Fatalf("%v: %s", err, out)
			}
			r := checktest.JudgeBy(t, locked, rules.Order{}, checks.FileOpens)
			if got := verdicts(r, "file-opens"); got != tt.want {
				t.Errorf("says %q, want %q:\n%s", got, tt.want, words(r))
			}
		})
	}
}

func TestSideCount(t *testing.T) {
	pdf := func(pages int) []byte { s := card(""); s.pages = pages; return s.file() }
	tiff := func(pages int) []byte {
		var all [][]field
		for range pages {
			all = append(all, append(greyFields(1125, 675), resolution(2, 300)...))
		}
		return tiffFile(all...)
	}
	sides := func(n ...int) rules.Order { return rules.Order{Sides: n} }
	try(t, checks.SideCount, []trial{
		{"one of 1 or 2", pdf(1), rules.Order{}, "pass", "1 side"},
		{"two of 1 or 2", pdf(2), rules.Order{}, "pass", "2 sides"},
		{"three of 1 or 2", pdf(3), rules.Order{}, "fail", "The file has 3 sides; the card has 1 or 2."},
		{"one of 1", pdf(1), sides(1), "pass", ""},
		{"two of 1", pdf(2), sides(1), "fail", "Export 1 side only"},
		{"one of 2", pdf(1), sides(2), "fail", "Add the missing 1 side"},
		{"two of 2", pdf(2), sides(2), "pass", ""},
		{"a deck", pdf(54), sides(54), "pass", "54 sides"},
		{"a deck short of one", pdf(53), sides(54), "fail", "Add the missing 1 side"},
		{"between two numbers", pdf(2), sides(1, 3), "fail", ""},
		{"TIFF of two pages", tiff(2), sides(2), "pass", ""},
		{"TIFF of two pages for 1", tiff(2), sides(1), "fail", ""},
		{"TIFF of three pages", tiff(3), rules.Order{}, "fail", "3 sides"},
		{"picture for 2", densePNG(t, 1125, 675), sides(2), "fail", ""},
		{"two-sided card", press.Card{Maker: press.Makers()[0], Style: press.TwoSided, Size: "us-business"}.PDF(), sides(2), "pass", ""},
	})
}

// Both pages of a TIFF are judged.
func TestBothPagesOfATIFFAreJudged(t *testing.T) {
	good := append(greyFields(1125, 675), resolution(2, 300)...)
	small := append(greyFields(900, 900), resolution(2, 300)...)
	r := checktest.JudgeBy(t, kept(t, "card.tif", tiffFile(good, small)), rules.Order{}, checks.TrimSize)
	if len(r.Findings) != 2 || r.Findings[0].Verdict != rules.Pass || r.Findings[1].Verdict != rules.Fail || r.Findings[1].Side != 2 {
		t.Errorf("want side 1 to pass and side 2 to fail:\n%s", words(r))
	}
}
