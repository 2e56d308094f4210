package plates

import (
	"bytes"
	"fmt"
	"image"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"golang.org/x/image/tiff"

	"stoneproof/checks/art/pdf"
	"stoneproof/checks/art/render"
	"stoneproof/checks/checktest/outside"
)

// shared is one engine for all tests.
var shared = sync.OnceValue(func() *render.Engine { return render.Start(render.Options{}) })

func TestMain(m *testing.M) {
	code := m.Run()
	shared().Close()
	os.Exit(code)
}

// writer makes small PDFs: objects in order, a classic table.
type writer struct{ objects []string }

func (w *writer) add(body string) string {
	w.objects = append(w.objects, body)
	return fmt.Sprintf("%d 0 R", len(w.objects))
}

func (w *writer) stream(dict, data string) string {
	return w.add(fmt.Sprintf("<< %s /Length %d >>\nstream\n%s\nendstream", dict, len(data), data))
}

// document closes the file with one page.
func (w *writer) document(page, catalog string) []byte {
	n := len(w.objects)
	w.add(fmt.Sprintf("<< /Type /Page /Parent %d 0 R %s >>", n+2, page))
	w.add(fmt.Sprintf("<< /Type /Pages /Count 1 /Kids [%d 0 R] >>", n+1))
	w.add(fmt.Sprintf("<< /Type /Catalog /Pages %d 0 R %s >>", n+2, catalog))
	var b bytes.Buffer
	b.WriteString("%PDF-1.7\n%\xe2\xe3\xcf\xd3\n")
	var at []int
	for i, o := range w.objects {
		at = append(at, b.Len())
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", i+1, o)
	}
	start := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(at)+1)
	for _, a := range at {
		fmt.Fprintf(&b, "%010d 00000 n \n", a)
	}
	fmt.Fprintf(&b, "trailer\n<< /Size %d /Root %d 0 R >>\nstartxref\n%d\n%%%%EOF\n", len(at)+1, n+3, start)
	return b.Bytes()
}

// A card is a page to be built: 3.75 × 2.25 in.
type card struct {
	resources, content string
	page, catalog      string // further entries
	media              string // "" for a card's
}

func (w *writer) card(c card) []byte {
	content := w.stream("", c.content)
	if c.media == "" {
		c.media = "[0 0 270 162]"
	}
	return w.document("/MediaBox "+c.media+" /Resources << "+c.resources+" >> /Contents "+content+" "+c.page, c.catalog)
}

func openDoc(t testing.TB, b []byte) *pdf.Document {
	t.Helper()
	doc, err := pdf.Open(b, pdf.DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

func separate(t testing.TB, b []byte) *Job {
	t.Helper()
	job, err := Separate(openDoc(t, b), 1, Options{Limits: DefaultLimits()})
	if err != nil {
		t.Fatal(err)
	}
	return job
}

// cardPixels is a card at 300 pixels an inch.
var cardWindow = Window{W: 270, H: 162, PxW: 1125, PxH: 675}

func (j *Job) draw(t testing.TB, w Window) *Plates {
	t.Helper()
	p, err := j.Render(t.Context(), shared(), w)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// plate gives the ink of a plate, by its name as Ghostscript has it.
func (p *Plates) plate(name string) []byte {
	for i, n := range p.Names {
		if n == name || strings.EqualFold(n, name) && i < 4 {
			return p.Ink[i]
		}
	}
	return nil
}

// ghostscript separates a page with its tiffsep device, drawn at four times the
// size and averaged down.
func ghostscript(t testing.TB, file []byte, dpi int, args ...string) map[string]*image.Gray {
	t.Helper()
	gs := outside.Tool(t, "gs")
	dir := t.TempDir()
	in := filepath.Join(dir, "in.pdf")
	if err := os.WriteFile(in, file, 0o600); err != nil {
		t.Fatal(err)
	}
	args = append([]string{"-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-sDEVICE=tiffsep", "-dFirstPage=1", "-dLastPage=1",
		fmt.Sprintf("-r%d", 4*dpi), "-dDownScaleFactor=4", "-sOutputFile=" + filepath.Join(dir, "out.tif")}, append(args, in)...)
	cmd := exec.Command(gs, args...)
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("gs: %v\n%s", err, out)
	}
	plates := map[string]*image.Gray{}
	files, err := filepath.Glob(filepath.Join(dir, "out*(*).tif"))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		_, name, _ := strings.Cut(filepath.Base(f), "(")
		plates[strings.TrimSuffix(name, ").tif")] = readGray(t, f)
	}
	return plates
}

// readGray gives ink, 255 for full.
func readGray(t testing.TB, path string) *image.Gray {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	m, err := tiff.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	g, ok := m.(*image.Gray)
	if !ok {
		t.Fatalf("%s is a %T", path, m)
	}
	for i, v := range g.Pix {
		g.Pix[i] = 255 - v
	}
	return g
}
