package checks_test

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stoneproof/checks"
	"stoneproof/checks/art/icc/press"
	"stoneproof/checks/checktest"
	"stoneproof/rules"
)

// see judges and sees a file by every check.
func see(t testing.TB, file []byte, order rules.Order) (rules.FileReport, []rules.Picture) {
	t.Helper()
	return checktest.NewJudge(t, order, checks.All()...).SeeFile(context.Background(), kept(t, "card"+ending(file), file))
}

// Seeing a file changes nothing of its judgement, and each side of it is shown: the
// card, its pixels square, and no more than what prints.
func TestSeeShippedArt(t *testing.T) {
	if testing.Short() {
		t.Skip("judges files twice")
	}
	for _, dir := range []string{"sizes", "broken/side-count", "broken/trim-size", "broken/bleed-extent"} {
		for _, c := range checktest.ReadCases(t, filepath.Join("../testdata", dir)) {
			judge, path := checktest.NewJudge(t, c.Order, checks.All()...), filepath.Join("../testdata", dir, c.File)
			want := judge.File(context.Background(), path)
			got, pictures := judge.SeeFile(context.Background(), path)
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("%s is judged otherwise when seen (-not seen +seen):\n%s", path, diff)
			}
			if len(pictures) != len(got.Sides) {
				t.Fatalf("%s: %d sides, %d pictures", path, len(got.Sides), len(pictures))
			}
			for i, p := range pictures {
				checkPicture(t, path, p, got.Sides[i], judge.Ticket.Bleed)
			}
		}
	}
}

func checkPicture(t *testing.T, path string, p rules.Picture, side rules.SideFacts, bleed rules.Length) {
	t.Helper()
	if p.Image == nil || p.Side != side.Number {
		t.Errorf("%s: side %d has no picture: %s", path, side.Number, p.Why)
		return
	}
	size := p.Image.Bounds().Size()
	x, y := float64(p.Box.W)/float64(size.X), float64(p.Box.H)/float64(size.Y)
	if math.Abs(x/y-1) > 1.5/float64(min(size.X, size.Y)) {
		t.Errorf("%s: a pixel of side %d is %.2f × %.2f µm", path, side.Number, x, y)
	}
	trim := rules.Box{W: side.Trim.W, H: side.Trim.H}
	if trim.Empty() {
		return
	}
	slack := rules.Length(math.Ceil(max(x, y)))
	if !trim.Within(p.Box.Inset(-slack)) || !p.Box.Within(trim.Inset(-bleed-slack)) {
		t.Errorf("%s: side %d, trim %v, is shown in %v", path, side.Number, trim, p.Box)
	}
}

func TestSeenColours(t *testing.T) {
	inks := [][4]byte{{255, 0, 0, 0}, {0, 0, 0, 255}, {0, 255, 255, 0}, {102, 51, 0, 102}}
	for _, cmyk := range inks {
		var seen [3]byte
		press.Screen(seen[:], cmyk[:])
		content := strings.NewReplacer("C", frac(cmyk[0]), "M", frac(cmyk[1]), "Y", frac(cmyk[2]), "K", frac(cmyk[3])).Replace("C M Y K k 0 0 270 162 re f")
		_, pictures := see(t, card(content).file(), rules.Order{})
		wantPixel(t, content, pictures[0].Image, seen, 3)
	}
	// Light is shown as it is; what is clear is paper.
	_, pictures := see(t, card("0 0.4 1 rg 0 0 270 162 re f").file(), rules.Order{})
	wantPixel(t, "light", pictures[0].Image, [3]byte{0, 102, 255}, 1)
	_, pictures = see(t, card("").file(), rules.Order{})
	wantPixel(t, "bare paper", pictures[0].Image, [3]byte{255, 255, 255}, 0)
}

func frac(v byte) string {
	return rules.Length(math.Round(float64(v) / 255 * 1000)).Number(rules.UnitMM)
}

func wantPixel(t *testing.T, name string, img image.Image, want [3]byte, off int) {
	t.Helper()
	if img == nil {
		t.Errorf("%s: no picture", name)
		return
	}
	middle := img.Bounds().Max.Div(2)
	got := color.RGBAModel.Convert(img.At(middle.X, middle.Y)).(color.RGBA)
	for k, v := range []byte{got.R, got.G, got.B} {
		if d := int(v) - int(want[k]); d > off || -d > off {
			t.Errorf("%s: looks like %v, want %v", name, got, want)
			return
		}
	}
}

