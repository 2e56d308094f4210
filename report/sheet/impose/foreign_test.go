package impose_test

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"stoneproof/checks/art/pdf"
	"stoneproof/checks/art/pdf/write"
	"stoneproof/checks/checktest/press"
	"stoneproof/report/sheet/impose"
	"stoneproof/rules"
)

// Files that other programs wrote keep their look, fonts and all; so does one that
// is encrypted without a password.
func TestForeignFilesLookTheSame(t *testing.T) {
	locked := filepath.Join(t.TempDir(), "locked.pdf")
	run(t, "qpdf", "--encrypt", "", "owner", "256", "--", "../../../testdata/foreign/scrivener.pdf", locked)
	p := plan(t, ask())
	for _, path := range []string{"../../../testdata/foreign/herbalist.pdf", "../../../testdata/foreign/kitemaker.pdf", "../../../testdata/foreign/scrivener.pdf", locked} {
		b, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		a := opened(t, filepath.Base(path), b)
		made := save(t, drawn(t, p, design(a, 1)).PDF)
		run(t, "qpdf", "--check", made)
		side := a.Sides[0]
		x, y := px(t, side.Room.Left-rules.Inches(.125)), px(t, side.Room.Top-rules.Inches(.125))
		if off := differ(window(t, made, 150, 300), window(t, a.Path, x, y), 0, 0); off > mostOff {
			t.Errorf("%s: %d pixels differ", path, off)
		}
		before, after := fonts(t, a.Path), fonts(t, made)
		if !slices.Equal(before, after) {
			t.Errorf("%s: fonts were %v, are %v", path, before, after)
		}
	}
}

// window draws a card and its bleed alone, from a place of the page on. The renderer
// puts letters on whole rows of pixels, counted from there.
func window(t *testing.T, file string, x, y int) *image.RGBA {
	t.Helper()
	out := filepath.Join(t.TempDir(), "out")
	run(t, "pdftoppm", "-r", "300", "-png", "-singlefile", "-x", fmt.Sprint(x), "-y", fmt.Sprint(y), "-W", "1125", "-H", "675", file, out)
	return readPNG(t, out+".png")
}

// fonts lists the fonts that a PDF uses, and whether they are embedded.
func fonts(t *testing.T, path string) []string {
	t.Helper()
	var list []string
	for line := range strings.Lines(string(run(t, "pdffonts", path))) {
		if f := strings.Fields(line); len(f) > 5 && !strings.HasPrefix(line, "-") && f[0] != "name" {
			list = append(list, f[0]+" "+f[len(f)-5])
		}
	}
	slices.Sort(list)
	return list
}

// layered is a card with a layer that is off and a note that prints, each a square.
func layered(name string) []byte {
	f := write.NewFile(1 << 20)
	on, off := f.Add("<</Type/OCG/Name(shown "+name+")>>"), f.Add("<</Type/OCG/Name(hidden "+name+")>>")
	note := f.Stream("/Type/XObject/Subtype/Form/BBox[0 0 10 10]", []byte("1 0 0 rg 0 0 10 10 re f"))
	annotation := f.Add("<</Type/Annot/Subtype/Stamp/F 4/Rect[100 100 120 120]/AP<</N " + note + ">>>>")
	root, tree := f.Reserve(), f.Reserve()
	kid := f.Add(fmt.Sprintf("<</Type/Page/Parent %s/Resources<</Properties<</A %s/B %s>>>>/Annots[%s]/TrimBox[9 9 261 153]/Contents %s>>",
		write.Reference(tree), on, off, annotation, f.Deflated("",
			[]byte("/OC /A BDC 0 0 1 rg 40 40 20 20 re f EMC /OC /B BDC 0 1 0 rg 70 40 20 20 re f EMC"))))
	f.Set(tree, "<</Type/Pages/Count 1/MediaBox[0 0 270 162]/Kids["+kid+"]>>")
	f.Set(root, fmt.Sprintf("<</Type/Catalog/Pages %s/OCProperties<</OCGs[%s %s]/D<</OFF[%[3]s]>>>>>>", write.Reference(tree), on, off))
	return f.Bytes("/Root " + write.Reference(root))
}

// Layers keep their states, of one file or of several, and notes that print are placed.
func TestLayersAndNotes(t *testing.T) {
	a, b := opened(t, "a.pdf", layered("a")), opened(t, "b.pdf", layered("b"))
	p := plan(t, ask())
	for _, designs := range [][]impose.Design{{design(a, 2)}, {design(a, 1), design(b, 1)}} {
		made := drawn(t, p, designs...).PDF
		doc, err := pdf.Open(made, pdf.DefaultLimits())
		if err != nil {
			t.Fatal(err)
		}
		if len(doc.Layers) != 2*len(designs) {
			t.Fatalf("%d layers came of %d files", len(doc.Layers), len(designs))
		}
		for _, l := range doc.Layers {
			if l.On == strings.HasPrefix(l.Name, "hidden") {
				t.Errorf("layer %q is on: %v", l.Name, l.On)
			}
		}
		file := save(t, made)
		for i, c := range p.Front[:2] {
			m := window(t, file, px(t, c.Painted().X), px(t, c.Painted().Y))
			at := func(x, y float64) color.RGBA { // of the card's own points
				return m.RGBAAt(int(x/72*300), int((162-y)/72*300))
			}
			if got := [3]color.RGBA{at(50, 50), at(80, 50), at(110, 110)}; got != [3]color.RGBA{{0, 0, 255, 255}, {255, 255, 255, 255}, {255, 0, 0, 255}} {
				t.Errorf("card %d of %d files: shown, hidden and note are %v", i+1, len(designs), got)
			}
		}
	}
}

