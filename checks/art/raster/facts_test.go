package raster

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"strconv"
	"strings"
	"testing"
)

// TestFactsAgainstExiftool compares densities and profiles with what exiftool
// reads from files that ImageMagick and exiftool itself wrote.
func TestFactsAgainstExiftool(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "plain.png", pngBytes(t, picture(61, 43)))
	profile := bytes.Repeat([]byte("a profile of three chunks"), 7500) // 187 500 bytes
	write(t, dir, "press.icc", fakeProfile(profile))
	names := []string{"a.jpg", "b.jpg", "c.jpg", "d.png", "e.tif", "f.tif", "g.bmp"}
	for i, args := range []string{
		"-density 300x600 -units PixelsPerInch",
		"-density 118x118 -units PixelsPerCentimeter",
		"-density 2x1 -units Undefined",
		"-density 118.11x236.22 -units PixelsPerCentimeter",
		"-density 300x150 -units PixelsPerInch",
		"-density 118x118 -units PixelsPerCentimeter",
		"-density 118x118 -units PixelsPerCentimeter",
	} {
		run(t, dir, "convert", append(append([]string{"plain.png"}, strings.Fields(args)...), names[i])...)
	}
	tagged := []string{"-q", "-overwrite_original", "-ICC_Profile<=press.icc"}
	run(t, dir, "exiftool", append(tagged, names[:6]...)...)

	for _, facts := range exiftool(t, dir, names) {
		name := facts["SourceFile"].(string)
		t.Run(name, func(t *testing.T) {
			h, _ := open(t, read(t, dir, name))
			x, y := toldDensity(t, facts)
			if math.Abs(h.Density.X-x) > .005 || math.Abs(h.Density.Y-y) > .005 {
				t.Errorf("density %+v, exiftool says %v × %v", h.Density, x, y)
			}
			if want := fakeProfile(profile); name != "g.bmp" && (!bytes.Equal(h.Profile, want) || h.ProfileTrouble != "") {
				t.Errorf("profile of %d bytes, want %d: %s", len(h.Profile), len(want), h.ProfileTrouble)
			}
		})
	}
}

// fakeProfile is something that exiftool takes for a profile: a size, a class
// and spaces, and the signature.
func fakeProfile(body []byte) []byte {
	b := append(make([]byte, 128), body...)
	copy(b, numbers(uint32(len(b))))
	copy(b[12:], "mntrRGB XYZ ")
	copy(b[36:], "acsp")
	return b
}

// exiftool asks for the facts of files.
func exiftool(t *testing.T, dir string, names []string) (facts []map[string]any) {
	t.Helper()
	ask := []string{"-j", "-XResolution", "-YResolution", "-ResolutionUnit", "-PixelsPerUnitX", "-PixelsPerUnitY", "-PixelUnits", "-PixelsPerMeterX", "-PixelsPerMeterY"}
	if err := json.Unmarshal(run(t, dir, "exiftool", append(ask, names...)...), &facts); err != nil {
		t.Fatal(err)
	}
	return facts
}

// toldDensity makes pixels per inch of what exiftool tells.
func toldDensity(t *testing.T, facts map[string]any) (x, y float64) {
	t.Helper()
	number := func(name string) float64 {
		switch v := facts[name].(type) {
		case float64:
			return v
		case string:
			n, err := strconv.ParseFloat(v, 64)
			if err != nil {
				t.Fatal(err)
			}
			return n
		}
		return 0
	}
	switch {
	case facts["PixelUnits"] == "meters":
		return number("PixelsPerUnitX") * .0254, number("PixelsPerUnitY") * .0254
	case number("PixelsPerMeterX") > 0:
		return number("PixelsPerMeterX") * .0254, number("PixelsPerMeterY") * .0254
	case facts["ResolutionUnit"] == "inches":
		return number("XResolution"), number("YResolution")
	case facts["ResolutionUnit"] == "cm":
		return number("XResolution") * 2.54, number("YResolution") * 2.54
	}
	return 0, 0
}

