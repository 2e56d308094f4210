package checks_test

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stoneproof/checks"
	"stoneproof/checks/checktest"
	"stoneproof/checks/checktest/outside"
	"stoneproof/checks/checktest/press"
	"stoneproof/rules"
)

// Files that programs other than our own generator write, made when the test
// runs: they must earn the verdicts that the same art earns from ours.

// ran runs an independent program in a folder.
func ran(t *testing.T, dir, name string, args ...string) string {
	t.Helper()
	cmd := exec.Command(outside.Tool(t, name), args...)
	cmd.Dir = dir
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%s %v: %v\n%s", name, args, err, out)
	}
	return string(out)
}

// postscript is a US business card: a ground, a word, a picture of 150 × 90
// samples, and its boxes by pdfmark.
func postscript(ground, word, picture string) string {
	return "%!PS-Adobe-3.0\n<< /PageSize [270 162] >> setpagedevice\n" +
		"[ /TrimBox [9 9 261 153] /BleedBox [0 0 270 162] /PAGE pdfmark\n" +
		"0.2 0 0.1 0 setcmykcolor " + ground + " rectfill\n" +
		"gsave " + picture + " /DeviceGray setcolorspace << /ImageType 1 /Width 150 /Height 90 /BitsPerComponent 8 /Decode [0 1] " +
		"/ImageMatrix [150 0 0 -90 0 90] /DataSource { rand 255 and (x) dup 0 4 -1 roll put } >> image grestore\n" +
		"0 0 0 1 setcmykcolor /Helvetica findfont 12 scalefont setfont " + word + " moveto (Wendlebury Cross) show showpage\n"
}

// embedAll has Ghostscript put the fourteen standard fonts into the file as well.
const embedAll = "<< /NeverEmbed [] >> setdistillerparams"

// ghostscript makes a PDF of a PostScript program.
func ghostscript(t *testing.T, program string) string {
	t.Helper()
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "card.ps"), []byte(program), 0o644); err != nil {
		t.Fatal(err)
	}
	ran(t, dir, "gs", "-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-sDEVICE=pdfwrite", "-dAutoFilterGrayImages=false", "-dGrayImageFilter=/FlateEncode",
		"-dDownsampleGrayImages=false", "-o", "card.pdf", "-c", embedAll, "-f", "card.ps")
	return filepath.Join(dir, "card.pdf")
}

func TestForeignGhostscript(t *testing.T) {
	const full, inner = "0 0 270 162", "150 60 translate 36 21.6 scale"
	for _, tt := range []struct {
		name, ground, word, picture string
		want                        []string
	}{
		{"all well", full, "30 40", inner, nil},
		{"paint stops at the trim on the left", "9 0 261 162", "30 40", inner, []string{"bleed-fill fail left"}},
		{"the word is too near on the left", full, "12 40", inner, []string{"safe-zone fail left"}},
		{"the word is cut", full, "190 40", inner, []string{"safe-zone fail right"}},
		{"the picture is coarse: 240 ppi", full, "30 40", "150 60 translate 45 27 scale", []string{"effective-resolution warn"}},
		{"the picture is very coarse: 150 ppi", full, "30 40", "150 60 translate 72 43.2 scale", []string{"effective-resolution fail"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			want := append(tt.want, "true-detail skip") // noise of few pixels
			checktest.Expect(t, checktest.Judge(t, ghostscript(t, postscript(tt.ground, tt.word, tt.picture)), rules.Order{}), want...)
		})
	}
}

