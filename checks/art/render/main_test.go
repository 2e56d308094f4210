package render

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"os"
	"sync"
	"testing"
)

// shared is one engine for all tests but those of starting: its code is kept in
// the user's cache folder, so that only the first run ever compiles.
var shared = sync.OnceValue(func() *Engine { return Start(Options{}) })

// scratch is a folder for all tests.
var scratch string

func TestMain(m *testing.M) {
	os.Exit(func() int {
		dir, err := os.MkdirTemp("", "render")
		if err != nil {
			panic(err)
		}
		defer os.RemoveAll(dir)
		defer shared().Close()
		scratch = dir
		return m.Run()
	}())
}

// A sheet is a page for tests.
type sheet struct {
	media, crop      string // in PDF notation; crop may be empty
	rotate           int
	resources, extra string // entries of the page's resources, of the page
	content          string
}

// A card of the usual size with its bleed: 3.75 × 2.25 in.
var cardMedia = [4]float64{0, 0, 270, 162}

func card(content string) sheet { return sheet{media: "[0 0 270 162]", content: content} }

// pdf writes a file of the pages, with more entries for its catalogue, and with
// objects for the pages to refer to, numbered from 100 on.
func pdf(catalog string, objects []string, pages ...sheet) []byte {
	var b bytes.Buffer
	offsets := map[int]int{}
	object := func(n int, body string) {
		offsets[n] = b.Len()
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", n, body)
	}
	b.WriteString("%PDF-1.7\n")
	object(1, "<</Type/Catalog/Pages 2 0 R "+catalog+">>")
	kids := ""
	for i, p := range pages {
		n := 10 + 2*i
		kids += fmt.Sprintf("%d 0 R ", n)
		boxes := "/MediaBox" + p.media
		if p.crop != "" {
			boxes += "/CropBox" + p.crop
		}
		object(n, fmt.Sprintf("<</Type/Page/Parent 2 0 R%s/Rotate %d/Contents %d 0 R/Resources<<%s>>%s>>", boxes, p.rotate, n+1, p.resources, p.extra))
		object(n+1, fmt.Sprintf("<</Length %d>>stream\n%s\nendstream", len(p.content), p.content))
	}
	object(2, fmt.Sprintf("<</Type/Pages/Kids[%s]/Count %d>>", kids, len(pages)))
	for i, o := range objects {
		object(100+i, o)
	}
	start := b.Len()
	b.WriteString("xref\n0 1\n0000000000 65535 f \n")
	for n, at := range offsets {
		fmt.Fprintf(&b, "%d 1\n%010d 00000 n \n", n, at)
	}
	fmt.Fprintf(&b, "trailer<</Size %d/Root 1 0 R>>\nstartxref\n%d\n%%%%EOF\n", 100+len(objects), start)
	return b.Bytes()
}

// open opens a file in the shared engine until the end of the test.
func open(t testing.TB, file []byte) *Doc {
	t.Helper()
	d, err := shared().Open(t.Context(), file)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(d.Close)
	return d
}

// renderOne renders page 1.
func renderOne(t testing.TB, file []byte, v View) *image.NRGBA {
	t.Helper()
	d, err := shared().Open(t.Context(), file)
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	img, err := d.Render(t.Context(), 1, v)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// whole is the view of a MediaBox, at px pixels a unit.
func whole(media [4]float64, px float64) View {
	w, h := media[2]-media[0], media[3]-media[1]
	return View{Media: media, W: w, H: h, PxW: int(w * px), PxH: int(h * px)}
}

// sameEverywhere fails unless each pixel of r is c.
func sameEverywhere(t testing.TB, img *image.NRGBA, r image.Rectangle, c color.NRGBA) {
	t.Helper()
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			if got := img.NRGBAAt(x, y); got != c {
				t.Fatalf("pixel %d,%d is %v, not %v", x, y, got, c)
			}
		}
	}
}

var (
	nothing = color.NRGBA{}
	white   = color.NRGBA{255, 255, 255, 255}
	red     = color.NRGBA{255, 0, 0, 255}
	green   = color.NRGBA{0, 255, 0, 255}
	blue    = color.NRGBA{0, 0, 255, 255}
)
