package pdf

import (
	"bytes"
	"encoding/base64"
	"image"
	"image/color"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"stoneproof/checks/checktest/outside"
)

// foreignPages are pages made by programs that have nothing to do with ours, each
// with what it alone does: Type 3 fonts, masks of all kinds, tiles, groups, turned and
// spaced type.
var foreignPages = map[string]func(t *testing.T) []byte{
	"ghostscript":            func(t *testing.T) []byte { return fromGhostscript(t, postscriptCard) },
	"ghostscript, all sorts": func(t *testing.T) []byte { return fromGhostscript(t, postscriptSorts) },
	"cairo":                  func(t *testing.T) []byte { return fromCairo(t, svgCard) },
	"cairo, all sorts":       func(t *testing.T) []byte { return fromCairo(t, svgSorts(t)) },
	"tex":                    fromTeX,
	"libtiff, Zip":           func(t *testing.T) []byte { return fromTIFF(t, "-compress", "Zip") },
	"libtiff, JPEG":          func(t *testing.T) []byte { return fromTIFF(t, "-alpha", "off", "-compress", "JPEG") },
	"libtiff, CMYK": func(t *testing.T) []byte {
		return fromTIFF(t, "-alpha", "off", "-colorspace", "CMYK", "-compress", "LZW")
	},
	"libtiff, PackBits":       func(t *testing.T) []byte { return fromTIFF(t, "-alpha", "off", "-compress", "RLE") },
	"libtiff, a palette":      func(t *testing.T) []byte { return fromTIFF(t, "-alpha", "off", "-type", "Palette", "-compress", "LZW") },
	"libtiff, Group 4":        func(t *testing.T) []byte { return fromTIFF(t, "-alpha", "off", "-monochrome", "-compress", "Group4") },
	"imagemagick's JPEG 2000": fromJPEG2000,
}

const postscriptCard = `%!PS
<< /PageSize [270 162] >> setpagedevice
0.9 0.2 0.1 0 setcmykcolor 0 0 270 162 rectfill
/NimbusSans-Regular findfont 12 scalefont setfont
0 setgray 20 100 moveto (Pottery) show
/NimbusRoman-Bold findfont 9 scalefont setfont
100 50 moveto (thrown) show
1 0 0 setrgbcolor 2 setlinewidth 10 10 moveto 100 20 200 5 250 15 curveto stroke
gsave 40 40 translate 36 18 scale 8 4 8 [8 0 0 -4 0 4] {<ff00ff00ff00ff0000ff00ff00ff00ffff00ff00ff00ff0000ff00ff00ff00ff>} image grestore
showpage`

const svgCard = `<svg xmlns="http://www.w3.org/2000/svg" width="270pt" height="162pt" viewBox="0 0 270 162"><defs><linearGradient id="g"><stop offset="0" stop-color="red"/><stop offset="1" stop-color="blue"/></linearGradient></defs><rect width="270" height="162" fill="url(#g)"/><text x="20" y="40" font-family="DejaVu Sans" font-size="14">Wheels</text><text x="20" y="80" font-family="Nimbus Roman" font-size="14">mended</text><circle cx="150" cy="100" r="30" fill="none" stroke="black" stroke-width="2"/></svg>`

func fromGhostscript(t *testing.T, program string) []byte {
	dir := t.TempDir()
	in, out := filepath.Join(dir, "a.ps"), filepath.Join(dir, "a.pdf")
	if err := os.WriteFile(in, []byte(program), 0o600); err != nil {
		t.Fatal(err)
	}
	command(t, "gs", "-q", "-sDEVICE=pdfwrite", "-dEmbedAllFonts=true", "-o", out, in)
	return loaded(t, out)
}

func fromCairo(t *testing.T, svg string) []byte {
	dir := t.TempDir()
	in, out := filepath.Join(dir, "a.svg"), filepath.Join(dir, "a.pdf")
	if err := os.WriteFile(in, []byte(svg), 0o600); err != nil {
		t.Fatal(err)
	}
	command(t, "rsvg-convert", "-f", "pdf", "-o", out, in)
	return loaded(t, out)
}