func TestSniff(t *testing.T) {
	for head, want := range map[string]Format{
		"\xff\xd8\xff\xe0": JPEG, "\x89PNG\r\n\x1a\n": PNG, "II*\x00": TIFF, "MM\x00*": TIFF, "II+\x00": TIFF, "MM\x00+": TIFF,
		"RIFF\x01\x02\x03\x04WEBP": WebP, "RIFF\x01\x02\x03\x04WAVE": "", "GIF87a": GIF, "GIF89a": GIF, "GIF88a": "", "BM": BMP,
		"": "", "%PDF-1.7": "", "\xff\xd8": "",
	} {
		if got := Sniff([]byte(head)); got != want {
			t.Errorf("%q is %q, want %q", head, got, want)
		}
	}
}

func TestStrangers(t *testing.T) {
	for _, c := range []struct {
		b    string
		is   error
		says string
	}{
		{"", ErrCutOff, "empty"},
		{"\x89PN", ErrCutOff, "ends after 3 bytes"},
		{"RIFF\x01\x02", ErrCutOff, "ends after 6 bytes"},
		{"%PDF-1.7", ErrUnsupported, "not a JPEG"},
		{"\x00\x00\x00\x0cjP  \r\n\x87\n", ErrUnsupported, "JPEG 2000"},
		{"\xff\x4f\xff\x51\x00", ErrUnsupported, "JPEG 2000"},
		{"\x00\x00\x00\x0cJXL \r\n\x87\n", ErrUnsupported, "JPEG XL"},
		{"\x00\x00\x00\x20ftypavif", ErrUnsupported, "AVIF"},
		{"\x00\x00\x00\x20ftypheic", ErrUnsupported, "HEIF"},
	} {
		_, err := Open([]byte(c.b), DefaultLimits())
		if !errors.Is(err, c.is) || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%q: error %v, want %v and %q", c.b, err, c.is, c.says)
		}
	}
}

// TestViewOfInk checks the worked example that tells the two naive formulas
// apart: CSS Color 4, 10.2 gives 63.75, 76.5, 76.5 where ISO 32000-1, 10.3.5
// gives 0, 25.5, 25.5.
func TestViewOfInk(t *testing.T) {
	px := newPixels(1, 1, true)
	copy(px.Ink, []byte{128, 102, 102, 128}) // .5 .4 .4 .5
	px.viewInk()
	if furthest(t, px.Pix[:3], []byte{64, 76, 76}) > 1 {
		t.Errorf("view %v", px.Pix[:3])
	}
}

// TestLimits lowers each ceiling under what one file needs.
func TestLimits(t *testing.T) {
	progressive := goTestdata(t, "video-001.progressive.jpeg")
	two := littleTIFF(grayPage(), grayPage())
	for _, c := range []struct {
		name  string
		b     []byte
		lower func(*Limits)
		is    error
	}{
		{"pixels", pngBytes(t, picture(10, 10)), func(l *Limits) { l.Pixels = 99 }, ErrTooLarge},
		{"pixels of all pages", two, func(l *Limits) { l.Pixels = 23 }, ErrTooLarge},
		{"memory", pngBytes(t, picture(10, 10)), func(l *Limits) { l.Memory = 399 }, ErrTooLarge},
		{"memory to turn", littleTIFF(grayPage().with(map[uint16]any{tagOrientation: uint16(3)})), func(l *Limits) { l.Memory = 95 }, ErrTooLarge},
		{"scans", progressive, func(l *Limits) { l.ScanPixels = 10*150*103 - 1 }, ErrTooLarge},
		{"pages", two, func(l *Limits) { l.Pages = 1 }, ErrTooLarge},
		{"entries", two, func(l *Limits) { l.Entries = 8 }, ErrDamaged},
	} {
		t.Run(c.name, func(t *testing.T) {
			if _, err := Open(c.b, DefaultLimits()); err != nil {
				t.Fatal(err)
			}
			lim := DefaultLimits()
			c.lower(&lim)
			if _, err := Open(c.b, lim); !errors.Is(err, c.is) {
				t.Errorf("error %v, want %v", err, c.is)
			}
		})
	}
}

// TestRescue has a decoder that panics.
func TestRescue(t *testing.T) {
	f := &File{pages: []page{{decode: func() (*Pixels, error) { panic("index out of range") }}}}
	if px, err := f.Decode(0); !errors.Is(err, ErrDamaged) || px != nil {
		t.Errorf("pixels %v, error %v", px, err)
	}
}
