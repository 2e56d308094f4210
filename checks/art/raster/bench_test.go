package raster

import (
	"bytes"
	"image/jpeg"
	"strings"
	"testing"
)

// benchFiles are a US business card with its bleed at 300 ppi, 1125 × 675
// pixels.
func benchFiles(b *testing.B) map[string][]byte {
	b.Helper()
	dir := b.TempDir()
	card := picture(1125, 675)
	write(b, dir, "card.png", pngBytes(b, card))
	var photo bytes.Buffer
	if err := jpeg.Encode(&photo, card, &jpeg.Options{Quality: 90}); err != nil {
		b.Fatal(err)
	}
	files := map[string][]byte{"rgb.jpg": photo.Bytes(), "rgb.png": read(b, dir, "card.png")}
	for name, args := range map[string]string{
		"cmyk.jpg": "-colorspace cmyk -quality 90 -sampling-factor 1x1",
		"cmyk.tif": "-colorspace cmyk -compress lzw",
	} {
		run(b, dir, "convert", append(append([]string{"card.png"}, strings.Fields(args)...), name)...)
		files[name] = read(b, dir, name)
	}
	return files
}

func BenchmarkOpen(b *testing.B) {
	for name, file := range benchFiles(b) {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Open(file, DefaultLimits()); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkDecode(b *testing.B) {
	for name, file := range benchFiles(b) {
		b.Run(name, func(b *testing.B) {
			f, err := Open(file, DefaultLimits())
			if err != nil {
				b.Fatal(err)
			}
			b.ReportAllocs()
			b.SetBytes(int64(f.Pages[0].Width * f.Pages[0].Height))
			for b.Loop() {
				if _, err := f.Decode(0); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
