package plates

import (
	"fmt"
	"testing"
)

// groupForm is a transparency group.
func groupForm(w *writer, flags, resources, content string) string {
	return w.stream("/Type/XObject/Subtype/Form/BBox[0 0 270 162]/Group<</S/Transparency "+flags+">>/Resources<<"+resources+">>", content)
}

func groupSamples() []sample {
	blends := func(modes ...string) (states, content string) {
		for i, m := range modes {
			states += fmt.Sprintf("/B%d<</BM/%s>>", i, m)
			content += fmt.Sprintf("q /B%d gs .7 .2 .4 .1 k %d %d 30 60 re f Q ", i, 8+44*(i%6), 8+80*(i/6))
		}
		return states, content
	}
	ground := ".2 .6 .1 .05 k 0 0 270 35 re f 0 .1 .8 .3 k 0 80 270 40 re f "
	separable, content := blends("Multiply", "Screen", "Overlay", "Darken", "Lighten", "ColorDodge", "ColorBurn", "HardLight", "SoftLight", "Difference", "Exclusion")
	spotModes, spotContent := blends("Multiply", "Screen", "Darken", "Difference", "Exclusion", "ColorBurn")
	return []sample{
		{name: "groups", build: func(_ testing.TB, w *writer) card {
			iso := groupForm(w, "/I true/CS/DeviceCMYK", "/ExtGState<</H<</ca .5>>>>", "1 0 0 0 k 10 20 60 60 re f /H gs 0 1 0 0 k 40 40 60 60 re f")
			non := groupForm(w, "", "/ExtGState<</H<</ca .5>>/M<</BM/Multiply>>>>", "1 0 0 0 k 140 20 60 60 re f /M gs 0 .5 .5 0 k 170 40 60 60 re f")
			return card{resources: "/XObject<</I " + iso + "/N " + non + ">>/ExtGState<</A<</ca .6/CA .6>>>>", page: "/Group<</S/Transparency/CS/DeviceCMYK/I true>>",
				content: "0 0 .6 .1 k 0 0 270 60 re f /N Do /A gs /I Do 0 0 0 .8 k 20 120 100 30 re f 1 0 0 0 K 5 w 140 120 100 30 re S"}
		}, flat: 3},
		{name: "blend modes", build: func(testing.TB, *writer) card {
			return card{resources: "/ExtGState<<" + separable + ">>", content: ground + content, page: "/Group<</S/Transparency/CS/DeviceCMYK>>"}
		}},
		{name: "blend modes on spots", build: func(testing.TB, *writer) card {
			return card{resources: "/ExtGState<<" + spotModes + ">>/ColorSpace<</Au " + gold + ">>", page: "/Group<</S/Transparency/CS/DeviceCMYK>>",
				content: "/Au cs .4 scn 0 0 270 35 re f " + spotContent + " /Au cs 1 0 0 1 0 80 cm " + "q /B0 gs .5 scn 10 0 30 60 re f Q"}
		}},
		{name: "soft masks", build: func(_ testing.TB, w *writer) card {
			lum := groupForm(w, "/CS/DeviceGray", "/Shading<</S<</ShadingType 2/ColorSpace/DeviceGray/Coords[10 0 120 0]/Function<</FunctionType 2/Domain[0 1]/C0[0]/C1[1]/N 1>>/Extend[true true]>>>>", "/S sh")
			cm := groupForm(w, "/CS/DeviceCMYK", "", "0 0 0 0 k 140 10 60 60 re f .5 .2 0 .1 k 200 10 60 60 re f")
			alpha := groupForm(w, "/CS/DeviceCMYK", "/ExtGState<</H<</ca .4>>>>", "/H gs 1 1 1 1 k 10 90 100 60 re f")
			return card{resources: "/ExtGState<</L<</SMask<</S/Luminosity/G " + lum + ">>>>/C<</SMask<</S/Luminosity/G " + cm + "/BC[0 0 0 1]>>>>/A<</SMask<</S/Alpha/G " + alpha + ">>>>/N<</SMask/None>>>>",
				page:    "/Group<</S/Transparency/CS/DeviceCMYK>>",
				content: "0 0 .5 0 k 0 0 270 40 re f q /L gs 1 0 0 .2 k 10 10 110 60 re f Q q /C gs 0 1 0 0 k 130 5 140 70 re f Q q /A gs 0 0 0 1 k 0 80 200 60 re f /N gs 1 0 0 0 k 210 100 30 30 re f Q"}
		}, flat: 3},
		{name: "overprint in groups", build: func(_ testing.TB, w *writer) card {
			inside := "0 1 0 0 k 10 20 50 50 re f /O1 gs 0 0 0 1 k 30 30 50 50 re f 1 0 0 0 K 4 w 70 20 30 30 re S"
			iso := groupForm(w, "/I true/CS/DeviceCMYK", overFlat, inside)
			non := groupForm(w, "/CS/DeviceCMYK", overFlat, inside)
			return card{resources: "/XObject<</I " + iso + "/N " + non + ">>", page: "/Group<</S/Transparency/CS/DeviceCMYK>>",
				content: ".5 .2 .6 0 k 0 0 270 60 re f /I Do 1 0 0 1 130 0 cm /N Do"}
		}},
	}
}

