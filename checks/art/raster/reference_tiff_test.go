package raster

import (
	"slices"
	"strings"
	"testing"
)

// tiffKind is a kind of TIFF that ImageMagick writes.
type tiffKind struct {
	name, source, args string
	space              Space
	bits               int
	read               string // how ImageMagick is to print the samples
	slack              int    // 1 where ImageMagick's rounding is not exact
	not                string // packings that libtiff does not do for it
}

func tiffKinds() []tiffKind {
	return []tiffKind{
		{name: "rgb8", args: "-depth 8", space: RGB, bits: 8},
		{name: "rgb16", args: "-depth 16 -evaluate multiply 0.987", space: RGB, bits: 16, slack: 1, not: "jpeg planes"},
		{name: "rgb16-planes", args: "-depth 16 -evaluate multiply 0.987 -interlace plane", space: RGB, bits: 16, slack: 1, not: "jpeg planes tiles"},
		{name: "rgba8", source: "glass.png", args: "-depth 8", space: RGB, bits: 8, not: "jpeg"},
		{name: "rgba16", source: "glass.png", args: "-depth 16", space: RGB, bits: 16, not: "jpeg planes"},
		{name: "rgba-associated", source: "glass.png", args: "-depth 8 -define tiff:alpha=associated", space: RGB, bits: 8, slack: 1, not: "jpeg"},
		{name: "gray8", args: "-colorspace gray -depth 8", space: Gray, bits: 8},
		{name: "gray16", args: "-colorspace gray -depth 16", space: Gray, bits: 16, slack: 1, not: "jpeg planes"},
		{name: "graya8", source: "glass.png", args: "-colorspace gray -depth 8", space: Gray, bits: 8, not: "jpeg"},
		{name: "gray2", args: "-colorspace gray -depth 2", space: Gray, bits: 2, not: "jpeg predictor planes"},
		{name: "gray4", args: "-colorspace gray -depth 4", space: Gray, bits: 4, not: "jpeg predictor planes"},
		{name: "white-is-zero", args: "-colorspace gray -depth 8 -define quantum:polarity=min-is-white", space: Gray, bits: 8},
		{name: "bilevel", args: "-colorspace gray -threshold 50% -depth 1", space: Gray, bits: 1, not: "jpeg predictor planes"},
		{name: "bilevel-white-is-zero", args: "-colorspace gray -threshold 50% -depth 1 -define quantum:polarity=min-is-white", space: Gray, bits: 1, not: "jpeg predictor planes"},
		{name: "palette", args: "-colors 200 -type palette", space: RGB, bits: 8, slack: 1, not: "jpeg"},
		{name: "palette4", args: "+dither -colors 11 -type palette -depth 4", space: RGB, bits: 4, not: "jpeg predictor planes"},
		{name: "cmyk8", args: "-colorspace cmyk -depth 8", space: CMYK, bits: 8, read: "cmyk"},
		{name: "cmyk16", args: "-colorspace cmyk -depth 16", space: CMYK, bits: 16, read: "cmyk", slack: 1, not: "jpeg planes"},
		{name: "cmyka8", source: "glass.png", args: "-colorspace cmyk -type ColorSeparationAlpha -depth 8", space: CMYK, bits: 8, read: "cmyka", not: "jpeg"},
	}
}

