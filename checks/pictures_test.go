package checks_test

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/jpeg"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stoneproof/checks/art"
	"stoneproof/checks/checktest/press"
	"stoneproof/rules"
)

// imagePage is a card that draws one image.
func imagePage(image string) []byte {
	return card("q 144 0 0 72 30 30 cm /Im Do Q", image).with("/XObject << /Im 5 0 R >>").file()
}

// greyOf is the first picture of a file in its own pixels.
func greyOf(t testing.TB, file []byte, ceilings art.Ceilings) (*art.Grey, error) {
	t.Helper()
	a, err := art.Opener{Ceilings: ceilings}.Open(kept(t, "card"+ending(file), file))
	if err != nil {
		t.Fatal(err)
	}
	defer a.Close()
	ticket, err := rules.Order{}.Ticket()
	if err != nil {
		t.Fatal(err)
	}
	a.Place(ticket)
	side := a.Sides[0]
	if side.Page == nil {
		return side.Grey(context.Background())
	}
	content, err := side.Content()
	if err != nil || len(content.Images) == 0 {
		t.Fatalf("no image: %v", err)
	}
	g, err := side.GreyOf(&content.Images[0])
	if again, _ := side.GreyOf(&content.Images[0]); again != g {
		t.Error("the picture is made twice")
	}
	return g, err
}

