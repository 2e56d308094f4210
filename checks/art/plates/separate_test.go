package plates

import (
	"bytes"
	"errors"
	"fmt"
	"image/color"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"stoneproof/checks/checktest/outside"
)

// TestApproximate builds what cannot be separated faithfully: each has to be named.
func TestApproximate(t *testing.T) {
	square := "10 10 40 40 re f"
	show := func(entries, data string) func(*writer) card {
		return func(w *writer) card {
			return card{resources: "/XObject<</X " + w.stream("/Type/XObject/Subtype/Image/Width 2/Height 2 "+entries, data) + ">>", content: "/X Do"}
		}
	}
	state := func(entries, content string) func(*writer) card {
		return func(*writer) card {
			return card{resources: "/ExtGState<</G<<" + entries + ">>>>", content: "/G gs " + content}
		}
	}
	space := func(array string) func(*writer) card {
		return func(*writer) card {
			return card{resources: "/ColorSpace<</S " + array + ">>", content: "/S cs " + square}
		}
	}
	group := func(entries, before, content string) func(*writer) card {
		return func(w *writer) card {
			g := groupForm(w, entries, "/ExtGState<</M<</BM/Multiply>>/O<</OP true>>>>", content)
			return card{resources: "/XObject<</G " + g + ">>/ExtGState<</H<</ca .5>>>>", content: before + " /G Do"}
		}
	}
	for name, c := range map[string]struct {
		build func(*writer) card
		want  []string
	}{
		"DeviceRGB":            {func(*writer) card { return card{content: "1 0 0 rg " + square} }, []string{causeRGB}},
		"RGB that is not used": {func(*writer) card { return card{content: "1 0 0 rg 0 g " + square} }, nil},
		"CalRGB":               {space("[/CalRGB<</WhitePoint[.95 1 1.09]>>]"), []string{causeRGB}},
		"Lab":                  {space("[/Lab<</WhitePoint[.96 1 .82]>>]"), []string{causeLab}},
		"CalGray":              {space("[/CalGray<</WhitePoint[.95 1 1.09]>>]"), []string{causeGrayICC}},
		"nonsense for a space": {space("42"), []string{causeSpace}},
		"ICC CMYK without an intent": {func(w *writer) card {
			return card{resources: "/ColorSpace<</S[/ICCBased " + w.stream("/N 4", "no profile") + "]>>", content: "/S cs " + square}
		}, []string{causeCMYKICC}},
		"Hue":            {state("/BM/Hue", "1 0 0 0 k "+square), []string{causeBlend + "Hue"}},
		"transfer":       {state("/TR<</FunctionType 2/Domain[0 1]/N 2>>", square), []string{causeTransfer}},
		"no transfer":    {state("/TR/Identity", square), nil},
		"TR2 wins":       {state("/TR<</FunctionType 2/Domain[0 1]/N 2>>/TR2/Default", square), nil},
		"halftone":       {state("/HT<</HalftoneType 1/Frequency 60/Angle 0/SpotFunction/Round/TransferFunction<</FunctionType 2/Domain[0 1]/N 2>>>>", square), []string{causeHalftone}},
		"over and blend": {state("/OP true/OPM 1/BM/Multiply", "0 0 0 1 k "+square), []string{causeOverBlend}},
		"JPEG 2000":      {show("/BitsPerComponent 8/ColorSpace/DeviceCMYK/Filter/JPXDecode", "jp2"), []string{causeCodec + "JPXDecode"}},
		"broken JPEG":    {show("/BitsPerComponent 8/ColorSpace/DeviceCMYK/Filter/DCTDecode", "\xff\xd8\xff\xd9"), []string{causePicture}},
		"short picture":  {show("/BitsPerComponent 8/ColorSpace/DeviceCMYK", "abcdef"), []string{causeCut}},
		"short grey":     {show("/BitsPerComponent 8/ColorSpace/DeviceGray", "ab"), []string{causeCut}},
		"huge picture":   {show("/BitsPerComponent 8/ColorSpace/DeviceCMYK/Width 60000/Height 60000", "abcdef"), []string{causeMuch}},
		"RGB picture":    {show("/BitsPerComponent 8/ColorSpace/DeviceRGB", "abcdefabcdef"), []string{causeRGB}},
		"matte": {func(w *writer) card {
			m := w.stream("/Type/XObject/Subtype/Image/Width 1/Height 1/BitsPerComponent 8/ColorSpace/DeviceGray/Matte[0 0 0 0]", "a")
			return show("/BitsPerComponent 8/ColorSpace/DeviceCMYK/SMask "+m, "abcdabcdabcdabcd")(w)
		}, []string{causeMatte}},
		"knock-out": {group("/K true", "", square), []string{causeKnockout}},
		"RGB group": {group("/I true/CS/DeviceRGB", "", "1 0 0 0 k "+square), []string{causeRGBGroup}},
		"RGB page group, opaque": {func(w *writer) card {
			f := w.stream("/Type/XObject/Subtype/Form/BBox[0 0 99 99]", "1 0 0 0 k "+square)
			return card{page: "/Group<</S/Transparency/CS/DeviceRGB>>", resources: "/XObject<</F " + f + ">>", content: "/F Do"}
		}, nil},
		"RGB page group, see-through": {func(*writer) card {
			return card{page: "/Group<</S/Transparency/CS/DeviceRGB>>", resources: "/ExtGState<</G<</ca .5>>>>", content: "/G gs 1 0 0 0 k " + square}
		}, []string{causeRGBGroup}},
		"see-through":      {group("", "/H gs", "/M gs 1 0 0 0 k "+square), []string{causeApart}},
		"outline in group": {group("/I true", "", "/O gs BT 0 0 0 1 k 0 1 0 0 K ET "+square), nil},
		"draws itself": {func(w *writer) card {
			n := len(w.objects) + 1
			f := w.stream("/Type/XObject/Subtype/Form/BBox[0 0 9 9]/Resources<</XObject<</F "+fmt.Sprintf("%d 0 R", n)+">>>>", "/F Do")
			return card{resources: "/XObject<</F " + f + ">>", content: "/F Do"}
		}, []string{causeDeep}},
		"endless tiles": {func(w *writer) card {
			p := w.stream("/PatternType 1/PaintType 1/TilingType 1/BBox[0 0 1 1]/XStep .001/YStep .001/Resources<<>>", square)
			return card{resources: "/Pattern<</P " + p + ">>", content: "/Pattern cs /P scn " + square}
		}, []string{causeTile}},
		"missing":     {func(*writer) card { return card{content: "/Nothing Do"} }, []string{causeMissing}},
		"bad shading": {func(*writer) card { return card{resources: "/Shading<</S<</ShadingType 9>>>>", content: "/S sh"} }, []string{causeShading}},
		"bad function": {func(*writer) card {
			return card{resources: "/Shading<</S<</ShadingType 2/ColorSpace/DeviceCMYK/Coords[0 0 1 1]>>>>", content: "/S sh"}
		}, []string{causeFunction}},
		"spot in a mask": {func(w *writer) card {
			g := groupForm(w, "/CS/DeviceCMYK", "/ColorSpace<</S "+gold+">>", "/S cs "+square)
			return card{resources: "/ExtGState<</G<</SMask<</S/Luminosity/G " + g + ">>>>>>", content: "/G gs " + square}
		}, []string{causeMaskColour}},
	} {
		t.Run(name, func(t *testing.T) {
			w := &writer{}
			got := separate(t, w.card(c.build(w))).Approximate
			if !slices.Equal(got, c.want) {
				t.Errorf("%q, want %q", got, c.want)
			}
		})
	}
}