// Inks that lie on each other, and by how much, as Ghostscript writes them.
func TestForeignInks(t *testing.T) {
	const page = "%%!PS\n<< /PageSize [270 162] >> setpagedevice\n[ /TrimBox [9 9 261 153] /BleedBox [0 0 270 162] /PAGE pdfmark\n" +
		"0.1 0 0 0 setcmykcolor 0 0 270 162 rectfill\n%s setcmykcolor 100 60 %s rectfill\nshowpage\n"
	try(t, checks.InkTotal, []trial{
		{"240 %", written(t, ghostscript(t, fmt.Sprintf(page, "0.6 0.4 0.4 1", "60 40"))), rules.Order{}, "pass", "240 %"},
		{"360 %", written(t, ghostscript(t, fmt.Sprintf(page, "0.9 0.9 0.9 0.9", "60 40"))), rules.Order{}, "fail", "Take out"},
		{"360 % on a thin rule", written(t, ghostscript(t, fmt.Sprintf(page, "0.9 0.9 0.9 0.9", "60 0.5"))), rules.Order{}, "pass", ""},
	})
}

// written is what stands in a file.
func written(t testing.TB, path string) []byte {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// Frames and codes as cairo writes them.
func TestForeignFrames(t *testing.T) {
	card := func(body string) []byte {
		return written(t, cairo(t, svg(95.25, 57.15, `<rect width="95.25" height="57.15" fill="#efe6d2"/>`+body)))
	}
	frame := func(mm float64) []byte {
		at := 3.175 + mm
		return card(fmt.Sprintf(`<rect x="%v" y="%v" width="%v" height="%v" fill="none" stroke="#223" stroke-width="0.5"/>`, at, at, 95.25-2*at, 57.15-2*at))
	}
	try(t, checks.EdgeBorder, []trial{
		{"2 mm inside", frame(2), rules.Order{}, "warn", "on every edge"},
		{"7 mm inside", frame(7), rules.Order{}, "pass", ""},
		{"a foot that bleeds", card(`<rect y="48" width="95.25" height="9.15" fill="#223"/>`), rules.Order{}, "pass", ""},
	})
}

func TestForeignCodes(t *testing.T) {
	code := func(module float64) []byte {
		body := `<rect width="95.25" height="57.15" fill="#fff"/>`
		for y, row := range modulesOf(t, "https://quarterpast.example") {
			for x, dark := range row {
				if dark {
					body += fmt.Sprintf(`<rect x="%v" y="%v" width="%v" height="%v"/>`, 30+float64(x)*module, 15+float64(y)*module, module, module)
				}
			}
		}
		return written(t, cairo(t, svg(95.25, 57.15, body)))
	}
	try(t, checks.CodeScan, []trial{
		{"0.5 mm a module", code(0.5), rules.Order{}, "pass", "reads as printed"},
		{"0.12 mm a module", code(0.12), rules.Order{}, "fail", "Enlarge it"},
		{"a chequered cloth", written(t, cairo(t, svg(95.25, 57.15, `<defs><pattern id="c" width="2" height="2" patternUnits="userSpaceOnUse"><rect width="1" height="1"/><rect x="1" y="1" width="1" height="1"/></pattern></defs><rect width="95.25" height="57.15" fill="url(#c)"/>`))), rules.Order{}, "pass", "No QR code"},
	})
}

// cairo is the path of a drawing as librsvg and cairo write it.
func cairo(t *testing.T, drawing string) string {
	t.Helper()
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "card.svg"), []byte(drawing), 0o644); err != nil {
		t.Fatal(err)
	}
	ran(t, dir, "rsvg-convert", "-f", "pdf", "-o", "card.pdf", "card.svg")
	return filepath.Join(dir, "card.pdf")
}

// svg is a card of w × h mm with bleed, as drawing programs write it.
func svg(w, h float64, body string) string {
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" width="%vmm" height="%vmm" viewBox="0 0 %v %v">%s</svg>`, w, h, w, h, body)
}