// tiffPackings are ways to store the same samples, as arguments of tiffcp.
func tiffPackings() map[string]string {
	return map[string]string{
		"none":                   "-c none",
		"lzw":                    "-c lzw -r 7",
		"lzw-predictor":          "-c lzw:2",
		"deflate":                "-c zip -r 5",
		"deflate-predictor":      "-c zip:2",
		"packbits":               "-c packbits",
		"tiles":                  "-c lzw -t -w 16 -l 32",
		"tiles-predictor":        "-c zip:2 -t -w 32 -l 16",
		"planes":                 "-c lzw -p separate -r 9",
		"planes-tiles-predictor": "-c zip:2 -p separate -t -w 16 -l 16",
		"big-endian":             "-c none -B",
		"big-endian-predictor":   "-c lzw:2 -B",
		"lsb-first":              "-c packbits -f lsb2msb",
		"bigtiff":                "-8 -c lzw",
		"bigtiff-big-endian":     "-8 -B -c zip",
		"jpeg-strips":            "-c jpeg:r:100 -r 16",
		"jpeg-tiles":             "-c jpeg:r:100 -t -w 32 -l 32",
		"jpeg-planes":            "-c jpeg:r:100 -p separate -r 16",
		"jpeg-ycbcr":             "-c jpeg:100 -r 16",
		"g4":                     "-c g4 -r 10",
		"g4-lsb-first":           "-c g4 -f lsb2msb",
		"g4-tiles":               "-c g4 -t -w 16 -l 16",
	}
}

func (k tiffKind) packs(packing string) bool {
	if strings.HasPrefix(packing, "g4") && k.bits != 1 {
		return false
	}
	return !slices.ContainsFunc(strings.Fields(k.not), func(word string) bool { return strings.Contains(packing, word) })
}

// samples are those of px in the order in which ImageMagick prints them.
func (k tiffKind) samples(px *Pixels) []byte {
	switch k.read {
	case "cmyk":
		return px.Ink
	case "cmyka":
		var out []byte
		for i := 0; i < len(px.Ink); i += 4 {
			out = append(append(out, px.Ink[i:i+4]...), px.Pix[i+3])
		}
		return out
	}
	return px.Pix
}

// make writes the kind's file and returns ImageMagick's reading of it.
func (k *tiffKind) make(t *testing.T, dir string) []byte {
	if k.source == "" {
		k.source = "plain.png"
	}
	if k.read == "" {
		k.read = "rgba"
	}
	args := append([]string{k.source}, strings.Fields(k.args)...)
	run(t, dir, "convert", append(args, "-units", "PixelsPerInch", "-density", "300x150", "-compress", "none", k.name+".tif")...)
	return run(t, dir, "convert", k.name+".tif", "-depth", "8", k.read+":-")
}

// TestTIFFAgainstImageMagick makes TIFF files of every kind with ImageMagick,
// stores them in every way that libtiff's tiffcp knows, and compares samples
// with ImageMagick's reading of the plainest storage.
func TestTIFFAgainstImageMagick(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "plain.png", pngBytes(t, picture(61, 43)))
	write(t, dir, "glass.png", pngBytes(t, glass(61, 43)))
	for _, k := range tiffKinds() {
		want := k.make(t, dir)
		for packing, args := range tiffPackings() {
			if !k.packs(packing) {
				continue
			}
			t.Run(k.name+"/"+packing, func(t *testing.T) {
				run(t, dir, "tiffcp", append(strings.Fields(args), k.name+".tif", "out.tif")...)
				h, px := open(t, read(t, dir, "out.tif"))
				if h.Space != k.space || h.Bits != k.bits || h.Width != 61 || h.Height != 43 ||
					h.Alpha != (k.source == "glass.png") || h.Palette != strings.HasPrefix(k.name, "palette") {
					t.Errorf("header %+v", h)
				}
				if want := (Density{X: 300, Y: 150, Source: "TIFF"}); h.Density != want {
					t.Errorf("density %+v, want %+v", h.Density, want)
				}
				compareTIFF(t, k, packing, k.samples(px), want)
			})
		}
	}
}

func compareTIFF(t *testing.T, k tiffKind, packing string, got, want []byte) {
	t.Helper()
	switch {
	case packing == "jpeg-ycbcr" && k.name == "rgb8": // chroma of half the resolution
		if mean := apart(t, got, want); mean > 6 {
			t.Errorf("samples are %.2f apart in the mean", mean)
		}
	case strings.HasPrefix(packing, "jpeg"):
		if far := furthest(t, got, want); far > 4 {
			t.Errorf("samples are up to %d apart", far)
		}
	default:
		if far := furthest(t, got, want); far > k.slack {
			t.Errorf("samples are up to %d apart, want %d at most", far, k.slack)
		}
	}
}
