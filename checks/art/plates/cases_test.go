package plates

import (
	"fmt"
	"os"
	"testing"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"stoneproof/checks/checktest/press"
)

// A sample is a page that the tests build, and how it is compared.
type sample struct {
	name  string
	build func(t testing.TB, w *writer) card
	args  []string // for Ghostscript
	// Bounds where they are not the usual ones.
	mean, flat float64
}

// plain is a sample without objects of its own.
func plain(name, resources, content string) sample {
	return sample{name: name, build: func(testing.TB, *writer) card { return card{resources: resources, content: content} }}
}

// fixed colour spaces for the samples.
const (
	tintOne  = "<</FunctionType 2/Domain[0 1]/C0[0 0 0 0]/C1[0 .2 .8 .1]/N 1>>"
	gold     = "[/Separation/Gold/DeviceCMYK" + tintOne + "]"
	mint     = "[/Separation/Mint/DeviceCMYK<</FunctionType 2/Domain[0 1]/C0[0 0 0 0]/C1[.6 0 .3 0]/N 1>>]"
	allInks  = "[/Separation/All/DeviceCMYK<</FunctionType 2/Domain[0 1]/C0[0 0 0 0]/C1[1 1 1 1]/N 1>>]"
	noInk    = "[/Separation/None/DeviceCMYK" + tintOne + "]"
	overFlat = "/ExtGState<</O1<</OP true/op true/OPM 1>>/O0<</OP true/op true/OPM 0>>/N<</OP false/op false>>>>"
)

// calculator adds a function that gives CMYK for two inks.
func twoInks(w *writer, names, attributes string) string {
	f := w.stream("/FunctionType 4/Domain[0 1 0 1]/Range[0 1 0 1 0 1 0 1]", "{ dup 0.5 mul exch 3 1 roll 0 exch 0.2 mul }")
	return "[/DeviceN[" + names + "]/DeviceCMYK " + f + attributes + "]"
}

// typeface embeds a TrueType font, so that everybody draws the same outlines.
func embedded(t testing.TB, w *writer) string {
	f, err := sfnt.Parse(goregular.TTF)
	if err != nil {
		t.Fatal(err)
	}
	var buffer sfnt.Buffer
	widths := ""
	for c := rune(32); c < 127; c++ {
		i, _ := f.GlyphIndex(&buffer, c)
		a, _ := f.GlyphAdvance(&buffer, i, fixed.I(1000), font.HintingNone)
		widths += fmt.Sprint(a.Round(), " ")
	}
	file := w.stream(fmt.Sprintf("/Length1 %d", len(goregular.TTF)), string(goregular.TTF))
	desc := w.add("<</Type/FontDescriptor/FontName/GoRegular/Flags 32/FontBBox[-200 -300 1200 1000]/ItalicAngle 0/Ascent 900/Descent -200/CapHeight 700/StemV 80/FontFile2 " + file + ">>")
	return w.add("<</Type/Font/Subtype/TrueType/BaseFont/GoRegular/Encoding/WinAnsiEncoding/FirstChar 32/LastChar 126/Widths[" + widths + "]/FontDescriptor " + desc + ">>")
}

// ramp is an image's samples: n components of 8 bits, smooth and all different.
func ramp(w, h, n int) string {
	b := make([]byte, 0, w*h*n)
	for y := range h {
		for x := range w {
			for c := range n {
				b = append(b, byte([]int{x * 255 / w, y * 255 / h, (x + y) * 255 / (w + h), 255 - x*255/w}[c%4]/(1+c/4)))
			}
		}
	}
	return string(b)
}

func picture8(w *writer, width, height, n int, space, more string) string {
	return w.stream(fmt.Sprintf("/Type/XObject/Subtype/Image/Width %d/Height %d/BitsPerComponent 8/ColorSpace %s %s", width, height, space, more), ramp(width, height, n))
}

// boxes paints squares in a row, each after its own set-up.
func boxes(setup ...string) string {
	out := ""
	for i, s := range setup {
		out += fmt.Sprintf("q %s %d %d 30 40 re f Q\n", s, 8+36*(i%7), 10+60*(i/7))
	}
	return out
}

func allSamples() []sample {
	var list []sample
	list = append(list, vectorSamples()...)
	list = append(list, pictureSamples()...)
	list = append(list, groupSamples()...)
	return append(list, patternSamples()...)
}