// Cairo writes RGB without a profile, and no TrimBox.
func TestForeignCairo(t *testing.T) {
	const always, word = "page-boxes warn", `<text x="%v" y="30" font-family="sans-serif" font-size="5">The potter</text>`
	rest := []string{"colour-space warn", "colour-tags warn"}
	ground := `<rect width="95.25" height="57.15" fill="#355"/>`
	for _, tt := range []struct {
		name, file string
		order      rules.Order
		want       []string
	}{
		{"all well", svg(95.25, 57.15, ground+fmt.Sprintf(word, 20)), rules.Order{}, append(rest, always)},
		{"on the maker's own printer", svg(95.25, 57.15, ground+fmt.Sprintf(word, 20)), rules.Order{Process: "desktop"}, []string{always, "colour-tags warn"}},
		{"for offset", svg(95.25, 57.15, ground+fmt.Sprintf(word, 20)), rules.Order{Process: "offset-coated"}, []string{always, "colour-space fail", "colour-tags warn"}},
		{"the word is near the left edge", svg(95.25, 57.15, ground+fmt.Sprintf(word, 4.5)), rules.Order{}, append(rest, always, "safe-zone fail left")},
		{"the card without its bleed", svg(88.9, 50.8, `<rect width="88.9" height="50.8" fill="#355"/>`+fmt.Sprintf(word, 20)), rules.Order{}, append(rest, always, "bleed-extent fail", "bleed-fill skip")},
		{"the ground stops at the trim below", svg(95.25, 57.15, `<rect width="95.25" height="53.975" fill="#355"/>`+fmt.Sprintf(word, 20)), rules.Order{}, append(rest, always, "bleed-fill fail bottom")},
		{"an eu-business card", svg(91, 61, `<rect width="91" height="61" fill="#355"/>`), size("eu-business"), append(rest, always)},
	} {
		t.Run(tt.name, func(t *testing.T) {
			checktest.Expect(t, checktest.Judge(t, cairo(t, tt.file), tt.order), tt.want...)
		})
	}
}

// faulty puts two faults into a card that pictures must show as pages do.
func faulty() []press.Option {
	return []press.Option{press.PaintStops(rules.Left, 1.2), press.PhoneAt(rules.Right, 1)}
}

var faults = []string{"bleed-fill fail left", "safe-zone fail right"}

func darkCard() press.Card {
	return press.Card{Maker: press.Makers()[0], Style: press.Dark, Size: "us-business"}
}

// Every container that ImageMagick writes: the faults must be found in each, and
// nothing in the good card but what the container itself costs.
func TestForeignImageMagick(t *testing.T) {
	good, bad := t.TempDir(), t.TempDir()
	write := func(dir string, b []byte) {
		if err := os.WriteFile(filepath.Join(dir, "card.png"), b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write(good, darkCard().PNG(300))
	write(bad, darkCard().PNG(300, faulty()...))
	words := strings.Fields
	untagged, soft := []string{"colour-tags warn"}, []string{"effective-resolution warn"}
	for _, tt := range []struct {
		name, out string
		args      []string
		costs     []string // on the maker's own printer
	}{
		{"png 24", "PNG24:a.png", nil, nil},
		{"png 48", "PNG48:a.png", nil, nil},
		{"png with alpha", "PNG32:a.png", nil, nil},
		{"png of a palette", "PNG8:a.png", words("-colors 64"), nil},
		{"png interlaced", "a.png", words("-interlace PNG"), nil},
		{"png grey", "a.png", words("+profile icc -colorspace Gray"), nil},
		{"jpeg", "a.jpg", words("-quality 92"), nil},
		{"jpeg progressive", "a.jpg", words("-quality 92 -interlace JPEG"), nil},
		{"jpeg, no subsampling", "a.jpg", words("-quality 92 -sampling-factor 1x1"), nil},
		{"jpeg grey", "a.jpg", words("+profile icc -colorspace Gray -quality 92"), nil},
		{"jpeg cmyk", "a.jpg", words("+profile icc -colorspace CMYK -quality 92"), untagged},
		{"jpeg stripped of its tags", "a.jpg", words("-strip -quality 92 -density 300 -units PixelsPerInch"), untagged},
		{"tiff", "a.tif", words("-compress none"), nil},
		{"tiff lzw", "a.tif", words("-compress lzw"), nil},
		{"tiff zip", "a.tif", words("-compress zip"), nil},
		{"tiff packbits", "a.tif", words("-compress rle"), nil},
		{"tiff jpeg", "a.tif", words("-compress jpeg -quality 95"), nil},
		{"tiff tiled", "a.tif", words("-define tiff:tile-geometry=256x256 -compress lzw"), nil},
		{"tiff planes", "a.tif", words("-interlace plane -compress lzw"), nil},
		{"tiff 16 bits", "a.tif", words("-depth 16 -compress zip"), nil},
		{"tiff big-endian", "a.tif", words("-endian MSB -compress lzw"), nil},
		{"tiff cmyk", "a.tif", words("+profile icc -colorspace CMYK -compress zip"), untagged},
		{"tiff fax", "a.tif", words("+profile icc -threshold 60% -type bilevel -compress group4"), soft},
		{"webp lossy", "a.webp", words("-quality 90"), nil},
		{"webp lossless", "a.webp", words("-define webp:lossless=true"), nil},
		{"gif", "a.gif", nil, untagged},
		{"bmp, which tells its primaries", "BMP:a.bmp", nil, nil},
		{"bmp 3", "BMP3:a.bmp", nil, untagged},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, name, found := strings.Cut(tt.out, ":")
			if !found {
				name = tt.out
			}
			for dir, more := range map[string][]string{good: nil, bad: faults} {
				ran(t, dir, "convert", slices.Concat([]string{"card.png"}, tt.args, []string{tt.out})...)
				r := checktest.Judge(t, filepath.Join(dir, name), rules.Order{Process: "desktop"})
				checktest.Expect(t, r, unread(slices.Concat(tt.costs, more)...)...)
			}
		})
	}
}