// postscriptSorts has images in grey, RGB, CMYK and a palette, a stencil, an image
// with a mask and one with a colour key (PostScript Language Reference, 4.10), used
// twice and turned; a Type 3 font; type that is stretched, slanted, spaced and outlined.
const postscriptSorts = `%!PS
<< /PageSize [270 162] >> setpagedevice
/four <00ff00ff ff00ff00 00ffff00 7f7f7f7f> def
/pixels { /DeviceGray setcolorspace << /ImageType 1 /Width 4 /Height 4 /BitsPerComponent 8 /Decode [0 1] /ImageMatrix [4 0 0 -4 0 4] /DataSource four >> } def
gsave 10 10 translate 30 20 scale pixels image grestore
gsave 60 10 translate 30 rotate 24 36 scale pixels image grestore
gsave 90 10 translate 30 30 scale /DeviceRGB setcolorspace
<< /ImageType 1 /Width 2 /Height 2 /BitsPerComponent 8 /Decode [0 1 0 1 0 1] /ImageMatrix [2 0 0 -2 0 2] /DataSource <ff0000 00ff00 0000ff 123456> >> image grestore
gsave 130 10 translate 30 15 scale /DeviceCMYK setcolorspace
<< /ImageType 1 /Width 2 /Height 1 /BitsPerComponent 8 /Decode [0 1 0 1 0 1 0 1] /ImageMatrix [2 0 0 -1 0 1] /DataSource <ff000000 00ff0080> >> image grestore
gsave 170 10 translate 30 30 scale [/Indexed /DeviceRGB 3 <ff0000 00ff00 0000ff ffffff>] setcolorspace
<< /ImageType 1 /Width 8 /Height 2 /BitsPerComponent 2 /Decode [0 3] /ImageMatrix [8 0 0 -2 0 2] /DataSource <1b1b e4e4> >> image grestore
gsave 0 0.8 0.2 0 setcmykcolor 210 10 translate 48 24 scale 16 8 true [16 0 0 -8 0 8] { <aaaa 5555 aaaa 5555 aaaa 5555 aaaa 5555> } imagemask grestore
gsave 10 60 translate 40 20 scale /DeviceRGB setcolorspace
<< /ImageType 3 /InterleaveType 3
/DataDict << /ImageType 1 /Width 2 /Height 1 /BitsPerComponent 8 /Decode [0 1 0 1 0 1] /ImageMatrix [2 0 0 -1 0 1] /DataSource <ff0000 00ff00> >>
/MaskDict << /ImageType 1 /Width 8 /Height 2 /BitsPerComponent 1 /Decode [0 1] /ImageMatrix [8 0 0 -2 0 2] /DataSource <aa 55> >> >> image grestore
gsave 60 60 translate 40 20 scale /DeviceGray setcolorspace
<< /ImageType 4 /Width 4 /Height 2 /BitsPerComponent 8 /Decode [0 1] /MaskColor [255] /ImageMatrix [4 0 0 -2 0 2] /DataSource <00ff00ff ff00ff00> >> image grestore
8 dict begin /FontType 3 def /FontMatrix [.001 0 0 .001 0 0] def /FontBBox [0 0 1000 1000] def
/Encoding 256 array def 0 1 255 { Encoding exch /.notdef put } for Encoding 97 /square put
/BuildGlyph { exch pop 1000 0 0 0 750 750 setcachedevice /square eq { 0 0 750 750 rectfill } if } def currentdict end /Blocks exch definefont pop
/Blocks 14 selectfont 10 95 moveto (aaa) show
/NimbusSans-Regular 9 selectfont 110 60 moveto 2 0 (Waxed) ashow
/NimbusRoman-Regular findfont [14 0 4 9 0 0] makefont setfont 150 60 moveto (leather) show
gsave 200 60 translate 40 rotate /NimbusMonoPS-Regular 9 selectfont 0 0 moveto (by hand) show grestore
/NimbusRoman-Italic 20 selectfont 10 130 moveto (Saddlery) show
/NimbusSans-Bold 10 selectfont 120 130 moveto (Halters, bridles) show
120 115 moveto 4 0 32 (and odd repairs) widthshow
showpage`

// dotted is a picture with a clear corner.
func dotted(w, h int) []byte {
	m := image.NewNRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			m.Set(x, y, color.NRGBA{uint8(20 * x), uint8(20 * y), uint8(x * y), uint8(min(255, 40*(x+y)))})
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		panic(err)
	}
	return b.Bytes()
}