// quarters is a picture of the card whose corners are red, green, blue and white, as
// stored.
func quarters(w, h int) *image.NRGBA {
	m := image.NewNRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			c := []color.NRGBA{{255, 0, 0, 255}, {0, 255, 0, 255}, {0, 0, 255, 255}, {255, 255, 255, 255}}[2*(2*y/h)+2*x/w]
			m.Set(x, y, c)
		}
	}
	return m
}

// exif puts an orientation before a JPEG's tables (Exif 2.3, 4.5: a TIFF header, one
// directory with tag 274).
func exif(b []byte, orientation uint16) []byte {
	tiff := []byte("MM\x00*\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01")
	tiff = append(binary.BigEndian.AppendUint16(tiff, orientation), 0, 0, 0, 0, 0, 0)
	body := append([]byte("Exif\x00\x00"), tiff...)
	head := append([]byte{0xff, 0xd8, 0xff, 0xe1}, byte((len(body)+2)>>8), byte(len(body)+2))
	return slices.Concat(head, body, b[2:])
}

// A photograph that its Exif tag turns lies on the sheet as it is seen.
func TestTurnedJPEGs(t *testing.T) {
	p := plan(t, ask())
	for orientation := uint16(1); orientation <= 8; orientation++ {
		if testing.Short() && orientation != 6 {
			continue
		}
		w, h := 1125, 675
		if orientation > 4 {
			w, h = h, w
		}
		var b bytes.Buffer
		if err := jpeg.Encode(&b, quarters(w, h), nil); err != nil {
			t.Fatal(err)
		}
		a := opened(t, "turned.jpg", exif(b.Bytes(), orientation))
		px, err := a.Sides[0].Pixels()
		if err != nil {
			t.Fatal(err)
		}
		card := window(t, save(t, drawn(t, p, design(a, 1)).PDF), 150, 300)
		for _, at := range [][2]int{{200, 100}, {900, 100}, {200, 500}, {900, 500}} {
			i := 4 * (at[1]*px.Width + at[0])
			got := card.RGBAAt(at[0], at[1])
			for c, v := range [3]byte{got.R, got.G, got.B} {
				if apart(v, px.Pix[i+c]) > 3 {
					t.Errorf("orientation %d, at %v: %v on the sheet, %v as seen", orientation, at, got, px.Pix[i:i+3])
				}
			}
		}
	}
}

// What is see-through in a picture shows the paper.
func TestClearPixels(t *testing.T) {
	m := quarters(1125, 675)
	for i := 3; i < len(m.Pix)/2; i += 4 {
		m.Pix[i] = 0
	}
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	p := plan(t, ask())
	got := window(t, save(t, drawn(t, p, design(opened(t, "clear.png", b.Bytes()), 1)).PDF), 150, 300)
	if top, low := got.RGBAAt(200, 100), got.RGBAAt(200, 500); top != (color.RGBA{255, 255, 255, 255}) || low != (color.RGBA{0, 0, 255, 255}) {
		t.Errorf("clear is %v, blue is %v", top, low)
	}
}

// Butted cards must meet in one flat colour.
func TestButtable(t *testing.T) {
	flat := func(v byte, speck bool) impose.Design {
		m := image.NewGray(image.Rect(0, 0, 1125, 675))
		for i := range m.Pix {
			m.Pix[i] = v
		}
		if speck {
			m.Pix[40*1125+500] = v / 2 // 2.5 pixels, a fifth of a millimetre, inside the upper trim
		}
		var b bytes.Buffer
		if err := png.Encode(&b, m); err != nil {
			t.Fatal(err)
		}
		return design(opened(t, fmt.Sprintf("%d.png", v), b.Bytes()), 1)
	}
	if err := impose.Buttable(t.Context(), []impose.Design{flat(200, false), flat(200, false)}); err != nil {
		t.Error(err)
	}
	if err := impose.Buttable(t.Context(), []impose.Design{flat(200, true)}); err == nil || !strings.Contains(err.Error(), "top edge") {
		t.Errorf("a speck on the upper edge: %v", err)
	}
	if err := impose.Buttable(t.Context(), []impose.Design{flat(200, false), flat(150, false)}); err == nil || !strings.Contains(err.Error(), "another colour") {
		t.Errorf("two greys: %v", err)
	}
}

// A design that lies the other way is turned by a quarter, and its back so that it
// stands upright.
func TestDesignsOfBothWays(t *testing.T) {
	wide := opened(t, "wide.pdf", press.Card{Maker: "potter", Style: press.TwoSided, Size: "us-business"}.PDF())
	tall := opened(t, "tall.pdf", press.Card{Maker: "joiner", Style: press.Portrait, Size: "us-business"}.PDF())
	p := plan(t, ask())
	made := drawn(t, p, design(wide, 1), design(tall, 1))
	turned := filepath.Join(t.TempDir(), "turned.pdf")
	run(t, "qpdf", tall.Path, "--rotate=+90", turned)
	c := p.Front[1].Painted()
	if off := differ(window(t, save(t, made.PDF), px(t, c.X), px(t, c.Y)), window(t, turned, 0, 0), 0, 0); off > mostOff {
		t.Errorf("%d pixels differ", off)
	}
}