// What qpdf writes anew is the same page.
func TestForeignQPDF(t *testing.T) {
	for name, want := range map[string][]string{"good": nil, "bad": faults} {
		opts := []press.Option{}
		if want != nil {
			opts = faulty()
		}
		dir := t.TempDir()
		if err := os.WriteFile(filepath.Join(dir, "card.pdf"), darkCard().PDF(opts...), 0o644); err != nil {
			t.Fatal(err)
		}
		for way, args := range map[string][]string{
			"linearized":     {"--linearize"},
			"object streams": {"--object-streams=generate", "--compress-streams=y", "--recompress-flate"},
			"plain text":     {"--qdf", "--object-streams=disable"},
			"open cipher":    {"--encrypt", "", "owner", "256", "--"},
			"older cipher":   {"--allow-weak-crypto", "--encrypt", "", "owner", "128", "--use-aes=n", "--"},
			"split content":  {"--split-pages"},
		} {
			t.Run(name+"/"+way, func(t *testing.T) {
				out := strings.ReplaceAll(way, " ", "-") + ".pdf"
				ran(t, dir, "qpdf", append(args, "card.pdf", out)...)
				if found, _ := filepath.Glob(filepath.Join(dir, strings.TrimSuffix(out, ".pdf")+"-1.pdf")); len(found) == 1 {
					out = filepath.Base(found[0])
				}
				checktest.Expect(t, checktest.Judge(t, filepath.Join(dir, out), rules.Order{}), want...)
			})
		}
	}
}

// What libtiff copies into another shape is the same picture.
func TestForeignTIFF(t *testing.T) {
	for name, want := range map[string][]string{"good": nil, "bad": faults} {
		opts := []press.Option{}
		if want != nil {
			opts = faulty()
		}
		dir := t.TempDir()
		if err := os.WriteFile(filepath.Join(dir, "card.tif"), darkCard().TIFF(300, opts...), 0o644); err != nil {
			t.Fatal(err)
		}
		for _, args := range []string{"-c none", "-c lzw:2", "-c zip", "-c packbits", "-t -c lzw", "-r 16 -c zip", "-p separate -c lzw", "-B -c none", "-8 -c zip"} {
			t.Run(name+"/"+args, func(t *testing.T) {
				ran(t, dir, "tiffcp", append(strings.Fields(args), "card.tif", "copy.tif")...)
				checktest.Expect(t, checktest.Judge(t, filepath.Join(dir, "copy.tif"), rules.Order{}), unread(slices.Clone(want)...)...)
			})
		}
	}
}