// TestNames: spot colours come in the order in which they are painted, each once,
// and only those painted with.
func TestNames(t *testing.T) {
	w := &writer{}
	file := w.card(card{
		resources: "/ColorSpace<</Au " + gold + "/M " + mint + "/U[/Separation/Unused/DeviceGray" + tintOne + "]/A " + allInks + "/N " + noInk + ">>",
		content:   "/U cs /M cs 0 0 9 9 re f /A cs 0 0 9 9 re f /Au cs 0 0 9 9 re f /N cs 0 0 9 9 re f /M cs 0 0 9 9 re f",
	})
	if got := separate(t, file).Names; !slices.Equal(got, []string{"cyan", "magenta", "yellow", "black", "Mint", "Gold"}) {
		t.Errorf("%q", got)
	}
}

// TestEstimate: RGB goes through the function that is given, in type, lines and
// pictures alike.
func TestEstimate(t *testing.T) {
	w := &writer{}
	x := w.stream("/Type/XObject/Subtype/Image/Width 1/Height 1/BitsPerComponent 8/ColorSpace/DeviceRGB", "\x66\x99\xcc")
	j := w.stream("/Type/XObject/Subtype/Image/Width 16/Height 16/BitsPerComponent 8/ColorSpace/DeviceRGB/Filter/DCTDecode", flatJPEG(t, color.RGBA{0x66, 0x99, 0xcc, 255}))
	file := w.card(card{resources: "/XObject<</X " + x + "/J " + j + ">>", content: ".4 .6 .8 rg 0 0 135 162 re f q 135 0 0 81 135 0 cm /X Do 1 0 0 1 0 1 cm /J Do Q"})
	swap := func(cmyk, rgb []byte) {
		for i := range len(rgb) / 3 {
			copy(cmyk[4*i:], []byte{rgb[3*i+2], rgb[3*i], rgb[3*i+1], 17})
		}
	}
	job, err := Separate(openDoc(t, file), 1, Options{Estimate: swap, Limits: DefaultLimits()})
	if err != nil {
		t.Fatal(err)
	}
	p := job.draw(t, Window{W: 270, H: 162, PxW: 20, PxH: 12})
	for i, want := range []byte{0xcc, 0x66, 0x99, 17} {
		for _, at := range []int{6*20 + 4, 3*20 + 15, 9*20 + 15} {
			if got := p.Ink[i][at]; max(got, want)-min(got, want) > 1 { // a JPEG rounds
				t.Errorf("%s at %d is %d, want %d", p.Names[i], at, got, want)
			}
		}
	}
}

