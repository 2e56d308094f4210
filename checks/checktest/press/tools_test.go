package press

import (
	"bytes"
	"image"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"stoneproof/checks/checktest/outside"
)

// kept writes b to a file of its own.
func kept(t *testing.T, name string, b []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	write(t, path, b)
	return path
}

func run(t *testing.T, name string, args ...string) string {
	t.Helper()
	out, err := exec.Command(outside.Tool(t, name), args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s %v: %v\n%s", name, args, err, out)
	}
	return string(out)
}

func decoded(t *testing.T, b []byte) image.Image {
	t.Helper()
	img, _, err := image.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// poppler and ghostscript show the first page of a PDF.
func poppler(t *testing.T, pdf []byte, ppi string) image.Image {
	t.Helper()
	in := kept(t, "in.pdf", pdf)
	run(t, "pdftoppm", "-png", "-r", ppi, "-singlefile", in, in)
	return shown(t, in+".png")
}

func ghostscript(t *testing.T, pdf []byte, ppi string) image.Image {
	t.Helper()
	in := kept(t, "in.pdf", pdf)
	run(t, "gs", "-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-sDEVICE=png16m", "-r"+ppi, "-dLastPage=1",
		"-dTextAlphaBits=4", "-dGraphicsAlphaBits=4", "-sOutputFile="+in+".png", in)
	return shown(t, in+".png")
}

func shown(t *testing.T, path string) image.Image {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// apart is the mean difference of two pictures in levels of 0 to 255, taken on
// the means of blocks of 4 × 4 pixels: programs place edges and fine lines a
// fraction of a pixel apart.
func apart(t *testing.T, a, b image.Image) float64 {
	t.Helper()
	if w, h := a.Bounds().Dx()-b.Bounds().Dx(), a.Bounds().Dy()-b.Bounds().Dy(); w*w > 1 || h*h > 1 {
		t.Fatalf("pictures of %v and %v", a.Bounds(), b.Bounds())
	}
	box := a.Bounds().Intersect(b.Bounds())
	sum, n := 0.0, 0
	for y := box.Min.Y; y+4 <= box.Max.Y; y += 4 {
		for x := box.Min.X; x+4 <= box.Max.X; x += 4 {
			p, q := blockMean(a, x, y), blockMean(b, x, y)
			for ch := range p {
				sum += math.Abs(p[ch] - q[ch])
				n++
			}
		}
	}
	return sum / float64(n)
}

func blockMean(img image.Image, x, y int) (out [3]float64) {
	for i := range 16 {
		r, g, b, _ := img.At(x+i%4, y+i/4).RGBA()
		for ch, v := range [3]uint32{r, g, b} {
			out[ch] += float64(v>>8) / 16
		}
	}
	return out
}
