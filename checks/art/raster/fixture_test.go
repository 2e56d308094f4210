package raster

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stoneproof/checks/checktest/outside"
)

// run runs an independent program in a folder and returns what it prints.
func run(t testing.TB, dir, name string, args ...string) []byte {
	t.Helper()
	cmd := exec.Command(outside.Tool(t, name), args...)
	cmd.Dir = dir
	var errs bytes.Buffer
	cmd.Stderr = &errs
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s %q: %v\n%s", name, args, err, errs.Bytes())
	}
	return out
}

// picture is smooth, with noise and sharp corners, and no symmetry.
func picture(w, h int) *image.NRGBA {
	m := image.NewNRGBA(image.Rect(0, 0, w, h))
	noise := rand.New(rand.NewPCG(1, 2))
	for y := range h {
		for x := range w {
			m.SetNRGBA(x, y, color.NRGBA{
				byte(255 * x / w), byte(255 * y / h), byte(100 + noise.IntN(40)), 255,
			})
		}
	}
	for y := h / 8; y < h/4; y++ {
		for x := w / 8; x < w/2; x++ {
			m.SetNRGBA(x, y, color.NRGBA{250, 10, 30, 255})
		}
	}
	return m
}

// glass is picture with alpha.
func glass(w, h int) *image.NRGBA {
	m := picture(w, h)
	for i := 3; i < len(m.Pix); i += 4 {
		m.Pix[i] = byte(i / 4 * 255 / (w * h))
	}
	return m
}

func pngBytes(t testing.TB, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func write(t testing.TB, dir, name string, b []byte) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(dir, name), b, 0o600); err != nil {
		t.Fatal(err)
	}
}

func read(t testing.TB, dir, name string) []byte {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(dir, name))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// open opens and decodes the first page.
func open(t testing.TB, b []byte) (Header, *Pixels) {
	t.Helper()
	f, err := Open(b, DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	px, err := f.Decode(0)
	if err != nil {
		t.Fatal(err)
	}
	h := f.Pages[0]
	if px.Width != h.Width || px.Height != h.Height || len(px.Pix) != 4*h.Width*h.Height {
		t.Fatalf("decoded %d × %d in %d bytes, header says %d × %d", px.Width, px.Height, len(px.Pix), h.Width, h.Height)
	}
	if (h.Space == CMYK) != (len(px.Ink) == len(px.Pix)) {
		t.Fatalf("%d bytes of ink in %s", len(px.Ink), h.Space)
	}
	return h, px
}

// furthest is the largest difference between samples.
func furthest(t testing.TB, got, want []byte) int {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%d bytes, want %d", len(got), len(want))
	}
	most := 0
	for i := range got {
		most = max(most, int(got[i])-int(want[i]), int(want[i])-int(got[i]))
	}
	return most
}

// apart is the mean difference between samples.
func apart(t testing.TB, got, want []byte) float64 {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%d bytes, want %d", len(got), len(want))
	}
	sum := 0
	for i := range got {
		sum += max(int(got[i])-int(want[i]), int(want[i])-int(got[i]))
	}
	return float64(sum) / float64(len(got))
}

// flat is an opaque gray picture.
func flat(w, h int, v byte) *image.NRGBA {
	m := image.NewNRGBA(image.Rect(0, 0, w, h))
	for i := range m.Pix {
		m.Pix[i] = v
		if i%4 == 3 {
			m.Pix[i] = 255
		}
	}
	return m
}

// near4 compares numbers to the fourth decimal place.
func near4() cmp.Option {
	return cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) < .00005 })
}

// goTestdata is a picture from Go's own test data.
func goTestdata(t testing.TB, name string) []byte {
	t.Helper()
	root := strings.TrimSpace(string(run(t, "", "go", "env", "GOROOT")))
	b, err := os.ReadFile(filepath.Join(root, "src", "image", "testdata", name))
	if err != nil {
		t.Skip("Go's test data are not installed")
	}
	return b
}