// TestWindow draws a part of a turned page with a UserUnit.
func TestWindow(t *testing.T) {
	w := &writer{}
	file := w.card(card{media: "[0 0 100 50]", page: "/Rotate 90/UserUnit 2", content: "1 0 0 0 k 0 0 10 10 re f"})
	// Turned clockwise, the lower left corner is the upper left of 100 × 200 points.
	p := separate(t, file).draw(t, Window{X: 10, Y: 10, W: 20, H: 20, PxW: 20, PxH: 20})
	for _, c := range []struct {
		x, y int
		want byte
	}{{1, 1, 255}, {8, 8, 255}, {12, 8, 0}, {8, 12, 0}} {
		if got := p.Ink[0][c.y*20+c.x]; got != c.want {
			t.Errorf("%d, %d is %d, want %d", c.x, c.y, got, c.want)
		}
	}
}

// TestHidden: what belongs to a layer that is off leaves nothing, whatever it is.
func TestHidden(t *testing.T) {
	w := &writer{}
	off := w.add("<</Type/OCG/Name(off)>>")
	form := w.stream("/Type/XObject/Subtype/Form/BBox[0 0 99 99]/OC "+off, "0 0 99 99 re f")
	x := picture8(w, 4, 4, 4, "/DeviceCMYK", "")
	s := "/S<</ShadingType 2/ColorSpace/DeviceCMYK/Coords[0 0 1 1]/Function" + tintOne + ">>"
	file := w.card(card{
		catalog:   "/OCProperties<</OCGs[" + off + "]/D<</OFF[" + off + "]>>>>",
		resources: "/Properties<</P " + off + ">>/XObject<</F " + form + "/X " + x + ">>/Shading<<" + s + ">>/ColorSpace<</Au " + gold + ">>/Font<</T " + embedded(t, w) + ">>",
		content:   "/F Do /OC /P BDC 1 0 0 rg 0 0 50 50 re B /Au cs 0 0 50 50 re f 50 0 0 50 0 0 cm /X Do /S sh BT /T 1 Tf (hidden) Tj ET BI /W 1 /H 1 /BPC 8 /CS /RGB ID abc EI EMC",
	})
	job := separate(t, file)
	if len(job.Names) != 4 || len(job.Approximate) > 0 {
		t.Errorf("%q %q", job.Names, job.Approximate)
	}
	for i, ink := range job.draw(t, cardWindow).Ink {
		if slices.Max(ink) > 0 {
			t.Errorf("%s has ink", job.Names[i])
		}
	}
}