// Finished sizes as poppler's pdfinfo -box reads them, on files of three makers.
func TestSizesAgreeWithPoppler(t *testing.T) {
	files := map[string]string{
		"ghostscript": ghostscript(t, postscript("0 0 270 162", "30 40", "150 60 translate 36 21.6 scale")),
		"ours":        kept(t, "ours.pdf", darkCard().PDF(press.Slug(7), press.Origin(-20, 31))),
	}
	for _, name := range []string{"herbalist", "scrivener"} {
		files[name] = "../testdata/foreign/" + name + ".pdf"
	}
	for name, path := range files {
		t.Run(name, func(t *testing.T) {
			box := boxOf(t, ran(t, ".", "pdfinfo", "-box", path), "TrimBox:")
			side := checktest.Judge(t, path, rules.Order{}).Sides[0]
			for _, pair := range [][2]float64{{box[2] - box[0], side.Trim.W.Points()}, {box[3] - box[1], side.Trim.H.Points()}} {
				if math.Abs(pair[0]-pair[1]) > 0.01 {
					t.Errorf("poppler reads %v, we %v × %v pt", box, side.Trim.W.Points(), side.Trim.H.Points())
				}
			}
		})
	}
}

// boxOf reads a line of pdfinfo: a name and four numbers.
func boxOf(t *testing.T, text, name string) (box [4]float64) {
	t.Helper()
	for line := range strings.Lines(text) {
		if f := strings.Fields(line); len(f) == 5 && f[0] == name {
			for i := range box {
				box[i], _ = strconv.ParseFloat(f[i+1], 64)
			}
			return box
		}
	}
	t.Fatalf("no %s in:\n%s", name, text)
	return box
}

// Resolutions as poppler's pdfimages -list reads them, in whole numbers.
func TestResolutionsAgreeWithPoppler(t *testing.T) {
	for name, path := range map[string]string{
		"300 ppi":   ghostscript(t, postscript("0 0 270 162", "30 40", "150 60 translate 36 21.6 scale")),
		"two sizes": ghostscript(t, postscript("0 0 270 162", "30 40", "150 60 translate 61.3 21.6 scale")),
		"turned":    ghostscript(t, postscript("0 0 270 162", "30 40", "150 60 translate 33 rotate 50 30 scale")),
		"pictures":  kept(t, "ours.pdf", press.Card{Maker: "baker", Style: press.Photographic, Size: "us-business"}.PDF(press.PicturePPI(217))),
	} {
		t.Run(name, func(t *testing.T) {
			want := leastPPI(t, ran(t, ".", "pdfimages", "-list", path))
			for _, f := range checktest.Judge(t, path, rules.Order{}).Findings {
				if f.Rule != "effective-resolution" || f.Measured == nil {
					continue
				}
				if got := *f.Measured.Value; math.Abs(got-want) > 1 {
					t.Errorf("poppler reads %v ppi, we %v", want, got)
				}
				return
			}
			t.Error("no picture was measured")
		})
	}
}

// leastPPI is the least of the x-ppi and y-ppi columns of a list of pictures.
func leastPPI(t *testing.T, list string) float64 {
	t.Helper()
	least := math.Inf(1)
	lines := bufio.NewScanner(strings.NewReader(list))
	for lines.Scan() {
		f := strings.Fields(lines.Text())
		if len(f) < 14 || f[2] != "image" {
			continue
		}
		for _, column := range f[12:14] {
			ppi, err := strconv.ParseFloat(column, 64)
			if err != nil {
				t.Fatalf("no number in %q", lines.Text())
			}
			least = min(least, ppi)
		}
	}
	return least
}

// The reference shows that Expect itself tells the two cards apart.
func TestFaultsAreThere(t *testing.T) {
	if diff := cmp.Diff(faults, checktest.Said(checktest.JudgeBytes(t, "card.pdf", darkCard().PDF(faulty()...), rules.Order{}))); diff != "" {
		t.Error(diff)
	}
}
