package checks_test

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"stoneproof/checks"
	"stoneproof/checks/art/raster"
	"stoneproof/checks/checktest"
	"stoneproof/checks/checktest/outside"
	"stoneproof/checks/checktest/press"
	"stoneproof/checks/compression"
	"stoneproof/rules"
)

// The quality that is told of a file against an independent program's, which reads
// the tables by a way of its own.
func TestQualityAgainstIdentify(t *testing.T) {
	convert, identify := outside.Tool(t, "convert"), outside.Tool(t, "identify")
	dir := t.TempDir()
	var args, files []string
	for q := 5; q <= 100; q += 5 {
		files = append(files, filepath.Join(dir, fmt.Sprintf("q%d.jpg", q)))
		args = append(args, "(", "-clone", "0", "-quality", strconv.Itoa(q), "+write", files[len(files)-1], ")")
	}
	run(t, convert, append(append([]string{"-size", "64x48", "plasma:tan-navy", "-seed", "7"}, args...), "null:")...)
	told := strings.Fields(run(t, identify, append([]string{"-format", "%Q "}, files...)...))
	if len(told) != len(files) {
		t.Fatalf("%d numbers of %d files", len(told), len(files))
	}
	for i, file := range files {
		b, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		tables, err := raster.JPEGQuant(b)
		if err != nil {
			t.Fatal(err)
		}
		if got, exact := compression.Quality(tables[0]); strconv.Itoa(got) != told[i] || !exact {
			t.Errorf("%s: quality %d, exact %v; identify says %s", filepath.Base(file), got, exact, told[i])
		}
	}
}

func run(t *testing.T, tool string, args ...string) string {
	t.Helper()
	out, err := exec.Command(tool, args...).Output()
	if err != nil {
		t.Fatalf("%s %s: %v", filepath.Base(tool), args, err)
	}
	return string(out)
}

// typeCard is black type on white, which compression harms most, once a JPEG of a
// quality; 0 for never.
func typeCard(opts ...press.Option) []byte {
	return press.Card{Maker: "clock-mender", Style: press.Broadside, Size: "us-business"}.PNG(300, append(opts, press.In(press.Grey))...)
}