// Lightness of samples in every kind of space (ISO 32000-1, 8.6 and 8.9.5), two pixels
// by one or as told.
func TestGreySamples(t *testing.T) {
	const (
		tint = "[/Separation /Gold /DeviceCMYK << /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0 .3 .9 .1] /N 1 >>]"
		lab  = "[/Lab << /WhitePoint [0.9642 1 0.8249] >>]"
	)
	for _, tt := range []struct {
		name    string
		w, bits int
		entries string
		data    string
		want    string
	}{
		{"grey", 2, 8, "/ColorSpace /DeviceGray", "\x00\x80", "\x00\x80"},
		{"grey of 16 bits", 2, 16, "/ColorSpace /DeviceGray", "\x12\x34\xff\x00", "\x12\xff"},
		{"grey of 4 bits, a row padded", 3, 4, "/ColorSpace /DeviceGray", "\x0f\x80", "\x00\xff\x88"},
		{"grey of 2 bits", 4, 2, "/ColorSpace /DeviceGray", "\x1b", "\x00\x55\xaa\xff"},
		{"one bit", 3, 1, "/ColorSpace /DeviceGray", "\xa0", "\xff\x00\xff"},
		{"turned by Decode", 2, 8, "/ColorSpace /DeviceGray /Decode [1 0]", "\x00\x80", "\xff\x7f"},
		{"a stencil", 3, 1, "/ImageMask true", "\xa0", "\xff\x00\xff"},
		{"RGB", 3, 8, "/ColorSpace /DeviceRGB", "\xff\xff\xff\xff\x00\x00\x00\xff\x00", "\xff\x4c\x95"},
		{"CMYK", 4, 8, "/ColorSpace /DeviceCMYK", "\x00\x00\x00\x00\x00\x00\x00\xff\xff\x00\x00\x00\x00\x00\x00\x80", "\xff\x00\xb2\x7f"},
		{"an ink", 2, 8, "/ColorSpace " + tint, "\x00\xff", "\xff\x00"},
		{"Lab", 2, 8, "/ColorSpace " + lab, "\x80\x80\x80\xff\x80\x80", "\x80\xff"},
		{"indexed", 3, 2, "/ColorSpace [/Indexed /DeviceRGB 2 <ff0000 00ff00 ffffff>]", "\x18", "\x4c\x95\xff"},
		{"indexed inks, one code beyond the table", 3, 2, "/ColorSpace [/Indexed /DeviceCMYK 1 <00000000 000000ff>]", "\x1c", "\xff\x00\x00"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			image := stream(fmt.Sprintf("/Type /XObject /Subtype /Image /Width %d /Height 1 /BitsPerComponent %d %s", tt.w, tt.bits, tt.entries), tt.data)
			g, err := greyOf(t, imagePage(image), art.DefaultCeilings())
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff([]byte(tt.want), g.Pix); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

// steps is a picture of 16 × 8 pixels in two halves, which JPEG keeps as they are.
func steps() *image.Gray {
	m := image.NewGray(image.Rect(0, 0, 16, 8))
	for i := range m.Pix {
		m.Pix[i] = byte(40 + 160*(i%16/8))
	}
	return m
}

func TestGreyJPEG(t *testing.T) {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, steps(), &jpeg.Options{Quality: 100}); err != nil {
		t.Fatal(err)
	}
	embedded := imagePage(stream("/Type /XObject /Subtype /Image /Width 16 /Height 8 /BitsPerComponent 8 /ColorSpace /DeviceGray /Filter /DCTDecode", b.String()))
	for name, file := range map[string][]byte{"file": b.Bytes(), "in a page": embedded} {
		g, err := greyOf(t, file, art.DefaultCeilings())
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if !bytes.Equal(g.JPEG, b.Bytes()) {
			t.Errorf("%s: the JPEG is not what was put in", name)
		}
		if g.W != 16 || g.H != 8 || g.Pix[0] != 40 || g.Pix[127] != 200 {
			t.Errorf("%s: %d × %d pixels from %d to %d, want 16 × 8 from 40 to 200", name, g.W, g.H, g.Pix[0], g.Pix[127])
		}
	}
	g, err := greyOf(t, pngFile(t, steps()), art.DefaultCeilings())
	if err != nil || g.JPEG != nil || !bytes.Equal(g.Pix, steps().Pix) {
		t.Errorf("a PNG: %v, JPEG %v", err, g.JPEG != nil)
	}
}

// What cannot be looked at is said, not guessed, and costs nothing.
func TestGreyRefused(t *testing.T) {
	small := art.DefaultCeilings()
	small.GreyPixels = 10
	for _, tt := range []struct {
		name, image string
		ceilings    art.Ceilings
		says        string
	}{
		{"more pixels than are looked at", pictureOf(4, 3, 8, 1, "/ColorSpace /DeviceGray"), small, "million"},
		{"a size past counting", stream("/Subtype /Image /Width 2000000000 /Height 2000000000 /BitsPerComponent 8 /ColorSpace /DeviceGray", "x"), art.DefaultCeilings(), "million"},
		{"no size", stream("/Subtype /Image /Width 0 /Height -3 /BitsPerComponent 8 /ColorSpace /DeviceGray", "x"), art.DefaultCeilings(), "px"},
		{"cut off", stream("/Subtype /Image /Width 9 /Height 9 /BitsPerComponent 8 /ColorSpace /DeviceGray", "xxxx"), art.DefaultCeilings(), "cut off"},
		{"bits of no use", pictureOf(4, 4, 7, 1, "/ColorSpace /DeviceGray"), art.DefaultCeilings(), "7 bits"},
		{"JPEG 2000", stream("/Subtype /Image /Width 9 /Height 9 /BitsPerComponent 8 /ColorSpace /DeviceGray /Filter /JPXDecode", "xxxx"), art.DefaultCeilings(), "JPX"},
		{"no JPEG", stream("/Subtype /Image /Width 9 /Height 9 /BitsPerComponent 8 /ColorSpace /DeviceGray /Filter /DCTDecode", "xxxx"), art.DefaultCeilings(), ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			g, err := greyOf(t, imagePage(tt.image), tt.ceilings)
			if err == nil || !strings.Contains(err.Error(), tt.says) {
				t.Errorf("%v, error %v, want one that says %q", g, err, tt.says)
			}
		})
	}
}

// The same picture in four inks is the same grey, as JPEG with its Decode array and as
// samples.
func TestGreyOfInksInJPEG(t *testing.T) {
	card := press.Card{Maker: "ferryman", Style: press.Photographic, Size: "us-business"}
	lossy, err := greyOf(t, card.PDF(press.Quality(97)), art.DefaultCeilings())
	if err != nil {
		t.Fatal(err)
	}
	exact, err := greyOf(t, card.PDF(press.Lossless()), art.DefaultCeilings())
	if err != nil {
		t.Fatal(err)
	}
	off := 0.0
	for i, v := range exact.Pix {
		off += math.Abs(float64(v) - float64(lossy.Pix[i]))
	}
	if off /= float64(len(exact.Pix)); lossy.JPEG == nil || exact.JPEG != nil || off > 4 {
		t.Errorf("they differ by %.1f of 255 on average; JPEG %v and %v", off, lossy.JPEG != nil, exact.JPEG != nil)
	}
}
