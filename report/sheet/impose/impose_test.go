package impose_test

import (
	"bytes"
	"fmt"
	"image"
	"image/draw"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"stoneproof/checks/art"
	"stoneproof/checks/checktest/outside"
	"stoneproof/checks/checktest/press"
	"stoneproof/report/sheet"
	"stoneproof/report/sheet/impose"
	"stoneproof/rules"
)

// ask is a sheet whose cells begin on whole pixels at 300 per inch, bleed and all: on
// Letter with gaps of two bleeds, at x 0.5 and 4.25 in, y 1, 3.25, 5.5 and 7.75 in.
func ask() sheet.Ask {
	return sheet.Ask{
		Sheet: rules.Size{W: rules.Inches(8.5), H: rules.Inches(11)}, Margin: sheet.PrinterMargin, Turn: sheet.LongEdge,
		Trim: rules.Size{W: rules.Inches(3.5), H: rules.Inches(2)}, Bleed: rules.Inches(.125), Safe: rules.Inches(.125),
		Gap: sheet.Gap{Kind: sheet.FixedGap, Wide: rules.Inches(.25)}, Unit: rules.UnitIn,
	}
}

func plan(t testing.TB, a sheet.Ask) sheet.Plan {
	t.Helper()
	p, err := sheet.Lay(a)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// opened writes art to a file, opens it and places it.
func opened(t testing.TB, name string, b []byte) *art.Art {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, b, 0o600); err != nil {
		t.Fatal(err)
	}
	a, err := art.Opener{Ceilings: art.DefaultCeilings()}.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	ticket, err := rules.Order{}.Ticket()
	if err != nil {
		t.Fatal(err)
	}
	a.Place(ticket)
	return a
}

func design(a *art.Art, count int) impose.Design {
	d := impose.Design{Name: filepath.Base(a.Path), Front: a.Sides[0], Count: count}
	if len(a.Sides) > 1 {
		d.Back = a.Sides[1]
	}
	return d
}

func drawn(t testing.TB, p sheet.Plan, designs ...impose.Design) impose.Made {
	t.Helper()
	made, err := impose.Sheet{
		Plan: p, Designs: designs, Slug: "a test", Program: "stoneproof",
		Made: time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC),
	}.Draw()
	if err != nil {
		t.Fatal(err)
	}
	return made
}

// run runs an independent program.
func run(t testing.TB, name string, args ...string) []byte {
	t.Helper()
	out, err := exec.Command(outside.Tool(t, name), args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s %s: %v\n%s", name, strings.Join(args, " "), err, out)
	}
	return out
}

// renderer draws a page of a PDF at 300 pixels per inch.
type renderer struct {
	name string
	draw func(t *testing.T, file string, page int) *image.RGBA
}

// renderers are two that share no code. Both draw the MediaBox.
func renderers() []renderer {
	return []renderer{
		{"pdftoppm", func(t *testing.T, file string, page int) *image.RGBA {
			out := filepath.Join(t.TempDir(), "out")
			n := strconv.Itoa(page)
			run(t, "pdftoppm", "-r", "300", "-png", "-singlefile", "-f", n, "-l", n, file, out)
			return readPNG(t, out+".png")
		}},
		{"gs", func(t *testing.T, file string, page int) *image.RGBA {
			out := filepath.Join(t.TempDir(), "out.png")
			n := strconv.Itoa(page)
			run(t, "gs", "-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-sDEVICE=png16m", "-r300", "-dTextAlphaBits=4", "-dGraphicsAlphaBits=4",
				"-dFirstPage="+n, "-dLastPage="+n, "-sOutputFile="+out, file)
			return readPNG(t, out)
		}},
	}
}

func readPNG(t testing.TB, path string) *image.RGBA {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return decoded(t, b)
}

func decoded(t testing.TB, b []byte) *image.RGBA {
	t.Helper()
	m, err := png.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	out := image.NewRGBA(m.Bounds())
	draw.Draw(out, out.Rect, m, m.Bounds().Min, draw.Src)
	return out
}