func decoded(t *testing.T, file []byte) image.Image {
	t.Helper()
	img, err := png.Decode(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// A damaged picture is found in every format without loss, wherever it is cut, in a
// page, and after a second save that is a good one.
func TestLossFoundAfterwards(t *testing.T) {
	damaged := decoded(t, typeCard(press.OnceJPEG(10)))
	cut := image.NewGray(image.Rect(0, 0, 1061, 640))
	for y := range 640 {
		for x := range 1061 {
			cut.Set(x, y, damaged.At(x+61, y+30))
		}
	}
	var again bytes.Buffer
	if err := jpeg.Encode(&again, cut, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	picture := func(entries string, data []byte) []byte {
		return withPicture("q 254 0 0 153 8 4 cm /X Do Q", stream(fmt.Sprintf(
			"/Type /XObject /Subtype /Image /Width 1061 /Height 640 /BitsPerComponent 8 /ColorSpace /DeviceGray %s", entries), string(data)))
	}
	try(t, checks.JPEGLoss, []trial{
		{"PNG", typeCard(press.OnceJPEG(10)), rules.Order{}, "fail", "once saved as JPEG at about quality 1"},
		{"cut", pngFile(t, cut), rules.Order{}, "fail", "PNG or TIFF, or as JPEG at quality 90 or above"},
		{"saved again at 95", again.Bytes(), rules.Order{}, "fail", "once saved as JPEG at about quality 1"},
		{"TIFF of inks", press.Card{Maker: "clock-mender", Style: press.Broadside, Size: "us-business"}.TIFF(300, press.OnceJPEG(8)), rules.Order{}, "fail", "once saved"},
		{"in a page, without loss", picture("", cut.Pix), rules.Order{}, "fail", "Put in the picture anew"},
		{"in a page, as JPEG", picture("/Filter /DCTDecode", again.Bytes()), rules.Order{}, "fail", "image 1"},
	})
}

// What other programs make of a damaged card, and of a sound one: the damage goes along,
// and nothing else comes.
func TestLossThroughPrograms(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long, in one goroutine")
	}
	convert, gs, tiff2pdf := outside.Tool(t, "convert"), outside.Tool(t, "gs"), outside.Tool(t, "tiff2pdf")
	for _, tt := range []struct {
		name, want string
		opts       []press.Option
	}{
		{"damaged", "fail", []press.Option{press.OnceJPEG(9)}},
		{"sound", "pass", nil},
	} {
		dir := t.TempDir()
		if err := os.WriteFile(filepath.Join(dir, "card.png"), typeCard(tt.opts...), 0o644); err != nil {
			t.Fatal(err)
		}
		in := func(name string) string { return filepath.Join(dir, name) }
		for _, step := range [][]string{
			{convert, in("card.png"), "-crop", "1111x664+9+6", "+repage", "-compress", "zip", in("cut.tif")},
			{convert, in("card.png"), "-quality", "95", "-sampling-factor", "4:4:4", in("full.jpg")},
			{convert, in("card.png"), "-quality", "92", "-sampling-factor", "4:2:0", "-interlace", "JPEG", in("progressive.jpg")},
			{convert, in("card.png"), "-define", "webp:lossless=true", in("card.webp")},
			{tiff2pdf, "-z", "-o", in("tiff.pdf"), in("cut.tif")},
			{tiff2pdf, "-j", "-q", "95", "-o", in("jpeg.pdf"), in("cut.tif")},
			{gs, "-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-sDEVICE=pdfwrite", "-dAutoFilterGrayImages=false", "-dGrayImageFilter=/FlateEncode", "-dDownsampleGrayImages=false", "-o", in("gs.pdf"), in("tiff.pdf")},
			{gs, "-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-sDEVICE=pdfwrite", "-dDownsampleGrayImages=false", "-dPDFSETTINGS=/prepress", "-o", in("gs-jpeg.pdf"), in("tiff.pdf")},
		} {
			run(t, step[0], step[1:]...)
		}
		for _, name := range []string{"cut.tif", "full.jpg", "progressive.jpg", "card.webp", "jpeg.pdf", "tiff.pdf", "gs.pdf", "gs-jpeg.pdf"} {
			r := checktest.JudgeBy(t, in(name), rules.Order{}, checks.JPEGLoss)
			if got := verdicts(r, "jpeg-loss"); got != tt.want {
				t.Errorf("%s, %s: %s, want %s:\n%s", tt.name, name, got, tt.want, words(r))
			}
		}
	}
}

// What is sound stays silent.
func TestLossNearMisses(t *testing.T) {
	sound := decoded(t, typeCard())
	var good bytes.Buffer
	if err := jpeg.Encode(&good, sound, &jpeg.Options{Quality: 85}); err != nil {
		t.Fatal(err)
	}
	strict := rules.Order{Process: "offset-coated"}
	try(t, checks.JPEGLoss, []trial{
		{"never a JPEG", typeCard(), strict, "pass", "No damage by compression shows in the picture."},
		{"a JPEG of 85", good.Bytes(), strict, "pass", "quality about 85"},
		{"low quality where nothing shows", jpegAt(t, greyPicture(400, 240), 20), strict, "pass", "quality about 20"},
		{"no picture", card("0 0 0 1 k 0 0 270 162 re f").file(), strict, "pass", "No picture"},
		{"one bit", withPicture(at(200, 900, 900), pictureOf(200, 200, 1, 1, "/ImageMask true")), strict, "pass", "No picture"},
		{"a picture that cannot be read", withPicture(at(200, 300, 300), pictureOf(200, 200, 8, 1, greySpace+" /Filter /JPXDecode")), strict, "skip", "JPX"},
	})
}

func jpegAt(t *testing.T, img image.Image, quality int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: quality}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// A file that is shown turned (Exif 2.3, 4.6.4 A, Orientation 6) has its grid elsewhere,
// but its quality is its own.
func TestLossTurned(t *testing.T) {
	turned := segment(0xe1, "Exif\x00\x00II*\x00\x08\x00\x00\x00\x01\x00\x12\x01\x03\x00\x01\x00\x00\x00\x06\x00\x00\x00\x00\x00\x00\x00")
	at := func(quality int) []byte {
		b := jpegAt(t, decoded(t, typeCard()), quality)
		return append(append(bytes.Clone(b[:2]), turned...), b[2:]...)
	}
	try(t, checks.JPEGLoss, []trial{
		{"damaged", at(12), rules.Order{}, "fail", "it is saved as JPEG at about quality 12"},
		{"good", at(90), rules.Order{}, "pass", "quality about 90"},
	})
}

// Damage is blamed only where it can be seen: at 1200 ppi blocks are 0.17 mm.
func TestLossTooFine(t *testing.T) {
	small := decoded(t, typeCard(press.OnceJPEG(8))).(*image.Gray)
	at := func(ppi float64) []byte {
		w, h := 1125*72/ppi, 675*72/ppi
		return withPicture(fmt.Sprintf("q %f 0 0 %f 20 20 cm /X Do Q", w, h),
			stream("/Type /XObject /Subtype /Image /Width 1125 /Height 675 /BitsPerComponent 8 /ColorSpace /DeviceGray", string(small.Pix)))
	}
	try(t, checks.JPEGLoss, []trial{
		{"600 ppi", at(600), rules.Order{}, "fail", ""},
		{"1200 ppi", at(1200), rules.Order{}, "pass", ""},
	})
}

// The place that is told is where the type is.
func TestLossPlace(t *testing.T) {
	r := checktest.JudgeBy(t, kept(t, "card.png", typeCard(press.OnceJPEG(8))), rules.Order{}, checks.JPEGLoss)
	f := r.Findings[0]
	if f.Where == nil || f.Where.W > rules.MM(6) || math.Abs(f.Where.X.MM()) > 90 || *f.Measured.Value < 7 || *f.Wanted.Max != 7 && *f.Wanted.Max != 4 {
		t.Errorf("%+v", f)
	}
}