func patternSamples() []sample {
	stitched := "<</FunctionType 3/Domain[0 1]/Bounds[.4]/Encode[0 1 1 0]/Functions[<</FunctionType 2/Domain[0 1]/C0[1 0 0 0]/C1[0 1 0 0]/N 1>><</FunctionType 2/Domain[0 1]/C0[0 0 0 1]/C1[0 1 0 0]/N 2>>]>>"
	return []sample{
		{name: "shadings", build: func(_ testing.TB, w *writer) card {
			table := w.stream("/FunctionType 0/Domain[0 1]/Range[0 1 0 1 0 1 0 1]/Size[3]/BitsPerSample 8", "\xff\x00\x00\x00\x00\x80\x00\x40\x00\x00\xff\x80")
			n := twoInks(w, "/Gold/Black", "")
			two := "<</FunctionType 2/Domain[0 1]/C0[1 0]/C1[0 .8]/N 1>>"
			grid := w.stream("/FunctionType 4/Domain[0 1 0 1]/Range[0 1 0 1 0 1 0 1]", "{ 2 copy mul 3 1 roll 0 }")
			return card{resources: overFlat + "/Shading<</A<</ShadingType 2/ColorSpace/DeviceCMYK/Coords[10 0 120 0]/Function " + stitched + "/Extend[true false]>>" +
				"/B<</ShadingType 3/ColorSpace/DeviceCMYK/Coords[190 40 5 200 40 35]/Function " + table + "/Extend[true false]>>" +
				"/C<</ShadingType 2/ColorSpace " + n + "/Coords[10 0 120 30]/Function " + two + ">>/D<</ShadingType 1/ColorSpace/DeviceCMYK/Matrix[100 0 0 60 150 90]/Function " + grid + ">>>>" +
				"/Pattern<</P<</PatternType 2/Matrix[1 0 0 1 0 0]/Shading<</ShadingType 2/ColorSpace " + gold + "/Coords[0 0 270 0]/Function<</FunctionType 2/Domain[0 1]/C0[0]/C1[1]/N 1>>>>>>>>",
				content: ".3 0 0 0 k 0 0 270 162 re f q 10 10 120 60 re W n /A sh Q q 150 5 110 70 re W n /B sh Q q 10 85 120 40 re W n /C sh Q /D sh /Pattern cs /P scn 10 130 120 20 re f /O1 gs 10 152 120 8 re f"}
		}, mean: 1.2, flat: 2},
		{name: "meshes", build: func(_ testing.TB, w *writer) card {
			vertex := func(flag byte, x, y byte, c, m, ye, k byte) string { return string([]byte{flag, x, y, c, m, ye, k}) }
			free := w.stream("/ShadingType 4/ColorSpace/DeviceCMYK/BitsPerCoordinate 8/BitsPerComponent 8/BitsPerFlag 8/Decode[0 100 0 100 0 1 0 1 0 1 0 1]",
				vertex(0, 10, 10, 255, 0, 0, 0)+vertex(0, 240, 10, 0, 255, 0, 0)+vertex(0, 120, 240, 0, 0, 255, 128))
			lattice := w.stream("/ShadingType 5/ColorSpace/DeviceCMYK/BitsPerCoordinate 8/BitsPerComponent 8/VerticesPerRow 2/Decode[130 260 0 100 0 1 0 1 0 1 0 1]",
				vertex(0, 10, 10, 255, 0, 0, 0)[1:]+vertex(0, 240, 20, 0, 255, 0, 0)[1:]+vertex(0, 20, 240, 0, 0, 255, 128)[1:]+vertex(0, 250, 250, 0, 0, 0, 255)[1:])
			return card{resources: "/Shading<</F " + free + "/L " + lattice + ">>", content: "/F sh /L sh"}
		}, mean: 1.2, flat: 2},
		{name: "patches", build: func(_ testing.TB, w *writer) card {
			coons := string([]byte{0, 20, 20, 20, 90, 20, 160, 20, 230, 90, 250, 160, 210, 230, 230, 250, 160, 210, 90, 230, 20, 160, 0, 90, 40}) +
				string([]byte{255, 0, 0, 0, 0, 255, 0, 0, 0, 0, 255, 0, 0, 0, 0, 255})
			s := w.stream("/ShadingType 6/ColorSpace/DeviceCMYK/BitsPerCoordinate 8/BitsPerComponent 8/BitsPerFlag 8/Decode[0 140 0 160 0 1 0 1 0 1 0 1]", coons)
			return card{resources: "/Shading<</F " + s + ">>", content: "/F sh"}
		}, mean: 1.5, flat: 6},
		{name: "tiles", build: func(_ testing.TB, w *writer) card {
			a := w.stream("/PatternType 1/PaintType 1/TilingType 1/BBox[0 0 12 12]/XStep 12/YStep 12/Matrix[1 0 0 1 5 5]/Resources<<>>", "1 0 0 0 k 0 0 6 6 re f 0 0 1 .5 k 6 6 6 6 re f")
			b := w.stream("/PatternType 1/PaintType 2/TilingType 1/BBox[0 0 10 10]/XStep 10/YStep 10/Matrix[.7 .7 -.7 .7 0 0]/Resources<<>>", "0 0 5 10 re f")
			form := w.stream("/Type/XObject/Subtype/Form/BBox[0 0 110 160]/Resources<</Pattern<</A "+a+">>>>", "/Pattern cs /A scn 10 90 100 60 re f")
			return card{resources: overFlat + "/Pattern<</A " + a + "/B " + b + ">>/ColorSpace<</U[/Pattern/DeviceCMYK]/V[/Pattern " + gold + "]>>/XObject<</F " + form + ">>",
				content: "0 .3 0 0 k 0 0 270 162 re f /Pattern cs /A scn 10 10 90 60 re f /U cs .2 .8 0 .1 /B scn 110 10 70 60 re f /V cs .6 /B scn 190 10 70 60 re f /F Do q /O1 gs /U cs 0 0 0 1 /B scn 130 90 60 60 re f Q"}
		}, mean: 2, flat: 2},
	}
}
