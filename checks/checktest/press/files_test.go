package press

import (
	"bytes"
	"image"
	"image/color"
	_ "image/jpeg"
	"strings"
	"testing"

	_ "golang.org/x/image/tiff"
	"pgregory.net/rapid"
)

// TestRastersDecode reads the package's files by the standard library and
// x/image and compares the pixels with those that were meant.
func TestRastersDecode(t *testing.T) {
	c := Card{"joiner", Photographic, "us-business"}
	for _, tt := range []struct {
		name  string
		space Space
		file  []byte
		slack float64
	}{
		{"jpeg rgb", RGB, c.JPEG(100), 2},
		{"jpeg grey", Grey, c.JPEG(100, In(Grey)), 2},
		{"jpeg cmyk", CMYK, c.JPEG(100, In(CMYK)), 2},
		{"png rgb", RGB, c.PNG(100), 0},
		{"png grey", Grey, c.PNG(100, In(Grey)), 0},
		{"tiff rgb", RGB, c.TIFF(100, In(RGB)), 0},
		{"tiff grey", Grey, c.TIFF(100, In(Grey)), 0},
	} {
		img := decoded(t, tt.file)
		if got, want := img.Bounds(), image.Rect(0, 0, 375, 225); got != want {
			t.Errorf("%s: %v, want %v", tt.name, got, want)
			continue
		}
		p := c.painted(100, c.settings(tt.space, nil))
		if d := apartBytes(levels(img, tt.space), p.bytes(tt.space)); d > tt.slack {
			t.Errorf("%s: pixels are %.2f levels off on the mean", tt.name, d)
		}
	}
}

// levels are an image's values in a space.
func levels(img image.Image, s Space) []byte {
	var out []byte
	b := img.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			switch p := img.At(x, y); s {
			case CMYK:
				k := color.CMYKModel.Convert(p).(color.CMYK)
				out = append(out, k.C, k.M, k.Y, k.K)
			case RGB:
				k := color.NRGBAModel.Convert(p).(color.NRGBA)
				out = append(out, k.R, k.G, k.B)
			case Grey:
				out = append(out, color.GrayModel.Convert(p).(color.Gray).Y)
			}
		}
	}
	return out
}

func apartBytes(a, b []byte) float64 {
	if len(a) != len(b) {
		return 255
	}
	sum := 0
	for i := range a {
		sum += max(int(a[i])-int(b[i]), int(b[i])-int(a[i]))
	}
	return float64(sum) / float64(len(a))
}

// TestJPEGKeepsAnyPicture codes noise, the hardest picture, of any size.
func TestJPEGKeepsAnyPicture(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		space := rapid.SampledFrom([]Space{CMYK, RGB, Grey}).Draw(t, "space")
		w, h := rapid.IntRange(1, 40).Draw(t, "w"), rapid.IntRange(1, 40).Draw(t, "h")
		seed := rapid.IntRange(0, 1<<20).Draw(t, "seed")
		flat := rapid.IntRange(1, 255).Draw(t, "flat")
		pix := make([]byte, w*h*space.channels())
		for i := range pix {
			pix[i] = byte(int(hash(i, 1, seed)*256) / flat * flat)
		}
		img, _, err := image.Decode(bytes.NewReader(jpegFile(space, w, h, pix, jpegOptions{quality: 100})))
		if err != nil {
			t.Fatal(err)
		}
		if d := apartBytes(levels(img, space), pix); d > 1.5 {
			t.Errorf("%.2f levels off", d)
		}
	})
}

// TestTIFFInks has libtiff read what the Go decoder does not: CMYK.
func TestTIFFInks(t *testing.T) {
	c := Card{"paper-marbler", Striped, "us-business"}
	path := kept(t, "card.tif", c.TIFF(300))
	info := run(t, "tiffinfo", path)
	for _, want := range []string{"Image Width: 1125 Image Length: 675", "Resolution: 300, 300 pixels/inch",
		"Photometric Interpretation: separated", "Samples/Pixel: 4", "ICC Profile: <present>, 121368 bytes", "AdobeDeflate"} {
		if !strings.Contains(info, want) {
			t.Errorf("no %q:\n%s", want, info)
		}
	}
	raw := strings.TrimSuffix(path, ".tif") + "-raw.tif"
	run(t, "tiffcp", "-c", "none", "-r", "675", path, raw)
	got := strip(t, raw, 1125*675*4)
	p := c.painted(300, c.settings(CMYK, nil))
	if !bytes.Equal(got, p.bytes(CMYK)) {
		t.Error("libtiff reads other inks than were written")
	}
}

// strip is the pixels of an uncompressed file of one strip, which begin right
// after the header as tiffcp writes it.
func strip(t *testing.T, path string, n int) []byte {
	t.Helper()
	b := readFile(t, path)
	if len(b) < 8+n {
		t.Fatalf("%d bytes", len(b))
	}
	return b[8 : 8+n]
}

// TestFilesSayWhatTheyAre asks exiftool for density and profile.
func TestFilesSayWhatTheyAre(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long, in one goroutine")
	}
	c := Card{"weaver", White, "eu-business"}
	for name, tt := range map[string]struct {
		file []byte
		want string
	}{
		"a.jpg": {c.JPEG(300), "300 300 inches sRGB, by press"},
		"b.jpg": {c.JPEG(300, In(CMYK)), "300 300 inches FOGRA39L Coated"},
		"c.jpg": {c.JPEG(300, NoDensity(), NoProfile()), "1 1 None"},
		"d.tif": {c.TIFF(400), "400 400 inches FOGRA39L Coated"},
		"e.png": {c.PNG(300, In(Grey)), "11811 11811 meters Grey, sRGB curve, by press"},
		"f.png": {c.PNG(300, WithProfile(Coated())), "11811 11811 meters FOGRA39L Coated"},
	} {
		out := run(t, "exiftool", "-s3", "-XResolution", "-YResolution", "-ResolutionUnit", "-PixelsPerUnitX",
			"-PixelsPerUnitY", "-PixelUnits", "-ProfileDescription", kept(t, name, tt.file))
		if got := strings.Join(strings.Fields(out), " "); got != tt.want {
			t.Errorf("%s says %q, want %q", name, got, tt.want)
		}
	}
}