func save(t testing.TB, b []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "sheet.pdf")
	if err := os.WriteFile(path, b, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// px is a length in pixels, which must be whole.
func px(t *testing.T, l rules.Length) int {
	v := l.Pixels(300)
	n := int(v + .5)
	if d := v - float64(n); d > 1e-3 || d < -1e-3 {
		t.Fatalf("%s is %g pixels: the test wants whole ones", l, v)
	}
	return n
}

// differ counts, of a cell of the sheet, the pixels that are more than one level off
// the card drawn by itself.
func differ(sheet, card *image.RGBA, x0, y0 int) (off int) {
	for y := range card.Rect.Dy() {
		a, b := sheet.Pix[sheet.PixOffset(x0, y0+y):], card.Pix[card.PixOffset(0, y):]
		for x := 0; x < 4*card.Rect.Dx(); x += 4 {
			if apart(a[x], b[x]) > 1 || apart(a[x+1], b[x+1]) > 1 || apart(a[x+2], b[x+2]) > 1 {
				off++
			}
		}
	}
	return off
}

func apart(a, b byte) int { return max(int(a)-int(b), int(b)-int(a)) }

// How many pixels of a card may be off. Renderers round places in single precision,
// and a curve that runs through the middle of a pixel falls to one side or the other:
// one in fifty thousand. Where the reference was written with other numbers, or its
// pictures are sampled from the other end, one in four hundred; a card shifted by a
// fiftieth of a millimetre has more.
const (
	mostOff      = 15
	mostOffOther = 2000
)

// lies fails where a cell does not look as the reference does.
func lies(t *testing.T, what string, whole, card *image.RGBA, c sheet.Cell, most int) {
	t.Helper()
	b := c.Painted()
	if card.Bounds().Dx() != px(t, b.W) || card.Bounds().Dy() != px(t, b.H) {
		t.Fatalf("%s: the card by itself is %v", what, card.Bounds())
	}
	if off := differ(whole, card, px(t, b.X), px(t, b.Y)); off > most {
		t.Errorf("%s: %d pixels differ", what, off)
	}
}

// Each cell looks as the card does by itself: in two renderers, at 300 pixels per
// inch, to one level, across the card and its bleed. Backs that stand on their heads
// are compared with the card turned by another program.
func TestCellsLookLikeTheCard(t *testing.T) {
	a := opened(t, "potter.pdf", press.Card{Maker: "potter", Style: press.TwoSided, Size: "us-business"}.PDF())
	turned := filepath.Join(t.TempDir(), "turned.pdf")
	run(t, "qpdf", a.Path, "--rotate=+180", turned)
	for _, turn := range []sheet.Turn{sheet.LongEdge, sheet.ShortEdge} {
		if turn == sheet.ShortEdge && testing.Short() {
			continue
		}
		want := ask()
		want.Turn = turn
		p := plan(t, want)
		made := save(t, drawn(t, p, design(a, p.Count())).PDF)
		all := renderers()
		if testing.Short() {
			all = all[:1]
		}
		for _, r := range all {
			for page, cells := range [][]sheet.Cell{p.Front, p.Back} {
				reference := map[int]string{0: a.Path, 180: turned}[cells[0].Turn]
				whole, card := r.draw(t, made, page+1), r.draw(t, reference, page+1)
				most := mostOff
				if cells[0].Turn != 0 {
					most = mostOffOther
				}
				for i, c := range cells {
					lies(t, fmt.Sprintf("%s, %s edge, page %d, card %d", r.name, turn, page+1, i+1), whole, card, c, most)
				}
			}
		}
	}
}

// Pages of other making: turned by Rotate, in another unit, with the origin elsewhere,
// with marks of their own outside the bleed, no TrimBox, and with all objects packed
// into object streams.
func TestOddPagesLookTheSame(t *testing.T) {
	card := press.Card{Maker: "bicycle-mender", Style: press.Patterned, Size: "us-business"}
	plain := opened(t, "plain.pdf", card.PDF())
	p := plan(t, ask())
	reference := window(t, plain.Path, 0, 0)
	look := func(p sheet.Plan, a *art.Art) int {
		return differ(window(t, save(t, drawn(t, p, design(a, 1)).PDF), 150, 300), reference, 0, 0)
	}
	shifted := p
	shifted.Front = []sheet.Cell{p.Front[0]}
	shifted.Front[0].Trim.X += rules.MM(.02)
	if off := look(shifted, plain); off <= mostOffOther {
		t.Errorf("a card shifted by 0.02 mm differs in %d pixels: this test would not see it", off)
	}
	for name, odd := range map[string]press.Option{
		"rotated 90":  press.Rotated(90),
		"rotated 180": press.Rotated(180),
		"rotated 270": press.Rotated(270),
		"user unit":   press.UserUnit(2),
		"origin":      press.Origin(-100, 333),
		"slug":        press.Slug(8),
		"no trim box": press.NoBox("TrimBox"),
	} {
		if testing.Short() && name != "rotated 90" && name != "user unit" {
			continue
		}
		b := card.PDF(odd)
		a := opened(t, name+".pdf", b)
		packed := filepath.Join(t.TempDir(), "packed.pdf")
		run(t, "qpdf", a.Path, "--object-streams=generate", packed)
		b, err := os.ReadFile(packed)
		if err != nil {
			t.Fatal(err)
		}
		if off := look(p, opened(t, "packed.pdf", b)); off > mostOffOther {
			t.Errorf("%s: %d pixels differ", name, off)
		}
	}
}

// The sheet's own boxes are the sheet, and art outside its bleed is cut off.
func TestBoxes(t *testing.T) {
	a := opened(t, "potter.pdf", press.Card{Maker: "potter", Style: press.TwoSided, Size: "us-business"}.PDF(press.Slug(8)))
	p := plan(t, ask())
	made := save(t, drawn(t, p, design(a, p.Count())).PDF)
	out := string(run(t, "pdfinfo", "-box", made))
	for _, want := range []string{"Pages:           2", "Page size:       612 x 792 pts (letter)",
		"MediaBox:            0.00     0.00   612.00   792.00", "TrimBox:             0.00     0.00   612.00   792.00"} {
		if !strings.Contains(out, want) {
			t.Errorf("pdfinfo does not say %q:\n%s", want, out)
		}
	}
	run(t, "qpdf", "--check", made)
}

// A JPEG's bytes come out of the sheet as they went in.
func TestJPEGIsUntouched(t *testing.T) {
	for _, c := range []struct {
		name string
		b    []byte
	}{
		{"rgb", press.Card{Maker: "baker", Style: press.Photographic, Size: "us-business"}.JPEG(300, press.In(press.RGB))},
		{"cmyk", press.Card{Maker: "ferryman", Style: press.Gradient, Size: "us-business"}.JPEG(300, press.In(press.CMYK))},
	} {
		a := opened(t, c.name+".jpg", c.b)
		p := plan(t, ask())
		made := save(t, drawn(t, p, design(a, p.Count())).PDF)
		out := filepath.Join(t.TempDir(), "image")
		run(t, "pdfimages", "-all", made, out)
		got, err := os.ReadFile(out + "-000.jpg")
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got, c.b) {
			t.Errorf("%s: %d bytes went in, %d other ones came out", c.name, len(c.b), len(got))
		}
	}
}

// A PNG's pixels come out of the sheet as they went in, and its profile too.
func TestPNGLosesNothing(t *testing.T) {
	b := press.Card{Maker: "joiner", Style: press.Framed, Size: "us-business"}.PNG(300, press.In(press.RGB))
	a := opened(t, "joiner.png", b)
	p := plan(t, ask())
	made := save(t, drawn(t, p, design(a, p.Count())).PDF)
	out := filepath.Join(t.TempDir(), "image")
	run(t, "pdfimages", "-png", made, out)
	want, got := decoded(t, b), readPNG(t, out+"-000.png")
	if got.Rect != want.Rect || !bytes.Equal(got.Pix, want.Pix) {
		t.Errorf("%v went in, %v came out, or other pixels", want.Rect, got.Rect)
	}
	if list := string(run(t, "pdfimages", "-list", made)); !strings.Contains(list, " icc ") {
		t.Errorf("the profile is lost:\n%s", list)
	}
}
