package detail

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"stoneproof/checks/checktest/outside"
)

// What another program enlarges is found as well, by the filters that people use.
func TestImageMagick(t *testing.T) {
	tool := outside.Tool(t, "convert")
	found, all := 0, 0
	for i, filter := range []string{"Point", "Triangle", "Catrom", "Mitchell", "Lanczos"} {
		for j, k := range []float64{1.5, 2, 2.5, 3, 4, 6} {
			for _, kind := range []string{"png", "jpg"} {
				small := leaves(int(640/k), int(420/k), rand.New(rand.NewPCG(700, uint64(10*i+j))))
				p := throughTool(t, tool, small, kind, "-filter", filter, "-resize", fmt.Sprintf("%f%%", 100*k), "-quality", "90")
				all++
				switch got := Measure(p); {
				case tells(got, k):
					found++
				case got.Kind == Enlarged:
					t.Errorf("%s %.1f times, %s: %+v", filter, k, kind, got)
				default:
					t.Logf("%s %.1f times, %s: not found", filter, k, kind)
				}
			}
		}
	}
	if found*10 < all*8 {
		t.Errorf("%d of %d found", found, all)
	}
}

// What ImageMagick makes smaller, turns or blurs was not enlarged.
func TestImageMagickSound(t *testing.T) {
	tool := outside.Tool(t, "convert")
	sharp := leaves(soundW, soundH, rand.New(rand.NewPCG(701, 0)))
	for _, args := range [][]string{
		{"-filter", "Triangle", "-resize", "70%"}, {"-filter", "Lanczos", "-resize", "61%"}, {"-filter", "Point", "-resize", "83%"},
		{"-filter", "Mitchell", "-resize", "90%"}, {"-rotate", "1.5"}, {"-rotate", "0.3"},
		{"-gaussian-blur", "0x1.2"}, {"-gaussian-blur", "0x3"}, {"-motion-blur", "0x4+20"}, {"-unsharp", "0x2"}, {"-noise", "1"},
	} {
		for _, kind := range []string{"png", "jpg"} {
			if got := Measure(throughTool(t, tool, sharp, kind, append(args, "-quality", "85")...)); got.Kind == Enlarged {
				t.Errorf("%v, %s: %+v", args, kind, got)
			}
		}
	}
}

// A page is drawn by Ghostscript, which enlarges the picture in it by its own averages.
func TestGhostscript(t *testing.T) {
	tool := outside.Tool(t, "gs")
	small := leaves(300, 200, rand.New(rand.NewPCG(702, 0)))
	dir := t.TempDir()
	page, out := filepath.Join(dir, "page.ps"), filepath.Join(dir, "out.png")
	var b bytes.Buffer
	fmt.Fprintf(&b, "%%!PS\n<< /PageSize [300 200] >> setpagedevice\n300 200 scale\n/DeviceGray setcolorspace\n"+
		"<< /ImageType 1 /Width 300 /Height 200 /BitsPerComponent 8 /Decode [0 1] /Interpolate true\n"+
		"/ImageMatrix [300 0 0 -200 0 200] /DataSource currentfile /ASCIIHexDecode filter >> image\n%x>\nshowpage\n", small.Pix)
	if err := os.WriteFile(page, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(tool, "-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-sDEVICE=pnggray", "-r216", "-sOutputFile="+out, page)
	if said, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, said)
	}
	if got := Measure(read(t, out)); !tells(got, 3) {
		t.Errorf("%+v", got)
	}
}

// throughTool is what a program that takes "IN args OUT" makes of a picture.
func throughTool(t *testing.T, tool string, p Plane, kind string, args ...string) Plane {
	t.Helper()
	dir := t.TempDir()
	in, out := filepath.Join(dir, "in.png"), filepath.Join(dir, "out."+kind)
	var b bytes.Buffer
	if err := png.Encode(&b, imageOf(p)); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(in, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	if said, err := exec.Command(tool, append(append([]string{in}, args...), out)...).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, said)
	}
	return read(t, out)
}

// read is the lightness of a picture file.
func read(t *testing.T, path string) Plane {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	m, _, err := image.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	return drawn(m.Bounds().Dx(), m.Bounds().Dy(), func(x, y float64) float64 {
		v, _, _, _ := m.At(int(x), int(y)).RGBA()
		return float64(v / 257)
	})
}