func vectorSamples() []sample {
	return []sample{
		plain("solids", "", boxes("1 0 0 0 k", "0 .5 0 0 k", "0 0 .25 0 k", "0 0 0 .9 k", ".3 .4 .5 .6 k", ".5 g", "0 g")+
			"1 0 0 0 k 20 70 80 60 re f 0 1 0 0 K 6 w 30 80 80 60 re S 0 0 1 .5 K [9 4] 0 d 2 w 130 75 m 200 140 240 60 262 130 c S 0 g 1 0 1 0 K 3 w [] 0 d 220 80 30 30 re b"),
		{name: "text", build: func(t testing.TB, w *writer) card {
			f := embedded(t, w)
			return card{resources: "/Font<</F " + f + ">>", content: "1 0 0 0 k 0 60 270 50 re f BT 0 0 0 1 k /F 24 Tf 10 130 Td (Wendlebury Cross) Tj 0 0 1 0 k 0 -50 Td (Knocked out) Tj ET " +
				"BT 1 Tr 0 1 0 0 K .7 w /F 30 Tf 10 25 Td (Outline) Tj 2 Tr 0 0 1 0 k 110 0 Td (Both) Tj ET q BT 7 Tr /F 40 Tf 200 20 Td (CL) Tj ET .5 0 0 .5 k 190 10 80 30 re f Q BT /F 7 Tf 0 Tr 1 1 1 1 k 10 10 Td (small type in all inks, 400 percent) Tj ET"}
		}, mean: 1.5},
		plain("overprint", overFlat+"/ColorSpace<</S "+gold+">>",
			"1 0 .2 0 k 0 0 270 100 re f "+boxes("/O1 gs 0 0 0 1 k", "/O0 gs 0 0 0 1 k", "0 0 0 1 k", "/O1 gs 0 .6 0 0 k", "/O1 gs .5 0 0 0 k", "/O1 gs /S cs .7 scn", "/S cs .7 scn",
				"/O1 gs .4 g", "/O0 gs .4 g", "/O1 gs 0 0 0 0 k", "/O0 gs 0 0 0 0 k")+
				"q /O1 gs 0 0 0 1 K 0 1 0 0 k 4 w 160 75 30 40 re B Q q /O1 gs /N gs 0 1 0 0 k 200 75 30 40 re f Q"),
		plain("spots", overFlat+"/ColorSpace<</Au "+gold+"/M "+mint+"/A "+allInks+"/N "+noInk+"/C[/Separation/Cyan/DeviceCMYK"+tintOne+"]>>",
			".2 .2 .2 0 k 0 0 270 40 re f "+boxes("/Au cs", "/Au cs .5 scn", "/M cs .3 scn", "/A cs .8 scn", "/N cs 1 scn", "/C cs .6 scn", "/O1 gs /C cs .6 scn", "/Au CS /M cs 6 w 10 80 100 40 re B")),
		{name: "DeviceN", build: func(_ testing.TB, w *writer) card {
			a := twoInks(w, "/Gold/Black", "")
			b := twoInks(w, "/Gold/None", "")
			return card{resources: overFlat + "/ColorSpace<</A " + a + "/B " + b + ">>",
				content: ".4 .4 0 0 k 0 0 270 40 re f " + boxes("/A cs .5 .3 scn", "/A cs 0 1 scn", "/O1 gs /A cs .5 .3 scn", "/O1 gs /A cs 0 1 scn", "/B cs .5 .7 scn", "/O1 gs /B cs .5 .7 scn", "/A cs")}
		}},
		{name: "ICC CMYK of the intent", build: func(t testing.TB, w *writer) card {
			icc, err := os.ReadFile(fograProfile)
			if err != nil {
				t.Fatal(err)
			}
			p := w.stream("/N 4", string(icc))
			return card{resources: overFlat + "/ColorSpace<</I[/ICCBased " + p + "]/DefaultCMYK[/ICCBased " + p + "]>>",
				catalog: "/OutputIntents[<</Type/OutputIntent/S/GTS_PDFX/OutputConditionIdentifier(FOGRA39)/DestOutputProfile " + p + ">>]",
				content: "1 .3 .2 0 k 0 0 270 30 re f " + boxes("/I cs .1 .2 .3 .4 scn", "/I cs 0 0 0 1 scn", "0 .2 0 .5 k", "/O0 gs 0 0 0 .5 k")}
		}, args: []string{"-sOutputICCProfile=" + fograProfile, "--permit-file-read=" + fograProfile}},
		{name: "forms", build: func(_ testing.TB, w *writer) card {
			inner := w.stream("/Type/XObject/Subtype/Form/BBox[0 0 100 100]/Matrix[.5 0 0 .5 10 10]", "0 0 60 60 re f 0 1 0 0 k 50 50 40 40 re f")
			outer := w.stream("/Type/XObject/Subtype/Form/BBox[0 0 120 120]/Resources<</XObject<</I "+inner+">>>>", "/I Do 0 0 1 0 k 60 0 20 20 re f 1 0 0 1 60 0 cm /I Do")
			return card{resources: overFlat + "/XObject<</O " + outer + ">>", content: "0 .3 0 0 k 0 0 270 20 re f 1 0 0 0 k /O Do q 1 0 0 1 130 0 cm /O1 gs 0 0 0 1 k /O Do Q 0 .2 .9 0 k 200 120 40 30 re f"}
		}},
		{name: "layers and annotations", build: func(_ testing.TB, w *writer) card {
			on, off := w.add("<</Type/OCG/Name(on)>>"), w.add("<</Type/OCG/Name(off)>>")
			stamp := w.stream("/Type/XObject/Subtype/Form/BBox[0 0 10 10]", "0 1 1 0 k 0 0 10 10 re f")
			return card{resources: "/Properties<</A " + on + "/B " + off + ">>",
				catalog: "/OCProperties<</OCGs[" + on + " " + off + "]/D<</OFF[" + off + "]/Order[" + on + " " + off + "]>>>>",
				page:    "/Annots[<</Type/Annot/Subtype/Stamp/Rect[200 100 240 140]/F 4/AP<</N " + stamp + ">>>><</Type/Annot/Subtype/Stamp/Rect[100 100 140 140]/F 2/AP<</N " + stamp + ">>>>]",
				content: "/OC /A BDC 1 0 0 0 k 10 10 50 50 re f EMC /OC /B BDC 0 1 0 0 k 80 10 50 50 re f EMC 0 0 1 0 k 150 10 50 50 re f"}
		}},
		{name: "turned page", build: func(testing.TB, *writer) card {
			return card{media: "[50 60 119 195]", page: "/Rotate 90/UserUnit 2",
				content: "1 0 0 0 k 60 70 30 40 re f 0 1 0 0 k 70 100 m 110 100 l 110 190 l f 0 0 0 .5 k 50 60 10 5 re f"}
		}},
		{name: "Type 3", build: func(_ testing.TB, w *writer) card {
			a := w.stream("", "1000 0 0 0 750 750 d1 0 0 750 750 re f")
			b := w.stream("", "1000 0 d0 0 1 0 0 k 0 0 400 750 re f 0 0 1 .2 k 400 0 350 350 re f")
			c := w.stream("", "1000 0 d0 0 0 300 750 re f 20 w 500 100 200 500 re S")
			d := w.stream("", "1000 0 0 0 800 800 d1 q 800 0 0 800 0 0 cm BI /W 8 /H 8 /IM true /BPC 1 ID \xaa\x55\xaa\x55\xf0\xf0\x0f\x0f EI Q")
			f := w.add("<</Type/Font/Subtype/Type3/FontBBox[0 0 1000 1000]/FontMatrix[.001 0 0 .001 0 0]/CharProcs<</a " + a + "/b " + b + "/c " + c + "/d " + d + ">>/Encoding<</Type/Encoding/Differences[97/a/b/c/d]>>/FirstChar 97/LastChar 100/Widths[1000 1000 1000 1000]/Resources<<>>>>")
			g := w.add("<</Type/Font/Subtype/Type3/FontBBox[0 0 1000 1000]/FontMatrix[.001 0 0 .001 0 0]/CharProcs<</a " + a + "/d " + d + ">>/Encoding<</Type/Encoding/Differences[97/a 100/d]>>/FirstChar 97/LastChar 100/Widths[1000 0 0 1000]/Resources<<>>>>")
			return card{resources: overFlat + "/Font<</F " + f + "/G " + g + ">>", content: "0 0 .4 0 k 0 0 270 60 re f 1 0 0 0 k BT /F 40 Tf 10 100 Td (abcd) Tj ET /O1 gs 0 0 0 1 k BT /G 40 Tf 10 30 Td (ada) Tj ET"}
		}},
	}
}

const fograProfile = "../icc/press/FOGRA39L_coated.icc"

func cmykJPEG() string {
	return string(press.Card{Maker: "potter", Style: press.Photographic, Size: "us-business"}.JPEG(300, press.In(press.CMYK)))
}