// A spot colour looks as the file shows it: all of it, half of it, and on another ink.
func TestSeenSpots(t *testing.T) {
	tint := "/FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0 0.2 0.8 0.2] /N 1"
	space := "/ColorSpace << /G [/Separation /Gold /DeviceCMYK << " + tint + " >>] >>"
	var gold, cyan [3]byte
	press.Screen(gold[:], []byte{0, 51, 204, 51})
	press.Screen(cyan[:], []byte{255, 0, 0, 0})
	half, both := gold, gold
	for k := range gold {
		half[k] = 255 - (255-gold[k])/2
		both[k] = byte(int(gold[k]) * int(cyan[k]) / 255)
	}
	for content, want := range map[string][3]byte{
		"/G cs 1 scn 0 0 270 162 re f":                                   gold,
		"/G cs 0.5 scn 0 0 270 162 re f":                                 half,
		"1 0 0 0 k 0 0 270 162 re f /GS gs /G cs 1 scn 0 0 270 162 re f": both,
	} {
		_, pictures := see(t, card(content).with(space+" /ExtGState << /GS << /OP true /op true >> >>").file(), rules.Order{})
		wantPixel(t, content, pictures[0].Image, want, 3)
	}
	odd := "/ColorSpace << /G [/Separation /Gold /DeviceCMYK /Nothing] >>"
	_, pictures := see(t, card("/G cs 1 scn 0 0 270 162 re f").with(odd).file(), rules.Order{})
	if pictures[0].Image == nil || far(pictures[0].Image.At(500, 300), color.White) < 60 {
		t.Error("a spot colour that the file cannot show is not seen")
	}
}

// A picture in ink looks as a page in the same ink does.
func TestPictureLooksAsPage(t *testing.T) {
	_, page := see(t, plainCard().PDF(), rules.Order{})
	_, picture := see(t, plainCard().TIFF(300), rules.Order{})
	for _, at := range []image.Point{{20, 20}, {60, 200}, {700, 30}} {
		a, b := at, at
		if got, want := picture[0].Image.At(a.X, a.Y), page[0].Image.At(b.X, b.Y); far(got, want) > 4 {
			t.Errorf("at %v a TIFF looks like %v, a PDF like %v", at, got, want)
		}
	}
}

func far(a, b color.Color) float64 {
	p, q := color.RGBAModel.Convert(a).(color.RGBA), color.RGBAModel.Convert(b).(color.RGBA)
	d := func(x, y uint8) float64 { return math.Abs(float64(x) - float64(y)) }
	return max(d(p.R, q.R), d(p.G, q.G), d(p.B, q.B))
}

// What the plates of a page would lose is shown all the same: here a picture whose
// coding has no plates.
func TestSeenWhole(t *testing.T) {
	picture := pictureOf(8, 8, 8, 4, "/ColorSpace /DeviceCMYK /Filter /NoSuchDecode")
	_, pictures := see(t, card("1 0 0 0 k 0 0 270 162 re f q 50 0 0 50 100 50 cm /P Do Q", picture).with("/XObject << /P 5 0 R >>").file(), rules.Order{})
	if pictures[0].Image == nil {
		t.Fatal(pictures[0].Why)
	}
}

func TestSeenCeilings(t *testing.T) {
	file := kept(t, "card.pdf", sheet{page: usCard, content: "0 g 20 20 30 30 re f", pages: 3}.file())
	judge := checktest.NewJudge(t, rules.Order{}, checks.All()...)
	judge.Ceilings.Pictures, judge.Ceilings.PicturesPixels = 2, 20000
	_, pictures := judge.SeeFile(context.Background(), file)
	if len(pictures) != 3 || pictures[2].Image != nil || !strings.Contains(pictures[2].Why, "first 2 sides") {
		t.Fatalf("three sides give %v", pictures)
	}
	for _, p := range pictures[:2] {
		if size := p.Image.Bounds().Size(); size.X*size.Y > 10000 || size.X*size.Y < 9000 {
			t.Errorf("side %d has %v pixels", p.Side, size)
		}
	}
	judge.Ceilings.Deadline = 0
	if r, pictures := judge.SeeFile(context.Background(), file); len(pictures) != 0 || r.Verdict != rules.Fail {
		t.Errorf("a file that is late gives %v, %v", r, pictures)
	}
}

// A side that cannot be drawn has a picture that says so.
func TestUndrawableSide(t *testing.T) {
	judge := checktest.NewJudge(t, rules.Order{}, checks.All()...)
	judge.Renderer = nil
	_, pictures := judge.SeeFile(context.Background(), kept(t, "card.pdf", card("0 g 20 20 30 30 re f").file()))
	if len(pictures) != 1 || pictures[0].Image != nil || !strings.Contains(pictures[0].Why, "no renderer") {
		t.Errorf("without a renderer: %v", pictures)
	}
	cut := plainCard().JPEG(300)
	_, pictures = see(t, cut[:bytes.LastIndexByte(cut, 0xff)/3], rules.Order{})
	for _, p := range pictures {
		if p.Image == nil && p.Why == "" {
			t.Error("a picture cut short is neither shown nor told of")
		}
	}
}
