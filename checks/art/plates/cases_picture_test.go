package plates

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"strings"
	"testing"
)

// at places image number n of a row.
func at(n int) string {
	return fmt.Sprintf("q 60 0 0 60 %d %d cm /X%d Do Q\n", 6+66*(n%4), 8+74*(n/4), n)
}

// gallery shows images one beside the other.
func gallery(before string, images ...string) card {
	resources, content := "", before
	for i, x := range images {
		resources += fmt.Sprintf("/X%d %s", i, x)
		content += at(i)
	}
	return card{resources: overFlat + "/XObject<<" + resources + ">>", content: content}
}

func grayJPEG(t testing.TB) string {
	m := image.NewGray(image.Rect(0, 0, 64, 64))
	for i := range m.Pix {
		m.Pix[i] = byte(i % 64 * 4)
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// flatJPEG is one colour all over.
func flatJPEG(t testing.TB, c color.Color) string {
	m := image.NewRGBA(image.Rect(0, 0, 16, 16))
	draw.Draw(m, m.Rect, image.NewUniform(c), image.Point{}, draw.Src)
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: 100}); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// deep is an image of odd depth: width × height pixels of n components.
func deep(w *writer, width, height, bits int, space, more, data string) string {
	return w.stream(fmt.Sprintf("/Type/XObject/Subtype/Image/Width %d/Height %d/BitsPerComponent %d/ColorSpace %s %s", width, height, bits, space, more), data)
}

func pictureSamples() []sample {
	return []sample{
		{name: "CMYK JPEG", build: func(t testing.TB, w *writer) card {
			j := cmykJPEG()
			c, err := jpeg.DecodeConfig(strings.NewReader(j))
			if err != nil {
				t.Fatal(err)
			}
			x := w.stream(fmt.Sprintf("/Type/XObject/Subtype/Image/Width %d/Height %d/BitsPerComponent 8/ColorSpace/DeviceCMYK/Filter/DCTDecode/Decode[1 0 1 0 1 0 1 0]", c.Width, c.Height), j)
			return card{resources: "/XObject<</X " + x + ">>", content: "q 180 0 0 108 10 40 cm /X Do Q q 20 60 -60 20 250 20 cm /X Do Q"}
		}, mean: 2.5, flat: 5},
		{name: "CMYK pictures", build: func(_ testing.TB, w *writer) card {
			return gallery("",
				picture8(w, 64, 64, 4, "/DeviceCMYK", ""),
				picture8(w, 64, 64, 4, "/DeviceCMYK", "/Decode[1 0 0 1 .5 1 0 .5]"),
				deep(w, 32, 32, 16, "/DeviceCMYK", "", ramp(64, 32, 4)),
				deep(w, 64, 64, 4, "/DeviceCMYK", "", ramp(32, 64, 4)),
				deep(w, 32, 64, 1, "/DeviceCMYK", "", ramp(4, 64, 4)))
		}, mean: 2.5},
		{name: "grey pictures", build: func(t testing.TB, w *writer) card {
			return gallery(".2 0 0 0 k 0 0 270 162 re f ",
				picture8(w, 64, 64, 1, "/DeviceGray", ""),
				picture8(w, 64, 64, 1, "/DeviceGray", "/Decode[1 0]"),
				deep(w, 64, 64, 1, "/DeviceGray", "", ramp(8, 64, 1)),
				deep(w, 64, 64, 2, "/DeviceGray", "/Decode[1 .2]", ramp(16, 64, 1)),
				w.stream("/Type/XObject/Subtype/Image/Width 64/Height 64/BitsPerComponent 8/ColorSpace/DeviceGray/Filter/DCTDecode", grayJPEG(t)),
				deep(w, 32, 64, 16, "/DeviceGray", "", ramp(64, 64, 1)))
		}, mean: 2},
		{name: "indexed pictures", build: func(_ testing.TB, w *writer) card {
			return gallery("",
				deep(w, 64, 64, 4, "[/Indexed/DeviceCMYK 15<000000FF FF000000 00FF0000 0000FF00 80800000 00808000 80008000 20202020 40404040 60606060 80808080 A0000000 00A00000 0000A000 000000A0 FFFFFFFF>]", "", ramp(32, 64, 1)),
				deep(w, 64, 64, 8, "[/Indexed/DeviceGray 3<00 55 AA FF>]", "", ramp(64, 64, 1)),
				deep(w, 64, 64, 1, "[/Indexed/DeviceCMYK 1<FF00FF00 00800033>]", "", ramp(8, 64, 1)),
				deep(w, 64, 64, 2, "[/Indexed "+gold+" 3<00 55 AA FF>]", "/Decode[3 0]", ramp(16, 64, 1)))
		}},
		{name: "spot pictures", build: func(t testing.TB, w *writer) card {
			c := gallery(".3 .3 0 0 k 0 0 270 162 re f ",
				picture8(w, 64, 64, 1, gold, ""),
				picture8(w, 64, 64, 1, mint, "/Decode[1 0]"),
				picture8(w, 64, 64, 2, twoInks(w, "/Gold/Black", ""), ""),
				picture8(w, 64, 64, 3, "[/DeviceN[/Cyan/Gold/Mint]/DeviceCMYK "+w.stream("/FunctionType 4/Domain[0 1 0 1 0 1]/Range[0 1 0 1 0 1 0 1]", "{ 0 }")+"]", ""),
				w.stream("/Type/XObject/Subtype/Image/Width 64/Height 64/BitsPerComponent 8/ColorSpace "+gold+"/Filter/DCTDecode", grayJPEG(t)),
				picture8(w, 64, 64, 1, gold, ""))
			c.content = c.content[:len(c.content)-len(at(5))] + "/O1 gs " + at(5)
			return c
		}},
		{name: "masked pictures", build: func(_ testing.TB, w *writer) card {
			soft := picture8(w, 32, 32, 1, "/DeviceGray", "")
			hard := w.stream("/Type/XObject/Subtype/Image/ImageMask true/Width 8/Height 8/BitsPerComponent 1", "\xaa\x55\xf0\x0f\xff\x00\xcc\x33")
			return gallery("0 0 .5 0 k 0 0 270 162 re f ",
				picture8(w, 64, 64, 4, "/DeviceCMYK", "/SMask "+soft),
				picture8(w, 64, 64, 4, "/DeviceCMYK", "/Mask "+hard),
				picture8(w, 64, 64, 4, "/DeviceCMYK", "/Mask[0 128 0 255 0 255 0 255]"),
				picture8(w, 64, 64, 1, "/DeviceGray", "/Mask[64 128]"),
				picture8(w, 64, 64, 1, gold, "/SMask "+soft),
				deep(w, 64, 64, 4, "[/Indexed/DeviceCMYK 15<000000FF FF000000 00FF0000 0000FF00 80800000 00808000 80008000 20202020 40404040 60606060 80808080 A0000000 00A00000 0000A000 000000A0 FFFFFFFF>]", "/Mask[3 6]", ramp(32, 64, 1)))
		}},
		{name: "stencils and inline pictures", build: func(_ testing.TB, w *writer) card {
			hard := w.stream("/Type/XObject/Subtype/Image/ImageMask true/Width 8/Height 8/BitsPerComponent 1", "\xaa\x55\xf0\x0f\xff\x00\xcc\x33")
			c := gallery("1 .5 0 0 k 0 0 270 70 re f 0 0 1 0 k ", hard)
			c.content += "q /O1 gs 0 0 0 1 k 1 0 0 1 66 0 cm " + at(0) + "Q " +
				"q 60 0 0 60 138 8 cm BI /W 8 /H 8 /IM true /D[1 0] ID \xaa\x55\xf0\x0f\xff\x00\xcc\x33 EI Q " +
				"q 60 0 0 60 6 82 cm BI /W 16 /H 16 /CS /CMYK /BPC 8 ID " + ramp(16, 16, 4) + " EI Q " +
				"q 60 0 0 60 72 82 cm BI /W 16 /H 16 /CS [/I /CMYK 1 <FF000000 0000FF80>] /BPC 1 /F /AHx ID FF00F0F00FF0AAAA5555FFFF0000CCCC3333123487654321DEADBEEF00FF00FF> EI Q " +
				"q 60 0 0 60 138 82 cm BI /W 16 /H 16 /CS /G /BPC 8 ID " + ramp(16, 16, 1) + " EI Q"
			return c
		}},
		{name: "overprinted pictures", build: func(_ testing.TB, w *writer) card {
			x := picture8(w, 64, 64, 4, "/DeviceCMYK", "")
			g := picture8(w, 64, 64, 1, "/DeviceGray", "")
			s := picture8(w, 64, 64, 1, gold, "")
			c := gallery("/O1 gs .5 .5 .5 0 k 0 0 270 40 re f ", x, g, s)
			c.resources += "/ColorSpace<</Au " + gold + ">>"
			c.content = "/Au cs .5 scn 0 40 270 20 re f " + c.content
			return c
		}},
	}
}