// TestLocked: a file that is encrypted but opens without a password separates.
func TestLocked(t *testing.T) {
	qpdf := outside.Tool(t, "qpdf")
	w := &writer{}
	file := w.card(card{resources: "/Font<</F " + embedded(t, w) + ">>/XObject<</X " + picture8(w, 8, 8, 1, "[/Indexed/DeviceGray 1(\\000\\377)]", "") + ">>",
		content: "BT 0 0 0 1 k /F 40 Tf 10 50 Td (Potter) Tj ET q 40 0 0 40 200 10 cm /X Do Q"})
	dir := t.TempDir()
	in, out := filepath.Join(dir, "in.pdf"), filepath.Join(dir, "out.pdf")
	if err := os.WriteFile(in, file, 0o600); err != nil {
		t.Fatal(err)
	}
	if b, err := exec.Command(qpdf, "--encrypt", "", "secret", "256", "--", in, out).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, b)
	}
	locked, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	a, b := separate(t, file).draw(t, cardWindow), separate(t, locked).draw(t, cardWindow)
	for i := range a.Ink {
		if !bytes.Equal(a.Ink[i], b.Ink[i]) {
			t.Errorf("%s differs", a.Names[i])
		}
	}
}

// TestBounds: hostile pages end, within the limits.
func TestBounds(t *testing.T) {
	lim := DefaultLimits()
	lim.Operators, lim.OutputBytes, lim.Depth = 5_000, 3<<20, 6
	laugh := func(w *writer, n int) string { // each form draws the one before nine times
		f := w.stream("/Type/XObject/Subtype/Form/BBox[0 0 9 9]", "0 0 9 9 re f")
		for range n {
			f = w.stream("/Type/XObject/Subtype/Form/BBox[0 0 9 9]/Resources<</XObject<</F "+f+">>>>", strings.Repeat("/F Do ", 9))
		}
		return f
	}
	for name, c := range map[string]struct {
		build func(*writer) card
		want  string
	}{
		"laughs": {func(w *writer) card { return card{resources: "/XObject<</F " + laugh(w, 5) + ">>", content: "/F Do"} }, causeMuch},
		"depth":  {func(w *writer) card { return card{resources: "/XObject<</F " + laugh(w, 9) + ">>", content: "/F Do"} }, causeDeep},
		"glyphs": {func(w *writer) card {
			glyph := w.stream("", "500 0 0 0 9 9 d1 "+strings.Repeat("0 0 9 9 re f ", 50))
			font := w.add("<</Type/Font/Subtype/Type3/FontBBox[0 0 9 9]/FontMatrix[1 0 0 1 0 0]/CharProcs<</a " + glyph + ">>/Encoding<</Differences[97/a]>>/FirstChar 97/LastChar 97/Widths[1]>>")
			return card{resources: "/Font<</F " + font + ">>", content: "BT /F 9 Tf (" + strings.Repeat("a", 500) + ") Tj ET"}
		}, causeMuch},
		"operators": {func(*writer) card { return card{content: strings.Repeat("q Q ", 4_000)} }, causeMuch},
		"saves":     {func(*writer) card { return card{content: strings.Repeat("q ", 1_100)} }, causeDeep},
		"operands":  {func(*writer) card { return card{content: strings.Repeat("1 ", 200_100) + "w"} }, causeOperands},
	} {
		w := &writer{}
		job, err := Separate(openDoc(t, w.card(c.build(w))), 1, Options{Limits: lim})
		if err != nil {
			t.Errorf("%s: %v", name, err)
		} else if !slices.Contains(job.Approximate, c.want) {
			t.Errorf("%s: %q", name, job.Approximate)
		}
	}
	w := &writer{}
	big := picture8(w, 1000, 1000, 4, "/DeviceCMYK", "")
	_, err := Separate(openDoc(t, w.card(card{resources: "/XObject<</X " + big + ">>", content: "/X Do"})), 1, Options{Limits: lim})
	if !errors.Is(err, ErrTooMuch) {
		t.Errorf("a big picture: %v", err)
	}
	if _, err := Separate(openDoc(t, (&writer{}).card(card{})), 2, Options{Limits: lim}); err == nil {
		t.Error("page 2 of 1 is separated")
	}
}