func svgSorts(*testing.T) string {
	picture := `xlink:href="data:image/png;base64,` + base64.StdEncoding.EncodeToString(dotted(12, 10)) + `"`
	return `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="270pt" height="162pt" viewBox="0 0 270 162">
<defs><pattern id="p" width="12" height="10" patternUnits="userSpaceOnUse"><image width="12" height="10" ` + picture + `/></pattern>
<mask id="m"><rect x="100" y="10" width="40" height="40" fill="#888"/></mask><clipPath id="c"><circle cx="40" cy="40" r="20"/></clipPath></defs>
<image x="10" y="10" width="60" height="60" preserveAspectRatio="none" ` + picture + ` clip-path="url(#c)"/>
<g transform="rotate(30 180 50)"><image x="160" y="40" width="36" height="15" preserveAspectRatio="none" ` + picture + `/></g>
<g opacity="0.5"><rect x="80" y="60" width="50" height="30" fill="green"/><text x="85" y="80" font-family="DejaVu Sans" font-size="9">Candles</text></g>
<g mask="url(#m)"><rect x="90" y="5" width="60" height="60" fill="red"/></g>
<rect x="200" y="100" width="60" height="50" fill="url(#p)"/>
<text x="10" y="110" font-family="Nimbus Roman" font-size="12" letter-spacing="2">Spaced out</text>
<text x="10" y="130" font-family="DejaVu Serif" font-size="10" font-style="italic">dipped in Wendlebury Cross</text>
<text transform="translate(150 150) rotate(-60)" font-family="Nimbus Sans" font-size="11">Upwards</text>
<text x="60" y="150" font-family="Nimbus Sans" font-size="11" fill="none" stroke="blue" stroke-width="0.3">Outline</text></svg>`
}

// fromTeX is a page of pdfTeX: its own fonts, mathematics, pictures, turned type.
func fromTeX(t *testing.T) []byte {
	tex := outside.Tool(t, "pdftex")
	dir := t.TempDir()
	for name, b := range map[string][]byte{"a.png": dotted(12, 10), "a.tex": []byte(texCard)} {
		if err := os.WriteFile(filepath.Join(dir, name), b, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	cmd := exec.Command(tex, "-interaction=batchmode", "a.tex")
	cmd.Dir = dir
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	return loaded(t, filepath.Join(dir, "a.pdf"))
}

const texCard = `\pdfoutput=1 \pdfpagewidth=270bp \pdfpageheight=162bp \hoffset=-1in \advance\hoffset 10bp \voffset=-1in \advance\voffset 6bp
\hsize=250bp \vsize=150bp \parindent=0pt \nopagenumbers \font\caps=cmcsc10
\def\set#1#2{\hbox{\pdfsave\pdfsetmatrix{#1}\rlap{#2}\pdfrestore\phantom{#2}}}
\pdfximage width 36bp {a.png} \edef\wide{\the\pdflastximage}
\pdfximage width 24bp height 30bp {a.png} \edef\tall{\the\pdflastximage}
{\caps The Bookbinder} of {\it Wendlebury Cross}, {\bf half calf} and {\tt marbled paper}.
$\sqrt{x^2+y^2}={1\over2}$ \set{.94 .342 -.342 .94}{aslant} \set{1.5 0 0 .8}{squat}

Caf\'e offices, fluffy: 8~a.m.\ --- 5~p.m. \pdfrefximage\wide\ \set{0 1 -1 0}{\pdfrefximage\tall}
\bye`

// fromTIFF puts a picture from ImageMagick on a page of its own, by libtiff.
func fromTIFF(t *testing.T, options ...string) []byte {
	dir := t.TempDir()
	tif, out := filepath.Join(dir, "a.tif"), filepath.Join(dir, "a.pdf")
	args := append([]string{saved(t, "a.png", dotted(120, 90)), "-units", "PixelsPerInch", "-density", "150x150"}, options...)
	command(t, "convert", append(args, tif)...)
	command(t, "tiff2pdf", "-o", out, tif)
	return loaded(t, out)
}

func fromJPEG2000(t *testing.T) []byte {
	out := filepath.Join(t.TempDir(), "a.jp2")
	command(t, "convert", saved(t, "a.png", dotted(120, 90)), "-alpha", "off", out)
	w := &writer{}
	im := w.stream("/Type /XObject /Subtype /Image /Width 120 /Height 90 /ColorSpace /DeviceRGB /BitsPerComponent 8 /Filter /JPXDecode", string(loaded(t, out)))
	return w.page(square, "/XObject << /Im "+ref(im)+" >>", "72 0 0 54 0 0 cm /Im Do")
}

// shippedFiles gives the paths of the files under testdata by their names there.
func shippedFiles(t *testing.T) map[string]string {
	root := filepath.Join("..", "..", "..", "testdata")
	files := map[string]string{}
	for _, pattern := range []string{"*/*.pdf", "*/*/*.pdf"} {
		paths, err := filepath.Glob(filepath.Join(root, pattern))
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range paths {
			files[strings.TrimPrefix(filepath.ToSlash(p), filepath.ToSlash(root)+"/")] = p
		}
	}
	if len(files) == 0 {
		t.Fatalf("no files under %s", root)
	}
	return files
}
